package compare_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tenter/models/compare"
	"tenter/models/gauge"
)

func cm(values ...float64) []gauge.Length { return lengths(gauge.Centimetre, values) }

func inches(values ...float64) []gauge.Length { return lengths(gauge.Inch, values) }

func lengths(unit gauge.LengthUnit, values []float64) []gauge.Length {
	out := make([]gauge.Length, len(values))
	for i, v := range values {
		out[i] = gauge.Length{Value: v, Unit: unit}
	}
	return out
}

// bust is 160 stitches at 16 over 10 cm: 100 cm. At a gauge of 15 it is
// 106.67 cm, at 17 it is 94.12 cm.
func bust(own float64, measured []gauge.Length) compare.Input {
	return compare.Input{Point: "Bust", Axis: gauge.Stitch, Count: 160, ToleranceCM: 2, Girth: true,
		Design: gauge.Over(16, 0, 10, "cm"), Own: gauge.Over(own, 0, 10, "cm"), Measured: measured}
}

func TestVerdicts(t *testing.T) {
	for name, c := range map[string]struct {
		in      compare.Input
		verdict compare.Verdict
		message string
	}{
		"on the spot": {bust(16, cm(100)), compare.AsPromised,
			"Bust measures 100 cm, just as the pattern promises: within its tolerance of 2 cm."},
		"within tolerance": {bust(16, cm(101.5)), compare.AsPromised,
			"Bust measures 101.5 cm, 1.5 cm more than the 100 cm that the pattern promises: within its tolerance of 2 cm."},
		"within tolerance, gauge not known": {bust(0, cm(98.5)), compare.AsPromised,
			"Bust measures 98.5 cm, 1.5 cm less than the 100 cm that the pattern promises: within its tolerance of 2 cm."},
		"a looser gauge is all there is to it": {bust(15, cm(106)), compare.GaugeExplains,
			"Bust measures 106 cm, 6 cm more than the 100 cm that the pattern promises; the maker's own gauge explains it (106.7 cm expected at that gauge)."},
		"the rest is within tape and swatch": {bust(15, cm(104)), compare.WithinDoubt,
			"Bust measures 104 cm, 4 cm more than the 100 cm that the pattern promises; beside the maker's own gauge 2.7 cm is left, no more than tape and swatch can be out (±4.2 cm)."},
		"gauge explains most, a real rest stays": {bust(15, cm(112)), compare.PartlyGauge,
			"Bust measures 112 cm, 12 cm more than the 100 cm that the pattern promises; the maker's own gauge explains 57 % of it, and 5.3 cm too wide is left (±4.2 cm)."},
		"gauge explains little": {bust(15.75, cm(112)), compare.NotGauge,
			"Bust measures 112 cm, 12 cm more than the 100 cm that the pattern promises; the maker's own gauge explains 14 % of it, and 10.4 cm too wide is left (±3.9 cm)."},
		"gauge pulls the other way": {bust(17, cm(108)), compare.NotGauge,
			"Bust measures 108 cm, 8 cm more than the 100 cm that the pattern promises; the maker's own gauge does not explain it, and 13.9 cm too wide is left (±3.6 cm)."},
		"gauge explains more than there is": {bust(14, cm(104)), compare.NotGauge,
			"Bust measures 104 cm, 4 cm more than the 100 cm that the pattern promises; the maker's own gauge would explain more than that, and 10.3 cm too narrow is left (±4.6 cm)."},
		"right size at the wrong gauge": {bust(14, cm(100)), compare.AgainstGauge,
			"Bust measures 100 cm, just as the pattern promises, but at the maker's own gauge it should be 114.3 cm: check which count was worked, and the swatch."},
		"off, and no swatch": {bust(0, cm(107)), compare.GaugeUnknown,
			"Bust measures 107 cm, 7 cm more than the 100 cm that the pattern promises; without a swatch gauge nobody can tell how much of that is the maker's gauge."},
		"readings that contradict each other": {bust(16, cm(90, 100)), compare.MeasureAgain,
			"Bust was read more than once and the readings contradict each other; measure it again (the last, 100 cm, is kept)."},
	} {
		t.Run(name, func(t *testing.T) {
			out, err := compare.Measurement(c.in)
			require.NoError(t, err)
			require.Equal(t, c.verdict, out.Verdict)
			require.Equal(t, c.message, out.Message)
		})
	}
}

func TestSentenceInTheReadersUnitAndWords(t *testing.T) {
	in := compare.Input{Axis: gauge.Row, Count: 120, ToleranceCM: 1.27, Unit: gauge.Inch,
		Design: gauge.Over(0, 24, 4, "in"), Own: gauge.Over(0, 24, 4, "in"), Measured: inches(17)}
	out, err := compare.Measurement(in)
	require.NoError(t, err)
	require.Equal(t, "This point measures 17 in, 3 in less than the 20 in that the pattern promises; "+
		"the maker's own gauge does not explain it, and 3 in too short is left (±0.88 in).", out.Message)
}

// All numbers of one comparison, computed in Python from the GUM's formulas:
// 150 stitches at 16 and at 18 over 10 cm, with 2 cm of edging; 90 cm read to
// 0.5 cm. u² = 1.2² + 0.5²/12 + (83.3333 × 0.246644/18)² = 2.764703;
// share = 100 (1 - ln(90/85.3333)/ln(90/95.75)), both as absolute values.
func TestNumbersOfOneComparison(t *testing.T) {
	out, err := compare.Measurement(compare.Input{Point: "bust", Axis: gauge.Stitch, Count: 150, AddCM: 2, Girth: true, ToleranceCM: 2,
		Design: gauge.Over(16, 20, 10, "cm"), Own: gauge.Over(18, 22, 10, "cm"), Measured: cm(90)})
	require.NoError(t, err)
	got, err := json.Marshal(out)
	require.NoError(t, err)
	require.JSONEq(t, `{"point": "bust", "expected_design_cm": 95.75, "expected_own_cm": 85.333333, "measured_cm": 90,
		"difference_cm": -5.75, "difference_percent": -6.005222, "explained_cm": -10.416667, "residual_cm": 4.666667,
		"residual_uncertainty_cm": 1.66274, "residual_low_cm": 1.407757, "residual_high_cm": 7.925576,
		"at_own_gauge_cm": 100.986328, "share_percent": 14.026011, "share_note": "overshoots",
		"within_tolerance": false, "residual_within": false, "readings_disagree": false, "verdict": "not_gauge",
		"message": "bust measures 90 cm, 5.8 cm less than the 95.8 cm that the pattern promises; the maker's own gauge would explain more than that, and 4.7 cm too wide is left (±3.3 cm)."}`, string(got))
}

// JCGM 100:2008 (GUM) F.2.2.1: half-widths of a rectangular distribution. The
// figures are those of a tape read to 0.5 cm (1.443 mm) and to 1/4 in (1.833 mm).
func TestStepUncertainty(t *testing.T) {
	require.InDelta(t, 0.1443, compare.StepCM(gauge.Centimetre)/math.Sqrt(12), 5e-5)
	require.InDelta(t, 0.1833, compare.StepCM(gauge.Inch)/math.Sqrt(12), 5e-5)
}

// Relative variances s² and logs y of a worked round on the row axis, computed
// in R (dense matrices): design gauge 20, repeatability 1.0 cm for body and
// sleeve and 0.7 for the armhole.
func TestBudgetAgreesWithAnIndependentComputation(t *testing.T) {
	for name, c := range map[string]struct {
		count, gauge, measured, u float64
		expected, y, s2           float64
	}{
		"t1 body":    {120, 20, 62, 1, 60, 0.032790, 0.00028356},
		"t1 sleeve":  {90, 20, 47.5, 1, 45, 0.054067, 0.00050412},
		"t1 armhole": {40, 20, 20, 0.7, 20, 0, 0.00127708},
		"t2 body":    {120, 21, 59.5, 1, 57.14286, 0.040422, 0.00031263},
		"t3 sleeve":  {92, 19.5, 52, 1, 47.17949, 0.097285, 0.00045862},
		"t4 armhole": {44, 20.5, 22, 0.7, 21.46341, 0.024693, 0.00110887},
	} {
		t.Run(name, func(t *testing.T) {
			out, err := compare.Measurement(compare.Input{Axis: gauge.Row, Count: c.count, ToleranceCM: 2, RepeatabilityCM: c.u,
				Design: gauge.Over(0, 20, 10, "cm"), Own: gauge.Over(0, c.gauge, 10, "cm"), Measured: cm(c.measured)})
			require.NoError(t, err)
			require.InDelta(t, c.expected, *out.ExpectedOwnCM, 6e-6)
			require.InDelta(t, c.y, math.Log(out.MeasuredCM / *out.ExpectedOwnCM), 1e-6)
			r, err := compare.Combine(cm(c.measured), c.u)
			require.NoError(t, err)
			require.InDelta(t, c.s2, r.Variance/(*out.ExpectedOwnCM**out.ExpectedOwnCM), 1e-8)
		})
	}
}

func TestCombine(t *testing.T) {
	for name, c := range map[string]struct {
		readings     []gauge.Length
		cm, variance float64
		disagree     bool
	}{
		// u = 1: bound 3√2 √(0.5 + 0.25/12) = 3.0619 cm.
		"one reading":              {cm(40), 40, 1 + 0.25/12, false},
		"one reading in inches":    {inches(16), 40.64, 1 + 0.635*0.635/12, false},
		"two that agree":           {cm(40, 43), 41.5, 0.75 + 0.5/12/4, false},
		"four that agree":          {cm(40, 41, 42, 41), 41, 0.625 + 0.25/12/4, false},
		"cm and inches that agree": {[]gauge.Length{{Value: 40, Unit: "cm"}, {Value: 16, Unit: "in"}}, 40.32, 0.75 + (0.25+0.635*0.635)/12/4, false},
		"two that disagree":        {cm(40, 43.1), 43.1, 1 + 0.25/12, true},
		"the last one counts":      {cm(40, 60, 41), 41, 1 + 0.25/12, true},
	} {
		t.Run(name, func(t *testing.T) {
			r, err := compare.Combine(c.readings, 1)
			require.NoError(t, err)
			require.InDelta(t, c.cm, r.CM, 1e-12)
			require.InDelta(t, c.variance, r.Variance, 1e-12)
			require.Equal(t, c.disagree, r.Disagree)
		})
	}
}

func TestRepeatabilityGoesByKind(t *testing.T) {
	require.Equal(t, compare.Girth, compare.KindOf(gauge.Stitch, true, 100))
	require.Equal(t, compare.Width, compare.KindOf(gauge.Stitch, false, 50))
	require.Equal(t, compare.LongLength, compare.KindOf(gauge.Row, false, 40.1))
	require.Equal(t, compare.ShortStraight, compare.KindOf(gauge.Row, false, 40))
	in := bust(16, cm(100))
	uncertainty := func() float64 {
		out, err := compare.Measurement(in)
		require.NoError(t, err)
		return out.ResidualUncertainty
	}
	swatch := 100 * 0.24664414 / 16
	require.InDelta(t, math.Sqrt(1.44+0.25/12+swatch*swatch), uncertainty(), 1e-6, "a girth's 1.2 cm")
	in.Kind = compare.Hem
	require.InDelta(t, math.Sqrt(1.96+0.25/12+swatch*swatch), uncertainty(), 1e-6, "a hem's 1.4 cm")
	in.RepeatabilityCM = 0.3
	require.InDelta(t, math.Sqrt(0.09+0.25/12+swatch*swatch), uncertainty(), 1e-6, "the studio's own")
	in.Own = gauge.Gauge{}
	require.InDelta(t, math.Sqrt(0.09+0.25/12+25), uncertainty(), 1e-6, "5 % when no gauge was reported")
	in.AddCM = 8
	require.InDelta(t, math.Sqrt(0.09+0.25/12+25), uncertainty(), 1e-6, "an edging does not scale with the gauge")

	for kind, cm := range map[compare.Kind]float64{compare.ShortStraight: 0.5, compare.Width: 0.8, compare.LongLength: 1, compare.Girth: 1.2, compare.Hem: 1.4} {
		require.Equal(t, cm, kind.RepeatabilityCM(), kind)
	}
}

func TestShare(t *testing.T) {
	for name, c := range map[string]struct {
		own, measured float64
		percent       float64
		note          compare.ShareNote
	}{
		"all of it":                  {15, 160 * 10 / 15.0, 100, compare.ShareStands},
		"half of it, on a log scale": {15, 100 * math.Pow(16.0/15, 2), 50, compare.ShareStands},
		"none of it":                 {16, 110, 0, compare.ShareStands},
		"the other way":              {17, 110, 0, compare.ShareOpposite},
		"half as much again":         {15, 100 * math.Pow(16.0/15, 2.0/3), 50, compare.ShareOvershoot},
		"three times as much":        {12, 100 * math.Pow(16.0/12, 1.0/3), 0, compare.ShareOvershoot},
	} {
		t.Run(name, func(t *testing.T) {
			out, err := compare.Measurement(bust(c.own, cm(c.measured)))
			require.NoError(t, err)
			require.Equal(t, c.note, out.ShareNote)
			require.InDelta(t, c.percent, *out.SharePercent, 1e-6)
		})
	}
	out, err := compare.Measurement(bust(15, cm(102)))
	require.NoError(t, err)
	require.Nil(t, out.SharePercent, "2 cm are within what the tape can be out")
	require.Equal(t, compare.ShareTooSmall, out.ShareNote)
	exact := bust(15, cm(100.45))
	exact.RepeatabilityCM = 0.1
	out, err = compare.Measurement(exact)
	require.NoError(t, err)
	require.Equal(t, compare.ShareTooSmall, out.ShareNote, "beyond the tape's doubt of 0.34 cm, but under half a percent")
	out, err = compare.Measurement(bust(0, cm(120)))
	require.NoError(t, err)
	require.Nil(t, out.SharePercent)
	require.Equal(t, compare.ShareNoGauge, out.ShareNote)
	require.Nil(t, out.ExplainedCM)
}

func drawInput(t *rapid.T) compare.Input {
	unit := rapid.SampledFrom([]gauge.LengthUnit{"cm", "in"}).Draw(t, "unit")
	in := compare.Input{Axis: rapid.SampledFrom([]gauge.Axis{gauge.Stitch, gauge.Row}).Draw(t, "axis"),
		Count: float64(rapid.IntRange(20, 300).Draw(t, "count")), AddCM: rapid.Float64Range(0, 10).Draw(t, "add"),
		ToleranceCM: rapid.Float64Range(0.3, 5).Draw(t, "tolerance"), Girth: rapid.Bool().Draw(t, "girth"), Unit: unit}
	in.Design = gauge.Over(rapid.Float64Range(10, 30).Draw(t, "stitches"), rapid.Float64Range(10, 40).Draw(t, "rows"), 10, "cm")
	in.Own = gauge.Over(rapid.Float64Range(10, 30).Draw(t, "own stitches"), rapid.Float64Range(10, 40).Draw(t, "own rows"), 4, "in")
	for range rapid.IntRange(1, 3).Draw(t, "readings") {
		in.Measured = append(in.Measured, gauge.Length{Value: rapid.Float64Range(2, 118).Draw(t, "measured"), Unit: unit})
	}
	return in
}

func TestLawsOfAComparison(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawInput(t)
		out, err := compare.Measurement(in)
		require.NoError(t, err)
		require.InDelta(t, out.DifferenceCM, *out.ExplainedCM+out.ResidualCM, 3e-6, "the parts add up")
		require.InDelta(t, out.MeasuredCM / *out.ExpectedOwnCM, out.AtOwnGaugeCM/out.ExpectedDesignCM, 1e-4, "the mark keeps the ratio")
		require.Positive(t, out.ResidualUncertainty)
		require.Less(t, out.ResidualLowCM, out.ResidualHighCM)
		if out.SharePercent != nil {
			require.GreaterOrEqual(t, *out.SharePercent, 0.0)
			require.LessOrEqual(t, *out.SharePercent, 100.0)
		}
		written, err := json.Marshal(out) // fails on NaN and Inf
		require.NoError(t, err)
		again, err := compare.Measurement(in)
		require.NoError(t, err)
		rewritten, err := json.Marshal(again)
		require.NoError(t, err)
		require.Equal(t, written, rewritten)
	})
}

func TestOwnGaugeLikeTheDesignExplainsNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawInput(t)
		in.Own = in.Design
		out, err := compare.Measurement(in)
		require.NoError(t, err)
		require.Zero(t, *out.ExplainedCM)
		require.Equal(t, out.DifferenceCM, out.ResidualCM)
		require.InDelta(t, out.MeasuredCM, out.AtOwnGaugeCM, 2e-6)
		require.Equal(t, out.WithinTolerance, out.ResidualWithin)
		if out.SharePercent != nil {
			require.Zero(t, *out.SharePercent)
		}
		require.NotEqual(t, compare.GaugeExplains, out.Verdict)
		require.NotEqual(t, compare.AgainstGauge, out.Verdict)
	})
}

func TestBadInputNamesTheField(t *testing.T) {
	for name, c := range map[string]struct {
		spoil func(in *compare.Input)
		field string
		mend  string
	}{
		"axis":                       {func(in *compare.Input) { in.Axis = "bias" }, "axis", "give stitch or row"},
		"design's gauge missing":     {func(in *compare.Input) { in.Design = gauge.Over(0, 20, 10, "cm") }, "design.stitch", "must count stitches"},
		"design's gauge of zero":     {func(in *compare.Input) { in.Design.Stitch.Count = 0 }, "design.stitch.count", "more than 0"},
		"design's gauge enormous":    {func(in *compare.Input) { in.Design.Stitch.Count = 1e308 }, "design.stitch.count", "no yarn gives"},
		"own gauge not a number":     {func(in *compare.Input) { in.Own.Stitch.Count = math.NaN() }, "own.stitch.count", "more than 0"},
		"count not a number":         {func(in *compare.Input) { in.Count = math.NaN() }, "count", "between 0 and"},
		"count infinite":             {func(in *compare.Input) { in.Count = math.Inf(1) }, "count", "between 0 and"},
		"count of nothing":           {func(in *compare.Input) { in.Count = 0 }, "count", "nothing to measure"},
		"edging enormous":            {func(in *compare.Input) { in.AddCM = 1e308 }, "add_cm", "between -100 and 100"},
		"edging eats the piece":      {func(in *compare.Input) { in.Count, in.AddCM = 10, -50 }, "add_cm", "takes away more"},
		"no tolerance":               {func(in *compare.Input) { in.ToleranceCM = 0 }, "tolerance_cm", "more than 0"},
		"tolerance not a number":     {func(in *compare.Input) { in.ToleranceCM = math.NaN() }, "tolerance_cm", "more than 0"},
		"kind":                       {func(in *compare.Input) { in.Kind = "diagonal" }, "kind", "give short"},
		"repeatability negative":     {func(in *compare.Input) { in.RepeatabilityCM = -1 }, "repeatability_cm", "more than 0"},
		"repeatability not a number": {func(in *compare.Input) { in.RepeatabilityCM = math.NaN() }, "repeatability_cm", "more than 0"},
		"unit":                       {func(in *compare.Input) { in.Unit = "mm" }, "unit", "give cm or in"},
		"long name":                  {func(in *compare.Input) { in.Point = strings.Repeat("x", 101) }, "point", "keep it to 100"},
		"nothing measured":           {func(in *compare.Input) { in.Measured = nil }, "measured", "at least one"},
		"too many readings":          {func(in *compare.Input) { in.Measured = make([]gauge.Length, 21) }, "measured", "at most 20"},
		"second reading absurd":      {func(in *compare.Input) { in.Measured = cm(100, 1e308) }, "measured[1].value", "longer than any garment"},
	} {
		t.Run(name, func(t *testing.T) {
			in := bust(16, cm(100))
			c.spoil(&in)
			_, err := compare.Measurement(in)
			requireField(t, err, c.field, c.mend)
			_, err = compare.Slips(in)
			requireField(t, err, c.field, c.mend)
		})
	}
	_, err := compare.Combine(cm(1), 0)
	requireField(t, err, "repeatability_cm", "more than 0")
}

func TestBounds(t *testing.T) {
	for name, c := range map[string]struct {
		length gauge.Length
		field  string
		mend   string
	}{
		"a bust of four metres":  {gauge.Length{Value: 400, Unit: "cm"}, "bust.value", "is 400 cm, longer than any garment here (300 cm at most)"},
		"the same in inches":     {gauge.Length{Value: 160, Unit: "in"}, "bust.value", "is 160 in, longer than any garment here (118.11 in at most)"},
		"nothing":                {gauge.Length{Unit: "cm"}, "bust.value", "leave it empty"},
		"negative":               {gauge.Length{Value: -3, Unit: "in"}, "bust.value", "more than 0"},
		"not a number":           {gauge.Length{Value: math.NaN(), Unit: "in"}, "bust.value", "is not a number"},
		"infinite":               {gauge.Length{Value: math.Inf(-1), Unit: "in"}, "bust.value", "is not a number"},
		"beyond a float in cm":   {gauge.Length{Value: 1.7e308, Unit: "in"}, "bust.value", "longer than any garment"},
		"no unit":                {gauge.Length{Value: 100}, "bust.unit", "give cm or in"},
		"unit that nobody wears": {gauge.Length{Value: 100, Unit: "ell"}, "bust.unit", "give cm or in"},
	} {
		t.Run(name, func(t *testing.T) { requireField(t, compare.Bounds("bust", c.length), c.field, c.mend) })
	}
	require.NoError(t, compare.Bounds("bust", gauge.Length{Value: 300, Unit: "cm"}))
	require.NoError(t, compare.Bounds("cuff", gauge.Length{Value: 0.5, Unit: "in"}))
}

// requireField asserts that err names the field and says what to do.
func requireField(t *testing.T, err error, field, mend string) {
	t.Helper()
	require.Error(t, err)
	var named interface{ FieldPath() string }
	require.ErrorAs(t, err, &named)
	require.Equal(t, field, named.FieldPath())
	require.ErrorContains(t, err, mend)
}
