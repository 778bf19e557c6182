package gauge

import "math"

// Wanted is a length of which the count is asked, in a multiple if the stitch
// pattern needs one.
type Wanted struct {
	Name     string    `json:"name"`
	Axis     Axis      `json:"axis"`
	Length   Length    `json:"length"`
	AddCM    float64   `json:"add_cm,omitempty"` // an edging that the counts need not give
	Multiple *Multiple `json:"multiple,omitempty"`
}

// Multiple is "multiple of 6 + 2": of 6, plus 2.
type Multiple struct {
	Of   int `json:"of"`
	Plus int `json:"plus,omitempty"`
}

// WantedAnswer gives the counts at the design's gauge and at the own one. A
// gauge without that axis is missing.
type WantedAnswer struct {
	Name     string  `json:"name"`
	Axis     Axis    `json:"axis"`
	LengthCM float64 `json:"length_cm"`
	Design   *Counts `json:"design,omitempty"`
	Own      *Counts `json:"own,omitempty"`
}

// Counts is the count that a length needs at one gauge. Exact is a real number;
// Below and Above are the nearest possible counts on either side, the same when
// the length is met. Below is missing when no possible count is that small.
type Counts struct {
	Exact float64 `json:"exact"`
	Below *Choice `json:"below,omitempty"`
	Above Choice  `json:"above"`
}

// Choice is a possible count, the length it gives with its edging, and how far
// that is from the wanted length (this - wanted).
type Choice struct {
	Count        int     `json:"count"`
	CM           float64 `json:"cm"`
	In           float64 `json:"in"`
	DifferenceCM float64 `json:"difference_cm"`
}

// maxMultiple bounds a stitch repeat, chosen.
const maxMultiple = 10000

func (w Wanted) answer(field string, design, own Gauge) (WantedAnswer, error) {
	if err := w.check(field, design, own); err != nil {
		return WantedAnswer{}, err
	}
	a := WantedAnswer{Name: w.Name, Axis: w.Axis, LengthCM: Tidy(w.Length.CM())}
	var err error
	if s, ok := design.On(w.Axis); ok {
		if a.Design, err = w.counts(field, s); err != nil {
			return WantedAnswer{}, err
		}
	}
	if s, ok := own.On(w.Axis); ok {
		if a.Own, err = w.counts(field, s); err != nil {
			return WantedAnswer{}, err
		}
	}
	return a, nil
}

func (w Wanted) check(field string, design, own Gauge) error {
	if err := checkAsked(field, w.Name, w.Axis, design, own); err != nil {
		return err
	}
	if err := w.Length.Check(Under(field, "length")); err != nil {
		return err
	}
	if err := checkAddedCM(Under(field, "add_cm"), w.AddCM); err != nil {
		return err
	}
	if w.Length.CM() < w.AddCM {
		return Wrongf(Under(field, "add_cm"), "is already longer than the length wanted")
	}
	if m := w.Multiple; m != nil {
		if m.Of < 1 || m.Of > maxMultiple {
			return Wrongf(Under(field, "multiple.of"), "must lie between 1 and %d", maxMultiple)
		}
		if m.Plus < -maxMultiple || m.Plus > maxMultiple {
			return Wrongf(Under(field, "multiple.plus"), "must lie between -%[1]d and %[1]d", maxMultiple)
		}
	}
	return nil
}

// counts solves count × span / swatch count + add = length, and looks for the
// nearest of + plus on either side that is at least 1.
func (w Wanted) counts(field string, s Swatch) (*Counts, error) {
	exact := (w.Length.CM() - w.AddCM) * s.PerCM()
	if exact > MaxCount {
		return nil, Wrongf(Under(field, "length"), "needs more than %s %s; check the length and the gauge", Decimal(MaxCount, 0), w.Axis.Plural())
	}
	below, above := w.nearest(exact)
	c := &Counts{Exact: Tidy(exact), Above: w.choice(s, above)}
	if below >= 1 {
		b := w.choice(s, below)
		c.Below = &b
	}
	return c, nil
}

// nearest returns the possible counts next to exact: below <= exact <= above,
// above at least 1. A length that asks for a possible count to within a millionth
// of a stitch is met by it: the rest is the rounding of inches.
func (w Wanted) nearest(exact float64) (below, above int) {
	m := Multiple{Of: 1}
	if w.Multiple != nil {
		m = *w.Multiple
	}
	const met = 1e-6
	of, plus := float64(m.Of), float64(m.Plus)
	below = int(of*math.Floor((exact+met-plus)/of) + plus)
	above = int(of*math.Ceil((exact-met-plus)/of) + plus)
	if above < 1 { // exact >= 0, so above is 0 at the least
		above += m.Of
	}
	return below, above
}

func (w Wanted) choice(s Swatch, count int) Choice {
	cm := s.lengthCM(float64(count), w.AddCM)
	return Choice{Count: count, CM: Tidy(cm), In: Tidy(cm / CMPerInch), DifferenceCM: Tidy(cm - w.Length.CM())}
}
