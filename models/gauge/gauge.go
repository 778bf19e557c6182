package gauge

// Gauge is stitches and rows counted over a span. Either may be missing, and
// each may have its own span.
type Gauge struct {
	Stitch Swatch `json:"stitch,omitzero"`
	Row    Swatch `json:"row,omitzero"`
}

// Over makes a gauge with one span for both axes. A count of 0 means that the
// axis was not counted.
func Over(stitches, rows, span float64, unit LengthUnit) Gauge {
	var g Gauge
	if stitches != 0 {
		g.Stitch = Swatch{Count: stitches, Over: span, Unit: unit}
	}
	if rows != 0 {
		g.Row = Swatch{Count: rows, Over: span, Unit: unit}
	}
	return g
}

// On returns one axis of the gauge, and whether it was counted.
func (g Gauge) On(a Axis) (Swatch, bool) {
	s := g.Stitch
	if a == Row {
		s = g.Row
	}
	return s, s.Counted()
}

// Counted reports whether at least one axis was counted.
func (g Gauge) Counted() bool { return g.Stitch.Counted() || g.Row.Counted() }

// Check returns a FieldError unless each axis that was counted is sound. A
// gauge with nothing counted passes: ask Counted.
func (g Gauge) Check(field string) error {
	if g.Stitch.Counted() {
		if err := g.Stitch.Check(Under(field, "stitch")); err != nil {
			return err
		}
	}
	if g.Row.Counted() {
		return g.Row.Check(Under(field, "row"))
	}
	return nil
}
