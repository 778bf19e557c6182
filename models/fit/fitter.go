package fit

// fitter finds the list and the two spreads of one axis.
type fitter struct {
	m     *model
	s     *Settings
	block *block
	kept  list // what a second look goes back to

	omegas, kappas []float64
	atO, atK       int            // places in the grids
	lo, v          [kinds]float64 // prior log odds and variance of each kind
	weights        []float64
}

// workLimit bounds the second look on absurd inputs, such as hundreds of testers
// of one size whose numbers are half blunders. Sixty testers at ten points take
// a fiftieth of it.
const workLimit = 500_000_000

func newFitter(ax *axisRound, s *Settings) *fitter {
	f := &fitter{
		m: newModel(ax, s), s: s, block: newBlock(s), kept: newList(ax),
		omegas: omegaGrid(), kappas: kappaGrid(), atO: startOmega, atK: startKappa,
	}
	for k := range f.lo {
		f.lo[k], f.v[k] = s.prior(kind(k))
	}
	return f
}

// run leaves the model solved at the best list and spreads.
func (f *fitter) run() {
	const rounds = 4
	f.m.omega, f.m.kappa = f.omegas[f.atO], f.kappas[f.atK]
	for range rounds {
		f.search(searchMoves, nil)
		f.secondLook()
		if !f.hyper() {
			break
		}
	}
	f.m.solve(everySize)
}
