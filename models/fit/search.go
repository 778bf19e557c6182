package fit

import "math"

const (
	searchMoves = 80   // of one search
	leastGain   = 1e-6 // in log posterior, that a move must bring
	tie         = 1e-9 // a later move must be better by this than the best so far
	quiet       = 1.8  // standard deviations within which an unlisted cell is passed over
)

// scope narrows a search to one size and forbids one explanation. Points are
// left alone in a narrowed search.
type scope struct {
	size   int
	forbid listing
}

// move is one change of a list: a cell to a configuration, or a tester's gauge
// or a point listed or dropped.
type move struct {
	kind  kind
	place int
	to    configuration // of a cell
	on    bool          // of a tester or point
	gain  float64
}

// search makes the best single move again and again until none gains, at most
// so many times, and leaves the model's list and its likelihood there. in is nil
// for all moves.
func (f *fitter) search(moves int, in *scope) {
	size := everySize
	if in != nil {
		size = in.size
	}
	for range moves {
		f.m.solve(size)
		best := f.bestMove(in)
		if best.gain <= leastGain {
			return
		}
		f.make(best)
	}
	f.m.likelihood()
}

func (f *fitter) make(mv move) {
	on := &f.m.on
	switch mv.kind {
	case kindCell:
		on.set(&f.m.ax.cells[mv.place], mv.place, mv.to)
	case kindGauge:
		on.gauge[mv.place] = mv.on
	case kindPoint:
		on.point[mv.place] = mv.on
	}
}

// bestMove looks at cells, testers and points in that order; ties go to the
// first.
func (f *fitter) bestMove(in *scope) move {
	ax, best := f.m.ax, move{}
	for k := range ax.cells {
		if in == nil || ax.cells[k].size == in.size {
			f.cellMoves(k, in, &best)
		}
	}
	for t := range ax.makers {
		if (in == nil || ax.makers[t].size == in.size && in.forbid != listing{kindGauge, t}) && ax.gaugeAllowed(t) {
			a, b := f.m.ofMaker(t)
			f.switchMove(move{kind: kindGauge, place: t, on: !f.m.on.gauge[t]}, a, b, &best)
		}
	}
	if in == nil && ax.pointAllowed {
		for p := range ax.spots {
			a, b := f.m.ofPoint(p)
			f.switchMove(move{kind: kindPoint, place: p, on: !f.m.on.point[p]}, a, b, &best)
		}
	}
	return best
}

// switchMove weighs listing or dropping a tester's gauge or a point.
func (f *fitter) switchMove(mv move, a, b float64, best *move) {
	lo, v := f.lo[mv.kind], f.v[mv.kind]
	if mv.on {
		mv.gain = lo + logBayesFactor(a, b, v)
	} else {
		a, b = without(a, b, v)
		mv.gain = -(lo + logBayesFactor(a, b, v))
	}
	if mv.gain > best.gain+tie {
		*best = mv
	}
}

// cellMoves weighs every configuration of a cell against the present one.
func (f *fitter) cellMoves(k int, in *scope, best *move) {
	c, on := &f.m.ax.cells[k], &f.m.on
	if f.quiet(k) && !on.cellListed(c, k) {
		return
	}
	f.block.load(f.m, k)
	now := on.listed(c, k)
	weight := f.block.weight(now)
	f.block.each(func(to configuration) {
		if gain := f.block.weight(to) - weight; gain > best.gain+tie && in.allows(k, c, to) {
			*best = move{kind: kindCell, place: k, to: to, gain: gain}
		}
	})
}

// allows reports whether a configuration of cell k is not forbidden.
func (in *scope) allows(k int, c *cell, to configuration) bool {
	switch {
	case in == nil:
		return true
	case in.forbid.kind == kindCell:
		return !to.fault || in.forbid.place != k
	case in.forbid.kind == kindOdd:
		return !(to.first != none && c.obs[to.first] == in.forbid.place ||
			to.second != none && c.obs[to.second] == in.forbid.place)
	}
	return true
}

// quiet reports whether nothing in an unlisted cell stands out enough for a
// move to gain: it saves time and changes nothing.
func (f *fitter) quiet(k int) bool {
	for _, i := range f.m.ax.cells[k].obs {
		if math.Abs(f.m.u[i]) >= quiet*math.Sqrt(f.m.pii(i)) {
			return false
		}
	}
	a, b := f.m.ofCell(k)
	return math.Abs(b) < quiet*math.Sqrt(max(a, 0))
}
