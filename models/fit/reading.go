package fit

import (
	"math"

	"tenter/models/gauge"
)

// reading is what all readings of one tester at one point come to.
type reading struct {
	cm       float64 // M
	variance float64 // var(M), cm²
	readings int
	disagree bool
	last     Measurement // as it was entered, for its signature
}

// combine joins m readings of a point with standard uncertainty uCM:
//
//	M = mean,  var(M) = u² (1/2 + 1/(2m)) + Σ d_k²/12 / m²
//
// Half of the variance stays however often one person measures: it is the
// garment's and the person's. d_k is the step that the reading was rounded to,
// rectangular, d/√12 (JCGM 100:2008, 4.3.7). Readings further apart than
// 3√2 √(u²/2 + d²/12) disagree; then the last supersedes the others.
func (s *Settings) combine(taken []Measurement, uCM float64) reading {
	m := len(taken)
	low, high, sum, rounding := math.Inf(1), math.Inf(-1), 0.0, 0.0
	for _, r := range taken {
		cm := r.cm()
		low, high, sum = min(low, cm), max(high, cm), sum+cm
		rounding += s.rounding(r.Unit)
	}
	out := reading{cm: sum / float64(m), readings: m, last: taken[m-1]}
	if m > 1 && high-low > 3*math.Sqrt2*math.Sqrt(0.5*uCM*uCM+s.rounding(taken[0].Unit)) {
		out.disagree = true
		out.cm = out.last.cm()
		m, rounding = 1, s.rounding(out.last.Unit)
	}
	n := float64(m)
	out.variance = uCM*uCM*(0.5+0.5/n) + rounding/(n*n)
	return out
}

// rounding is the variance in cm² of reading a tape to its usual step.
func (s *Settings) rounding(unit gauge.LengthUnit) float64 {
	step := s.StepCM
	if unit == gauge.Inch {
		step = s.StepInch * gauge.CMPerInch
	}
	return step * step / 12
}
