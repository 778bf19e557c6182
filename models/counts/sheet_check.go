package counts

import (
	"fmt"
	"math"

	"tenter/models/gauge"
)

// sheet is an input that has been checked, with the text counts read and the
// expressions compiled.
type sheet struct {
	in     Input
	gauge  gauge.Gauge
	values map[string][]*float64 // of each count, one for each size
	exacts map[string][]exact    // the same, as the expressions take them
	rules  []*Expression
	points []*Expression
	blank  map[string]bool // counts that are still to be found
}

// open checks everything that does not depend on a size. Every count needs its
// values.
func open(in Input) (*sheet, error) { return openWith(in, Count.read) }

// openWith opens with another way to read a count's values; nil values make the
// count blank.
func openWith(in Input, read func(c Count, sizes []string, path string) ([]*float64, error)) (*sheet, error) {
	s := &sheet{in: in, values: map[string][]*float64{}, exacts: map[string][]exact{}, blank: map[string]bool{}}
	if err := checkSizeNames(in.Sizes, "sizes"); err != nil {
		return nil, err
	}
	if in.Gauge != nil {
		var err error
		if s.gauge, err = in.Gauge.Gauge("gauge"); err != nil {
			return nil, err
		}
	}
	if err := s.openCounts(read); err != nil {
		return nil, err
	}
	if err := s.openRules(); err != nil {
		return nil, err
	}
	return s, s.openPoints()
}

func (s *sheet) openCounts(read func(Count, []string, string) ([]*float64, error)) error {
	if len(s.in.Counts) > MaxCounts {
		return fieldf("counts", "has %d lines; %d are the most", len(s.in.Counts), MaxCounts)
	}
	for i, c := range s.in.Counts {
		path := fmt.Sprintf("counts[%d]", i)
		if err := checkName(c.Name, path+".name"); err != nil {
			return err
		}
		if _, twice := s.values[c.Name]; twice {
			return fieldf(path+".name", "there is another count named %q", c.Name)
		}
		switch c.Unit {
		case UnitStitch, UnitRow, UnitRepeat, UnitRowNumber:
		default:
			return fieldf(path+".unit", "is %q; it must be stitch, row, repeat or row_number", c.Unit)
		}
		values, err := read(c, s.in.Sizes, path)
		if err != nil {
			return err
		}
		if values == nil {
			s.blank[c.Name] = true
			values = make([]*float64, len(s.in.Sizes))
		}
		s.values[c.Name] = values
		numbers := make([]exact, len(values))
		for k, v := range values {
			if v != nil {
				numbers[k] = exactOf(*v)
			}
		}
		s.exacts[c.Name] = numbers
	}
	return nil
}

// read returns the count's values, from its text where it has one.
func (c Count) read(sizes []string, path string) ([]*float64, error) {
	switch {
	case c.Values != nil && c.Text != "":
		return nil, fieldf(path, "has both values and text; give one of them")
	case c.Values == nil && c.Text == "":
		return nil, fieldf(path, "has neither values nor text; give one of them")
	case c.Text != "":
		list, err := ReadFor(c.Text, sizes)
		if err != nil {
			return nil, fieldf(path+".text", "%s", err)
		}
		return list.Values, nil
	case len(c.Values) != len(sizes):
		return nil, fieldf(path+".values", "has %s for %s", amount(len(c.Values), "value"), amount(len(sizes), "size"))
	}
	for k, v := range c.Values {
		if v != nil && !(*v >= 0 && *v <= MaxCountValue) { // written so that NaN fails too
			return nil, fieldf(fmt.Sprintf("%s.values[%d]", path, k), "must be from 0 to %d, or null for a size that skips the line", int(MaxCountValue))
		}
	}
	return c.Values, nil
}

func (s *sheet) has(name string) bool { return s.values[name] != nil }

func (s *sheet) openRules() error {
	if len(s.in.Rules) > MaxRules {
		return fieldf("rules", "has %d rules; %d are the most", len(s.in.Rules), MaxRules)
	}
	for i, r := range s.in.Rules {
		path := fmt.Sprintf("rules[%d]", i)
		if err := checkName(r.Name, path+".name"); err != nil {
			return err
		}
		e, err := compile(r.Expr, s.has)
		if err != nil {
			return fieldf(path+".expr", "%s", err)
		}
		switch r.Kind {
		case KindHolds:
			if !e.IsStatement() {
				return fieldf(path+".expr", "is a number; a rule that holds needs a comparison, such as left + right == body")
			}
		case KindMultiple:
			if e.IsStatement() {
				return fieldf(path+".expr", "is a statement; a multiple needs a number, such as body")
			}
			if err := (Multiple{Of: r.Of, Plus: r.Plus}).check(); err != nil {
				return fieldf(path+".of", "%s", err)
			}
		default:
			return fieldf(path+".kind", "is %q; it must be holds or multiple", r.Kind)
		}
		s.rules = append(s.rules, e)
	}
	return nil
}

func (s *sheet) openPoints() error {
	if len(s.in.Points) > MaxPoints {
		return fieldf("points", "has %d points; %d are the most", len(s.in.Points), MaxPoints)
	}
	seen := map[string]bool{}
	for i, p := range s.in.Points {
		path := fmt.Sprintf("points[%d]", i)
		if err := p.check(path, len(s.in.Sizes)); err != nil {
			return err
		}
		if seen[p.Name] {
			return fieldf(path+".name", "there is another point named %q", p.Name)
		}
		seen[p.Name] = true
		e, err := compile(p.Expr, s.has)
		if err != nil {
			return fieldf(path+".expr", "%s", err)
		}
		if e.IsStatement() {
			return fieldf(path+".expr", "is a statement; a point needs a number, such as body")
		}
		if axis := gauge.Axis(p.Axis); !s.counted(axis) {
			return fieldf("gauge", "has no %s, and point %q is measured along them", axis.Plural(), p.Name)
		}
		s.points = append(s.points, e)
	}
	return nil
}

func (p Point) check(path string, sizes int) error {
	if err := checkName(p.Name, path+".name"); err != nil {
		return err
	}
	if p.Axis != AxisStitch && p.Axis != AxisRow {
		return fieldf(path+".axis", "is %q; it must be stitch or row", p.Axis)
	}
	if !(math.Abs(p.Add) <= MaxLengthCM) {
		return fieldf(path+".add", "must be a length of at most %d cm", int(MaxLengthCM))
	}
	if p.Tolerance != nil && !(*p.Tolerance >= 0 && *p.Tolerance <= MaxLengthCM) {
		return fieldf(path+".tolerance", "must be from 0 to %d cm", int(MaxLengthCM))
	}
	if err := checkLengths(p.Intended, path+".intended", sizes); err != nil {
		return err
	}
	if err := checkLengths(p.Body, path+".body", sizes); err != nil {
		return err
	}
	if len(p.Ease) == 0 {
		return nil
	}
	if len(p.Ease) != 2 || !(p.Ease[0] <= p.Ease[1]) || !(math.Abs(p.Ease[0]) <= MaxLengthCM && math.Abs(p.Ease[1]) <= MaxLengthCM) {
		return fieldf(path+".ease", "must be the least and the greatest ease in cm, in that order")
	}
	if len(p.Body) == 0 {
		return fieldf(path+".body", "is needed with ease: a body measurement for each size")
	}
	return nil
}

// checkLengths accepts no list, or a length or nil for each size.
func checkLengths(lengths []*float64, path string, sizes int) error {
	if len(lengths) == 0 {
		return nil
	}
	if len(lengths) != sizes {
		return fieldf(path, "has %s for %s", amount(len(lengths), "value"), amount(sizes, "size"))
	}
	for k, v := range lengths {
		if v != nil && !(*v >= 0 && *v <= MaxLengthCM) {
			return fieldf(fmt.Sprintf("%s[%d]", path, k), "must be from 0 to %d cm, or null", int(MaxLengthCM))
		}
	}
	return nil
}

func (s *sheet) counted(axis gauge.Axis) bool {
	_, ok := s.gauge.On(axis)
	return ok
}

// at returns the values that e needs for size k, and whether all are there: a
// rule or a point does not apply to a size that skips one of its counts.
func (s *sheet) at(e *Expression, k int) (x []exact, applies bool) {
	x = make([]exact, len(e.names))
	for i, name := range e.names {
		if s.values[name][k] == nil {
			return nil, false
		}
		x[i] = s.exacts[name][k]
	}
	return x, true
}

// sizeError says that an expression cannot be worked out for a size.
func (s *sheet) sizeError(path string, k int, err error) error {
	return fieldf(path, "cannot be worked out for size %s: it %s", s.in.Sizes[k], err)
}
