package assign

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
)

// 1/3 + 2/3 = 1/2 + 1/2, which floating point need not see; the tie must go
// to the ids.
func TestEqualSumsOfFractionsTie(t *testing.T) {
	in := Input{
		Sizes: []Size{{Name: "1", Fewest: 1, Wanted: 1, Most: 1}, {Name: "2", Fewest: 1, Wanted: 1, Most: 1}},
		Prior: &Prior{Finished: 1, Dropped: 1},
		Applicants: []Applicant{
			{ID: "a", Sizes: []string{"1"}, Accepted: 8, Finished: 1},  // 2/10
			{ID: "b", Sizes: []string{"2"}, Accepted: 8, Finished: 0},  // 1/10
			{ID: "c", Sizes: []string{"1"}, Accepted: 18, Finished: 3}, // 4/20
			{ID: "d", Sizes: []string{"2"}, Accepted: 28, Finished: 2}, // 3/30
		},
	}
	out, err := Calculate(in)
	require.NoError(t, err)
	require.Equal(t, []Pair{{"a", "1"}, {"b", "2"}}, pairsOf(out))
	require.InDelta(t, 0.3, out.Objective.Probability, 1e-15)

	s := newScale(Prior{Finished: 1, Dropped: 1}, []Applicant{{Accepted: 1}, {Accepted: 0}})
	require.True(t, s.exact)
	require.Equal(t, s.score(1, 0)+s.score(1, 1), 2*s.score(0, 0)) // 1/3 + 2/3 = 1/2 + 1/2
}

func TestPriorIsReadAsItIsWritten(t *testing.T) {
	s := newScale(Prior{Finished: 0.1, Dropped: 0.2}, []Applicant{{Accepted: 3, Finished: 2}, {}})
	require.True(t, s.exact)
	require.EqualValues(t, 33, s.unit.Int64()) // 2.1/3.3 = 7/11 and 0.1/0.3 = 1/3
	require.EqualValues(t, 21, s.score(3, 2))
	require.EqualValues(t, 11, s.score(0, 0))
}

func TestRecordsWithoutACommonDenominatorAreRounded(t *testing.T) {
	var many []Applicant
	for n := range 10_000 {
		many = append(many, Applicant{ID: fmt.Sprint(n), Accepted: n, Finished: n / 2})
	}
	s := newScale(DefaultPrior(), many)
	require.False(t, s.exact)
	var sum int64
	want := 0.0
	for _, a := range many {
		score := s.score(a.Accepted, a.Finished)
		require.InDelta(t, DefaultPrior().Completion(a.Accepted, a.Finished), s.probability(score), 2e-14)
		sum += score
		want += DefaultPrior().Completion(a.Accepted, a.Finished)
	}
	require.Positive(t, sum)
	require.InDelta(t, want, s.probability(sum), 1e-8)
}
