package compare

import (
	"math"

	"tenter/models/gauge"
)

const (
	showAtLeast = 2.0 // tolerances on either side of the intended value, chosen
	showAtMost  = 6.0
	mostLines   = 24 // divisions on a strip before the next coarser ruler is taken, chosen
)

// scale fits the ends to the marks and draws the divisions.
func (s *Strip) scale(in StripInput) {
	at := make([]float64, len(s.Marks))
	for i, m := range s.Marks {
		at[i] = m.CM
	}
	first, last, step, long, perUnit := in.span(at)
	s.LowCM, s.HighCM = gauge.Tidy(float64(first)*step*perUnit), gauge.Tidy(float64(last)*step*perUnit)
	for i := first; i <= last; i++ {
		d := Division{CM: gauge.Tidy(float64(i) * step * perUnit), Long: i%long == 0}
		if d.Long {
			d.Label = gauge.Decimal(float64(i)*step, 2)
		}
		s.Divisions = append(s.Divisions, d)
	}
	for i := range s.Marks {
		s.Marks[i].OffScale = s.offScale(s.Marks[i].CM)
	}
}

// Ends returns the ends of the strip in cm for marks that stand at the given
// places, in cm: where TapeStrip would draw them. in.Measured is not looked at.
func (in StripInput) Ends(at []float64) (low, high float64) {
	first, last, step, _, perUnit := in.span(at)
	return gauge.Tidy(float64(first) * step * perUnit), gauge.Tidy(float64(last) * step * perUnit)
}

// span counts the strip's divisions, from the first to the last, each step
// units long; perUnit is a unit in cm.
func (in StripInput) span(at []float64) (first, last int, step float64, long int, perUnit float64) {
	half := in.reach(at)
	unit, perUnit := gauge.Centimetre, 1.0
	if in.Unit == gauge.Inch {
		unit, perUnit = gauge.Inch, gauge.CMPerInch
	}
	low, high := math.Max(0, in.IntendedCM-half)/perUnit, (in.IntendedCM+half)/perUnit
	step, long = ruler(high-low, unit)
	return int(math.Floor(low/step + 1e-9)), int(math.Ceil(high/step - 1e-9)), step, long, perUnit
}

// reach is how far the strip goes on either side of the intended value, in cm. A
// mark far out is cut off; the band never is.
func (in StripInput) reach(at []float64) float64 {
	margin := in.ToleranceCM / 4
	half := showAtLeast * in.ToleranceCM
	for _, cm := range at {
		half = math.Max(half, math.Abs(cm-in.IntendedCM)+margin)
	}
	if in.ExpectedDesignCM > 0 {
		half = math.Max(half, math.Abs(gauge.Tidy(in.ExpectedDesignCM*in.growth())-in.IntendedCM)+margin)
	}
	moved := math.Abs(in.growth()-1) * in.IntendedCM
	return math.Max(math.Min(half, showAtMost*in.ToleranceCM), moved+in.ToleranceCM+margin)
}

func (s *Strip) offScale(cm float64) string {
	switch {
	case cm < s.LowCM:
		return "low"
	case cm > s.HighCM:
		return "high"
	}
	return ""
}

// ruler returns the finest division that puts no more than mostLines on a strip
// of the given width, and how many make a long one: tapes in cm count in fives,
// tapes in inches in halves, quarters and eighths.
func ruler(width float64, unit gauge.LengthUnit) (step float64, long int) {
	rulers := []struct {
		step float64
		long int
	}{{0.1, 5}, {0.5, 2}, {1, 5}, {2, 5}, {5, 2}, {10, 5}, {20, 5}, {50, 2}}
	if unit == gauge.Inch {
		rulers = []struct {
			step float64
			long int
		}{{0.125, 4}, {0.25, 4}, {0.5, 2}, {1, 4}, {2, 5}, {5, 2}, {10, 5}, {20, 5}}
	}
	for _, r := range rulers {
		if width/r.step <= mostLines {
			return r.step, r.long
		}
	}
	last := rulers[len(rulers)-1]
	return last.step, last.long
}
