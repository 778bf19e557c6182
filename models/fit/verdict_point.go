package fit

// point judges one point over all sizes.
func (r *result) point(p int, odd int) PointVerdict {
	sp := &r.ax.spots[p]
	po := r.odds.point[p]
	out := PointVerdict{
		Point: r.pointID(p), Verdict: OK, Odd: odd,
		P: rounded(po.this, 4), EstimatePct: *shownPercent(r.m.pointOffset(p)),
	}
	step := r.unclearStep(p)
	switch {
	case po.this >= r.s.PointSure && len(sp.obs) >= 3 && r.sizesOf(sp.obs) >= 2:
		out.Verdict = AllSizesOff
	case po.some >= r.s.PointSure && r.disputed(p):
		out.Verdict = PointsDisagree
		for _, rival := range po.rivals {
			out.Rivals = append(out.Rivals, r.pointID(rival))
		}
	case step.found:
		out.Verdict = Unclear
		for _, i := range step.obs {
			out.Testers = append(out.Testers, r.in.Testers[r.ax.makers[r.ax.obs[i].maker].tester].ID)
		}
		out.P, out.EstimatePct = rounded(step.posterior, 4), *shownPercent(step.by)
	}
	out.Message = pointSentence(out, len(sp.obs))
	return out
}

// disputed reports whether a point is listed, or competes with a listed one that
// is not sure.
func (r *result) disputed(p int) bool {
	if r.m.on.point[p] {
		return true
	}
	for q, on := range r.m.on.point {
		if !on || r.odds.point[q].this >= r.s.PointSure {
			continue
		}
		for _, rival := range r.odds.point[q].rivals {
			if rival == p {
				return true
			}
		}
	}
	return false
}
