package yarn

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// bound is what the kept testers say of one more maker.
type bound struct {
	n        int
	mean     float64
	sd       float64
	upper    float64
	line     *line // where size matters
	slopeT   *float64
	quantile float64 // t(gamma; n − 2) for the line
}

// newBound takes n >= 1 testers together with a prior spread between makers that
// is worth a few reports (4 reports of 8 % in the usual settings):
//
//	s² = (4 · 0.08² + Σ (y − mean)²) / (4 + n − 1)
//	upper = mean + t(gamma; n + 3) s √(1 + 1/n)
//
// With at least eight testers over at least three sizes y is regressed on ln N;
// a slope of |t| > 2.5 says that size matters, by its edges and sleeves, and the
// regression's own prediction bound takes over.
func (s Settings) newBound(kept []use, gamma float64) bound {
	const enoughTesters, enoughSizes = 8, 3
	y, x := make([]float64, len(kept)), make([]float64, len(kept))
	sizes := map[string]bool{}
	for i, u := range kept {
		y[i], x[i] = u.y, math.Log(u.n)
		sizes[u.tester.Size] = true
	}
	n := float64(len(kept))
	mean, squares := moments(y)
	freedom := s.MakerSpreadWorth + n - 1
	b := bound{n: len(kept), mean: mean}
	b.sd = math.Sqrt((s.MakerSpreadWorth*s.MakerSpread*s.MakerSpread + squares) / freedom)
	b.upper = mean + studentT(gamma, freedom)*b.sd*math.Sqrt(1+1/n)
	if len(kept) < enoughTesters || len(sizes) < enoughSizes {
		return b
	}
	l, ok := fitLine(x, y)
	if !ok {
		return b
	}
	t := l.slopeT()
	b.slopeT = &t
	if math.Abs(t) > s.SlopeT {
		b.line, b.quantile = &l, studentT(gamma, n-2)
	}
	return b
}

// of gives the typical y and its upper bound for a size of n stitches.
func (b *bound) of(n float64) (typical, upper float64) {
	if b.line == nil {
		return b.mean, b.upper
	}
	at, sd := b.line.predict(math.Log(n))
	return at, at + b.quantile*sd
}

// moments gives the mean and the sum of squares about it, n >= 1, in two passes
// so that a large common level costs no digits.
func moments(y []float64) (mean, squares float64) {
	n := float64(len(y))
	for _, x := range y {
		mean += x
	}
	mean /= n
	rest := 0.0
	for _, x := range y {
		rest += x - mean
	}
	mean += rest / n
	for _, x := range y {
		squares += (x - mean) * (x - mean)
	}
	return mean, squares
}

// studentT is the p quantile of Student's t with nu degrees of freedom.
func studentT(p, nu float64) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: nu}.Quantile(p)
}
