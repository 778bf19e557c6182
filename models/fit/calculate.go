package fit

import (
	"cmp"
	"slices"

	"tenter/models/gauge"
)

// Calculate judges a round with the usual settings. A bad input gives a
// *FieldError and no answer.
func Calculate(in Input) (Output, error) { return CalculateWith(in, DefaultSettings()) }

// CalculateWith judges a round with a studio's own settings.
func CalculateWith(in Input, s Settings) (Output, error) {
	if err := s.Check(); err != nil {
		return Output{}, err
	}
	if len(in.Points) == 0 {
		return Output{}, gauge.Wrongf("points", "is empty; name at least one point of measure")
	}
	if err := in.Check(); err != nil {
		return Output{}, err
	}
	out := Output{
		Round: in.Round, Cells: []Cell{}, Testers: []TesterOnAxis{}, OddValues: []OddValue{},
		Points: []PointVerdict{}, Grading: []GradingVerdict{}, Reports: []ReportLine{}, Findings: []Finding{},
	}
	for _, axis := range []gauge.Axis{gauge.Stitch, gauge.Row} {
		out.addAxis(newResult(newAxisRound(&in, &s, axis), &s))
	}
	for i := range in.Points {
		out.Grading = append(out.Grading, in.grade(&in.Points[i]))
	}
	out.order(&in)
	out.Findings = out.findings()
	return out, nil
}

func (out *Output) addAxis(r *result) {
	out.Fabric = append(out.Fabric, r.fabric())
	if len(r.ax.obs) == 0 {
		return
	}
	for k := range r.ax.cells {
		out.Cells = append(out.Cells, r.cell(k))
	}
	for t := range r.ax.makers {
		out.Testers = append(out.Testers, r.tester(t))
	}
	odd := r.oddValues()
	out.OddValues = append(out.OddValues, odd...)
	for p := range r.ax.spots {
		n := 0
		for _, o := range odd {
			if o.Point == r.pointID(p) && o.Verdict == Odd {
				n++
			}
		}
		out.Points = append(out.Points, r.point(p, n))
	}
	out.Reports = append(out.Reports, r.reportLines()...)
}

// order puts every list into the order of the input.
func (out *Output) order(in *Input) {
	point := make(map[string]int, len(in.Points))
	for i, p := range in.Points {
		point[p.ID] = i
	}
	size := make(map[string]int, len(in.Sizes))
	for i, s := range in.Sizes {
		size[s] = i
	}
	type maker struct{ id, size string }
	tester := make(map[maker]int, len(in.Testers))
	for i, t := range in.Testers {
		tester[maker{t.ID, t.Size}] = i
	}
	slices.SortStableFunc(out.Cells, func(a, b Cell) int {
		return cmp.Or(cmp.Compare(size[a.Size], size[b.Size]), cmp.Compare(point[a.Point], point[b.Point]))
	})
	slices.SortStableFunc(out.Testers, func(a, b TesterOnAxis) int {
		return cmp.Compare(tester[maker{a.Tester, a.Size}], tester[maker{b.Tester, b.Size}])
	})
	slices.SortStableFunc(out.OddValues, func(a, b OddValue) int {
		return cmp.Or(cmp.Compare(tester[maker{a.Tester, a.Size}], tester[maker{b.Tester, b.Size}]), cmp.Compare(point[a.Point], point[b.Point]))
	})
	slices.SortStableFunc(out.Points, func(a, b PointVerdict) int { return cmp.Compare(point[a.Point], point[b.Point]) })
	slices.SortStableFunc(out.Reports, func(a, b ReportLine) int {
		return cmp.Or(cmp.Compare(tester[maker{a.Tester, a.Size}], tester[maker{b.Tester, b.Size}]), cmp.Compare(point[a.Point], point[b.Point]))
	})
}
