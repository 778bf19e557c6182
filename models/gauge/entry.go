package gauge

// Entry is a gauge as it stands in an input: in the usual form with one span
// for both,
//
//	{"stitches": 15, "rows": 17, "span": 10, "unit": "cm"}
//
// or with a span for each,
//
//	{"stitch": {"count": 18, "over": 10, "unit": "cm"}, "row": {"count": 25.5, "over": 4, "unit": "in"}}
//
// but not a mixture. What is missing or null was not counted.
type Entry struct {
	Stitches *float64   `json:"stitches,omitempty"`
	Rows     *float64   `json:"rows,omitempty"`
	Span     *float64   `json:"span,omitempty"`
	Unit     LengthUnit `json:"unit,omitempty"`

	Stitch *Swatch `json:"stitch,omitempty"`
	Row    *Swatch `json:"row,omitempty"`
}

// Gauge checks the entry and returns its gauge, which has at least one axis.
// field is the entry's path in the input.
func (e Entry) Gauge(field string) (Gauge, error) {
	common := e.Stitches != nil || e.Rows != nil || e.Span != nil || e.Unit != ""
	apart := e.Stitch != nil || e.Row != nil
	switch {
	case common && apart:
		return Gauge{}, Wrongf(field, "gives both one span and separate spans; keep one of the two forms")
	case apart:
		return e.apart(field)
	case e.Stitches == nil && e.Rows == nil:
		return Gauge{}, Wrongf(field, "has neither stitches nor rows; give at least one, with span and unit")
	}
	return e.common(field)
}

func (e Entry) apart(field string) (Gauge, error) {
	var g Gauge
	if e.Stitch != nil {
		if err := e.Stitch.Check(Under(field, "stitch")); err != nil {
			return Gauge{}, err
		}
		g.Stitch = *e.Stitch
	}
	if e.Row != nil {
		if err := e.Row.Check(Under(field, "row")); err != nil {
			return Gauge{}, err
		}
		g.Row = *e.Row
	}
	return g, nil
}

func (e Entry) common(field string) (Gauge, error) {
	if e.Span == nil {
		return Gauge{}, Wrongf(Under(field, "span"), "is missing; give the span that was counted over, like 10 cm or 4 in")
	}
	var g Gauge
	for _, axis := range []struct {
		name  string
		count *float64
		into  *Swatch
	}{{"stitches", e.Stitches, &g.Stitch}, {"rows", e.Rows, &g.Row}} {
		if axis.count == nil {
			continue
		}
		s := Swatch{Count: *axis.count, Over: *e.Span, Unit: e.Unit}
		if err := s.checkSpan(Under(field, "span"), Under(field, "unit")); err != nil {
			return Gauge{}, err
		}
		if err := s.checkCount(Under(field, axis.name)); err != nil {
			return Gauge{}, err
		}
		*axis.into = s
	}
	return g, nil
}
