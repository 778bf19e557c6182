package assign

// cost is a change in the objective, compared from the left; less is better.
type cost struct {
	short int64 // reports below fewest
	below int64 // testers below wanted
	place int64 // places down the applicants' lists
	doubt int64 // minus the completion probability, in units of the scale
}

func (c cost) plus(d cost) cost {
	return cost{c.short + d.short, c.below + d.below, c.place + d.place, c.doubt + d.doubt}
}

func (c cost) minus(d cost) cost {
	return cost{c.short - d.short, c.below - d.below, c.place - d.place, c.doubt - d.doubt}
}

func (c cost) less(d cost) bool {
	switch {
	case c.short != d.short:
		return c.short < d.short
	case c.below != d.below:
		return c.below < d.below
	case c.place != d.place:
		return c.place < d.place
	}
	return c.doubt < d.doubt
}
