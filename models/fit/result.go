package fit

// result is the finished fit of one axis, from which the verdicts are read.
type result struct {
	in   *Input
	s    *Settings
	ax   *axisRound
	m    *model // solved at the final list
	odds *odds
}

func newResult(ax *axisRound, s *Settings) *result {
	r := &result{in: ax.in, s: s, ax: ax}
	if len(ax.obs) == 0 {
		return r
	}
	f := newFitter(ax, s)
	f.run()
	r.m, r.odds = f.m, f.probabilities(newModel(ax, s))
	return r
}

func (r *result) pointID(spot int) string { return r.in.Points[r.ax.spots[spot].point].ID }
