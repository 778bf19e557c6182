package compare_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tenter/models/compare"
	"tenter/models/gauge"
)

func TestSlips(t *testing.T) {
	for name, c := range map[string]struct {
		in      compare.Input
		kind    compare.SlipKind
		meant   gauge.Length
		message string
	}{
		"flat width of a girth": {bust(16, cm(50.5)), compare.Half, gauge.Length{Value: 101, Unit: "cm"},
			"50.5 cm is far from the 100 cm expected here; did you measure flat, from side to side? All the way round would be 101 cm."},
		"doubled twice": {bust(16, cm(198)), compare.Double, gauge.Length{Value: 99, Unit: "cm"},
			"198 cm is far from the 100 cm expected here, and half of it, 99 cm, would fit. Was it doubled?"},
		"inches entered as cm": {bust(16, cm(39.5)), compare.InchAsCM, gauge.Length{Value: 39.5, Unit: "in"},
			"39.5 cm is far from the 100 cm expected here; 39.5 in would be 100.3 cm. Did you mean inches?"},
		"cm entered as inches": {bust(16, inches(98)), compare.CMAsInch, gauge.Length{Value: 98, Unit: "cm"},
			"98 in is far from the 39.37 in expected here; 98 cm would be 38.58 in. Did you mean centimetres?"},
		"two digits swapped": {sleeve(cm(84)), compare.Transposed, gauge.Length{Value: 48, Unit: "cm"},
			"84 cm is far from the 50 cm expected here; did you mean 48 cm, with two digits the other way round?"},
		"ten too few": {sleeve(cm(39.5)), compare.Tens, gauge.Length{Value: 49.5, Unit: "cm"},
			"39.5 cm is far from the 50 cm expected here; did you mean 49.5 cm? The tape's tens are easily misread."},
		"decimal point one place off": {sleeve(cm(5.05)), compare.DecimalPoint, gauge.Length{Value: 50.5, Unit: "cm"},
			"5.05 cm is far from the 50 cm expected here; did you mean 50.5 cm? Look at the decimal point."},
		"half of a length": {sleeve(cm(25)), compare.Half, gauge.Length{Value: 50, Unit: "cm"},
			"25 cm is far from the 50 cm expected here, and twice it, 50 cm, would fit. Was only half of it measured?"},
		"at the maker's own gauge": {bust(13, cm(62)), compare.Half, gauge.Length{Value: 124, Unit: "cm"},
			"62 cm is far from the 123.1 cm expected here; did you measure flat, from side to side? All the way round would be 124 cm."},
	} {
		t.Run(name, func(t *testing.T) {
			slips, err := compare.Slips(c.in)
			require.NoError(t, err)
			require.NotEmpty(t, slips)
			require.Equal(t, c.kind, slips[0].Kind)
			require.Equal(t, c.meant, slips[0].Meant)
			require.Equal(t, c.message, slips[0].Message)
			require.NotContains(t, slips[0].Question, "expected", "who measures blind is told what is expected")
			require.Less(t, math.Abs(slips[0].OffPercent), 5.0)
		})
	}
}

func sleeve(measured []gauge.Length) compare.Input {
	return compare.Input{Point: "Sleeve", Axis: gauge.Row, Count: 100, ToleranceCM: 1.5,
		Design: gauge.Over(0, 20, 10, "cm"), Own: gauge.Over(0, 20, 10, "cm"), Measured: measured}
}

func TestNoQuestionIsAskedWithoutReason(t *testing.T) {
	for name, in := range map[string]compare.Input{
		"as expected":                               bust(16, cm(100)),
		"a fifth wide: a size fault or a gauge":     bust(16, cm(120)),
		"far off, but just what their gauge gives":  bust(11, cm(144)),
		"half would still be a tenth off":           bust(16, cm(45)),
		"far off and like nothing":                  bust(16, cm(70)),
		"a third long, no slip fits":                sleeve(cm(67)),
		"a second reading that is right counts":     bust(16, cm(50, 100)),
		"swapped digits within a fifth stay silent": sleeve(cm(45)),
	} {
		t.Run(name, func(t *testing.T) {
			slips, err := compare.Slips(in)
			require.NoError(t, err)
			require.Empty(t, slips)
			require.NotNil(t, slips, "an empty list in JSON")
		})
	}
}

// A right measurement spoilt in a known way is asked about in that way, and what
// it would be is the right one again.
func TestSlipsAreUndone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		right := gauge.Length{Value: float64(rapid.IntRange(93, 107).Draw(t, "cm")), Unit: "cm"}
		spoilt := rapid.SampledFrom([]struct {
			kind  compare.SlipKind
			typed gauge.Length
		}{
			{compare.Half, gauge.Length{Value: right.Value / 2, Unit: "cm"}},
			{compare.Double, gauge.Length{Value: right.Value * 2, Unit: "cm"}},
			{compare.InchAsCM, gauge.Length{Value: right.Value / 2.54, Unit: "cm"}},
			{compare.CMAsInch, gauge.Length{Value: right.Value, Unit: "in"}},
			{compare.DecimalPoint, gauge.Length{Value: right.Value / 10, Unit: "cm"}},
		}).Draw(t, "slip")
		slips, err := compare.Slips(bust(16, []gauge.Length{spoilt.typed}))
		require.NoError(t, err)
		require.NotEmpty(t, slips)
		found := false
		for i, s := range slips {
			if i > 0 {
				require.LessOrEqual(t, math.Abs(slips[i-1].OffPercent), math.Abs(s.OffPercent), "best first")
			}
			if s.Kind == spoilt.kind {
				found = true
				require.InDelta(t, right.CM(), s.Meant.CM(), 1e-9)
			}
		}
		require.True(t, found)
	})
}

func TestSlipsNeverAskNearTheExpected(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawInput(t)
		slips, err := compare.Slips(in)
		require.NoError(t, err)
		out, err := compare.Measurement(in)
		require.NoError(t, err)
		last := in.Measured[len(in.Measured)-1].CM()
		for _, s := range slips {
			require.Greater(t, math.Abs(math.Log(last/out.ExpectedDesignCM)), 0.2199)
			before, after := math.Log(last / *out.ExpectedOwnCM), math.Log(s.Meant.CM() / *out.ExpectedOwnCM)
			require.Less(t, math.Abs(after), 0.41*math.Abs(before))
			require.NoError(t, s.Meant.Check("meant"))
		}
	})
}

func BenchmarkMeasurement(b *testing.B) {
	in := bust(15, cm(104, 104.5))
	for b.Loop() {
		if _, err := compare.Measurement(in); err != nil {
			b.Fatal(err)
		}
	}
}
