package compare

import (
	"math"

	"tenter/models/gauge"
)

// Verdict is the plain reading of one measurement.
type Verdict string

// The verdicts on one measurement.
const (
	AsPromised    Verdict = "as_promised"    // within tolerance of the design, and of the own gauge if known
	GaugeExplains Verdict = "gauge_explains" // out of tolerance; at the maker's own gauge it is within
	WithinDoubt   Verdict = "within_doubt"   // what the gauge leaves is out of tolerance, but no more than tape and swatch can be out
	PartlyGauge   Verdict = "partly_gauge"   // the gauge explains half or more, what is left is real
	NotGauge      Verdict = "not_gauge"      // the gauge explains less than half, what is left is real
	AgainstGauge  Verdict = "against_gauge"  // within tolerance of the design although the own gauge says otherwise
	GaugeUnknown  Verdict = "gauge_unknown"  // out of tolerance and no swatch to tell why
	MeasureAgain  Verdict = "measure_again"  // readings that contradict each other
)

// Output is the comparison. All lengths in cm, rounded to 6 decimals. Up to that
// rounding DifferenceCM = ExplainedCM + ResidualCM.
type Output struct {
	Point               string    `json:"point"`
	ExpectedDesignCM    float64   `json:"expected_design_cm"`
	ExpectedOwnCM       *float64  `json:"expected_own_cm"` // null: gauge not reported
	MeasuredCM          float64   `json:"measured_cm"`
	DifferenceCM        float64   `json:"difference_cm"`           // measured - expected at the design's gauge
	DifferencePercent   float64   `json:"difference_percent"`      // of the expected
	ExplainedCM         *float64  `json:"explained_cm"`            // expected own - expected design
	ResidualCM          float64   `json:"residual_cm"`             // measured - expected own, or the whole difference
	ResidualUncertainty float64   `json:"residual_uncertainty_cm"` // standard
	ResidualLowCM       float64   `json:"residual_low_cm"`         // about 95 %
	ResidualHighCM      float64   `json:"residual_high_cm"`
	AtOwnGaugeCM        float64   `json:"at_own_gauge_cm"` // the mark on the tape strip: measured × design / own
	SharePercent        *float64  `json:"share_percent"`
	ShareNote           ShareNote `json:"share_note,omitempty"`
	WithinTolerance     bool      `json:"within_tolerance"` // of the expected at the design's gauge
	ResidualWithin      bool      `json:"residual_within"`  // what is left is within the tolerance
	ReadingsDisagree    bool      `json:"readings_disagree"`
	Verdict             Verdict   `json:"verdict"`
	Message             string    `json:"message"`
}

// Measurement compares one measurement with what its count promises. The
// residual's standard uncertainty is the GUM budget
//
//	u² = u_point²(+ step²/12) + (counted length × 0.2466/swatch count)²
//
// (see Combine for the first part), with 5 % of the counted length in place of
// the swatch when no gauge was reported (JCGM 100:2008, 5.1.2; the settings are
// chosen). The count is exact by definition.
func Measurement(in Input) (Output, error) {
	e, err := in.expect()
	if err != nil {
		return Output{}, err
	}
	r, err := Combine(in.Measured, in.repeatability(e.designCM))
	if err != nil {
		return Output{}, err
	}
	residual := r.CM - e.ownCM
	u := math.Hypot(math.Sqrt(r.Variance), e.ownU)
	out := Output{
		Point:               in.Point,
		ExpectedDesignCM:    gauge.Tidy(e.designCM),
		MeasuredCM:          gauge.Tidy(r.CM),
		DifferenceCM:        gauge.Tidy(r.CM - e.designCM),
		DifferencePercent:   gauge.Tidy(100 * (r.CM/e.designCM - 1)),
		ResidualCM:          gauge.Tidy(residual),
		ResidualUncertainty: gauge.Tidy(u),
		ResidualLowCM:       gauge.Tidy(residual - gauge.Coverage*u),
		ResidualHighCM:      gauge.Tidy(residual + gauge.Coverage*u),
		AtOwnGaugeCM:        gauge.Tidy(atOwnGauge(r.CM, e.designCM, e.ownCM)),
		WithinTolerance:     within(r.CM-e.designCM, in.ToleranceCM),
		ResidualWithin:      within(residual, in.ToleranceCM),
		ReadingsDisagree:    r.Disagree,
	}
	if e.ownKnown {
		own, explained := gauge.Tidy(e.ownCM), gauge.Tidy(e.ownCM-e.designCM)
		out.ExpectedOwnCM, out.ExplainedCM = &own, &explained
	}
	out.SharePercent, out.ShareNote = share(e, r)
	out.Verdict = out.judge(u)
	out.Message = in.sentence(out)
	return out, nil
}

// within allows for the rounding of inches: a millionth of a cm.
func within(deviationCM, toleranceCM float64) bool {
	return math.Abs(deviationCM) <= toleranceCM+1e-6
}

// atOwnGauge is a measurement with the maker's gauge taken out of it: measured ×
// expected at the design's gauge / expected at their own.
func atOwnGauge(measuredCM, designCM, ownCM float64) float64 { return measuredCM * designCM / ownCM }

// judge reads the numbers. A residual counts as real when it is beyond the
// tolerance and beyond 1.96 of its standard uncertainties.
func (o Output) judge(u float64) Verdict {
	real := !o.ResidualWithin && math.Abs(o.ResidualCM) > gauge.Coverage*u
	switch {
	case o.ReadingsDisagree:
		return MeasureAgain
	case o.WithinTolerance && real && o.ExpectedOwnCM != nil:
		return AgainstGauge
	case o.WithinTolerance:
		return AsPromised
	case o.ExpectedOwnCM == nil:
		return GaugeUnknown
	case o.ResidualWithin:
		return GaugeExplains
	case !real:
		return WithinDoubt
	case o.SharePercent != nil && *o.SharePercent >= 50:
		return PartlyGauge
	}
	return NotGauge
}
