package counts

import (
	"math"
	"slices"
)

// spread is the run of some steps: from the least to the greatest, and the
// usual height.
type spread struct{ least, most, usual float64 }

// otherSteps is the spread of the steps without those from to to.
func otherSteps(all []float64, from, to int) (spread, bool) {
	rest := slices.Delete(slices.Clone(all), from, to+1)
	if len(rest) == 0 {
		return spread{}, false
	}
	heights := make([]float64, len(rest))
	for i, d := range rest {
		heights[i] = math.Abs(d)
	}
	slices.Sort(heights)
	middle := (heights[(len(heights)-1)/2] + heights[len(heights)/2]) / 2
	return spread{slices.Min(rest), slices.Max(rest), middle}, true
}

// beyond returns how far d lies above (positive) or below the spread.
func (s spread) beyond(d float64) float64 {
	return math.Max(d-s.most, 0) + math.Min(d-s.least, 0)
}

// checkPairs takes out values that make the step into them too long and the one
// out of them too short, or the reverse: one wrong count does that, and a
// grading that changes its step does not.
func (r *run) checkPairs() {
	for {
		worst, worstOff := 0, 0.0
		var others spread
		all := steps(r.at)
		for i := 1; i < len(all); i++ {
			o, ok := otherSteps(all, i-1, i)
			if !ok {
				continue
			}
			in, out := o.beyond(all[i-1]), o.beyond(all[i])
			least := math.Max(stepSlack, stepShare*o.usual)
			off := math.Min(math.Abs(in), math.Abs(out))
			if in*out < 0 && off > least && off > worstOff+1e-9 {
				worst, worstOff, others = i, off, o
			}
		}
		if worst == 0 {
			return
		}
		r.report(worst, "%s is %s: the step into it is %s and the step out of it %s, and the others run from %s to %s; both are out of line by more than a quarter of the usual step and more than 2 (rule chosen here).",
			r.count, show(r.at[worst].value), show(all[worst-1]), show(all[worst]), show(others.least), show(others.most))
		r.at = r.without(worst)
	}
}

// checkSingles reports a step that lies beyond all others by more than the
// usual step. The first step is blamed on the first size when there are others
// enough to tell, any other on the size that it leads to.
func (r *run) checkSingles() {
	all := steps(r.at)
	for i, d := range all {
		others, ok := otherSteps(all, i, i)
		if !ok {
			continue
		}
		least := math.Max(stepSlack, others.usual)
		if others.usual == 0 {
			least = math.Max(stepSlack, stepShareOfFlat*r.at[i].value)
		}
		if math.Abs(others.beyond(d)) <= least {
			continue
		}
		blamed := i + 1
		if i == 0 && len(all) > 2 {
			blamed = 0
		}
		r.report(blamed, "the step of %s from size %s to size %s is %s, and the others run from %s to %s; it is out of line by more than the usual step (rule chosen here).",
			r.count, r.sizes[r.at[i].size], r.sizes[r.at[i+1].size], show(d), show(others.least), show(others.most))
	}
}
