package gauge

// Item is a count of stitches or rows, with an edging if there is one and the
// length that was measured if it was.
type Item struct {
	Name     string  `json:"name"`
	Axis     Axis    `json:"axis"`
	Count    float64 `json:"count"`
	AddCM    float64 `json:"add_cm,omitempty"`
	Measured *Length `json:"measured,omitempty"`
}

// ItemAnswer is the length that an item's count gives at each gauge. What
// depends on a gauge without that axis, or on a length that was not measured, is
// missing. Difference is measured - expected.
type ItemAnswer struct {
	Name         string   `json:"name"`
	Axis         Axis     `json:"axis"`
	ExpectedCM   *float64 `json:"expected_cm,omitempty"`
	ExpectedIn   *float64 `json:"expected_in,omitempty"`
	OwnCM        *float64 `json:"own_cm,omitempty"`
	OwnIn        *float64 `json:"own_in,omitempty"`
	MeasuredCM   *float64 `json:"measured_cm,omitempty"`
	DifferenceCM *float64 `json:"difference_cm,omitempty"`     // from the design's gauge
	OwnDiffCM    *float64 `json:"own_difference_cm,omitempty"` // from the own gauge
}

func (it Item) answer(field string, design, own Gauge) (ItemAnswer, error) {
	if err := checkAsked(field, it.Name, it.Axis, design, own); err != nil {
		return ItemAnswer{}, err
	}
	a := ItemAnswer{Name: it.Name, Axis: it.Axis}
	expected, err := it.expected(field, design)
	if err != nil {
		return ItemAnswer{}, err
	}
	atOwn, err := it.expected(field, own)
	if err != nil {
		return ItemAnswer{}, err
	}
	a.ExpectedCM, a.ExpectedIn = tidied(expected, 1), tidied(expected, CMPerInch)
	a.OwnCM, a.OwnIn = tidied(atOwn, 1), tidied(atOwn, CMPerInch)
	if it.Measured == nil {
		return a, nil
	}
	if err := it.Measured.Check(Under(field, "measured")); err != nil {
		return ItemAnswer{}, err
	}
	measured := it.Measured.CM()
	a.MeasuredCM = tidied(&measured, 1)
	a.DifferenceCM, a.OwnDiffCM = less(measured, expected), less(measured, atOwn)
	return a, nil
}

// expected is the item's length in cm at a gauge, nil when the gauge has no such
// axis.
func (it Item) expected(field string, g Gauge) (*float64, error) {
	s, ok := g.On(it.Axis)
	if !ok {
		return nil, nil
	}
	cm, err := s.ExpectedCM(it.Count, it.AddCM)
	if err != nil {
		return nil, within(field, err)
	}
	return &cm, nil
}

func checkAsked(field, name string, axis Axis, design, own Gauge) error {
	if n := len([]rune(name)); n > maxNameRune {
		return Wrongf(Under(field, "name"), "has %d characters; keep it to %d", n, maxNameRune)
	}
	if err := axis.Check(Under(field, "axis")); err != nil {
		return err
	}
	_, atDesign := design.On(axis)
	_, atOwn := own.On(axis)
	if !atDesign && !atOwn {
		return Wrongf(Under(field, "axis"), "asks for %s, which no gauge here counts; add them to the gauge", axis.Plural())
	}
	return nil
}

// within puts a FieldError's path under field.
func within(field string, err error) error {
	if f, ok := err.(*FieldError); ok {
		return &FieldError{Field: Under(field, f.Field), Problem: f.Problem}
	}
	return err
}

func tidied(cm *float64, per float64) *float64 {
	if cm == nil {
		return nil
	}
	v := Tidy(*cm / per)
	return &v
}

func less(measured float64, expected *float64) *float64 {
	if expected == nil {
		return nil
	}
	v := Tidy(measured - *expected)
	return &v
}
