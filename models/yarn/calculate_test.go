package yarn

import (
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tenter/models/fit"
)

func TestWorkedExample(t *testing.T) {
	in := worked()
	uses, _ := in.sample()
	for i, want := range []float64{0.846754, 0.859304, 0.886076, 0.937638, 1.617709} {
		require.InDelta(t, want, uses[i].y, 1e-6)
	}
	s := DefaultSettings()
	kept, outliers := s.split(uses)
	require.Len(t, outliers, 1)
	b := s.newBound(kept, 0.95)
	require.InDelta(t, 0.882443, b.mean, 5e-7)
	require.InDelta(t, 0.065975, b.sd, 5e-7)
	require.InDelta(t, 1.022192, b.upper, 5e-7)

	out, err := Calculate(in)
	require.NoError(t, err)
	for i, want := range []struct{ typical, upper float64 }{{408.5, 469.8}, {469.8, 540.3}, {531.1, 610.7}} {
		require.Equal(t, want.typical, *out.Sizes[i].TypicalMetres)
		require.Equal(t, want.upper, *out.Sizes[i].UpperMetres)
	}
	require.Equal(t, 0, out.Sizes[2].Reports, "a size that nobody made has an amount too")
	require.Equal(t, "t5", out.Outliers[0].Tester)
	require.Equal(t, "t5 used 980 m for size B, 2.09 times what the others' use and t5's own gauge let expect (470 m); it is left out. "+
		"Ask whether a ball was forgotten, or grams were given for metres.", out.Outliers[0].Message)
	require.Equal(t, "Size C: 611 m, enough for 19 of 20 makers (531 m typical, 611 m bound, from 4 testers, none of this size).", out.Sizes[2].Message)
	require.Equal(t, "Enough for 19 of 20 makers, from 4 testers, with 1 outlier left out.", out.Message)
}

func TestWholeBallsComeLast(t *testing.T) {
	in := worked()
	in.Ball = &Ball{Metres: 120, Grams: 50}
	out, err := Calculate(in)
	require.NoError(t, err)
	require.Equal(t, 4, *out.Sizes[0].Balls) // 469.8 m
	require.Equal(t, 5, *out.Sizes[1].Balls) // 540.3 m
	require.Equal(t, 6, *out.Sizes[2].Balls) // 610.7 m
	require.Equal(t, 720.0, *out.Sizes[2].PublishMetres)
	require.Equal(t, 300.0, *out.Sizes[2].Grams)
	require.Contains(t, out.Sizes[2].Message, "6 balls of 120 m, enough for 19 of 20 makers")
}

func TestFewTesters(t *testing.T) {
	for _, row := range []struct {
		name     string
		metres   []float64
		used     int
		outliers int
	}{
		{"nobody", nil, 0, 0},
		{"one", []float64{410}, 1, 0},
		{"two who agree", []float64{410, 450}, 2, 0},
		{"two who contradict each other: nobody knows which is right", []float64{410, 1300}, 0, 2},
		{"three, one of them in balls", []float64{410, 430, 4}, 2, 1},
		{"three alike", []float64{410, 410, 410}, 3, 0},
		{"four alike and one 10 % off, which is within what makers differ", []float64{410, 410, 410, 410, 451}, 5, 0},
	} {
		t.Run(row.name, func(t *testing.T) {
			in := worked()
			in.Testers = in.Testers[:0]
			for i, m := range row.metres {
				in.Testers = append(in.Testers, fit.Tester{ID: string(rune('a' + i)), Size: "A", MetresUsed: pointer(m)})
			}
			out, err := Calculate(in)
			require.NoError(t, err)
			require.Equal(t, row.used, out.Used)
			require.Len(t, out.Outliers, row.outliers)
			if row.used == 0 {
				require.Equal(t, NothingToTell, out.Sizes[0].Basis)
				require.Nil(t, out.Sizes[0].UpperMetres)
			}
			_, err = json.Marshal(out)
			require.NoError(t, err)
		})
	}
}

// A swatch of 10 × 10 cm at the design gauge has 560 stitches; 40,000 stitches
// weigh 71.43 times as much.
func TestSwatchWeightGivesAnEstimate(t *testing.T) {
	in := worked()
	in.Testers = nil
	in.Ball = &Ball{Metres: 120, Grams: 50}
	in.SwatchWeight = &SwatchWeight{Grams: 2.5, WidthCM: 10, HeightCM: 10}
	out, err := Calculate(in)
	require.NoError(t, err)
	require.Equal(t, BySwatch, out.Sizes[0].Basis)
	require.InDelta(t, 40000.0/560*2.5*120/50, *out.Sizes[0].TypicalMetres, 0.05)
	require.Nil(t, out.Sizes[0].UpperMetres)
}

func TestSizeMatters(t *testing.T) {
	in := made(rand.New(rand.NewPCG(1, 1)), 24, -0.5)
	out, err := Calculate(in)
	require.NoError(t, err)
	require.True(t, out.SizeMatters)
	require.Less(t, *out.SlopeT, -2.5)
	for _, a := range out.Sizes {
		want := truth(in.TotalStitches[a.Size], -0.5) * in.designPitch()
		require.InEpsilon(t, want, *a.TypicalMetres, 0.1, a.Size)
		require.Greater(t, *a.UpperMetres, want)
	}
	out, err = Calculate(made(rand.New(rand.NewPCG(1, 1)), 24, 0))
	require.NoError(t, err)
	require.False(t, out.SizeMatters)
}

// The bound is meant to last for nine of ten new makers; it may cover more, for
// the prior spread of 8 % is wider than the 6 % of these rounds.
func TestBoundCoversNewMakers(t *testing.T) {
	rnd := rand.New(rand.NewPCG(9, 9))
	covered, rounds := 0, 600
	for range rounds {
		in := made(rnd, 2+rnd.IntN(6), 0)
		out, err := Calculate(in)
		require.NoError(t, err)
		next := truth(52000, 0) * in.designPitch() * math.Exp(0.06*rnd.NormFloat64())
		if next <= *out.Sizes[3].UpperMetres {
			covered++
		}
	}
	share := float64(covered) / float64(rounds)
	require.Greater(t, share, 0.90)
	require.Less(t, share, 0.99)
}

func TestOrderAndUnitsChangeNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := made(rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1)), rapid.IntRange(0, 15).Draw(t, "testers"), 0)
		want, err := Calculate(in)
		require.NoError(t, err)
		in.Testers = rapid.Permutation(in.Testers).Draw(t, "testers")
		for i := range in.Testers {
			for _, s := range []float64{2.54} { // the same span in inches
				in.Testers[i].Swatch.Stitch.Over /= s
				in.Testers[i].Swatch.Stitch.Unit = "in"
			}
		}
		got, err := Calculate(in)
		require.NoError(t, err)
		require.Equal(t, want.Sizes, got.Sizes)
		require.Equal(t, want.Message, got.Message)
		require.ElementsMatch(t, want.Outliers, got.Outliers)
	})
}

// More yarn for everybody is more yarn stated, by the same factor; and a gauge
// twice as fine takes half the yarn for a stitch.
func TestAmountsScale(t *testing.T) {
	in := worked()
	before, err := Calculate(in)
	require.NoError(t, err)
	for i := range in.Testers {
		*in.Testers[i].MetresUsed *= 3
	}
	after, err := Calculate(in)
	require.NoError(t, err)
	require.InDelta(t, 3**before.Sizes[0].UpperMetres, *after.Sizes[0].UpperMetres, 0.3)
	in.DesignGauge.OverCM /= 2
	finer, err := Calculate(in)
	require.NoError(t, err)
	require.InDelta(t, *after.Sizes[0].UpperMetres/2, *finer.Sizes[0].UpperMetres, 0.1)
}

func TestBadInputNamesTheField(t *testing.T) {
	for _, row := range []struct {
		name, field string
		bend        func(*Input)
	}{
		{"no row gauge", "design_gauge.row", func(in *Input) { in.DesignGauge.Row = 0 }},
		{"surer than sure", "gamma", func(in *Input) { in.Gamma = pointer(1.0) }},
		{"not a number", "gamma", func(in *Input) { in.Gamma = pointer(math.NaN()) }},
		{"an empty ball", "ball.metres", func(in *Input) { in.Ball = &Ball{} }},
		{"a ball of negative weight", "ball.grams", func(in *Input) { in.Ball = &Ball{Metres: 100, Grams: -1} }},
		{"a swatch without a ball", "ball.grams", func(in *Input) { in.SwatchWeight = &SwatchWeight{2, 10, 10} }},
		{"a swatch without width", "swatch_weight.width_cm", func(in *Input) { in.SwatchWeight = &SwatchWeight{2, 0, 10} }},
		{"infinite stitches", "total_stitches.A", func(in *Input) { in.TotalStitches["A"] = math.Inf(1) }},
		{"no size", "sizes", func(in *Input) { in.Sizes = nil }},
	} {
		t.Run(row.name, func(t *testing.T) {
			in := worked()
			row.bend(&in)
			_, err := Calculate(in)
			var field *FieldError
			require.True(t, errors.As(err, &field), "%v", err)
			require.Equal(t, row.field, field.FieldPath())
		})
	}
	s := DefaultSettings()
	s.MakerSpread = 0
	_, err := CalculateWith(worked(), s)
	require.ErrorContains(t, err, "settings.MakerSpread")
}

func TestSizeWithoutStitchesIsSaid(t *testing.T) {
	in := worked()
	delete(in.TotalStitches, "B")
	out, err := Calculate(in)
	require.NoError(t, err)
	require.Equal(t, NothingToTell, out.Sizes[1].Basis)
	require.Len(t, out.Unused, 3)
	require.Equal(t, 2, out.Used)
}

func TestAbsurdAmountsAreNotStated(t *testing.T) {
	in := worked()
	in.TotalStitches["A"], in.TotalStitches["C"] = 1, 1e9
	in.Testers = in.Testers[:1]
	*in.Testers[0].MetresUsed = 1e6
	out, err := Calculate(in)
	require.NoError(t, err)
	require.Equal(t, NothingToTell, out.Sizes[2].Basis)
	_, err = json.Marshal(out)
	require.NoError(t, err)
}
