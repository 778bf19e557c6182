package fit

// odds holds the probabilities of one axis at the final list.
type odds struct {
	fault []float64 // of each cell: that it has a count fault
	any   []float64 // of each cell: that anything is wrong with it
	odd   []float64 // of each observation
	gauge []float64 // of each maker: that their reported gauge is wrong; 0 where it cannot be told
	point []pointOdds
}

// pointOdds are the probabilities that a point is off at all sizes, that some
// point of the axis is, and which others compete with it.
type pointOdds struct {
	this, some float64
	rivals     []int
}

// probabilities weighs, one last time, each cell's configurations, each gauge
// and each point against each other. f has run; again is a second model of the
// same axis, for fits without a cell's or point's own listing.
func (f *fitter) probabilities(again *model) *odds {
	ax := f.m.ax
	p := &odds{
		fault: make([]float64, len(ax.cells)), any: make([]float64, len(ax.cells)),
		odd: make([]float64, len(ax.obs)), gauge: make([]float64, len(ax.makers)),
		point: make([]pointOdds, len(ax.spots)),
	}
	again.omega, again.kappa = f.m.omega, f.m.kappa
	for k := range ax.cells {
		f.cellOdds(k, again, p)
	}
	for t := range ax.makers {
		if ax.gaugeAllowed(t) {
			a, b := f.m.ofMaker(t)
			lo, v := f.s.prior(kindGauge)
			if f.m.on.gauge[t] {
				a, b = without(a, b, v)
			}
			p.gauge[t] = logistic(lo + logBayesFactor(a, b, v))
		}
	}
	if ax.pointAllowed {
		for j := range ax.spots {
			p.point[j] = f.pointOdds(j, again)
		}
	}
	return p
}

// cellOdds weighs the configurations of cell k and, if anything of it is listed,
// its rivals elsewhere in the size.
func (f *fitter) cellOdds(k int, again *model, p *odds) {
	c := &f.m.ax.cells[k]
	f.block.load(f.m, k)
	f.weights = f.weights[:0]
	f.block.each(func(to configuration) { f.weights = append(f.weights, f.block.weight(to)) })
	if f.m.on.cellListed(c, k) {
		f.rivals(k, again)
	}
	shares(f.weights)
	p.any[k] = 1 - f.weights[0]
	at := 0
	f.block.each(func(to configuration) {
		share := f.weights[at]
		at++
		if to.fault {
			p.fault[k] += share
		}
		if to.first != none {
			p.odd[c.obs[to.first]] += share
		}
		if to.second != none {
			p.odd[c.obs[to.second]] += share
		}
	})
}

// rivals appends the weights of what could stand in the place of a cell's
// listings: a count fault of another cell of the size, or a wrong gauge of one
// of its testers, on the fit without them. The cell's own weights count from
// nothing with its harmless offset, so theirs lose what that offset gains.
func (f *fitter) rivals(k int, again *model) {
	ax, c := f.m.ax, &f.m.ax.cells[k]
	again.on.copyFrom(&f.m.on)
	again.on.clearCell(c, k)
	again.solve(c.size)
	lo, v := f.s.prior(kindCell)
	for other := range ax.cells {
		if other != k && ax.cells[other].size == c.size && !again.on.cell[other] {
			a, b := again.ofCell(other)
			f.weights = append(f.weights, lo+logBayesFactor(a, b, v)-f.block.logOffset)
		}
	}
	lo, v = f.s.prior(kindGauge)
	for _, i := range c.obs {
		if t := ax.obs[i].maker; ax.gaugeAllowed(t) && !again.on.gauge[t] {
			a, b := again.ofMaker(t)
			f.weights = append(f.weights, lo+logBayesFactor(a, b, v)-f.block.logOffset)
		}
	}
}

// pointOdds weighs point j against every other unlisted point and none, on the
// fit without j.
func (f *fitter) pointOdds(j int, again *model) pointOdds {
	const competes = 0.1
	m := f.m
	if m.on.point[j] {
		again.on.copyFrom(&m.on)
		again.on.point[j] = false
		again.solve(everySize)
		m = again
	}
	lo, v := f.s.prior(kindPoint)
	weights, places := []float64{0}, []int{none}
	for p := range m.ax.spots {
		if !m.on.point[p] {
			a, b := m.ofPoint(p)
			weights, places = append(weights, lo+logBayesFactor(a, b, v)), append(places, p)
		}
	}
	shares(weights)
	out := pointOdds{some: 1 - weights[0]}
	for at, p := range places {
		switch {
		case p == j:
			out.this = weights[at]
		case p != none && weights[at] >= competes:
			out.rivals = append(out.rivals, p)
		}
	}
	return out
}
