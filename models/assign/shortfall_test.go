package assign

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// mayMake tells from the input alone whether an applicant could be given one
// of some sizes: held at one of them, or free and allowed one that they listed.
func mayMake(in Input, a Applicant, sizes []string) bool {
	for _, p := range in.Fixed {
		if p.Applicant == a.ID {
			return slices.Contains(sizes, p.Size)
		}
	}
	for _, s := range a.Sizes {
		if slices.Contains(sizes, s) && !slices.Contains(in.Forbidden, Pair{a.ID, s}) {
			return true
		}
	}
	return false
}

// lacking gives by how much the fewest of some sizes exceeds the people for
// them; negative when there are more people.
func lacking(in Input, sizes []string) int {
	n := 0
	for _, s := range in.Sizes {
		if slices.Contains(sizes, s.Name) {
			n += s.Fewest
		}
	}
	for _, a := range in.Applicants {
		if mayMake(in, a, sizes) {
			n--
		}
	}
	return n
}

// Hall's marriage theorem in its deficiency form (P. Hall, On representatives
// of subsets, 1935; O. Ore, Graphs and matching theorems, 1955): the least
// shortage is the largest lack of any set of sizes. All sets are tried.
func TestShortageIsTheLargestLackOfAnySet(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	for range 1500 {
		in := randomCall(rng, 1+rng.IntN(6), rng.IntN(12))
		out, err := Calculate(in)
		require.NoError(t, err)
		largest := 0
		for set := range 1 << len(in.Sizes) {
			var sizes []string
			for s, size := range in.Sizes {
				if set>>s&1 == 1 {
					sizes = append(sizes, size.Name)
				}
			}
			largest = max(largest, lacking(in, sizes))
		}
		require.Equal(t, largest, out.Objective.Short, "%+v", in)
		checkCertificates(t, in, out)
	}
}

// checkCertificates checks each shortfall against the input alone, and all of
// them against the shortage.
func checkCertificates(t *testing.T, in Input, out Output) {
	t.Helper()
	missing := 0
	seen := map[string]bool{}
	for _, f := range out.Shortfalls {
		missing += f.Missing
		require.Positive(t, f.Missing)
		require.Equal(t, lacking(in, f.Sizes), f.Missing, "%+v %+v", in, f)
		var people []string
		for _, a := range in.Applicants {
			if mayMake(in, a, f.Sizes) {
				people = append(people, a.ID)
			}
		}
		slices.Sort(people)
		require.True(t, slices.Equal(people, f.Applicants), "%+v %+v", in, f)
		for _, name := range append(slices.Clone(f.Sizes), f.Applicants...) {
			require.False(t, seen[name], "%s is in two shortfalls", name)
			seen[name] = true
		}
		for set := 1; set < 1<<len(f.Sizes)-1 && len(f.Sizes) <= 6; set++ { // no smaller set says as much
			var part []string
			for s, size := range f.Sizes {
				if set>>s&1 == 1 {
					part = append(part, size)
				}
			}
			require.Less(t, lacking(in, part), f.Missing, "%+v %+v", in, f)
		}
	}
	require.Equal(t, out.Objective.Short, missing, "%+v", in)
}

func TestCertificatesOfLargerCalls(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 14))
	for range 60 {
		in := openCall(rng, 3+rng.IntN(12), 20+rng.IntN(150))
		out, err := Calculate(in)
		require.NoError(t, err)
		checkCertificates(t, in, out)
	}
}

func TestShortfallMessages(t *testing.T) {
	two := func(name string) Size { return Size{Name: name, Fewest: 2, Wanted: 2, Most: 2} }
	for _, row := range []struct {
		name string
		in   Input
		want []Shortfall
	}{
		{"two sizes compete for the same people",
			Input{Sizes: []Size{two("8"), two("9")}, Applicants: []Applicant{
				{ID: "ann", Sizes: []string{"9", "8"}}, {ID: "ben", Sizes: []string{"8", "9"}}}},
			[]Shortfall{{[]string{"8", "9"}, []string{"ann", "ben"}, 2,
				"sizes 8 and 9 need four reports; only two people offered either"}}},
		{"nobody",
			Input{Sizes: []Size{two("8")}},
			[]Shortfall{{[]string{"8"}, []string{}, 2, "size 8 needs two reports; nobody offered it"}}},
		{"sizes that share nobody are told apart",
			Input{Sizes: []Size{two("1"), two("2")}, Applicants: []Applicant{
				{ID: "ann", Sizes: []string{"1"}}, {ID: "ben", Sizes: []string{"2"}}}},
			[]Shortfall{
				{[]string{"1"}, []string{"ann"}, 1, "size 1 needs two reports; only one person offered it"},
				{[]string{"2"}, []string{"ben"}, 1, "size 2 needs two reports; only one person offered it"}}},
		{"three sizes in a chain",
			Input{Sizes: []Size{two("1"), two("2"), two("3")}, Applicants: []Applicant{
				{ID: "ann", Sizes: []string{"1", "2"}}, {ID: "ben", Sizes: []string{"2", "3"}}, {ID: "cat", Sizes: []string{"3"}}}},
			[]Shortfall{{[]string{"1", "2", "3"}, []string{"ann", "ben", "cat"}, 3,
				"sizes 1, 2 and 3 need six reports; only three people offered any of them"}}},
		{"a rich neighbour is not part of the trouble",
			Input{Sizes: []Size{two("1"), two("2")}, Applicants: []Applicant{
				{ID: "ann", Sizes: []string{"1"}}, {ID: "ben", Sizes: []string{"1"}}, {ID: "cat", Sizes: []string{"1"}}, {ID: "dee", Sizes: []string{"2"}}}},
			[]Shortfall{{[]string{"2"}, []string{"dee"}, 1, "size 2 needs two reports; only one person offered it"}}},
		{"held elsewhere and forbidden",
			Input{Sizes: []Size{two("1"), {Name: "2", Most: 1}}, Applicants: []Applicant{
				{ID: "ann", Sizes: []string{"1"}}, {ID: "ben", Sizes: []string{"1"}}, {ID: "cat", Sizes: []string{"1"}}},
				Fixed: []Pair{{"ann", "2"}}, Forbidden: []Pair{{"ben", "1"}}},
			[]Shortfall{{[]string{"1"}, []string{"cat"}, 1,
				"size 1 needs two reports; only one person may make it; one more offered but a fixed pair holds them elsewhere; one more offered but that is forbidden"}}},
		{"a fixed pair that was not offered counts",
			Input{Sizes: []Size{{Name: "1", Fewest: 14, Wanted: 14, Most: 14}}, Applicants: []Applicant{{ID: "ann"}},
				Fixed: []Pair{{"ann", "1"}}},
			[]Shortfall{{[]string{"1"}, []string{"ann"}, 13,
				"size 1 needs 14 reports; only one person offered or was given it"}}},
		{"nothing is short", Input{Sizes: []Size{{Name: "1", Wanted: 3, Most: 3}}}, []Shortfall{}},
	} {
		t.Run(row.name, func(t *testing.T) {
			out, err := Calculate(row.in)
			require.NoError(t, err)
			require.Equal(t, row.want, out.Shortfalls)
		})
	}
}
