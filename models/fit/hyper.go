package fit

import "math"

// The grids of the two spreads. κ does not go below 0.8: a few lucky readings
// must not shrink the stated uncertainty.
func omegaGrid() []float64 {
	return []float64{0.005, 0.01, 0.015, 0.02, 0.025, 0.03, 0.035, 0.04, 0.05, 0.06, 0.08}
}

func kappaGrid() []float64 { return []float64{0.8, 0.9, 1, 1.15, 1.3, 1.5, 1.8, 2.2} }

// startOmega and startKappa are places in the grids: 0.03 and 1.
const (
	startOmega = 5
	startKappa = 2
)

// hyper climbs the grid of ω and κ from the present point to the best of its
// eight neighbours until none is better, and reports whether it moved.
func (f *fitter) hyper() bool {
	const better = 1e-12
	fromO, fromK := f.atO, f.atK
	best := f.gridValue(f.atO, f.atK)
	for {
		o, k := f.atO, f.atK
		for i := max(o-1, 0); i <= min(o+1, len(f.omegas)-1); i++ {
			for j := max(k-1, 0); j <= min(k+1, len(f.kappas)-1); j++ {
				if v := f.gridValue(i, j); v > best+better {
					best, f.atO, f.atK = v, i, j
				}
			}
		}
		if o == f.atO && k == f.atK {
			break
		}
	}
	f.m.omega, f.m.kappa = f.omegas[f.atO], f.kappas[f.atK]
	return f.atO != fromO || f.atK != fromK
}

// gridValue is the log likelihood with the priors ln ω ~ N(ln 0.03, 0.5²) and
// ln κ ~ N(0, 0.3²) in the usual settings.
func (f *fitter) gridValue(o, k int) float64 {
	f.m.omega, f.m.kappa = f.omegas[o], f.kappas[k]
	f.m.likelihood()
	zo := math.Log(f.m.omega/f.s.TesterSpread) / f.s.TesterSpreadSD
	zk := math.Log(f.m.kappa) / f.s.MeasureScaleSD
	return f.m.logLik - 0.5*zo*zo - 0.5*zk*zk
}
