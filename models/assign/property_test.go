package assign

import (
	"encoding/json"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

func shuffled[T any](rng *rand.Rand, list []T) []T {
	list = slices.Clone(list)
	rng.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
	return list
}

func TestOrderOfInputDoesNotMatter(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for range 300 {
		in := openCall(rng, 2+rng.IntN(5), 5+rng.IntN(40))
		if rng.IntN(2) == 0 {
			in = randomCall(rng, 2+rng.IntN(5), 5+rng.IntN(40))
		}
		first, err := Calculate(in)
		require.NoError(t, err)
		want, err := json.Marshal(first)
		require.NoError(t, err)
		for range 3 {
			other := in
			other.Applicants = shuffled(rng, in.Applicants)
			other.Fixed = shuffled(rng, in.Fixed)
			other.Forbidden = shuffled(rng, in.Forbidden)
			again, err := Calculate(other)
			require.NoError(t, err)
			got, err := json.Marshal(again)
			require.NoError(t, err)
			require.Equal(t, string(want), string(got))
		}
	}
}

func TestInputIsLeftAlone(t *testing.T) {
	in := randomCall(rand.New(rand.NewPCG(7, 8)), 4, 20)
	before, err := json.Marshal(in)
	require.NoError(t, err)
	_, err = Calculate(in)
	require.NoError(t, err)
	after, err := json.Marshal(in)
	require.NoError(t, err)
	require.Equal(t, string(before), string(after))
}

// compareObjective tells which of two results is better, below 0 for the first.
func compareObjective(a, b Objective) int {
	return slices.Compare([]int{a.Short, a.BelowWanted, a.Preference}, []int{b.Short, b.BelowWanted, b.Preference})
}

func TestWhatIf(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	for range 200 {
		in := openCall(rng, 2+rng.IntN(5), 5+rng.IntN(30))
		out, err := Calculate(in)
		require.NoError(t, err)
		if len(out.Assignments) == 0 {
			continue
		}
		pick := out.Assignments[rng.IntN(len(out.Assignments))]
		pair := Pair{pick.Applicant, pick.Size}

		fixed := in
		fixed.Fixed = []Pair{pair}
		kept, err := Calculate(fixed)
		require.NoError(t, err)
		require.Equal(t, orderOf(in, out), orderOf(in, kept), "fixing a pair of the plan keeps the plan")
		require.Equal(t, out.Objective.Preference-(pick.Place-1), kept.Objective.Preference)

		forbidden := in
		forbidden.Forbidden = []Pair{pair}
		without, err := Calculate(forbidden)
		require.NoError(t, err)
		require.NotContains(t, pairsOf(without), pair)
		require.LessOrEqual(t, compareObjective(out.Objective, without.Objective), 0, "forbidding a pair gains nothing")

		unused := in
		for _, a := range in.Applicants {
			for _, size := range a.Sizes {
				if !slices.Contains(pairsOf(out), Pair{a.ID, size}) {
					unused.Forbidden = append(unused.Forbidden, Pair{a.ID, size})
				}
			}
		}
		same, err := Calculate(unused)
		require.NoError(t, err)
		require.Equal(t, orderOf(in, out), orderOf(in, same), "forbidding what the plan does not use keeps the plan")
	}
}

func pairsOf(out Output) []Pair {
	var pairs []Pair
	for _, a := range out.Assignments {
		pairs = append(pairs, Pair{a.Applicant, a.Size})
	}
	return pairs
}
