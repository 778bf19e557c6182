package fit

import "math"

// deviation is how far one size's count is from the measurement that the design
// intends, at the design gauge.
type deviation struct {
	size string
	cm   float64
}

// deviations of a point, for the sizes that have both, in the order of sizes.
func (in *Input) deviations(p *Point) []deviation {
	var out []deviation
	for _, size := range in.Sizes {
		intended := in.IntendedCM[size][p.ID]
		if e0 := in.expectedCM(size, p, in.DesignGauge.per10(p.Axis)); e0 > 0 && intended > 0 {
			out = append(out, deviation{size, e0 + p.AddCM - intended})
		}
	}
	return out
}

// grade compares each size's count with the measurement that the design intends:
// off is more than half a repeat and a millimetre. Sizes that are all off to the
// same side, worst at an end of the range, are a grading rule that drifts;
// others are slips in the sheet. Nothing here is statistics.
func (in *Input) grade(p *Point) GradingVerdict {
	const roundingCM = 0.1
	repeat := 1.0
	if p.Repeat != nil {
		repeat = *p.Repeat
	}
	limit := repeat*10/in.DesignGauge.per10(p.Axis)/2 + roundingCM
	all := in.deviations(p)
	worst, over, under := 0, 0, 0
	out := GradingVerdict{Point: p.ID, Verdict: OK, Sizes: []string{}}
	for i, d := range all {
		if math.Abs(d.cm) > math.Abs(all[worst].cm) {
			worst = i
		}
		if math.Abs(d.cm) <= limit {
			continue
		}
		out.Sizes = append(out.Sizes, d.size)
		if d.cm > 0 {
			over++
		} else {
			under++
		}
	}
	if len(all) > 0 {
		out.MaxDevCM = rounded(all[worst].cm, 3)
	}
	atEnd := worst == 0 || worst == len(all)-1
	switch {
	case over+under >= 2 && over*under == 0 && atEnd:
		out.Verdict = Drift
	case over+under > 0:
		out.Verdict = SheetCell
	}
	out.Message = gradingSentence(out, len(all))
	return out
}
