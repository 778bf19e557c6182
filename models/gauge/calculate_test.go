package gauge_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tenter/models/gauge"
)

func calculate(t *testing.T, text string) (gauge.Output, error) {
	t.Helper()
	dec := json.NewDecoder(strings.NewReader(text))
	dec.DisallowUnknownFields()
	var in gauge.Input
	require.NoError(t, dec.Decode(&in))
	return gauge.Calculate(in)
}

// One document through the whole calculation; the numbers are the worked
// arithmetic of 18 stitches over 4 in and over 10 cm (91 stitches give
// 51.3644444444 cm; 20 in need 90 or 91.44 stitches).
func TestCalculateAnswersEverything(t *testing.T) {
	out, err := calculate(t, `{
		"gauge": {"stitches": 18, "rows": 24, "span": 4, "unit": "in"},
		"own": {"stitches": 18, "span": 10, "unit": "cm"},
		"items": [{"name": "back", "axis": "stitch", "count": 91, "measured": {"value": 20, "unit": "in"}},
		          {"name": "length", "axis": "row", "count": 120, "add_cm": 3}],
		"wanted": [{"name": "back", "axis": "stitch", "length": {"value": 20, "unit": "in"}, "multiple": {"of": 6, "plus": 2}}]}`)
	require.NoError(t, err)
	got, err := json.Marshal(out)
	require.NoError(t, err)
	require.JSONEq(t, `{
		"gauge": {
			"stitches": {"entered": {"count": 18, "over": 4, "unit": "in"}, "per_cm": 1.771654, "per_10_cm": 17.716535, "per_4_in": 18, "uncertainty_percent": 1.370245},
			"rows": {"entered": {"count": 24, "over": 4, "unit": "in"}, "per_cm": 2.362205, "per_10_cm": 23.622047, "per_4_in": 24, "uncertainty_percent": 1.027684}},
		"own": {
			"stitches": {"entered": {"count": 18, "over": 10, "unit": "cm"}, "per_cm": 1.8, "per_10_cm": 18, "per_4_in": 18.288, "uncertainty_percent": 1.370245}},
		"differences": [
			{"axis": "stitch", "verdict": "same", "percent": 1.6, "uncertainty_percent": 1.392169, "low_percent": -1.092287, "high_percent": 4.365572,
			 "message": "18 stitches over 10 cm against 17.7 is 1.6 % more, within what counting can tell (±2.7 %)."},
			{"axis": "row", "verdict": "not_counted", "percent": 0, "uncertainty_percent": 0, "low_percent": 0, "high_percent": 0,
			 "message": "The rows were not counted on both sides, so there is nothing to compare."}],
		"items": [
			{"name": "back", "axis": "stitch", "expected_cm": 51.364444, "expected_in": 20.222222, "own_cm": 50.555556, "own_in": 19.903762,
			 "measured_cm": 50.8, "difference_cm": -0.564444, "own_difference_cm": 0.244444},
			{"name": "length", "axis": "row", "expected_cm": 53.8, "expected_in": 21.181102}],
		"wanted": [{"name": "back", "axis": "stitch", "length_cm": 50.8,
			"design": {"exact": 90, "below": {"count": 86, "cm": 48.542222, "in": 19.111111, "difference_cm": -2.257778},
			           "above": {"count": 92, "cm": 51.928889, "in": 20.444444, "difference_cm": 1.128889}},
			"own": {"exact": 91.44, "below": {"count": 86, "cm": 47.777778, "in": 18.810149, "difference_cm": -3.022222},
			        "above": {"count": 92, "cm": 51.111111, "in": 20.122485, "difference_cm": 0.311111}}}]}`, string(got))

	again, err := json.Marshal(out)
	require.NoError(t, err)
	require.Equal(t, got, again)
}

func TestWantedCounts(t *testing.T) {
	for name, c := range map[string]struct {
		wanted       string
		below, above int // below 0: none
	}{
		"met exactly":                        {`"length": {"value": 40, "unit": "cm"}`, 60, 60},
		"met exactly in inches":              {`"length": {"value": 40.64, "unit": "cm"}, "multiple": {"of": 1}`, 60, 61},
		"whole stitches on either side":      {`"length": {"value": 41, "unit": "cm"}`, 61, 62},
		"multiple of 6 plus 2":               {`"length": {"value": 41, "unit": "cm"}, "multiple": {"of": 6, "plus": 2}`, 56, 62},
		"multiple of 4 less 1":               {`"length": {"value": 41, "unit": "cm"}, "multiple": {"of": 4, "plus": -1}`, 59, 63},
		"plus beyond the multiple":           {`"length": {"value": 41, "unit": "cm"}, "multiple": {"of": 2, "plus": 3}`, 61, 63},
		"the edging needs no stitches":       {`"length": {"value": 44, "unit": "cm"}, "add_cm": 4`, 60, 60},
		"shorter than one repeat":            {`"length": {"value": 2, "unit": "cm"}, "multiple": {"of": 12}`, 0, 12},
		"nothing wanted needs a first count": {`"length": {"value": 0, "unit": "cm"}`, 0, 1},
	} {
		t.Run(name, func(t *testing.T) {
			out, err := calculate(t, `{"gauge": {"stitches": 15, "span": 10, "unit": "cm"}, "wanted": [{"name": "w", "axis": "stitch", `+c.wanted+`}]}`)
			require.NoError(t, err)
			got := out.Wanted[0].Design
			require.Equal(t, c.above, got.Above.Count)
			if c.below == 0 {
				require.Nil(t, got.Below)
			} else {
				require.Equal(t, c.below, got.Below.Count)
			}
		})
	}
}

func TestWantedIsTheInverseOfItems(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSwatch(t)
		of := rapid.IntRange(1, 24).Draw(t, "of")
		plus := rapid.IntRange(-5, 30).Draw(t, "plus")
		length := gauge.Length{Value: rapid.Float64Range(0, 300).Draw(t, "length"), Unit: "cm"}
		out, err := gauge.Calculate(gauge.Input{Gauge: gauge.Entry{Row: &s},
			Wanted: []gauge.Wanted{{Axis: gauge.Row, Length: length, Multiple: &gauge.Multiple{Of: of, Plus: plus}}}})
		require.NoError(t, err)
		c := out.Wanted[0].Design

		mod := func(n int) int { return ((n-plus)%of + of) % of }
		require.Zero(t, mod(c.Above.Count))
		require.Positive(t, c.Above.Count)
		require.GreaterOrEqual(t, float64(c.Above.Count)+1e-5, c.Exact)
		if c.Below == nil {
			require.LessOrEqual(t, c.Above.Count, of, "nothing smaller is possible")
			return
		}
		require.Zero(t, mod(c.Below.Count))
		require.LessOrEqual(t, float64(c.Below.Count)-1e-5, c.Exact)
		require.Contains(t, []int{0, of}, c.Above.Count-c.Below.Count, "neighbours, or the same")

		item, err := gauge.Calculate(gauge.Input{Gauge: gauge.Entry{Row: &s},
			Items: []gauge.Item{{Axis: gauge.Row, Count: float64(c.Above.Count)}}})
		require.NoError(t, err)
		require.Equal(t, c.Above.CM, *item.Items[0].ExpectedCM)
	})
}

func TestCalculateRefuses(t *testing.T) {
	const g = `"gauge": {"stitches": 15, "span": 10, "unit": "cm"}`
	for name, c := range map[string]struct{ text, field, mend string }{
		"no gauge":             {`{}`, "gauge", "neither stitches nor rows"},
		"bad own gauge":        {`{` + g + `, "own": {"stitches": 0, "span": 10, "unit": "cm"}}`, "own.stitches", "more than 0"},
		"an unknown axis":      {`{` + g + `, "items": [{"name": "a", "axis": "wale", "count": 1}]}`, "items[0].axis", "give stitch or row"},
		"rows without a gauge": {`{` + g + `, "items": [{"name": "a", "axis": "row", "count": 1}]}`, "items[0].axis", "no gauge here counts"},
		"a negative count":     {`{` + g + `, "items": [{"axis": "stitch", "count": 1}, {"axis": "stitch", "count": -1}]}`, "items[1].count", "between 0 and 100000"},
		"an enormous count":    {`{` + g + `, "items": [{"axis": "stitch", "count": 1e308}]}`, "items[0].count", "between 0 and 100000"},
		"an edging of metres":  {`{` + g + `, "items": [{"axis": "stitch", "count": 1, "add_cm": 500}]}`, "items[0].add_cm", "between -100 and 100"},
		"measured in mm":       {`{` + g + `, "items": [{"axis": "stitch", "count": 1, "measured": {"value": 3, "unit": "mm"}}]}`, "items[0].measured.unit", "give cm or in"},
		"a long name":          {`{` + g + `, "items": [{"name": "` + strings.Repeat("a", 101) + `", "axis": "stitch", "count": 1}]}`, "items[0].name", "keep it to 100"},
		"wanted without unit":  {`{` + g + `, "wanted": [{"axis": "stitch", "length": {"value": 3}}]}`, "wanted[0].length.unit", "give cm or in"},
		"wanted, all edging":   {`{` + g + `, "wanted": [{"axis": "stitch", "length": {"value": 3, "unit": "cm"}, "add_cm": 4}]}`, "wanted[0].add_cm", "longer than the length"},
		"multiple of 0":        {`{` + g + `, "wanted": [{"axis": "stitch", "length": {"value": 3, "unit": "cm"}, "multiple": {"of": 0}}]}`, "wanted[0].multiple.of", "between 1 and"},
		"plus out of reach":    {`{` + g + `, "wanted": [{"axis": "stitch", "length": {"value": 3, "unit": "cm"}, "multiple": {"of": 2, "plus": -20000}}]}`, "wanted[0].multiple.plus", "between -10000 and 10000"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := calculate(t, c.text)
			requireField(t, err, c.field, c.mend)
		})
	}
	one := 1.0
	ten := 10.0
	in := gauge.Input{Gauge: gauge.Entry{Stitches: &one, Span: &ten, Unit: "cm"}, Items: make([]gauge.Item, gauge.MaxItems+1)}
	_, err := gauge.Calculate(in)
	requireField(t, err, "items", "at most 500")
	_, err = gauge.Calculate(gauge.Input{Gauge: in.Gauge, Wanted: make([]gauge.Wanted, gauge.MaxItems+1)})
	requireField(t, err, "wanted", "at most 500")
}

func TestDecimalAndTidy(t *testing.T) {
	require.Equal(t, "0", gauge.Decimal(-0.001, 1))
	require.Equal(t, "100", gauge.Decimal(100, 0))
	require.Equal(t, "16.1", gauge.Decimal(16.1417, 1))
	require.Equal(t, "41.25 in", gauge.ShowCM(104.775, gauge.Inch))
	require.Equal(t, "104.8 cm", gauge.ShowCM(104.775, gauge.Centimetre))
	require.Equal(t, 91.44, gauge.Tidy(91.43999999999998))
	require.False(t, math.Signbit(gauge.Tidy(-1e-9)))
	require.Equal(t, 1e300, gauge.Tidy(1e300))
}
