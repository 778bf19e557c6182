package counts

import "math"

// sameCost is how close two costs must be to count as equal; of equal ones the
// smaller counts win, in the order of the sheet.
const sameCost = 1e-9

// checkSteps is what checking the rules on one point takes from the budget,
// about as many steps as it takes time.
const checkSteps = 20

// search looks through the points of a lattice in order of their distance from
// the best real-valued point.
type search struct {
	lattice *lattice
	frame   frame
	legal   func(x []float64) bool
	budget  int // steps that are left

	y     []float64
	best  []float64
	bound float64 // costs beyond are of no interest
}

// outcome is what a search found. x is nil when no legal point was found; exact
// is false when the steps ran out first; pinned is false when some direction of
// the lattice changes no cost, so that nothing says how far to go.
type outcome struct {
	x      []float64
	cost   float64
	exact  bool
	pinned bool
	steps  int // that were used
}

// nearest finds the legal point of the lattice with the least cost, in at most
// about the given number of steps.
//
// Method: enumeration by depth of all points within a bound (Fincke and Pohst
// 1985), nearest first in each direction (Schnorr and Euchner 1994); from
// memory. The bound starts where rounding from direction to direction is sure to
// find a point, and grows while no point in it is legal.
func (l *lattice) nearest(legal func(x []float64) bool, steps int) outcome {
	f, pinned := l.reduce()
	if !pinned {
		return outcome{}
	}
	s := &search{lattice: l, frame: f, legal: legal, budget: steps, y: make([]float64, len(l.basis))}
	reach := sameCost
	for _, n := range f.norm {
		reach += n / 4
	}
	for widened := 0; s.best == nil && s.budget > 0 && widened < 40; widened++ {
		s.bound = f.beyond + reach
		s.descend(len(l.basis)-1, f.beyond)
		if len(l.basis) == 0 {
			break
		}
		reach *= 4
	}
	out := outcome{x: s.best, exact: s.budget > 0 || len(l.basis) == 0, pinned: true, steps: steps - s.budget}
	if s.best != nil {
		out.cost = l.cost(s.best)
	}
	return out
}

// descend tries the values of y[i], nearest to its centre first, with those
// after it fixed; so far is the cost of these.
func (s *search) descend(i int, sofar float64) {
	if i < 0 {
		s.leaf()
		return
	}
	centre := s.frame.centre[i]
	for j := i + 1; j < len(s.y); j++ {
		centre -= s.frame.mu[j][i] * s.y[j]
	}
	first := math.Round(centre)
	side := 1.0
	if centre < first {
		side = -1
	}
	// first, first + side, first − side, first + 2 side, …
	for n := 0; s.budget > 0; n++ {
		s.budget--
		s.y[i] = first + side*float64((n+1)/2)
		if n%2 == 0 {
			s.y[i] = first - side*float64(n/2)
		}
		off := s.y[i] - centre
		cost := sofar + s.frame.norm[i]*off*off
		if cost > s.bound+sameCost {
			return
		}
		s.descend(i-1, cost)
	}
}

// leaf takes the point that y stands for when it is legal and better.
func (s *search) leaf() {
	x := make([]float64, len(s.lattice.point))
	copy(x, s.lattice.point)
	for j, b := range s.lattice.basis {
		for i := range x {
			x[i] += s.y[j] * b[i]
		}
	}
	for _, v := range x {
		if v < 0 || v > MaxCountValue {
			return
		}
	}
	cost := s.lattice.cost(x)
	if cost > s.bound+sameCost || s.best != nil && cost > s.bound-sameCost && !before(x, s.best) {
		return
	}
	s.budget -= checkSteps
	if s.legal(x) {
		s.best, s.bound = x, math.Min(s.bound, cost)
	}
}

// before orders points by their first count that differs.
func before(a, b []float64) bool {
	for i := range a {
		if a[i] != b[i] {
			return a[i] < b[i]
		}
	}
	return false
}
