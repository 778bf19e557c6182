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
//	Σ ln((1−π) N(dev; 0, se) + π N(dev; 0, √(se² + v)))
//
// against a share ρ of them being off by the same D, where the first part is
// (1−ρ) N(dev; 0, se) + ρ N(dev; D, se), averaged over all D and ρ.
func (r *result) unclearStep(p int) unclear {
	values := r.unclearValues(p)
	if len(values) < 3 || r.m.on.point[p] {
		return unclear{}
	}
	null, best, bestRho := r.mixture(values, 0, 0), math.Inf(-1), 0.0
	var logs []float64
	out := unclear{}
	for _, d := range sameWay() {
		for _, rho := range sameWayShares() {
			l := r.mixture(values, d, rho)
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
	alternative := best + math.Log(sum/float64(len(logs)))
	out.posterior = logistic(logOdds(r.s.UnclearChance) + alternative - null)
	out.obs = fitting(values, out.by, bestRho)
	out.found = out.posterior >= 0.5 && r.sizesOf(out.obs) >= 2
	return out
}

type unclearValue struct {
	i       int
	dev, se float64
}

func (r *result) unclearValues(p int) []unclearValue {
	var out []unclearValue
	for _, i := range r.ax.spots[p].obs {
		if r.m.on.cell[r.ax.obs[i].cell] {
			continue
		}
		if v := r.m.valueOffset(i); v.known {
			out = append(out, unclearValue{i, v.d, math.Sqrt(max(v.variance, 1e-12))})
		}
	}
	return out
}

func (r *result) mixture(values []unclearValue, d, rho float64) float64 {
	chance, v := r.s.OddChance, r.s.OddSize*r.s.OddSize
	sum := 0.0
	for _, x := range values {
		wide := math.Sqrt(x.se*x.se + v)
		sound := logDensity(x.dev/x.se) - math.Log(x.se) + math.Log1p(-chance)
		odd := logDensity(x.dev/wide) - math.Log(wide) + math.Log(chance)
		if rho > 0 {
			same := logDensity((x.dev-d)/x.se) - math.Log(x.se) + math.Log1p(-chance)
			sound = logSum(sound+math.Log1p(-rho), same+math.Log(rho))
		}
		sum += logSum(sound, odd)
	}
	return sum
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

// logDensity of the standard normal distribution.
func logDensity(z float64) float64 { return -0.5*z*z - 0.5*math.Log(2*math.Pi) }

// logSum is ln(e^a + e^b).
func logSum(a, b float64) float64 {
	if a < b {
		a, b = b, a
	}
	return a + math.Log1p(math.Exp(b-a))
}
