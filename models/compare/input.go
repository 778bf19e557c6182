package compare

import "tenter/models/gauge"

// Input is one point of one report (or of a sample).
type Input struct {
	Point           string           `json:"point"`                      // its name, for the sentence
	Axis            gauge.Axis       `json:"axis"`                       // which gauge counts
	Count           float64          `json:"count"`                      // stitches or rows, already evaluated
	AddCM           float64          `json:"add_cm,omitempty"`           // an edging; may be negative
	Design          gauge.Gauge      `json:"design"`                     // the stated gauge
	Own             gauge.Gauge      `json:"own,omitzero"`               // the maker's swatch; nothing counted: not reported
	Measured        []gauge.Length   `json:"measured"`                   // readings of the point, in order
	ToleranceCM     float64          `json:"tolerance_cm"`               // of the point
	Girth           bool             `json:"girth,omitempty"`            // a full circumference
	Kind            Kind             `json:"kind,omitempty"`             // empty: KindOf
	RepeatabilityCM float64          `json:"repeatability_cm,omitempty"` // 0: the kind's
	Unit            gauge.LengthUnit `json:"unit,omitempty"`             // of the sentence; empty: cm
}

// MaxToleranceCM bounds a point's tolerance, chosen.
const MaxToleranceCM = 50.0

// expectation is what the count promises.
type expectation struct {
	designCM float64
	ownCM    float64 // the design's when the maker's gauge is not known
	ownKnown bool
	// ownU is the standard uncertainty of ownCM in cm.
	ownU float64
}

// expect computes the expectations and the uncertainty that the maker's gauge
// brings into them. Only the counted part scales with the gauge: an edging does
// not.
func (in Input) expect() (expectation, error) {
	if err := in.check(); err != nil {
		return expectation{}, err
	}
	stated, _ := in.Design.On(in.Axis)
	designCM, err := stated.ExpectedCM(in.Count, in.AddCM)
	if err != nil {
		return expectation{}, err
	}
	e := expectation{designCM: designCM, ownCM: designCM, ownU: (designCM - in.AddCM) * gauge.SpreadOfMakers}
	if own, ok := in.Own.On(in.Axis); ok {
		if e.ownCM, err = own.ExpectedCM(in.Count, in.AddCM); err != nil {
			return expectation{}, err
		}
		e.ownKnown, e.ownU = true, (e.ownCM-in.AddCM)*own.RelativeUncertainty()
	}
	if e.designCM < shortestCM || e.ownCM < shortestCM {
		return expectation{}, gauge.Wrongf("count", "gives less than %s cm with its edging; there is nothing to measure", gauge.Decimal(shortestCM, 1))
	}
	return e, nil
}

// shortestCM is the shortest length that a comparison makes sense of, chosen.
const shortestCM = 0.1

func (in Input) check() error {
	if n := len([]rune(in.Point)); n > 100 {
		return gauge.Wrongf("point", "has %d characters; keep it to 100", n)
	}
	if err := in.Axis.Check("axis"); err != nil {
		return err
	}
	if err := in.Design.Check("design"); err != nil {
		return err
	}
	if err := in.Own.Check("own"); err != nil {
		return err
	}
	if _, ok := in.Design.On(in.Axis); !ok {
		return gauge.Wrongf("design."+string(in.Axis), "is missing; the design's gauge must count %s", in.Axis.Plural())
	}
	if err := checkTolerance("tolerance_cm", in.ToleranceCM); err != nil {
		return err
	}
	if in.Kind != "" && !in.Kind.Valid() {
		return gauge.Wrongf("kind", "is unknown; give short, width, length, girth or hem")
	}
	if in.Unit != "" && !in.Unit.Valid() {
		return gauge.Wrongf("unit", "is unknown; give cm or in")
	}
	if in.RepeatabilityCM != 0 {
		return checkRepeatability("repeatability_cm", in.RepeatabilityCM)
	}
	return nil
}

func checkTolerance(field string, cm float64) error {
	if !(cm > 0 && cm <= MaxToleranceCM) {
		return gauge.Wrongf(field, "must be more than 0 and at most %s cm", gauge.Decimal(MaxToleranceCM, 0))
	}
	return nil
}

// repeatability is the point's own, or its kind's.
func (in Input) repeatability(expectedCM float64) float64 {
	if in.RepeatabilityCM != 0 {
		return in.RepeatabilityCM
	}
	if in.Kind != "" {
		return in.Kind.RepeatabilityCM()
	}
	return KindOf(in.Axis, in.Girth, expectedCM).RepeatabilityCM()
}
