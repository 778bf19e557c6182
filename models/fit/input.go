package fit

import "tenter/models/gauge"

// Input is one test round of one design: what the pattern says, and what its
// testers measured.
type Input struct {
	Round  string   `json:"round"`
	Craft  string   `json:"craft"` // crochet or knit; only told, nothing depends on it
	Sizes  []string `json:"sizes"` // smallest to largest
	Points []Point  `json:"points"`

	DesignGauge DesignGauge `json:"design_gauge"`

	// By size and point: the finished measurement that the design intends, and
	// the text's count of stitches or rows. A count of 0, or none, is a point
	// that the size skips.
	IntendedCM map[string]map[string]float64 `json:"intended_cm,omitempty"`
	Counts     map[string]map[string]float64 `json:"counts"`

	TotalStitches map[string]float64 `json:"total_stitches,omitempty"` // by size, for the yarn

	Testers []Tester `json:"testers"`
}

// Point is a place that is measured on every finished piece.
type Point struct {
	ID   string     `json:"id"`
	Axis gauge.Axis `json:"axis"` // what is counted along it
	// UCM is the standard uncertainty in cm of one measurement, whoever
	// measures; where nil it is chosen by the point's axis and length.
	UCM *float64 `json:"u_cm,omitempty"`
	// AddCM is what the finished piece measures beyond its count, such as an
	// edging; it may be negative. It is taken off each measurement before the
	// count is looked at.
	AddCM float64 `json:"add_cm,omitempty"`
	// Repeat is the stitch or row repeat in which the count can move, 1 where nil.
	Repeat *float64 `json:"repeat,omitempty"`
}

// DesignGauge is the gauge that the pattern states: stitches and rows over a
// span in cm. An axis that no point uses may be left out.
type DesignGauge struct {
	Stitch float64 `json:"stitch,omitempty"`
	Row    float64 `json:"row,omitempty"`
	OverCM float64 `json:"over_cm"`
}

// per10 is the gauge over 10 cm along an axis.
func (g DesignGauge) per10(axis gauge.Axis) float64 {
	if axis == gauge.Row {
		return g.Row * 10 / g.OverCM
	}
	return g.Stitch * 10 / g.OverCM
}

// Tester is one person making one size. Somebody who makes two sizes is two
// testers, with the same id.
type Tester struct {
	ID           string        `json:"id"`
	Size         string        `json:"size"`
	HookMM       float64       `json:"hook_mm,omitempty"`
	Swatch       *Swatch       `json:"swatch,omitempty"`
	Measurements []Measurement `json:"measurements"`
	MetresUsed   *float64      `json:"metres_used,omitempty"`
}

// Swatch is a tester's own gauge, as they counted it; an axis may be missing.
type Swatch struct {
	Stitch *gauge.Swatch `json:"stitch,omitempty"`
	Row    *gauge.Swatch `json:"row,omitempty"`
}

// On returns the swatch's count along an axis, nil if it was not counted.
func (s *Swatch) On(axis gauge.Axis) *gauge.Swatch {
	switch {
	case s == nil:
		return nil
	case axis == gauge.Row:
		return s.Row
	}
	return s.Stitch
}

// Measurement is one reading of a point. Readings of the same point stand in
// the order in which they were taken. A value that is nil, 0 or negative was
// not taken.
type Measurement struct {
	Point string           `json:"point"`
	Value *float64         `json:"value"`
	Unit  gauge.LengthUnit `json:"unit"`
	// Deliberate says that the tester changed this on purpose ("I made the body
	// longer"), so that it says nothing about the pattern.
	Deliberate bool `json:"deliberate,omitempty"`
}

// taken reports whether the reading counts.
func (m Measurement) taken() bool { return m.Value != nil && *m.Value > 0 && !m.Deliberate }

// cm is the reading in centimetres.
func (m Measurement) cm() float64 {
	return gauge.Length{Value: *m.Value, Unit: m.Unit}.CM()
}
