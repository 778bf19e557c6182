package counts

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// A reduced basis spans the same lattice and is short: |mu| <= 1/2 and
// norm[k] >= (3/4 − mu²) norm[k−1], which is how Lenstra, Lenstra and Lovász
// define it.
func TestReduceShortensTheBasis(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 6).Draw(t, "directions")
		l := &lattice{point: make([]float64, n)}
		for i := range n {
			b := make([]float64, n)
			for j := range i {
				b[j] = float64(rapid.IntRange(-50, 50).Draw(t, "skew"))
			}
			b[i] = 1 // a triangle with ones: the lattice of all whole points
			l.basis = append(l.basis, b)
			p := pull{times: make([]float64, n)}
			p.times[i] = rapid.Float64Range(0.05, 2).Draw(t, "weight")
			l.pulls = append(l.pulls, p)
		}
		f, ok := l.reduce()
		if !ok {
			t.Fatal("a full lattice is felt in every direction")
		}
		volume := 1.0
		for i, p := range l.pulls {
			volume *= p.times[i] * p.times[i]
		}
		product := 1.0
		for k, norm := range f.norm {
			product *= norm
			for _, m := range f.mu[k] {
				if math.Abs(m) > 0.5+1e-6 {
					t.Fatalf("mu %g", m)
				}
			}
			if k > 0 && norm < (0.75-f.mu[k][k-1]*f.mu[k][k-1])*f.norm[k-1]-1e-9 {
				t.Fatalf("norms %g after %g", norm, f.norm[k-1])
			}
		}
		if math.Abs(product/volume-1) > 1e-6 {
			t.Fatalf("the volume was %g and is %g", volume, product)
		}
	})
}

func TestAFlatDirectionIsNoticed(t *testing.T) {
	l := &lattice{point: []float64{0, 0}, basis: [][]float64{{1, 0}, {0, 1}}, pulls: []pull{{times: []float64{1, 1}, target: 3}}}
	if got := l.nearest(func([]float64) bool { return true }, 100); got.pinned {
		t.Fatal("only the sum is drawn, and both counts were found")
	}
}
