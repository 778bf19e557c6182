package fit

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models/gauge"
)

// On small axes every list of up to three explanations is tried. A greedy search
// can miss a pair that only gains together; over these rounds it does so once.
func TestSearchFindsTheBestListOfUpToThree(t *testing.T) {
	s := DefaultSettings()
	s.CellOffset = 1e-4 // the harmless offset steers the search but is no part of the objective
	const rounds, missed = 60, 1
	var missing []string
	for seed := range uint64(rounds) {
		in := madeRound{sizes: 2, stitchPoints: 3, rowPoints: 1, testers: 5, faults: 1, nuisances: true}.make(100 + seed)
		ax := newAxisRound(&in, &s, gauge.Stitch)
		f := newFitter(ax, &s)
		f.m.omega, f.m.kappa = 0.03, 1
		f.search(searchMoves, nil)
		f.secondLook()
		found := f.objectiveNow()

		e := enumeration{m: newModel(ax, &s), s: &s, best: math.Inf(-1)}
		e.m.omega, e.m.kappa = 0.03, 1
		e.all = allListings(ax)
		e.try(0, 3)
		require.GreaterOrEqual(t, found, e.best-0.5, "round %d: %s", seed, e.list)
		if found < e.best-1e-6 {
			missing = append(missing, e.list)
		}
	}
	require.LessOrEqual(t, len(missing), missed, "%v", missing)
}

// objectiveNow is the objective of the present list, computed anew.
func (f *fitter) objectiveNow() float64 {
	f.m.likelihood()
	return f.objective()
}

type enumeration struct {
	m    *model
	s    *Settings
	all  []listing
	best float64
	list string // the best, for a message
}

func (e *enumeration) try(from, left int) {
	e.m.likelihood()
	if v := e.m.logLik + e.m.on.prior(e.s); v > e.best {
		e.best, e.list = v, fmt.Sprint(e.m.on)
	}
	if left == 0 {
		return
	}
	for i := from; i < len(e.all); i++ {
		on := e.m.on.of(e.all[i].kind)
		on[e.all[i].place] = true
		e.try(i+1, left-1)
		on[e.all[i].place] = false
	}
}

func allListings(ax *axisRound) []listing {
	var all []listing
	for k := range ax.cells {
		all = append(all, listing{kindCell, k})
	}
	for i := range ax.obs {
		all = append(all, listing{kindOdd, i})
	}
	for t := range ax.makers {
		if ax.gaugeAllowed(t) {
			all = append(all, listing{kindGauge, t})
		}
	}
	for p := range ax.spots {
		if ax.pointAllowed {
			all = append(all, listing{kindPoint, p})
		}
	}
	return all
}
