package compare

import (
	"fmt"
	"math"

	"tenter/models/gauge"
)

// sentence puts the comparison into one sentence for a person, in the unit that
// they read.
func (in Input) sentence(o Output) string {
	name := in.Point
	if name == "" {
		name = "This point"
	}
	start := fmt.Sprintf("%s measures %s, %s", name, in.show(o.MeasuredCM), in.against(o))
	switch o.Verdict {
	case MeasureAgain:
		return fmt.Sprintf("%s was read more than once and the readings contradict each other; measure it again (the last, %s, is kept).", name, in.show(o.MeasuredCM))
	case AsPromised:
		return fmt.Sprintf("%s: within its tolerance of %s.", start, in.show(in.ToleranceCM))
	case AgainstGauge:
		return fmt.Sprintf("%s, but at the maker's own gauge it should be %s: check which count was worked, and the swatch.", start, in.show(*o.ExpectedOwnCM))
	case GaugeUnknown:
		return fmt.Sprintf("%s; without a swatch gauge nobody can tell how much of that is the maker's gauge.", start)
	case GaugeExplains:
		return fmt.Sprintf("%s; the maker's own gauge explains it (%s expected at that gauge).", start, in.show(*o.ExpectedOwnCM))
	case WithinDoubt:
		return fmt.Sprintf("%s; beside the maker's own gauge %s is left, no more than tape and swatch can be out (±%s).",
			start, in.show(math.Abs(o.ResidualCM)), in.show(gauge.Coverage*o.ResidualUncertainty))
	}
	return fmt.Sprintf("%s; %s, and %s too %s is left (±%s).", start, explains(o),
		in.show(math.Abs(o.ResidualCM)), longOrShort(in.Axis, o.ResidualCM), in.show(gauge.Coverage*o.ResidualUncertainty))
}

// against is how the measurement stands to what the pattern promises.
func (in Input) against(o Output) string {
	promised := in.show(o.ExpectedDesignCM)
	off := in.show(math.Abs(o.DifferenceCM))
	switch {
	case off == in.show(0):
		return "just as the pattern promises"
	case o.DifferenceCM < 0:
		return fmt.Sprintf("%s less than the %s that the pattern promises", off, promised)
	}
	return fmt.Sprintf("%s more than the %s that the pattern promises", off, promised)
}

// explains is what the maker's gauge has to do with it.
func explains(o Output) string {
	switch {
	case o.SharePercent == nil || o.ShareNote == ShareOpposite || o.ShareNote == ShareStands && *o.SharePercent < 0.5:
		return "the maker's own gauge does not explain it"
	case o.ShareNote == ShareOvershoot:
		return "the maker's own gauge would explain more than that"
	}
	return fmt.Sprintf("the maker's own gauge explains %s %% of it", gauge.Decimal(*o.SharePercent, 0))
}

func longOrShort(axis gauge.Axis, deviationCM float64) string {
	switch {
	case axis == gauge.Stitch && deviationCM > 0:
		return "wide"
	case axis == gauge.Stitch:
		return "narrow"
	case deviationCM > 0:
		return "long"
	}
	return "short"
}

// show writes cm in the reader's unit.
func (in Input) show(cm float64) string {
	unit := in.Unit
	if unit == "" {
		unit = gauge.Centimetre
	}
	return gauge.ShowCM(cm, unit)
}
