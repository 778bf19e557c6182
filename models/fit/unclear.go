package fit

import (
	"math"
	"slices"
)

// unclear is what the mixture says of one point: whether several testers went
// wrong there the same way.
type unclear struct {
	found     bool
	posterior float64
	by        float64 // D, the log offset they share
	obs       []int   // theirs
}

// sameWay are the offsets D that are tried, and shares the shares ρ of testers.
func sameWay() []float64 {
	var out []float64
	for _, size := range []float64{0.04, 0.06, 0.08, 0.10, 0.12, 0.15} {
		out = append(out, size, -size)
	}
	return out
}

func sameWayShares() []float64 { return []float64{0.2, 0.35, 0.5} }

// unclearStep weighs, at a point with at least three values outside cells listed
// as faults, that each tester is sound or odd by themselves,
//
//	Π ((1−π) N(dev; 0, se) + π N(dev; 0, √(se² + v)))
//
// against a share ρ of them being off by the same D, where N(dev; 0, se) gives
// way to (1−ρ) N(dev; 0, se) + ρ N(dev; D, se), averaged over all D and ρ.
func (r *result) unclearStep(p int) unclear {
	const atLeast, evenOdds, sizes = 3, 0.5, 2
	values := r.unclearValues(p)
	if len(values) < atLeast || r.m.on.point[p] {
		return unclear{}
	}
	out, best, bestRho := unclear{}, math.Inf(-1), 0.0
	logs := make([]float64, 0, 36)
	same := make([]float64, len(values))
	for _, d := range sameWay() {
		for n, x := range values {
			same[n] = x.ratio(d)
		}
		for _, rho := range sameWayShares() {
			l := logProduct(values, same, rho)
			logs = append(logs, l)
			if l > best {
				best, out.by, bestRho = l, d, rho
			}
		}
	}
	sum := 0.0
	for _, l := range logs {
		sum += math.Exp(l - best)
	}
	out.posterior = logistic(logOdds(r.s.UnclearChance) + best + math.Log(sum/float64(len(logs))))
	out.obs = fitting(values, out.by, bestRho)
	out.found = out.posterior >= evenOdds && r.sizesOf(out.obs) >= sizes
	return out
}

// unclearValue is one value of a point and how it looks on its own.
type unclearValue struct {
	i        int
	dev, se  float64
	logAlone float64 // ln((1−π) N(dev; 0, se) + π N(dev; 0, √(se² + v))) − ln(1−π)
	sound    float64 // the first part's share of that
}

// ratio is N(dev; D, se) against the value on its own.
func (x unclearValue) ratio(d float64) float64 {
	return math.Exp(logDensity(x.dev-d, x.se) - x.logAlone)
}

func (r *result) unclearValues(p int) []unclearValue {
	chance, v := r.s.OddChance, r.s.OddSize*r.s.OddSize
	var out []unclearValue
	for _, i := range r.ax.spots[p].obs {
		o := r.m.valueOffset(i)
		if r.m.on.cell[r.ax.obs[i].cell] || !o.known {
			continue
		}
		x := unclearValue{i: i, dev: o.d, se: math.Sqrt(max(o.variance, 1e-12))}
		sound := logDensity(x.dev, x.se)
		odd := logDensity(x.dev, math.Sqrt(x.se*x.se+v)) + math.Log(chance/(1-chance))
		x.sound = logistic(sound - odd)
		x.logAlone = max(sound, odd) + math.Log1p(math.Exp(-math.Abs(sound-odd)))
		out = append(out, x)
	}
	return out
}

// logProduct is ln Π (1 − ρ sound + ρ same), a logarithm now and then keeping
// the product within range.
func logProduct(values []unclearValue, same []float64, rho float64) float64 {
	const small, large = 1e-100, 1e100
	sum, product := 0.0, 1.0
	for n := range values {
		product *= 1 - rho*values[n].sound + rho*same[n]
		if product < small || product > large {
			sum += math.Log(product)
			product = 1
		}
	}
	return sum + math.Log(product)
}

// fitting gives the observations that are off by D rather than sound.
func fitting(values []unclearValue, d, rho float64) []int {
	var out []int
	for _, x := range values {
		n0 := math.Exp(-0.5*math.Pow(x.dev/x.se, 2)) / x.se
		n1 := math.Exp(-0.5*math.Pow((x.dev-d)/x.se, 2)) / x.se
		if rho*n1 > (1-rho)*n0 && n1 > 0.05/x.se {
			out = append(out, x.i)
		}
	}
	return out
}

func (r *result) sizesOf(obs []int) int {
	var sizes []int
	for _, i := range obs {
		if s := r.ax.makers[r.ax.obs[i].maker].size; !slices.Contains(sizes, s) {
			sizes = append(sizes, s)
		}
	}
	return len(sizes)
}

// logDensity is ln N(x; 0, sd).
func logDensity(x, sd float64) float64 {
	z := x / sd
	return -0.5*z*z - math.Log(sd) - 0.5*math.Log(2*math.Pi)
}
