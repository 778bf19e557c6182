package compare

import (
	"fmt"
	"math"

	"tenter/models/gauge"
)

// MaxReadings bounds how often one point is measured in one report, chosen.
const MaxReadings = 20

// Reading is what one person's readings of one point come to.
type Reading struct {
	CM       float64 // the value that counts
	Variance float64 // of CM, cm²
	Disagree bool    // the readings contradict each other; CM is the last one
}

// Combine puts one person's readings of one point, in order, into one. u is the
// point's repeatability in cm, d_k the step to which reading k was read. They
// agree when
//
//	max - min <= 3 √2 √(u²/2 + d₁²/12)
//
// and then the mean of the m readings counts, with variance
//
//	u² (1/2 + 1/(2m)) + (Σ d_k²/12)/m²
//
// half of the variance staying whatever m is: it is the garment's and the
// person's. When they disagree the last one counts alone, since a measurement
// taken again supersedes the first.
//
// Source: JCGM 100:2008 (GUM), 4.2 for the mean, 4.3.7 for the step; the halves
// and the bound of three standard deviations are chosen.
func Combine(readings []gauge.Length, repeatabilityCM float64) (Reading, error) {
	if err := checkRepeatability("repeatability_cm", repeatabilityCM); err != nil {
		return Reading{}, err
	}
	if err := checkReadings(readings); err != nil {
		return Reading{}, err
	}
	half := repeatabilityCM * repeatabilityCM / 2
	low, high := math.Inf(1), math.Inf(-1)
	var sum, steps float64
	for _, r := range readings {
		low, high = math.Min(low, r.CM()), math.Max(high, r.CM())
		sum += r.CM()
		steps += stepVariance(r.Unit)
	}
	if high-low > 3*math.Sqrt2*math.Sqrt(half+stepVariance(readings[0].Unit)) {
		last := readings[len(readings)-1]
		return Reading{CM: last.CM(), Variance: 2*half + stepVariance(last.Unit), Disagree: true}, nil
	}
	m := float64(len(readings))
	return Reading{CM: sum / m, Variance: half + half/m + steps/(m*m)}, nil
}

// stepVariance is d²/12, of a rectangular distribution as wide as the step.
func stepVariance(unit gauge.LengthUnit) float64 {
	d := StepCM(unit)
	return d * d / 12
}

func checkReadings(readings []gauge.Length) error {
	if len(readings) == 0 {
		return gauge.Wrongf("measured", "is missing; give at least one reading")
	}
	if len(readings) > MaxReadings {
		return gauge.Wrongf("measured", "has %d readings; give at most %d", len(readings), MaxReadings)
	}
	for i, r := range readings {
		if err := Bounds(fmt.Sprintf("measured[%d]", i), r); err != nil {
			return err
		}
	}
	return nil
}
