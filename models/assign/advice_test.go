package assign

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func lengths(cm ...float64) []*float64 {
	var list []*float64
	for _, v := range cm {
		if v == 0 {
			list = append(list, nil)
		} else {
			list = append(list, &v)
		}
	}
	return list
}

// Finished bust 96, 106, 116 with 8 to 12 cm of ease.
func bust(bodyCM float64) FittingPoint {
	return FittingPoint{Name: "bust", BodyCM: bodyCM, FinishedCM: lengths(96, 106, 116), EaseLowCM: 8, EaseHighCM: 12}
}

func TestNearestSize(t *testing.T) {
	arm := FittingPoint{Name: "upper arm", BodyCM: 35, FinishedCM: lengths(34, 37, 40), EaseLowCM: 4, EaseHighCM: 6}
	gap := FittingPoint{Name: "hip", BodyCM: 100, FinishedCM: lengths(100, 0, 120), EaseLowCM: 0, EaseHighCM: 10}
	for _, row := range []struct {
		name   string
		points []FittingPoint
		size   string
		fits   bool
		want   string
	}{
		{"as intended", []FittingPoint{bust(96)}, "2", true,
			"size 2 is nearest: bust 106.0 cm finished on 96.0 cm leaves 10.0 cm of ease, within the 8.0 to 12.0 cm intended"},
		{"between two sizes: the larger", []FittingPoint{bust(91)}, "2", false,
			"size 2 is nearest: bust 106.0 cm finished on 91.0 cm leaves 15.0 cm of ease, 3.0 cm more than the 8.0 to 12.0 cm intended"},
		{"a little nearer to the smaller", []FittingPoint{bust(90.5)}, "1", false,
			"size 1 is nearest: bust 96.0 cm finished on 90.5 cm leaves 5.5 cm of ease, 2.5 cm less than the 8.0 to 12.0 cm intended"},
		{"larger than every size", []FittingPoint{bust(120)}, "3", false,
			"size 3 is nearest: bust 116.0 cm finished on 120.0 cm leaves -4.0 cm of ease, 12.0 cm less than the 8.0 to 12.0 cm intended"},
		{"the worst point speaks", []FittingPoint{bust(95), arm}, "2", false,
			"size 2 is nearest: upper arm 37.0 cm finished on 35.0 cm leaves 2.0 cm of ease, 2.0 cm less than the 4.0 to 6.0 cm intended"},
		{"the sleeve asks for a larger size than the bust alone", []FittingPoint{bust(90.5), arm}, "2", false,
			"size 2 is nearest: bust 106.0 cm finished on 90.5 cm leaves 15.5 cm of ease, 3.5 cm more than the 8.0 to 12.0 cm intended"},
		{"a size without a measurement is not advised", []FittingPoint{gap}, "1", true,
			"size 1 is nearest: hip 100.0 cm finished on 100.0 cm leaves 0.0 cm of ease, within the 0.0 to 10.0 cm intended"},
	} {
		t.Run(row.name, func(t *testing.T) {
			a, err := NearestSize(Fitting{Sizes: []string{"1", "2", "3"}, Points: row.points})
			require.NoError(t, err)
			require.Equal(t, row.want, a.Message)
			require.Equal(t, row.size, a.Size)
			require.Equal(t, row.fits, a.Fits)
			require.Len(t, a.Eases, len(row.points))
		})
	}
}

// Women's chest in the Craft Yarn Council's Standards & Guidelines, body
// charts, in inches: Small 32-34, Medium 36-38, Large 40-42, 1X 44-46; classic
// fit, 2 to 4 in of ease (both seen in transcriptions). A design drawn on the
// middle of each size sends that body back to that size.
func TestMiddleBodyGetsItsOwnSize(t *testing.T) {
	const inchCM = 2.54
	names, middle := []string{"Small", "Medium", "Large", "1X"}, []float64{33, 37, 41, 45}
	var finished []float64
	for _, in := range middle {
		finished = append(finished, (in+3)*inchCM)
	}
	for s, in := range middle {
		a, err := NearestSize(Fitting{Sizes: names, Points: []FittingPoint{{
			Name: "chest", BodyCM: in * inchCM, FinishedCM: lengths(finished...), EaseLowCM: 2 * inchCM, EaseHighCM: 4 * inchCM,
		}}})
		require.NoError(t, err)
		require.Equal(t, names[s], a.Size)
		require.True(t, a.Fits)
	}
}

func TestNearestSizeRefuses(t *testing.T) {
	for _, row := range []struct {
		change func(*Fitting)
		want   string
	}{
		{func(f *Fitting) { f.Sizes = nil }, "sizes: 0 sizes; give 1 to 100"},
		{func(f *Fitting) { f.Points = nil }, "points: 0 points; give 1 to 100"},
		{func(f *Fitting) { f.Points[0].BodyCM = 0 }, "points[0].body_cm: 0; give a length above 0 and up to 1000"},
		{func(f *Fitting) { f.Points[0].FinishedCM = lengths(96) }, "points[0].finished_cm: 1 values for 3 sizes; give one for each"},
		{func(f *Fitting) { f.Points[0].FinishedCM = lengths(96, -1, 116) }, "points[0].finished_cm[1]: -1; give a length above 0 and up to 1000"},
		{func(f *Fitting) { f.Points[0].EaseHighCM = 7 }, "points[0].ease_high_cm: 7; give a length from ease_low_cm up to 1000"},
		{func(f *Fitting) { f.Points[0].EaseLowCM = -2000 }, "points[0].ease_low_cm: -2000 is not a length"},
		{func(f *Fitting) { f.Points[0].FinishedCM = lengths(0, 0, 0) }, "points: no size has a finished measurement at every point"},
	} {
		f := Fitting{Sizes: []string{"1", "2", "3"}, Points: []FittingPoint{bust(96)}}
		row.change(&f)
		_, err := NearestSize(f)
		require.EqualError(t, err, row.want)
	}
}
