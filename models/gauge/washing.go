package gauge

import (
	"fmt"
	"math"
)

// Washing is how much washing changed the fabric on one axis, as dimensional
// change: 100 (after - before) / before of a length in the fabric, so that
// shrinkage is negative (the convention of ISO 5077). The gauge changes the
// other way:
//
//	percent = 100 (per cm before / per cm after - 1)
type Washing struct {
	Axis               Axis    `json:"axis"`
	Known              bool    `json:"known"` // counted both before and after
	Percent            float64 `json:"percent"`
	UncertaintyPercent float64 `json:"uncertainty_percent"`
	Told               bool    `json:"told"` // more than counting can leave
	Message            string  `json:"message"`
}

// Washed returns what washing did to the width (stitches) and the length (rows)
// of a sample's fabric. Both gauges have passed Check.
func Washed(before, after Gauge) []Washing {
	return []Washing{washed(Stitch, before.Stitch, after.Stitch), washed(Row, before.Row, after.Row)}
}

func washed(axis Axis, before, after Swatch) Washing {
	w := Washing{Axis: axis}
	if !before.Counted() || !after.Counted() {
		w.Message = fmt.Sprintf("The %s were not counted both before and after washing.", axis.Plural())
		return w
	}
	ratio := before.PerCM() / after.PerCM()
	u := math.Hypot(before.RelativeUncertainty(), after.RelativeUncertainty())
	w.Known = true
	w.Percent = Tidy(100 * (ratio - 1))
	w.UncertaintyPercent = Tidy(100 * ratio * u)
	w.Told = math.Abs(math.Log(ratio)) > Coverage*u
	counts := fmt.Sprintf("%s %s over 10 cm before, %s after", Decimal(before.Per10CM(), 1), axis.Plural(), Decimal(after.Per10CM(), 1))
	if w.Told {
		w.Message = fmt.Sprintf("Washing made the fabric %s %% %s (%s).", Decimal(math.Abs(w.Percent), 1), outcome(axis, -w.Percent), counts)
	} else {
		w.Message = fmt.Sprintf("Washing changed the %s by no more than counting can tell (%s).", axis.dimension(), counts)
	}
	return w
}
