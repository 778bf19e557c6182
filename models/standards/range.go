package standards

import (
	"math"

	"tenter/models/gauge"
)

// Range is a closed range; nil leaves that side open.
type Range struct {
	Low  *float64 `json:"low"`
	High *float64 `json:"high"`
}

// Holds reports whether x lies in the range, its ends included.
func (r Range) Holds(x float64) bool {
	return (r.Low == nil || x >= *r.Low) && (r.High == nil || x <= *r.High)
}

// String writes the range as a sentence says it: "16 to 20", "6 or fewer".
func (r Range) String() string {
	switch {
	case r.Low == nil && r.High == nil:
		return "any number"
	case r.Low == nil:
		return gauge.Decimal(*r.High, 2) + " or fewer"
	case r.High == nil:
		return gauge.Decimal(*r.Low, 2) + " or more"
	case *r.Low == *r.High:
		return gauge.Decimal(*r.Low, 2)
	}
	return gauge.Decimal(*r.Low, 2) + " to " + gauge.Decimal(*r.High, 2)
}

// Lengths is a range of lengths as a chart prints it: in inches, which are the
// master, with the centimetres that are exactly 2.54 times those, and with the
// centimetres that the chart prints, which are rounded.
type Lengths struct {
	In        Range `json:"in"`
	CM        Range `json:"cm"`
	PrintedCM Range `json:"printed_cm"`
	Disagrees bool  `json:"disagrees" doc:"The printed centimetres are off the inches by more than rounding."`
}

// roundingCM is how far a printed centimetre may be off 2.54 times the inches
// before it counts as a disagreement. The charts round to half a centimetre and
// carry some of that along a row, up to 0.67 cm; their misprints start at
// 1.1 cm. Chosen between the two.
const roundingCM = 1.0

func (r row) lengths() Lengths {
	l := Lengths{
		In:        Range{r.optional("low_in"), r.optional("high_in")},
		PrintedCM: Range{r.optional("printed_low_cm"), r.optional("printed_high_cm")},
	}
	l.CM = Range{inchesToCM(l.In.Low), inchesToCM(l.In.High)}
	l.Disagrees = apart(l.CM.Low, l.PrintedCM.Low) || apart(l.CM.High, l.PrintedCM.High)
	return l
}

func inchesToCM(in *float64) *float64 {
	if in == nil {
		return nil
	}
	return new(gauge.Tidy(*in * gauge.CMPerInch))
}

func apart(exact, printed *float64) bool {
	return exact != nil && printed != nil && math.Abs(*exact-*printed) > roundingCM
}
