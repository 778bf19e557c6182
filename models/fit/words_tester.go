package fit

import (
	"fmt"

	"tenter/models/gauge"
)

func testerUnknown(t TesterOnAxis, missing bool) string {
	if missing {
		return fmt.Sprintf("%s: can't be told yet; no gauge of %s was reported.", t.Tester, t.Axis.Plural())
	}
	return fmt.Sprintf("%s: can't be told yet; it takes two sound measurements in the direction of the %s.", t.Tester, t.Axis.Plural())
}

func testerSentence(t TesterOnAxis, values int) string {
	from := counted(values, "measurement", "measurements")
	switch t.Verdict {
	case GaugeWrong:
		return fmt.Sprintf("%s's reported gauge of %s cannot be right (%s): their whole garment is %s off in this direction (%s, from %s). Ask for it again.",
			t.Tester, t.Axis.Plural(), sure(*t.PGauge), pct(*t.EstimatePct), between(t.LoPct, t.HiPct), from)
	case Off:
		return fmt.Sprintf("%s's whole garment is %s %s than their swatch in the direction of the %s (%s, %s, from %s); nothing to correct in the pattern.",
			t.Tester, pct(*t.EstimatePct), looser(*t.EstimatePct), t.Axis.Plural(), between(t.LoPct, t.HiPct), sure(*t.POff), from)
	}
	return fmt.Sprintf("%s's garment agrees with their swatch in the direction of the %s (%s, from %s).",
		t.Tester, t.Axis.Plural(), between(t.LoPct, t.HiPct), from)
}

// looser is the word for a garment that comes out larger than its swatch says.
func looser(x float64) string {
	if x < 0 {
		return "tighter"
	}
	return "looser"
}

func oddSentence(o OddValue, v *observation) string {
	fits := ""
	if meaning := o.Signature.meaning(v.reading.last.Unit); meaning != "" {
		fits = "; it fits " + meaning
	}
	return fmt.Sprintf("%s's %s, %s, does not fit their other numbers nor the other testers (%s %%, %s)%s. Ask them to measure again.",
		o.Tester, plain(o.Point), v.reading.entered(), signed(*o.DevPct), sure(*o.P), fits)
}

// meaning says in words what a slip is, for a value entered in a unit.
func (s Signature) meaning(unit gauge.LengthUnit) string {
	switch s {
	case Half:
		return "half of what was asked, as with a width for a circumference"
	case Double:
		return "twice what was asked, as with a circumference for a width"
	case InchAsCM:
		return "an inch figure entered as cm"
	case CMAsInch:
		return "a cm figure entered as inches"
	case Transposed:
		return "two digits that changed places"
	case Tens:
		return fmt.Sprintf("a figure with 10 %s too many or too few", unit)
	}
	return ""
}

func disagreeSentence(o OddValue, v *observation) string {
	return fmt.Sprintf("%s's %d readings of %s are too far apart to be one piece; the last, %s, is used. Ask which one stands.",
		o.Tester, v.reading.readings, plain(o.Point), v.reading.entered())
}
