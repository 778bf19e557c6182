package gauge

import (
	"fmt"
	"math"
	"strings"
)

// Verdict says how one gauge stands to another on one axis.
type Verdict string

// The verdicts on a difference of gauges.
const (
	SameGauge  Verdict = "same"        // the difference is within what counting can tell
	Tighter    Verdict = "tighter"     // more stitches or rows in the same length
	Looser     Verdict = "looser"      // fewer
	NotCounted Verdict = "not_counted" // one of the two has no count on this axis
)

// Difference is how far one gauge is from another on one axis.
//
//	percent = 100 (own per cm / reference per cm - 1)
//
// Low and High bound it at about 95 %, computed on the log scale:
// 100 (e^(ln(own/reference) ± 1.96 u) - 1), u the relative uncertainties of the
// counts in quadrature.
type Difference struct {
	Axis               Axis    `json:"axis"`
	Verdict            Verdict `json:"verdict"`
	Percent            float64 `json:"percent"`
	UncertaintyPercent float64 `json:"uncertainty_percent"`
	LowPercent         float64 `json:"low_percent"`
	HighPercent        float64 `json:"high_percent"`
	Message            string  `json:"message"`
}

// AgainstStated compares a counted gauge with one that the pattern states, which
// is exact by definition. It returns both axes, stitches first. Both gauges have
// passed Check.
func AgainstStated(own, stated Gauge) []Difference {
	return []Difference{
		differ(Stitch, own.Stitch, stated.Stitch, 0),
		differ(Row, own.Row, stated.Row, 0),
	}
}

// BetweenCounts compares two gauges that were both counted. It returns both
// axes, stitches first. Both gauges have passed Check.
func BetweenCounts(own, reference Gauge) []Difference {
	return []Difference{
		differ(Stitch, own.Stitch, reference.Stitch, reference.Stitch.RelativeUncertainty()),
		differ(Row, own.Row, reference.Row, reference.Row.RelativeUncertainty()),
	}
}

func differ(axis Axis, own, reference Swatch, uReference float64) Difference {
	d := Difference{Axis: axis, Verdict: NotCounted}
	if !own.Counted() || !reference.Counted() {
		d.Message = fmt.Sprintf("The %s were not counted on both sides, so there is nothing to compare.", axis.Plural())
		return d
	}
	ratio := own.PerCM() / reference.PerCM()
	u := math.Hypot(own.RelativeUncertainty(), uReference)
	d.Percent = Tidy(100 * (ratio - 1))
	d.UncertaintyPercent = Tidy(100 * ratio * u)
	d.LowPercent = Tidy(100 * (ratio*math.Exp(-Coverage*u) - 1))
	d.HighPercent = Tidy(100 * (ratio*math.Exp(Coverage*u) - 1))
	switch {
	case math.Abs(math.Log(ratio)) <= Coverage*u:
		d.Verdict = SameGauge
	case ratio > 1:
		d.Verdict = Tighter
	default:
		d.Verdict = Looser
	}
	d.Message = d.sentence(own, reference)
	return d
}

func (d Difference) sentence(own, reference Swatch) string {
	figures := fmt.Sprintf("%s %s over 10 cm against %s", Decimal(own.Per10CM(), 1), d.Axis.Plural(), Decimal(reference.Per10CM(), 1))
	if d.Verdict == SameGauge && Decimal(math.Abs(d.Percent), 1) == "0" {
		return fmt.Sprintf("%s is the same, as far as counting can tell (±%s %%).", figures, Decimal(Coverage*d.UncertaintyPercent, 1))
	}
	if d.Verdict == SameGauge {
		return fmt.Sprintf("%s is %s %% %s, within what counting can tell (±%s %%).",
			figures, Decimal(math.Abs(d.Percent), 1), moreOrFewer(d.Percent), Decimal(Coverage*d.UncertaintyPercent, 1))
	}
	return fmt.Sprintf("%s is %s %% %s (%s to %s %%): the piece comes out %s.",
		figures, Decimal(math.Abs(d.Percent), 1), moreOrFewer(d.Percent),
		signed(d.LowPercent), signed(d.HighPercent), outcome(d.Axis, d.Percent))
}

// signed writes a percentage with a minus sign as print has it.
func signed(percent float64) string {
	return strings.Replace(Decimal(percent, 1), "-", "−", 1)
}

func moreOrFewer(percent float64) string {
	if percent < 0 {
		return "fewer"
	}
	return "more"
}

// outcome is what a tighter or looser gauge does to a piece worked to the same
// counts.
func outcome(axis Axis, percent float64) string {
	switch {
	case axis == Stitch && percent > 0:
		return "narrower"
	case axis == Stitch:
		return "wider"
	case percent > 0:
		return "shorter"
	}
	return "longer"
}
