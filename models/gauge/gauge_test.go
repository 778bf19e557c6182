package gauge_test

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tenter/models/gauge"
)

func swatch(count, over float64, unit gauge.LengthUnit) gauge.Swatch {
	return gauge.Swatch{Count: count, Over: over, Unit: unit}
}

// Published and worked gauge arithmetic. The first two rows are handbook
// examples from a craft tutorial's gauge page (15 stitches and 22 rows over 3 in,
// printed as 5 and 7.3 to the inch); the half stitch is a pattern gauge quoted as
// 17.5 stitches by 10 rows to 4 in; the whole-swatch method (count all, divide by
// the width) is common teaching practice. The others are plain arithmetic.
func TestGaugeInEveryForm(t *testing.T) {
	for name, c := range map[string]struct {
		swatch                 swatchCase
		perInch, per4in, per10 float64
	}{
		"part gauge, stitches over 3 in": {swatchCase{15, 3, "in"}, 5, 20, 15 / 7.62 * 10},
		"part gauge, rows over 3 in":     {swatchCase{22, 3, "in"}, 7.3333333333, 29.3333333333, 22 / 7.62 * 10},
		"half stitch kept":               {swatchCase{17.5, 4, "in"}, 4.375, 17.5, 17.5 * 0.98425196850393701},
		"whole swatch divided by width":  {swatchCase{30, 6.1, "in"}, 4.9180327869, 19.6721311475, 30 / 15.494 * 10},
		"18 over 10 cm":                  {swatchCase{18, 10, "cm"}, 4.572, 18 * 1.016, 18},
	} {
		t.Run(name, func(t *testing.T) {
			s := swatch(c.swatch.count, c.swatch.over, c.swatch.unit)
			require.NoError(t, s.Check("x"))
			require.InDelta(t, c.perInch, s.PerCM()*2.54, 1e-9)
			require.InDelta(t, c.per4in, s.Per4In(), 1e-9)
			require.InDelta(t, c.per10, s.Per10CM(), 1e-9)
		})
	}
}

type swatchCase struct {
	count, over float64
	unit        gauge.LengthUnit
}

// Arithmetic worked by hand: 4 in and 10 cm are different spans.
func TestFourInchesAreNotTenCentimetres(t *testing.T) {
	over4in, over10cm := swatch(18, 4, "in"), swatch(18, 10, "cm")
	// 20 in = 50.8 cm need 90 stitches at 18 over 4 in, 91.44 at 18 over 10 cm.
	require.InDelta(t, 90, 50.8*over4in.PerCM(), 1e-9)
	require.InDelta(t, 91.44, 50.8*over10cm.PerCM(), 1e-9)
	require.InDelta(t, 1.016, over10cm.PerCM()/over4in.PerCM(), 1e-12, "10.16/10: a mistake of 1.6 %")

	// 91 stitches at 18 over 4 in: 20.2222222222 in = 51.3644444444 cm.
	cm, err := over4in.ExpectedCM(91, 0)
	require.NoError(t, err)
	require.InDelta(t, 51.3644444444, cm, 1e-9)

	// Half a stitch missed in 18.5: a 40 in chest of 180 stitches comes out
	// 38.9189189189 in.
	cm, err = swatch(18.5, 4, "in").ExpectedCM(180, 0)
	require.NoError(t, err)
	require.InDelta(t, 38.9189189189, cm/2.54, 1e-9)
}

// JCGM 100:2008 (GUM) 4.3.7 and F.2.2.1: a rectangular step a has standard
// uncertainty a/√12; combined in quadrature.
func TestSwatchUncertainty(t *testing.T) {
	require.InDelta(t, 0.2466, gauge.UsualBudget().Count(), 5e-5, "√(0.5²/12 + 0.2²)")
	// 20 stitches to the nearest half over 10 cm read to 1 mm: 0.7773 %, computed
	// from the GUM's formulas.
	byRuler := gauge.Budget{CountStep: 0.5, SpanStep: 0.1}
	require.InDelta(t, 0.14434, byRuler.Count(), 5e-6)
	require.InDelta(t, 0.007773, byRuler.Relative(swatch(20, 10, "cm")), 5e-7)
	require.InDelta(t, 0.0155456, 2*byRuler.Relative(swatch(20, 10, "cm")), 1e-6, "in stitches per cm")
	// u² of swatches of 20 and 19.5 rows, from an independent computation.
	require.InDelta(t, 0.00015208, math.Pow(swatch(20, 10, "cm").RelativeUncertainty(), 2), 5e-9)
	require.InDelta(t, 0.00015998, math.Pow(swatch(19.5, 10, "cm").RelativeUncertainty(), 2), 5e-9)
	require.Zero(t, gauge.Swatch{}.RelativeUncertainty(), "not counted")
}

func drawSwatch(t *rapid.T) gauge.Swatch {
	s := swatch(rapid.Float64Range(2, 40).Draw(t, "count"), rapid.Float64Range(2, 20).Draw(t, "over"),
		rapid.SampledFrom([]gauge.LengthUnit{"cm", "in"}).Draw(t, "unit"))
	require.NoError(t, s.Check("x"))
	return s
}

func TestScalingAGaugeScalesTheExpectation(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSwatch(t)
		n := rapid.Float64Range(0, 500).Draw(t, "n")
		add := rapid.Float64Range(0, 20).Draw(t, "add")
		k := rapid.Float64Range(0.8, 1.25).Draw(t, "k")
		plain, err := s.ExpectedCM(n, add)
		require.NoError(t, err)
		scaled, err := swatch(s.Count*k, s.Over, s.Unit).ExpectedCM(n, add)
		require.NoError(t, err)
		require.InDelta(t, plain-add, k*(scaled-add), 1e-9*(1+plain), "k times the stitches give 1/k of the length")
		require.InDelta(t, n, (plain-add)*s.PerCM(), 1e-9*(1+n), "and back to the count")
		require.InDelta(t, 1.016*s.Per10CM(), s.Per4In(), 1e-9*s.Per4In())
	})
}

func TestEntryTakesBothForms(t *testing.T) {
	for name, c := range map[string]struct {
		text string
		want gauge.Gauge
	}{
		"one span": {`{"stitches": 15, "rows": 17, "span": 10, "unit": "cm"}`,
			gauge.Gauge{Stitch: swatch(15, 10, "cm"), Row: swatch(17, 10, "cm")}},
		"a span for each": {`{"stitch": {"count": 18, "over": 10, "unit": "cm"}, "row": {"count": 25.5, "over": 4, "unit": "in"}}`,
			gauge.Gauge{Stitch: swatch(18, 10, "cm"), Row: swatch(25.5, 4, "in")}},
		"stitches only":           {`{"stitches": 15, "rows": null, "span": 4, "unit": "in"}`, gauge.Gauge{Stitch: swatch(15, 4, "in")}},
		"rows only":               {`{"rows": 15, "span": 4, "unit": "in"}`, gauge.Gauge{Row: swatch(15, 4, "in")}},
		"separate, no row swatch": {`{"stitch": {"count": 18, "over": 10, "unit": "cm"}, "row": null}`, gauge.Gauge{Stitch: swatch(18, 10, "cm")}},
	} {
		t.Run(name, func(t *testing.T) {
			var e gauge.Entry
			require.NoError(t, json.Unmarshal([]byte(c.text), &e))
			got, err := e.Gauge("gauge")
			require.NoError(t, err)
			require.Equal(t, c.want, got)
		})
	}
}

func TestBadGaugesNameTheField(t *testing.T) {
	for name, c := range map[string]struct{ text, field, mend string }{
		"nothing":             {`{}`, "own", "neither stitches nor rows"},
		"both forms":          {`{"stitches": 15, "span": 10, "unit": "cm", "row": {"count": 1, "over": 1, "unit": "cm"}}`, "own", "keep one"},
		"no span":             {`{"stitches": 15, "unit": "cm"}`, "own.span", "is missing"},
		"no unit":             {`{"stitches": 15, "span": 10}`, "own.unit", "give cm or in"},
		"zero span":           {`{"stitches": 15, "span": 0, "unit": "cm"}`, "own.span", "span of 1 to 100 cm"},
		"span in mm":          {`{"stitches": 15, "span": 100, "unit": "in"}`, "own.span", "span of 1 to 100 cm"},
		"zero stitches":       {`{"stitches": 0, "span": 10, "unit": "cm"}`, "own.stitches", "more than 0"},
		"negative rows":       {`{"stitches": 15, "rows": -1, "span": 10, "unit": "cm"}`, "own.rows", "more than 0"},
		"enormous count":      {`{"stitches": 1e308, "span": 10, "unit": "cm"}`, "own.stitches", "which no yarn gives"},
		"vanishing count":     {`{"stitches": 1e-308, "span": 10, "unit": "cm"}`, "own.stitches", "which no yarn gives"},
		"separate, zero rows": {`{"row": {"count": 0, "over": 10, "unit": "cm"}}`, "own.row.count", "more than 0"},
		"separate, no unit":   {`{"stitch": {"count": 5, "over": 10}}`, "own.stitch.unit", "give cm or in"},
		"separate, empty":     {`{"stitch": {}}`, "own.stitch.unit", "give cm or in"},
	} {
		t.Run(name, func(t *testing.T) {
			var e gauge.Entry
			require.NoError(t, json.Unmarshal([]byte(c.text), &e))
			_, err := e.Gauge("own")
			requireField(t, err, c.field, c.mend)
		})
	}
}

func TestOverLeavesOutWhatWasNotCounted(t *testing.T) {
	g := gauge.Over(15, 0, 10, "cm")
	require.True(t, g.Counted())
	_, ok := g.On(gauge.Row)
	require.False(t, ok)
	require.NoError(t, g.Check("g"))
	require.False(t, gauge.Over(0, 0, 10, "cm").Counted())
	requireField(t, gauge.Over(math.NaN(), 0, 10, "cm").Check("g"), "g.stitch.count", "more than 0")
	requireField(t, gauge.Over(5, math.Inf(1), 10, "cm").Check("g"), "g.row.count", "more than 0")
	requireField(t, gauge.Over(5, 5, math.NaN(), "cm").Check("g"), "g.stitch.over", "span of 1 to 100 cm")

	kept, err := json.Marshal(g)
	require.NoError(t, err)
	require.JSONEq(t, `{"stitch": {"count": 15, "over": 10, "unit": "cm"}}`, string(kept))
}

func TestExpectedRefusesWhatItCannotAnswer(t *testing.T) {
	s := swatch(15, 10, "cm")
	for name, c := range map[string]struct {
		swatch     gauge.Swatch
		count, add float64
		field      string
	}{
		"count not a number":         {s, math.NaN(), 0, "count"},
		"count enormous":             {s, 1e308, 0, "count"},
		"count negative":             {s, -1, 0, "count"},
		"edging not a number":        {s, 10, math.NaN(), "add_cm"},
		"edging eats the piece":      {s, 10, -20, "add_cm"},
		"not counted":                {gauge.Swatch{}, 10, 0, "unit"},
		"a swatch of nothing at all": {swatch(0, 10, "cm"), 10, 0, "count"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := c.swatch.ExpectedCM(c.count, c.add)
			requireField(t, err, c.field, "")
		})
	}
}
