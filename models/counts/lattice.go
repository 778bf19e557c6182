package counts

import "math"

// lattice is the set point + Σ y[j] × basis[j] over whole y, with the sum of
// squares that is to be made small:
//
//	cost(x) = Σ over pulls of (times · x − target)²
//
// A pull is one squared term, already divided by its tolerance.
type lattice struct {
	point []float64
	basis [][]float64 // whole numbers
	pulls []pull
}

type pull struct {
	times  []float64
	target float64
}

func (l *lattice) cost(x []float64) float64 {
	sum := 0.0
	for _, p := range l.pulls {
		d := dot(p.times, x) - p.target
		sum += d * d
	}
	return sum
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

// frame is the Gram–Schmidt form of the lattice in the space of the pulls:
//
//	cost = beyond + Σ_i norm[i] (y[i] + Σ_{j>i} mu[j][i] y[j] − centre[i])²
type frame struct {
	mu     [][]float64
	norm   []float64
	centre []float64
	beyond float64
}

// flat is the square below which a direction counts as felt by no pull.
const flat = 1e-9

// frame builds the Gram–Schmidt form; ok is false when some direction of the
// lattice changes no pull.
func (l *lattice) frame() (f frame, ok bool) {
	d := len(l.basis)
	f = frame{mu: make([][]float64, d), norm: make([]float64, d), centre: make([]float64, d)}
	rest := make([]float64, len(l.pulls)) // what the pulls still ask for
	for r, p := range l.pulls {
		rest[r] = p.target - dot(p.times, l.point)
	}
	orthogonal := make([][]float64, d)
	for i, b := range l.basis {
		v := make([]float64, len(l.pulls))
		for r, p := range l.pulls {
			v[r] = dot(p.times, b)
		}
		length := dot(v, v)
		f.mu[i] = make([]float64, i)
		for j := range i {
			// Against what is left of v (modified Gram–Schmidt), which keeps the
			// rounding errors small.
			m := dot(v, orthogonal[j]) / f.norm[j]
			f.mu[i][j] = m
			for r := range v {
				v[r] -= m * orthogonal[j][r]
			}
		}
		orthogonal[i], f.norm[i] = v, dot(v, v)
		if f.norm[i] <= flat*math.Min(length, 1) {
			return f, false
		}
	}
	for i, o := range orthogonal {
		c := dot(rest, o) / f.norm[i]
		f.centre[i] = c
		for r := range rest {
			rest[r] -= c * o[r]
		}
	}
	f.beyond = dot(rest, rest)
	return f, true
}

// reduce replaces the basis by a shorter one of the same lattice, so that the
// search for the nearest point meets few dead ends.
//
// Method: Lenstra, Lenstra and Lovász (1982) with the usual factor 3/4; from
// memory. Every exchange shortens a product of norms by that factor, so it
// ends; rounds bounds it all the same.
func (l *lattice) reduce() (frame, bool) {
	f, ok := l.frame()
	k, rounds := 1, 0
	for ok && k < len(l.basis) && rounds < 20_000 {
		rounds++
		for j := k - 1; j >= 0; j-- {
			if q := math.Round(f.mu[k][j]); q != 0 {
				subtract(l.basis[k], l.basis[j], q)
				subtract(f.mu[k][:j], f.mu[j], q)
				f.mu[k][j] -= q
			}
		}
		m := f.mu[k][k-1]
		if f.norm[k] >= (0.75-m*m)*f.norm[k-1] {
			k++
			continue
		}
		l.basis[k], l.basis[k-1] = l.basis[k-1], l.basis[k]
		f, ok = l.frame()
		k = max(k-1, 1)
	}
	if !ok {
		return f, false
	}
	return l.frame()
}

func subtract(from, v []float64, times float64) {
	for i := range v {
		from[i] -= times * v[i]
	}
}
