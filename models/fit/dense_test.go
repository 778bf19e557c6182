package fit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"tenter/models/gauge"
)

// dense forms V, P and u outright with gonum's general matrices, as the model
// never does.
func dense(m *model) (p *mat.Dense, u *mat.VecDense, logLik float64) {
	ax, n := m.ax, len(m.ax.obs)
	v := mat.NewSymDense(n, nil)
	y, one := mat.NewVecDense(n, nil), mat.NewVecDense(n, nil)
	for i := range n {
		y.SetVec(i, ax.obs[i].y)
		one.SetVec(i, 1)
		for j := range i + 1 {
			v.SetSym(i, j, covariance(m, i, j))
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(v) {
		panic("not positive definite")
	}
	var vy, v1 mat.VecDense
	_ = chol.SolveVecTo(&vy, y)
	_ = chol.SolveVecTo(&v1, one)
	var inverse mat.SymDense
	_ = chol.InverseTo(&inverse)
	total := mat.Dot(one, &v1)
	p = mat.NewDense(n, n, nil)
	p.Outer(-1/total, &v1, &v1)
	p.Add(p, &inverse)
	u = mat.NewVecDense(n, nil)
	u.MulVec(p, y)
	return p, u, -0.5 * (chol.LogDet() + math.Log(total) + mat.Dot(y, u))
}

func covariance(m *model, i, j int) float64 {
	a, b, s := &m.ax.obs[i], &m.ax.obs[j], m.s
	v := 0.0
	if i == j {
		v += m.kappa * m.kappa * a.s2
		if m.on.odd[i] {
			v += s.OddSize * s.OddSize
		}
	}
	if a.maker == b.maker {
		v += m.omega*m.omega + m.ax.makers[a.maker].ug2
		if m.on.gauge[a.maker] {
			v += s.GaugeSize * s.GaugeSize
		}
	}
	if a.point == b.point {
		v += m.pointVariance(a.point)
	}
	if a.cell == b.cell && m.on.cell[a.cell] {
		v += s.FaultSize * s.FaultSize
	}
	return v
}

func TestModelEqualsDenseMatrices(t *testing.T) {
	s := DefaultSettings()
	for seed := range uint64(12) {
		t.Run(fmt.Sprint("round ", seed), func(t *testing.T) {
			in := madeRound{sizes: 3, stitchPoints: 1 + int(seed%4), rowPoints: 1, testers: 8, faults: 1, nuisances: true}.make(seed)
			ax := newAxisRound(&in, &s, gauge.Stitch)
			m := newModel(ax, &s)
			m.omega, m.kappa = 0.025, 1.15
			listAtRandom(m, rand.New(rand.NewPCG(seed, 1)))
			m.solve(everySize)
			p, u, logLik := dense(m)
			require.InDelta(t, logLik, m.logLik, 1e-7)
			for i := range ax.obs {
				require.InDelta(t, u.AtVec(i), m.u[i], 1e-7*(1+math.Abs(u.AtVec(i))))
				require.InEpsilon(t, p.At(i, i), m.pii(i), 1e-8)
			}
			for k := range ax.cells {
				requireSum(t, p, u, ax.cells[k].obs, m.ofCell, k)
			}
			for k := range ax.spots {
				requireSum(t, p, u, ax.spots[k].obs, m.ofPoint, k)
			}
			for k, mk := range ax.makers {
				var obs []int
				for i := mk.from; i < mk.to; i++ {
					obs = append(obs, i)
				}
				requireSum(t, p, u, obs, m.ofMaker, k)
			}
		})
	}
}

func requireSum(t *testing.T, p *mat.Dense, u *mat.VecDense, obs []int, of func(int) (float64, float64), k int) {
	t.Helper()
	wantA, wantB := 0.0, 0.0
	for _, i := range obs {
		wantB += u.AtVec(i)
		for _, j := range obs {
			wantA += p.At(i, j)
		}
	}
	a, b := of(k)
	require.InDelta(t, wantA, a, 1e-7*(1+math.Abs(wantA)))
	require.InDelta(t, wantB, b, 1e-7*(1+math.Abs(wantB)))
}

func listAtRandom(m *model, rnd *rand.Rand) {
	for _, on := range [][]bool{m.on.cell, m.on.odd, m.on.gauge, m.on.point} {
		for i := range on {
			on[i] = rnd.IntN(4) == 0
		}
	}
}

// What a block says of each configuration, from one solved model, is what
// listing it in earnest does to the likelihood.
func TestConfigurationWeightsEqualRefits(t *testing.T) {
	s := DefaultSettings()
	in := madeRound{sizes: 2, stitchPoints: 3, rowPoints: 1, testers: 6, faults: 1, nuisances: true}.make(5)
	ax := newAxisRound(&in, &s, gauge.Stitch)
	s.CellOffset = 1e-9 // the harmless offset is no part of a likelihood
	for k := range ax.cells {
		m := newModel(ax, &s)
		m.omega, m.kappa = 0.03, 1
		listAtRandom(m, rand.New(rand.NewPCG(uint64(k), 2)))
		m.solve(everySize)
		b := newBlock(&s)
		b.load(m, k)
		at := func(c configuration) float64 {
			refit := newModel(ax, &s)
			refit.omega, refit.kappa = m.omega, m.kappa
			refit.on.copyFrom(&m.on)
			refit.on.set(&ax.cells[k], k, c)
			refit.likelihood()
			return refit.logLik + refit.on.prior(&s)
		}
		sound := at(nothing())
		b.each(func(c configuration) {
			require.InDelta(t, at(c)-sound, b.weight(c), 1e-5, "cell %d, %+v", k, c)
		})
	}
}
