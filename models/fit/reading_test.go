package fit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models/gauge"
)

func cm(values ...float64) []Measurement {
	var out []Measurement
	for _, v := range values {
		out = append(out, Measurement{Point: "p", Value: pointer(v), Unit: gauge.Centimetre})
	}
	return out
}

func TestCombineReadings(t *testing.T) {
	s := DefaultSettings()
	const d2 = 0.25 / 12
	apart := 3 * math.Sqrt2 * math.Sqrt(0.5+d2) // for u = 1 cm: 3.063 cm
	for _, row := range []struct {
		name         string
		taken        []Measurement
		cm, variance float64
		disagree     bool
	}{
		{"one reading", cm(62), 62, 1 + d2, false},
		{"two that agree: half the variance stays", cm(62, 63), 62.5, 0.75 + 2*d2/4, false},
		{"three", cm(62, 63, 64), 63, 0.5 + 0.5/3 + 3*d2/9, false},
		{"just within", cm(62, 62+apart-1e-9), 62 + apart/2, 0.75 + 2*d2/4, false},
		{"just beyond: the last supersedes", cm(62+apart+1e-9, 62), 62, 1 + d2, true},
		{"inches are rounded to a quarter", []Measurement{{Value: pointer(10.0), Unit: gauge.Inch}}, 25.4, 1 + 0.635*0.635/12, false},
		{"mixed units", []Measurement{
			{Value: pointer(10.0), Unit: gauge.Inch}, {Value: pointer(25.6), Unit: gauge.Centimetre},
		}, 25.5, 0.75 + (0.635*0.635/12+d2)/4, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			r := s.combine(row.taken, 1)
			require.InDelta(t, row.cm, r.cm, 1e-9)
			require.InDelta(t, row.variance, r.variance, 1e-9)
			require.Equal(t, row.disagree, r.disagree)
			require.Equal(t, len(row.taken), r.readings)
		})
	}
}

func TestReadingsThatDisagreeAreNamed(t *testing.T) {
	in := plainRound()
	in.Testers[0].Measurements = append(in.Testers[0].Measurements,
		Measurement{Point: "bust", Value: pointer(45.0), Unit: gauge.Centimetre},
		Measurement{Point: "bust", Value: pointer(90.0), Unit: gauge.Centimetre})
	out := calculated(t, in)
	require.Len(t, out.OddValues, 1)
	require.Equal(t, ReadingsDisagree, out.OddValues[0].Verdict)
	require.Equal(t, "ash's 3 readings of bust are too far apart to be one piece; the last, 90 cm, is used. Ask which one stands.",
		out.OddValues[0].Message)
	require.Equal(t, 90.0, out.Reports[0].MeasuredCM)
}

func TestUsualRepeatability(t *testing.T) {
	s := DefaultSettings()
	for _, row := range []struct {
		point   Point
		longest float64
		want    float64
	}{
		{Point{ID: "bust", Axis: gauge.Stitch}, 104, 1.2},
		{Point{ID: "cross_back", Axis: gauge.Stitch}, 38, 0.8},
		{Point{ID: "Hem_rib", Axis: gauge.Stitch}, 100, 1.4},
		{Point{ID: "body_length", Axis: gauge.Row}, 58, 1.0},
		{Point{ID: "neck_drop", Axis: gauge.Row}, 8, 0.5},
		{Point{ID: "neck_drop", Axis: gauge.Row, UCM: pointer(0.3)}, 8, 0.3},
	} {
		require.Equal(t, row.want, s.readingUCM(row.point, row.longest), row.point.ID)
	}
}
