package models

import (
	"context"
	"fmt"
	"strings"

	"gorm.io/gorm"

	"tenter/models/counts"
	"tenter/models/gauge"
)

// SheetCheck is what the arithmetic says of a count sheet. Unchecked names what
// could not be computed, and why: a point that uses a name that is no count in
// this version, or a division by zero.
type SheetCheck struct {
	counts.Output
	Counts    int // lines of the sheet
	Unchecked []FieldProblem
}

// CheckSheet checks a version's counts against its rules, and against what its
// design's points are meant to measure.
func (s *Store) CheckSheet(ctx context.Context, sheet *Sheet) (*SheetCheck, error) {
	db := s.read(ctx)
	design, err := designIn(db, sheet.Version.DesignID)
	if err != nil {
		return nil, err
	}
	return s.checkSheet(db, design, sheet)
}

func (s *Store) checkSheet(db *gorm.DB, design *Design, sheet *Sheet) (*SheetCheck, error) {
	points, err := pointsIn(db, []string{design.ID})
	if err != nil {
		return nil, err
	}
	out := &SheetCheck{Counts: len(sheet.Counts)}
	out.Findings, out.Finished, out.Sections = []counts.Finding{}, []counts.Finished{}, []counts.Section{}
	in := sheet.countsInput(design)
	for _, c := range points {
		in.Points = append(in.Points, countsPoint(c, sheet.Sizes))
	}
	s.dropUncomputable(&in, out)
	if len(in.Sizes) == 0 {
		return out, nil
	}
	result, err := counts.Calculate(in)
	if err != nil {
		// What is left was compiled and tried above; anything else is a bound
		// that the sheet's own validation should have kept.
		return nil, fmt.Errorf("check count sheet: %w", err)
	}
	out.Output = result
	return out, nil
}

func (s Sheet) countsInput(design *Design) counts.Input {
	in := counts.Input{Gauge: design.Gauge.entry(), Layout: layoutOf(design.GroupLengths())}
	column := map[string]int{}
	for i, z := range s.Sizes {
		in.Sizes = append(in.Sizes, z.Name)
		column[z.ID] = i
	}
	for _, c := range s.Counts {
		values := make([]*float64, len(s.Sizes))
		for _, v := range c.Values {
			values[column[v.SizeID]] = &v.Value
		}
		in.Counts = append(in.Counts, counts.Count{Name: c.Name, Unit: c.Unit, Values: values})
	}
	for _, r := range s.Rules {
		rule := counts.Rule{Name: r.Name, Kind: r.Kind, Expr: r.Expr}
		set(&rule.Of, r.MultipleOf)
		set(&rule.Plus, r.Plus)
		in.Rules = append(in.Rules, rule)
	}
	return in
}

func countsPoint(c Point, sizes []Size) counts.Point {
	out := counts.Point{Name: c.Name, Axis: c.Axis, Expr: c.Expr, Add: c.Add.CM, Tolerance: &c.Tolerance.CM,
		Intended: make([]*float64, len(sizes))}
	for i, z := range sizes {
		for _, m := range c.Intended {
			if m.SizeID == z.ID {
				out.Intended[i] = &m.Length.CM
			}
		}
	}
	if c.BodyDimension == nil {
		return out
	}
	out.Body = make([]*float64, len(sizes))
	for i, z := range sizes {
		for _, b := range z.Body {
			if b.Dimension == *c.BodyDimension {
				out.Body[i] = &b.Length.CM
			}
		}
	}
	if c.EaseLowCM != nil && c.EaseHighCM != nil {
		out.Ease = []float64{*c.EaseLowCM, *c.EaseHighCM}
	}
	return out
}

// dropUncomputable takes out what cannot be computed with these counts and
// says so, so that one unfinished point does not hide every other finding.
func (s *Store) dropUncomputable(in *counts.Input, out *SheetCheck) {
	names := make([]string, len(in.Counts))
	for i, c := range in.Counts {
		names[i] = c.Name
	}
	joined := strings.Join(names, " ")
	computable := func(expr string) error {
		e, err := s.expressions.compile(expr, joined)
		if err != nil {
			return err
		}
		for size := range in.Sizes {
			if err := tryExpression(e, in.Counts, size); err != nil {
				return fmt.Errorf("size %s: %w", in.Sizes[size], err)
			}
		}
		return nil
	}
	points := in.Points[:0]
	for _, c := range in.Points {
		if err := computable(c.Expr); err != nil {
			out.Unchecked = append(out.Unchecked, FieldProblem{"point " + c.Name, calculationProblem(err)})
			continue
		}
		points = append(points, c)
	}
	in.Points = points
	rules := in.Rules[:0]
	for _, r := range in.Rules {
		if err := computable(r.Expr); err != nil {
			out.Unchecked = append(out.Unchecked, FieldProblem{"rule " + r.Name, calculationProblem(err)})
			continue
		}
		rules = append(rules, r)
	}
	in.Rules = rules
}

// tryExpression evaluates for one size, unless the size skips a count.
func tryExpression(e *counts.Expression, sheet []counts.Count, size int) error {
	values := make(map[string]float64, len(sheet))
	for _, c := range sheet {
		if v := c.Values[size]; v != nil {
			values[c.Name] = *v
		}
	}
	for _, name := range e.Names() {
		if _, ok := values[name]; !ok {
			return nil
		}
	}
	if e.IsStatement() {
		_, err := e.Holds(values)
		return err
	}
	_, err := e.Eval(values)
	return err
}

func (g Gauge) entry() *gauge.Entry {
	return &gauge.Entry{Stitches: &g.Stitches, Rows: &g.Rows, Span: &g.Span, Unit: gauge.LengthUnit(g.Unit)}
}

// layoutOf is how a design writes its sizes in a line; the first stands bare.
func layoutOf(groups []int) counts.Layout {
	var l counts.Layout
	for i, n := range groups {
		if i > 0 {
			l.Groups = append(l.Groups, counts.Group{Sizes: n})
		}
	}
	return l
}
