package fit

import "math"

// grade compares each size's count with the measurement that the design intends:
// off is more than half a repeat and a millimetre. Sizes that are all off to the
// same side, worst at an end of the range, are a grading rule that drifts;
// others are slips in the sheet. Nothing here is statistics.
func (in *Input) grade(p *Point) GradingVerdict {
	const roundingCM = 0.1
	out := GradingVerdict{Point: p.ID, Verdict: OK, Sizes: []string{}}
	per10 := in.DesignGauge.per10(p.Axis)
	repeat := 1.0
	if p.Repeat != nil {
		repeat = *p.Repeat
	}
	limit := repeat*10/per10/2 + roundingCM
	worst, worstAt, first, last := 0.0, none, none, none
	up, down := 0, 0
	endOff := false
	for i, size := range in.Sizes {
		intended, ok := in.IntendedCM[size][p.ID]
		e0 := in.expectedCM(size, p, per10)
		if !ok || intended == 0 || e0 == 0 {
			continue
		}
		if first == none {
			first = i
		}
		last = i
		dev := e0 - intended
		if math.Abs(dev) > math.Abs(worst) || worstAt == none {
			worst, worstAt = dev, i
		}
		if math.Abs(dev) > limit {
			out.Sizes = append(out.Sizes, size)
			if dev > 0 {
				up++
			} else {
				down++
			}
		}
	}
	endOff = worstAt != none && (worstAt == first || worstAt == last) && math.Abs(worst) > limit
	out.MaxDevCM = rounded(worst, 3)
	switch n := len(out.Sizes); {
	case n == 0:
	case n >= 2 && (up == 0 || down == 0) && endOff:
		out.Verdict = Drift
	default:
		out.Verdict = SheetCell
	}
	out.Message = gradingSentence(out)
	return out
}
