package fit

import (
	"cmp"
	"slices"
)

// findings gathers what is worth acting on, most serious first: what is wrong
// for everybody, then what may be, then what concerns one report, then what
// can't be told yet.
func (out *Output) findings() []Finding {
	all := []Finding{}
	for _, c := range out.Cells {
		all = append(all, Finding{Kind: "cell", Verdict: c.Verdict, Size: c.Size, Point: c.Point, Message: c.Message})
	}
	for _, p := range out.Points {
		all = append(all, Finding{Kind: "point", Verdict: p.Verdict, Point: p.Point, Message: p.Message})
	}
	for _, g := range out.Grading {
		all = append(all, Finding{Kind: "grading", Verdict: g.Verdict, Point: g.Point, Message: g.Message})
	}
	for _, f := range out.Fabric {
		all = append(all, Finding{Kind: "fabric", Verdict: f.Verdict, Axis: f.Axis, Message: f.Message})
	}
	for _, t := range out.Testers {
		all = append(all, Finding{Kind: "tester", Verdict: t.Verdict, Axis: t.Axis, Size: t.Size, Tester: t.Tester, Message: t.Message})
	}
	for _, o := range out.OddValues {
		all = append(all, Finding{Kind: "odd_value", Verdict: o.Verdict, Size: o.Size, Point: o.Point, Tester: o.Tester, Message: o.Message})
	}
	all = slices.DeleteFunc(all, func(f Finding) bool { return f.rank() == unremarkable })
	slices.SortStableFunc(all, func(a, b Finding) int { return cmp.Compare(a.rank(), b.rank()) })
	return all
}

const unremarkable = 100

// rank orders findings by how much work a wrong pattern would cost.
func (f Finding) rank() int {
	serious := []Verdict{
		Fault, AllSizesOff, PointsDisagree, Drift, SheetCell, Suspect, Unclear,
		GaugeWrong, Slip, Odd, ReadingsDisagree, Grows, Shrinks, Off,
	}
	if at := slices.Index(serious, f.Verdict); at >= 0 {
		return at
	}
	switch {
	case f.Verdict == CannotTell && f.Kind == "fabric":
		return len(serious)
	case f.Verdict == CannotTell && f.Kind == "cell":
		return len(serious) + 1
	case f.Verdict == CannotTell:
		return len(serious) + 2
	}
	return unremarkable
}
