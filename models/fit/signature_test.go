package fit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tenter/models/gauge"
)

func TestSignatures(t *testing.T) {
	for _, row := range []struct {
		name         string
		value, meant float64
		unit         gauge.LengthUnit
		want         Signature
	}{
		{"the width for a circumference", 45.5, 91, "cm", Half},
		{"a circumference for the width", 84, 42.2, "cm", Double},
		{"16 in typed as cm", 16, 40.6, "cm", InchAsCM},
		{"16 in is not an inch figure in inches", 16, 40.6, "in", NoSignature},
		{"41 cm typed as inches", 41, 16.1, "in", CMAsInch},
		{"54 for 45", 54, 45.1, "cm", Transposed},
		{"ten short", 11.5, 21.3, "cm", Tens},
		{"ten over", 45, 35.1, "in", Tens},
		{"sound", 62, 61.5, "cm", NoSignature},
		{"off by no slip", 62, 57, "cm", NoSignature},
	} {
		t.Run(row.name, func(t *testing.T) {
			require.Equal(t, row.want, sign(math.Log(row.value/row.meant), 0.02, row.value, row.unit))
		})
	}
}

func TestSwappedDigits(t *testing.T) {
	for _, row := range []struct {
		value float64
		want  []float64
	}{
		{62.5, []float64{26.5}}, // not across the point
		{118, []float64{181}},   // not two equal digits
		{40, nil},               // not a leading 0
		{35.75, []float64{53.75, 35.57}},
		{104, []float64{140}},
	} {
		require.Equal(t, row.want, swaps(row.value), "%v", row.value)
	}
}

func TestSwappingTwiceGivesTheValueBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		value := float64(rapid.IntRange(1, 99999).Draw(t, "tenths")) / 10
		for _, x := range swaps(value) {
			if math.Mod(x*10, 10) != 0 || x >= 10 { // a trailing 0 after the point is not written
				require.Contains(t, append(swaps(x), value), value)
			}
			require.Positive(t, x)
		}
	})
}

func TestQueryEntry(t *testing.T) {
	for _, row := range []struct {
		name      string
		value     float64
		unit      gauge.LengthUnit
		want      Signature
		ask       bool
		message   string
		expecting float64
	}{
		{"as expected", 60, "cm", "", false, "", 61},
		{"a bold maker", 70, "cm", "", false, "", 61},
		{"half", 45.5, "cm", Half, true, "45.5 cm is −51.1 % from the 93 cm expected. Is this half of what was asked, as with a width for a circumference?", 93},
		{"inches as cm", 24, "cm", InchAsCM, true, "24 cm is −60.7 % from the 61 cm expected. Is this an inch figure entered as cm?", 61},
		{"far off", 88, "cm", NoSignature, true, "88 cm is +44.3 % from the 61 cm expected. Please measure again.", 61},
		{"nothing to compare with", 85, "cm", "", false, "", 0},
	} {
		t.Run(row.name, func(t *testing.T) {
			q, ask := QueryEntry(Measurement{Value: &row.value, Unit: row.unit}, row.expecting, 1)
			require.Equal(t, row.ask, ask)
			require.Equal(t, row.want, q.Signature)
			require.Equal(t, row.message, q.Message)
		})
	}
}
