package gauge_test

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tenter/models/gauge"
)

// NIST SP 811 (2008) Appendix B, after the 1959 yard and pound agreement: the
// exact factors for inch, yard and avoirdupois ounce.
func TestUnitsAreTheExactDefinitions(t *testing.T) {
	require.Equal(t, 2.54, gauge.Length{Value: 1, Unit: "in"}.CM())
	require.Equal(t, 0.9144, gauge.YarnLength{Value: 1, Unit: "yd"}.Metres())
	require.Equal(t, 28.349523125, gauge.Mass{Value: 1, Unit: "oz"}.Grams())

	// The definitions hang together: 36 in make a yard, 16 oz the pound of
	// 0.45359237 kg.
	require.InDelta(t, 91.44, gauge.Length{Value: 36, Unit: "in"}.CM(), 1e-12)
	require.InDelta(t, 453.59237, gauge.Mass{Value: 16, Unit: "oz"}.Grams(), 1e-12)

	// Inverse factors, computed as 1/2.54, 1/0.9144 and 1/28.349523125.
	require.InDelta(t, 0.39370078740157480, gauge.Length{Value: 1, Unit: "cm"}.In("in"), 1e-16)
	require.InDelta(t, 1.0936132983377078, gauge.YarnLength{Value: 1, Unit: "m"}.In("yd"), 1e-15)
	require.InDelta(t, 0.035273961949580413, gauge.Mass{Value: 1, Unit: "g"}.In("oz"), 1e-16)
}

func drawLength(t *rapid.T) gauge.Length {
	unit := rapid.SampledFrom([]gauge.LengthUnit{gauge.Centimetre, gauge.Inch}).Draw(t, "unit")
	return gauge.Length{Value: rapid.Float64Range(0, 390).Draw(t, "value"), Unit: unit}
}

func TestEnteredLengthComesBackExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLength(t)
		require.NoError(t, l.Check("x"))
		require.Equal(t, l.Value, l.In(l.Unit), "in its own unit nothing is converted")

		stored, err := json.Marshal(l)
		require.NoError(t, err)
		var back gauge.Length
		require.NoError(t, json.Unmarshal(stored, &back))
		require.Equal(t, l, back)

		other := gauge.Inch
		if l.Unit == gauge.Inch {
			other = gauge.Centimetre
		}
		require.InDelta(t, l.CM(), gauge.Length{Value: l.In(other), Unit: other}.CM(), 1e-12*(1+l.CM()))
	})
}

func TestEnteredYarnComesBackExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		value := rapid.Float64Range(0, 700).Draw(t, "value")
		y := gauge.YarnLength{Value: value, Unit: rapid.SampledFrom([]gauge.YarnUnit{"m", "yd"}).Draw(t, "length unit")}
		m := gauge.Mass{Value: value, Unit: rapid.SampledFrom([]gauge.MassUnit{"g", "oz"}).Draw(t, "mass unit")}
		require.NoError(t, y.Check("yarn"))
		require.NoError(t, m.Check("yarn"))
		require.Equal(t, value, y.In(y.Unit))
		require.Equal(t, value, m.In(m.Unit))
		require.InDelta(t, y.Metres(), gauge.YarnLength{Value: y.In("yd"), Unit: "yd"}.Metres(), 1e-9)
		require.InDelta(t, m.Grams(), gauge.Mass{Value: m.In("oz"), Unit: "oz"}.Grams(), 1e-9)
	})
}

func TestLengthIsWrittenAsItsFieldsAre(t *testing.T) {
	out, err := json.Marshal(gauge.Length{Value: 41.5, Unit: gauge.Inch})
	require.NoError(t, err)
	require.JSONEq(t, `{"value": 41.5, "unit": "in"}`, string(out))
	require.Equal(t, "41.5 in", gauge.Length{Value: 41.5, Unit: gauge.Inch}.String())
	require.Equal(t, "610 yd", gauge.YarnLength{Value: 610, Unit: gauge.Yard}.String())
	require.Equal(t, "3.5 oz", gauge.Mass{Value: 3.5, Unit: gauge.Ounce}.String())
}

func TestBadAmountsNameTheFieldAndTheMend(t *testing.T) {
	const huge = 1e308
	for name, c := range map[string]struct {
		err   error
		field string
		mend  string
	}{
		"length not a number":   {gauge.Length{Value: math.NaN(), Unit: "cm"}.Check("bust"), "bust.value", "is not a number"},
		"length infinite":       {gauge.Length{Value: math.Inf(1), Unit: "cm"}.Check("bust"), "bust.value", "is not a number"},
		"length negative":       {gauge.Length{Value: -1, Unit: "cm"}.Check("bust"), "bust.value", "is negative"},
		"length absurd":         {gauge.Length{Value: huge, Unit: "in"}.Check("bust"), "bust.value", "longer than 1000 cm"},
		"length in millimetres": {gauge.Length{Value: 1, Unit: "mm"}.Check("bust"), "bust.unit", "give cm or in"},
		"length without unit":   {gauge.Length{Value: 1}.Check(""), "unit", "give cm or in"},
		"edging not a number":   {gauge.Length{Value: math.NaN(), Unit: "cm"}.CheckAdded("add"), "add.value", "between -100 and 100 cm"},
		"edging too long":       {gauge.Length{Value: -40, Unit: "in"}.CheckAdded("add"), "add.value", "between -100 and 100 cm"},
		"edging without unit":   {gauge.Length{Value: 1}.CheckAdded("add"), "add.unit", "give cm or in"},
		"yarn not a number":     {gauge.YarnLength{Value: math.NaN(), Unit: "m"}.Check("yarn"), "yarn.value", "is not a number"},
		"yarn negative":         {gauge.YarnLength{Value: -1, Unit: "yd"}.Check("yarn"), "yarn.value", "is negative"},
		"yarn absurd":           {gauge.YarnLength{Value: huge, Unit: "yd"}.Check("yarn"), "yarn.value", "more than 50000 m"},
		"yarn in feet":          {gauge.YarnLength{Value: 1, Unit: "ft"}.Check("yarn"), "yarn.unit", "give m or yd"},
		"mass infinite":         {gauge.Mass{Value: math.Inf(-1), Unit: "g"}.Check("yarn"), "yarn.value", "is not a number"},
		"mass absurd":           {gauge.Mass{Value: huge, Unit: "oz"}.Check("yarn"), "yarn.value", "more than 20000 g"},
		"mass in pounds":        {gauge.Mass{Value: 1, Unit: "lb"}.Check("yarn"), "yarn.unit", "give g or oz"},
	} {
		t.Run(name, func(t *testing.T) { requireField(t, c.err, c.field, c.mend) })
	}
	require.NoError(t, gauge.Length{Value: -2.5, Unit: "in"}.CheckAdded("add"), "an edging may take away")
}

// requireField asserts that err names the field and says what to do.
func requireField(t *testing.T, err error, field, mend string) {
	t.Helper()
	require.Error(t, err)
	var named interface{ FieldPath() string }
	require.ErrorAs(t, err, &named)
	require.Equal(t, field, named.FieldPath())
	require.ErrorContains(t, err, field+": ")
	require.ErrorContains(t, err, mend)
}
