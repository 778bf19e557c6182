package fit

const (
	secondRounds = 10
	secondMoves  = 12
)

// secondLook drops each listed count fault, odd value and misreported gauge in
// turn, forbids it, and searches again within its size; a better list stays, and
// the round begins again. A greedy search can list what only looked best before
// its neighbours were found; this finds its way out.
func (f *fitter) secondLook() {
	best := f.objective()
	for range secondRounds {
		better, value := f.improve(best)
		if !better {
			return
		}
		best = value
	}
}

// improve finds the first listing whose absence leads to a better list.
func (f *fitter) improve(best float64) (bool, float64) {
	f.kept.copyFrom(&f.m.on)
	for _, l := range f.kept.droppable() {
		if f.m.work > workLimit {
			break
		}
		f.m.on.of(l.kind)[l.place] = false
		f.search(secondMoves, &scope{size: f.sizeOf(l), forbid: l})
		if value := f.objective(); value > best+leastGain {
			return true, value
		}
		f.m.on.copyFrom(&f.kept)
	}
	return false, best
}

// droppable lists what a second look takes away: all but points.
func (l *list) droppable() []listing {
	var out []listing
	for k := kindCell; k <= kindGauge; k++ {
		for place, on := range l.of(k) {
			if on {
				out = append(out, listing{k, place})
			}
		}
	}
	return out
}

func (f *fitter) sizeOf(l listing) int {
	ax := f.m.ax
	switch l.kind {
	case kindCell:
		return ax.cells[l.place].size
	case kindOdd:
		return ax.cells[ax.obs[l.place].cell].size
	}
	return ax.makers[l.place].size
}

// objective is the log posterior of the list that a search has left, up to a
// constant.
func (f *fitter) objective() float64 {
	return f.m.logLik + f.m.on.prior(f.s)
}
