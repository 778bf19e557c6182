package compare_test

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tenter/models/compare"
	"tenter/models/gauge"
)

func TestTapeStrip(t *testing.T) {
	s, err := compare.TapeStrip(compare.StripInput{Point: "Bust", IntendedCM: 100, ToleranceCM: 2, ExpectedDesignCM: 100,
		Measured: []compare.Measured{
			{ID: "loose", CM: 106, ExpectedOwnCM: 106},
			{ID: "wide", CM: 104, ExpectedOwnCM: 100},
			{ID: "no swatch", CM: 101},
			{ID: "half", CM: 50, ExpectedOwnCM: 100, Flag: "slip"},
		}})
	require.NoError(t, err)
	got, err := json.Marshal(s)
	require.NoError(t, err)
	divisions := s.Divisions
	s.Divisions = nil
	require.Equal(t, compare.Strip{Point: "Bust", IntendedCM: 100, BandLowCM: 98, BandHighCM: 102, ExpectedCM: s.ExpectedCM,
		LowCM: 88, HighCM: 112, Outside: 2,
		Marks: []compare.Mark{
			{ID: "loose", MeasuredCM: 106, CM: 100, GaugeKnown: true, Within: true},
			{ID: "wide", MeasuredCM: 104, CM: 104, GaugeKnown: true},
			{ID: "no swatch", MeasuredCM: 101, CM: 101, Within: true},
			{ID: "half", MeasuredCM: 50, CM: 50, GaugeKnown: true, OffScale: "low", Flag: "slip"},
		},
		Message: "Bust: intended 100 cm, give or take 2 cm; at the maker's own gauge 100 cm, 104 cm, 101 cm (gauge not known) and 50 cm; 2 are outside.",
	}, s)
	require.Equal(t, 100.0, *s.ExpectedCM)
	require.Len(t, divisions, 25, "a line a centimetre from 88 to 112")
	require.Equal(t, compare.Division{CM: 90, Long: true, Label: "90"}, divisions[2])
	require.Equal(t, compare.Division{CM: 91}, divisions[3])
	require.NotContains(t, string(got), "null")
}

func TestTapeStripFollowsTheFabric(t *testing.T) {
	in := compare.StripInput{IntendedCM: 60, ToleranceCM: 1.5, ExpectedDesignCM: 60, GrowthPercent: 5,
		Measured: []compare.Measured{{ID: "a", CM: 63, ExpectedOwnCM: 60}}}
	s, err := compare.TapeStrip(in)
	require.NoError(t, err)
	require.True(t, s.Marks[0].Within, "grown like all the others")
	require.Equal(t, 63.0, *s.ExpectedCM)
	require.Equal(t, []float64{61.5, 64.5}, []float64{s.BandLowCM, s.BandHighCM})
	require.Equal(t, "Intended 60 cm, give or take 1.5 cm; at the maker's own gauge 63 cm; it is within.", s.Message)
	in.GrowthPercent = 0
	s, err = compare.TapeStrip(in)
	require.NoError(t, err)
	require.False(t, s.Marks[0].Within)
}

func TestTapeStripInInches(t *testing.T) {
	s, err := compare.TapeStrip(compare.StripInput{Point: "Cuff", IntendedCM: 20.32, ToleranceCM: 1.27, Unit: gauge.Inch})
	require.NoError(t, err)
	require.Equal(t, "Cuff: intended 8 in, give or take 0.5 in; nothing measured yet.", s.Message)
	require.Equal(t, []float64{17.78, 22.86}, []float64{s.LowCM, s.HighCM}, "7 to 9 in")
	require.Equal(t, 0.3175, gauge.Tidy(s.Divisions[1].CM-s.Divisions[0].CM), "eighths of an inch")
	require.Equal(t, "7.5", s.Divisions[4].Label)
	require.Nil(t, s.ExpectedCM)
}

func TestTapeStripAlwaysShowsItsBand(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := compare.StripInput{
			IntendedCM:       rapid.Float64Range(0.5, 1000).Draw(t, "intended"),
			ToleranceCM:      rapid.Float64Range(0.01, 50).Draw(t, "tolerance"),
			ExpectedDesignCM: rapid.Float64Range(0.1, 1000).Draw(t, "expected"),
			GrowthPercent:    rapid.Float64Range(-50, 50).Draw(t, "growth"),
			Unit:             rapid.SampledFrom([]gauge.LengthUnit{"", "cm", "in"}).Draw(t, "unit"),
			Measured:         []compare.Measured{{CM: rapid.Float64Range(0.1, 1000).Draw(t, "cm"), ExpectedOwnCM: rapid.Float64Range(0.1, 1000).Draw(t, "own")}},
		}
		s, err := compare.TapeStrip(in)
		require.NoError(t, err)
		require.LessOrEqual(t, s.LowCM, math.Max(0, s.BandLowCM)+1e-5)
		require.GreaterOrEqual(t, s.HighCM, s.BandHighCM-1e-5)
		require.LessOrEqual(t, s.LowCM, s.IntendedCM)
		require.GreaterOrEqual(t, s.HighCM, s.IntendedCM)
		require.GreaterOrEqual(t, s.LowCM, 0.0)
		require.GreaterOrEqual(t, len(s.Divisions), 2)
		require.LessOrEqual(t, len(s.Divisions), 27)
		require.Equal(t, s.LowCM, s.Divisions[0].CM)
		require.Equal(t, s.HighCM, s.Divisions[len(s.Divisions)-1].CM)
		m := s.Marks[0]
		require.Equal(t, m.OffScale == "", m.CM >= s.LowCM && m.CM <= s.HighCM)
		_, err = json.Marshal(s)
		require.NoError(t, err)
	})
}

func TestTapeStripRefuses(t *testing.T) {
	sound := func() compare.StripInput {
		return compare.StripInput{IntendedCM: 100, ToleranceCM: 2, ExpectedDesignCM: 100, Measured: []compare.Measured{{CM: 100}}}
	}
	for name, c := range map[string]struct {
		spoil func(in *compare.StripInput)
		field string
	}{
		"intended nothing":             {func(in *compare.StripInput) { in.IntendedCM = 0 }, "intended_cm"},
		"intended not a number":        {func(in *compare.StripInput) { in.IntendedCM = math.NaN() }, "intended_cm"},
		"tolerance negative":           {func(in *compare.StripInput) { in.ToleranceCM = -1 }, "tolerance_cm"},
		"expected enormous":            {func(in *compare.StripInput) { in.ExpectedDesignCM = 1e308 }, "expected_design_cm"},
		"expected vanishing":           {func(in *compare.StripInput) { in.ExpectedDesignCM = 1e-308 }, "expected_design_cm"},
		"growth not a number":          {func(in *compare.StripInput) { in.GrowthPercent = math.NaN() }, "growth_percent"},
		"measured infinite":            {func(in *compare.StripInput) { in.Measured[0].CM = math.Inf(1) }, "measured[0].cm"},
		"own expectation negative":     {func(in *compare.StripInput) { in.Measured[0].ExpectedOwnCM = -1 }, "measured[0].expected_own_cm"},
		"own expectation not a number": {func(in *compare.StripInput) { in.Measured[0].ExpectedOwnCM = math.NaN() }, "measured[0].expected_own_cm"},
		"unit":                         {func(in *compare.StripInput) { in.Unit = "mm" }, "unit"},
		"too many marks":               {func(in *compare.StripInput) { in.Measured = make([]compare.Measured, 201) }, "measured"},
	} {
		t.Run(name, func(t *testing.T) {
			in := sound()
			c.spoil(&in)
			_, err := compare.TapeStrip(in)
			requireField(t, err, c.field, "")
		})
	}
	_, err := compare.TapeStrip(sound())
	require.NoError(t, err)
}
