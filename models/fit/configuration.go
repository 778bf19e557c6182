package fit

// configuration is one way to explain a cell: a count fault or none, and up to
// two odd values, at most two members together. The odd values are named by
// their place in the cell, first > second; none where there is none.
type configuration struct {
	fault         bool
	first, second int
}

const none = -1

// nothing is the configuration of a sound cell.
func nothing() configuration { return configuration{false, none, none} }

// has reports whether the value at place i is odd in the configuration.
func (c configuration) has(i int) bool { return c.first == i || c.second == i }

// each calls f with every configuration of the cell. The order is fixed:
// nothing; the fault; each odd value; then for each value the fault with it, and
// the earlier values with it. A cell of one report has no pairs: a wrong count
// and a wrong tape look the same there.
func (b *block) each(f func(configuration)) {
	f(nothing())
	f(configuration{true, none, none})
	for i := range b.n {
		f(configuration{false, i, none})
	}
	if b.n < 2 {
		return
	}
	for i := range b.n {
		f(configuration{true, i, none})
		for j := range i {
			f(configuration{false, i, j})
		}
	}
}

// weight is the log weight of a configuration against nothing: the prior log
// odds of its members and their log Bayes factor.
func (b *block) weight(c configuration) float64 {
	i, j, n := c.first, c.second, b.n
	switch {
	case i == none && !c.fault:
		return 0
	case i == none:
		return b.loFault + logBayesFactor(b.a, b.b, b.vFault)
	case c.fault:
		return b.loFault + b.loOdd + logBayesFactor2(b.a, b.rowSum[i], b.q[i*n+i], b.b, b.r[i], b.vFault, b.vOdd)
	case j == none:
		return b.loOdd + logBayesFactor(b.q[i*n+i], b.r[i], b.vOdd)
	}
	return 2*b.loOdd + logBayesFactor2(b.q[j*n+j], b.q[i*n+j], b.q[i*n+i], b.r[j], b.r[i], b.vOdd, b.vOdd)
}

// listed is the configuration of a cell in a list.
func (l *list) listed(c *cell, k int) configuration {
	out := nothing()
	out.fault = l.cell[k]
	for i, oi := range c.obs {
		if l.odd[oi] {
			out.first, out.second = i, out.first
		}
	}
	return out
}

// set lists a configuration in place of what was listed of the cell.
func (l *list) set(c *cell, k int, to configuration) {
	l.cell[k] = to.fault
	for i, oi := range c.obs {
		l.odd[oi] = to.has(i)
	}
}
