package fit

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models/gauge"
)

// worked is a synthetic worked example. Its numbers were computed independently
// of this package: with dense matrices in base R 4.2.2, and the likelihoods,
// fabric, points and offsets with metafor 3.8-1 (rma.mv, variance components
// fixed). They agree with each other to seven decimals.
type worked struct {
	Input    Input
	Expected struct {
		Start struct {
			Phi, SE, Loglik float64
			B, Tau          []float64
			Om02            float64 `json:"loglik_om02"`
			Ka13            float64 `json:"loglik_ka13"`
		}
		Single   map[string]float64
		Local    [][3]json.RawMessage
		Lbg      float64
		Fit      workedFit
		Verdicts json.RawMessage
	}
}

type workedFit struct {
	Omega, Kappa, Objective, Phi float64
	PhiSE                        float64 `json:"phi_se"`
	S                            [][]string
	Cells                        map[string]struct {
		PFault float64 `json:"p_fault"`
		PAny   float64 `json:"p_any"`
		Est    float64
		SE     float64
		A      float64
		Used   int
	}
	Testers map[string]struct {
		Mean, SD float64
		PGauge   float64 `json:"p_gauge"`
	}
	Points map[string]struct {
		P, Mean float64
		PSome   float64 `json:"p_some"`
	}
	Odd map[string]float64
}

func readWorked(t *testing.T, n int) worked {
	t.Helper()
	raw, err := os.ReadFile(fmt.Sprintf("testdata/worked%d.json", n))
	require.NoError(t, err)
	var w worked
	require.NoError(t, json.Unmarshal(raw, &w))
	return w
}

const workedTolerance = 1e-6 // on logs, weights and probabilities

func near(t *testing.T, want, got float64, what string) {
	t.Helper()
	require.InDelta(t, want, got, workedTolerance*math.Max(1, math.Abs(want)*1e-3), what)
}

func rowsOf(w worked) (*axisRound, Settings) {
	s := DefaultSettings()
	return newAxisRound(&w.Input, &s, gauge.Row), s
}

func TestWorkedStart(t *testing.T) {
	for n := 1; n <= 3; n++ {
		t.Run(fmt.Sprint("example ", n), func(t *testing.T) {
			w := readWorked(t, n)
			ax, s := rowsOf(w)
			m := newModel(ax, &s)
			m.omega, m.kappa = 0.02, 1
			m.likelihood()
			near(t, w.Expected.Start.Om02, m.logLik, "log likelihood at omega 0.02")
			m.omega, m.kappa = 0.03, 1.3
			m.likelihood()
			near(t, w.Expected.Start.Ka13, m.logLik, "log likelihood at kappa 1.3")
			m.kappa = 1
			m.solve(everySize)
			near(t, w.Expected.Start.Loglik, m.logLik, "log likelihood")
			phi, variance := m.fabric()
			near(t, w.Expected.Start.Phi, phi, "phi")
			near(t, w.Expected.Start.SE, math.Sqrt(variance), "its standard error")
			for p, want := range w.Expected.Start.B {
				near(t, want, m.pointOffset(p), "point offset")
			}
			for k, want := range w.Expected.Start.Tau {
				tau, _ := m.testerOffset(k)
				near(t, want, tau, "tester")
			}
			for name, want := range w.Expected.Single {
				near(t, want, singleWeight(t, m, name), name)
			}
		})
	}
}

// singleWeight is prior log odds and log Bayes factor of one explanation named
// as in the examples: c:SIZE:POINT, o:OBSERVATION, t:TESTER, p:POINT.
func singleWeight(t *testing.T, m *model, name string) float64 {
	t.Helper()
	in, part := m.ax.in, strings.Split(name, ":")
	var k kind
	var a, b float64
	switch part[0] {
	case "c":
		k = kindCell
		for i, c := range m.ax.cells {
			if in.Sizes[c.size] == part[1] && in.Points[m.ax.spots[c.point].point].ID == part[2] {
				a, b = m.ofCell(i)
			}
		}
	case "o":
		k = kindOdd
		var i int
		_, err := fmt.Sscan(part[1], &i)
		require.NoError(t, err)
		a, b = m.pii(i), m.u[i]
	case "t":
		k = kindGauge
		for i, mk := range m.ax.makers {
			if in.Testers[mk.tester].ID == part[1] {
				a, b = m.ofMaker(i)
			}
		}
	case "p":
		k = kindPoint
		for i, sp := range m.ax.spots {
			if in.Points[sp.point].ID == part[1] {
				a, b = m.ofPoint(i)
			}
		}
	}
	require.NotZero(t, a, name)
	lo, v := m.s.prior(k)
	return lo + logBayesFactor(a, b, v)
}

func TestWorkedFit(t *testing.T) {
	for n := 1; n <= 3; n++ {
		t.Run(fmt.Sprint("example ", n), func(t *testing.T) {
			w := readWorked(t, n)
			ax, s := rowsOf(w)
			f := newFitter(ax, &s)
			f.run()
			p := f.probabilities(newModel(ax, &s))
			want := w.Expected.Fit
			require.Equal(t, want.Omega, f.m.omega)
			require.Equal(t, want.Kappa, f.m.kappa)
			require.Equal(t, want.S, named(&f.m.on, ax))
			near(t, want.Objective, f.m.logLik+f.m.on.prior(&s), "objective")
			phi, variance := f.m.fabric()
			near(t, want.Phi, phi, "phi")
			near(t, want.PhiSE, math.Sqrt(variance), "its standard error")
			for k, c := range ax.cells {
				x := want.Cells[w.Input.Sizes[c.size]+":"+w.Input.Points[ax.spots[c.point].point].ID]
				near(t, x.PFault, p.fault[k], "p_fault")
				near(t, x.PAny, p.any[k], "p_any")
				o := f.m.cellOffset(k)
				require.True(t, o.known)
				near(t, x.Est, o.d, "offset")
				near(t, x.SE, math.Sqrt(o.variance), "its standard error")
				require.Equal(t, x.Used, o.good)
			}
			for k, mk := range ax.makers {
				x := want.Testers[w.Input.Testers[mk.tester].ID]
				mean, variance := f.m.testerOffset(k)
				near(t, x.Mean, mean, "tester")
				near(t, x.SD, math.Sqrt(variance), "its standard deviation")
				if !mk.missing { // no gauge, nothing to be wrong
					near(t, x.PGauge, p.gauge[k], "p_gauge")
				}
			}
			for j, sp := range ax.spots {
				x := want.Points[w.Input.Points[sp.point].ID]
				near(t, x.P, p.point[j].this, "p of the point")
				near(t, x.PSome, p.point[j].some, "p of some point")
				near(t, x.Mean, f.m.pointOffset(j), "point offset")
			}
			for i, x := range want.Odd {
				var at int
				_, err := fmt.Sscan(i, &at)
				require.NoError(t, err)
				near(t, x, p.odd[at], "p_odd of "+i)
			}
		})
	}
}

// named writes a list as the examples do.
func named(l *list, ax *axisRound) [][]string {
	out := [][]string{}
	for k, on := range l.cell {
		if on {
			c := ax.cells[k]
			out = append(out, []string{"c", ax.in.Sizes[c.size], ax.in.Points[ax.spots[c.point].point].ID})
		}
	}
	for i, on := range l.odd {
		if on {
			out = append(out, []string{"o", fmt.Sprint(i)})
		}
	}
	return out
}

func TestWorkedLocalExplanations(t *testing.T) {
	of := map[int]int{1: 4, 2: 5, 3: 1} // B/sleeve, B/armhole, A/sleeve by order of appearance
	for n, k := range of {
		t.Run(fmt.Sprint("example ", n), func(t *testing.T) {
			w := readWorked(t, n)
			ax, s := rowsOf(w)
			f := newFitter(ax, &s)
			f.run()
			f.m.on.clearCell(&ax.cells[k], k)
			f.m.solve(everySize)
			f.block.load(f.m, k)
			near(t, w.Expected.Lbg, f.block.logOffset, "harmless offset")
			at := 0
			f.block.each(func(c configuration) {
				var want float64
				require.NoError(t, json.Unmarshal(w.Expected.Local[at][2], &want))
				near(t, want, f.block.weight(c), fmt.Sprint("configuration ", at))
				at++
			})
			require.Len(t, w.Expected.Local, at)
		})
	}
}
