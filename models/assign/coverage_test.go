package assign

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestCover(t *testing.T) {
	for _, row := range []struct {
		name    string
		fewest  int
		testers []Tester
		reports []float64
		covered float64
		message string
	}{
		{"two at work", 1, []Tester{{0.8, Working}, {0.5, Working}}, []float64{0.1, 0.5, 0.4}, 0.9,
			"no reports are in of the one needed; 90 % likely to be covered (82 % if everyone is a little less reliable)"},
		{"one in, one gone", 2, []Tester{{0.8, Reported}, {0.5, Withdrawn}, {0.6, Working}}, []float64{0, 0.4, 0.6, 0}, 0.6,
			"one report is in of the two needed; 60 % likely to be covered (50 % if everyone is a little less reliable)"},
		{"gone quiet: 0.75 / (0.75 + 3 * 0.25) = 0.5", 1, []Tester{{0.75, Quiet}}, []float64{0.5, 0.5}, 0.5,
			"no reports are in of the one needed; 50 % likely to be covered (40 % if everyone is a little less reliable)"},
		{"covered", 1, []Tester{{0.75, Reported}, {0.5, Quiet}}, []float64{0, 0.75, 0.25}, 1,
			"one report is in of the one needed: covered"},
		{"out of people", 2, []Tester{{0.75, Reported}, {0.75, Withdrawn}}, []float64{0, 1, 0}, 0,
			"one report is in of the two needed, and nobody left to send the rest"},
		{"nobody", 1, nil, []float64{1}, 0, "no reports are in of the one needed, and nobody left to send the rest"},
	} {
		t.Run(row.name, func(t *testing.T) {
			c, err := Cover(row.fewest, row.testers)
			require.NoError(t, err)
			require.InDeltaSlice(t, row.reports, c.Reports, 1e-12)
			require.InDelta(t, row.covered, c.Probability, 1e-12)
			require.LessOrEqual(t, c.Lowered, c.Probability)
			require.Equal(t, row.message, c.Message)
			mean := 0.0
			for k, f := range c.Reports {
				mean += float64(k) * f
			}
			require.InDelta(t, mean, c.Expected, 1e-12)
		})
	}
}

func TestCoverRefuses(t *testing.T) {
	for _, row := range []struct {
		fewest  int
		testers []Tester
		want    string
	}{
		{-1, nil, "fewest: -1; give a number from 0 to 1000"},
		{1, []Tester{{1.1, Working}}, "testers[0].probability: 1.1; give a number from 0 to 1"},
		{1, []Tester{{0.5, Working}, {math.NaN(), Working}}, "testers[1].probability: NaN; give a number from 0 to 1"},
		{1, []Tester{{0.5, "asleep"}}, `testers[0].state: "asleep"; give working, quiet, reported or withdrawn`},
		{1, make([]Tester, 1001), "testers: 1001 testers; give at most 1000"},
	} {
		_, err := Cover(row.fewest, row.testers)
		require.EqualError(t, err, row.want)
	}
}

func TestQuietNeverRaisesAChance(t *testing.T) {
	for i := range 101 {
		p := float64(i) / 100
		now := Tester{p, Quiet}.Now()
		require.GreaterOrEqual(t, now, 0.0)
		require.LessOrEqual(t, now, p)
		require.Equal(t, p == 0 || p == 1, now == p)
	}
}
