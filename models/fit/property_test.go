package fit

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tenter/models/gauge"
)

func calculated(t require.TestingT, in Input) Output {
	out, err := Calculate(in)
	require.NoError(t, err)
	return out
}

// written is an answer as JSON, testers and what belongs to them sorted by name.
func written(t require.TestingT, out Output) string {
	slices.SortFunc(out.Testers, func(a, b TesterOnAxis) int {
		return strings.Compare(a.Tester+string(a.Axis), b.Tester+string(b.Axis))
	})
	slices.SortFunc(out.OddValues, func(a, b OddValue) int { return strings.Compare(a.Tester+a.Point, b.Tester+b.Point) })
	slices.SortFunc(out.Reports, func(a, b ReportLine) int { return strings.Compare(a.Tester+a.Point, b.Tester+b.Point) })
	slices.SortFunc(out.Findings, func(a, b Finding) int { return strings.Compare(a.Message, b.Message) })
	raw, err := json.Marshal(out)
	require.NoError(t, err)
	return string(raw)
}

func drawnRound(t *rapid.T) Input {
	m := madeRound{
		sizes: rapid.IntRange(1, 4).Draw(t, "sizes"), stitchPoints: rapid.IntRange(1, 4).Draw(t, "stitch points"),
		rowPoints: rapid.IntRange(0, 4).Draw(t, "row points"), testers: rapid.IntRange(1, 10).Draw(t, "testers"),
		faults: rapid.IntRange(0, 2).Draw(t, "faults"), nuisances: rapid.Bool().Draw(t, "nuisances"),
	}
	return m.make(rapid.Uint64Range(0, 1e6).Draw(t, "seed"))
}

func TestOrderOfTestersAndOfTheirPointsChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawnRound(t)
		want := written(t, calculated(t, in))
		in.Testers = rapid.Permutation(in.Testers).Draw(t, "testers")
		for i := range in.Testers {
			in.Testers[i].Measurements = rapid.Permutation(in.Testers[i].Measurements).Draw(t, "measurements")
		}
		require.Equal(t, want, written(t, calculated(t, in)))
	})
}

// Ties between points go to the first, so points and sizes are turned round only
// in rounds without ties; sums in another order may differ in the last digit.
func TestOrderOfPointsAndSizesChangesNoVerdict(t *testing.T) {
	for seed := range uint64(30) {
		in := madeRound{sizes: 4, stitchPoints: 3, rowPoints: 4, testers: 12, faults: 2, nuisances: true}.make(seed)
		want := calculated(t, in)
		rnd := rand.New(rand.NewPCG(seed, 3))
		rnd.Shuffle(len(in.Points), func(i, j int) { in.Points[i], in.Points[j] = in.Points[j], in.Points[i] })
		rnd.Shuffle(len(in.Sizes), func(i, j int) { in.Sizes[i], in.Sizes[j] = in.Sizes[j], in.Sizes[i] })
		got := calculated(t, in)
		w, g := words(want), words(got)
		delete(w, "grading") // an end of the size range is a matter of order
		delete(g, "grading")
		require.Equal(t, w, g, "round %d", seed)
	}
}

// Twice the stitches in the same length, in the text and in every gauge, is the
// same garment: swatches keep their count over half the span.
func TestScalingGaugesAndCountsTogetherChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawnRound(t)
		want := calculated(t, in)
		k := math.Ldexp(1, rapid.IntRange(-1, 2).Draw(t, "power of two"))
		in.DesignGauge.OverCM /= k
		for _, counts := range in.Counts {
			for p := range counts {
				counts[p] *= k
			}
		}
		for i := range in.Points {
			in.Points[i].Repeat = pointer(k)
		}
		for i := range in.Testers {
			for _, s := range []*gauge.Swatch{in.Testers[i].Swatch.Stitch, in.Testers[i].Swatch.Row} {
				if s != nil {
					s.Over /= k
				}
			}
		}
		got := calculated(t, in)
		require.Equal(t, words(want), words(got))
		for i := range want.Cells {
			w, g := want.Cells[i], got.Cells[i]
			require.Equal(t, w.EstimatePct, g.EstimatePct)
			require.Equal(t, w.PFault, g.PFault)
			if w.AsCount != nil {
				require.InDelta(t, k*w.AsCount.Estimate, g.AsCount.Estimate, 0.02*(1+k))
			}
		}
	})
}

// A round in inches says the same as in centimetres when tapes are read to the
// same step: only a slip's kind may differ, for it depends on what was typed.
func TestUnitsChangeNoVerdict(t *testing.T) {
	s := DefaultSettings()
	s.StepInch = s.StepCM / gauge.CMPerInch
	for seed := range uint64(20) {
		in := madeRound{sizes: 3, stitchPoints: 3, rowPoints: 3, testers: 9, faults: 1, nuisances: true}.make(seed)
		want, err := CalculateWith(in, s)
		require.NoError(t, err)
		for i := range in.Testers {
			for k := range in.Testers[i].Measurements {
				m := &in.Testers[i].Measurements[k]
				*m.Value, m.Unit = *m.Value/gauge.CMPerInch, gauge.Inch
			}
			for _, sw := range []*gauge.Swatch{in.Testers[i].Swatch.Stitch, in.Testers[i].Swatch.Row} {
				if sw != nil {
					sw.Over, sw.Unit = sw.Over/gauge.CMPerInch, gauge.Inch
				}
			}
		}
		got, err := CalculateWith(in, s)
		require.NoError(t, err)
		w, g := words(want), words(got)
		require.Len(t, g["odd_values"], len(w["odd_values"]))
		delete(w, "odd_values")
		delete(g, "odd_values")
		require.Equal(t, w, g, "round %d", seed)
		for i := range want.Reports {
			require.InDelta(t, want.Reports[i].ResidualPct, got.Reports[i].ResidualPct, 0.0011)
		}
	}
}

// A tenth more on every piece is the fabric, and nothing else.
func TestStretchingEverythingIsFabric(t *testing.T) {
	in := madeRound{sizes: 3, stitchPoints: 3, rowPoints: 3, testers: 12}.make(4)
	before := calculated(t, in)
	s := DefaultSettings()
	s.StepCM = 0.01 // so that relative uncertainties scale with the piece
	for i := range in.Points {
		*in.Points[i].UCM *= 1.1
	}
	for i := range in.Testers {
		for _, m := range in.Testers[i].Measurements {
			*m.Value *= 1.1
		}
	}
	after, err := CalculateWith(in, s)
	require.NoError(t, err)
	for a := range before.Fabric {
		grown := (1+*before.Fabric[a].EstimatePct/100)*1.1 - 1
		require.InDelta(t, 100*grown, *after.Fabric[a].EstimatePct, 0.5)
		require.Equal(t, Grows, after.Fabric[a].Verdict)
	}
	for i := range before.Cells {
		require.InDelta(t, *before.Cells[i].EstimatePct, *after.Cells[i].EstimatePct, 1, fmt.Sprint(before.Cells[i]))
	}
}
