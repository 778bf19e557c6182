package fit

// list is the set of explanations that are listed, by place in the axisRound.
type list struct {
	cell  []bool // count fault
	odd   []bool // odd value
	gauge []bool // misreported gauge
	point []bool // off at all sizes
}

func newList(ax *axisRound) list {
	return list{
		cell:  make([]bool, len(ax.cells)),
		odd:   make([]bool, len(ax.obs)),
		gauge: make([]bool, len(ax.makers)),
		point: make([]bool, len(ax.spots)),
	}
}

// copyFrom makes l, of the same axis, equal to other.
func (l *list) copyFrom(other *list) {
	copy(l.cell, other.cell)
	copy(l.odd, other.odd)
	copy(l.gauge, other.gauge)
	copy(l.point, other.point)
}

// of gives the listings of one kind.
func (l *list) of(k kind) []bool { return [...][]bool{l.cell, l.odd, l.gauge, l.point}[k] }

// clearCell takes all listings of one cell out.
func (l *list) clearCell(c *cell, k int) {
	l.cell[k] = false
	for _, i := range c.obs {
		l.odd[i] = false
	}
}

// cellListed reports whether anything of a cell is listed.
func (l *list) cellListed(c *cell, k int) bool {
	if l.cell[k] {
		return true
	}
	for _, i := range c.obs {
		if l.odd[i] {
			return true
		}
	}
	return false
}

// prior is the sum of the log odds of all that is listed.
func (l *list) prior(s *Settings) float64 {
	sum := 0.0
	for k := range kinds {
		lo, _ := s.prior(k)
		for _, on := range l.of(k) {
			if on {
				sum += lo
			}
		}
	}
	return sum
}
