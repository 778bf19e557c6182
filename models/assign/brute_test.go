package assign

import (
	"cmp"
	"fmt"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// A second opinion on small calls: try every plan, with exact fractions, in
// the contract's own words. It shares nothing with the solver but the input.

// worth is what the contract counts about one plan.
type worth struct {
	short, below, preference int
	probability              *big.Rat
	order                    []int // by id: position of their size, len(sizes) for nobody's
}

func (w worth) compare(v worth) int {
	return cmp.Or(
		cmp.Compare(w.short, v.short),
		cmp.Compare(w.below, v.below),
		cmp.Compare(w.preference, v.preference),
		v.probability.Cmp(w.probability),
		slices.Compare(w.order, v.order),
	)
}

// tryAll gives the best of all plans for an input, by id.
func tryAll(in Input) worth {
	people := slices.Clone(in.Applicants)
	slices.SortFunc(people, func(a, b Applicant) int { return cmp.Compare(a.ID, b.ID) })
	order := make([]int, len(people))
	var best *worth
	var try func(i int)
	try = func(i int) {
		if i == len(people) {
			if w, allowed := judge(in, people, order); allowed && (best == nil || w.compare(*best) < 0) {
				w.order = slices.Clone(order)
				best = &w
			}
			return
		}
		for s := 0; s <= len(in.Sizes); s++ {
			order[i] = s
			try(i + 1)
		}
	}
	try(0)
	return *best
}

func judge(in Input, people []Applicant, order []int) (worth, bool) {
	w := worth{probability: new(big.Rat), order: order}
	count, free := make([]int, len(in.Sizes)), make([]int, len(in.Sizes))
	for i, a := range people {
		fixed := slices.IndexFunc(in.Fixed, func(p Pair) bool { return p.Applicant == a.ID })
		if order[i] == len(in.Sizes) {
			if fixed >= 0 {
				return w, false
			}
			continue
		}
		name := in.Sizes[order[i]].Name
		place := slices.Index(a.Sizes, name)
		switch {
		case fixed >= 0 && in.Fixed[fixed].Size != name:
			return w, false
		case fixed < 0 && (place < 0 || slices.Contains(in.Forbidden, Pair{a.ID, name})):
			return w, false
		case fixed < 0:
			w.preference += place
			free[order[i]]++
		}
		count[order[i]]++
		w.probability.Add(w.probability, fraction(in, a))
	}
	for s, size := range in.Sizes {
		if free[s] > 0 && count[s] > size.Wanted {
			return w, false
		}
		w.short += max(0, size.Fewest-count[s])
		w.below += max(0, size.Wanted-count[s])
	}
	return w, true
}

// fraction is the contract's completion probability; the priors of these tests
// are whole halves.
func fraction(in Input, a Applicant) *big.Rat {
	finished, dropped := big.NewRat(4, 1), big.NewRat(3, 2)
	if in.Prior != nil {
		finished = big.NewRat(int64(2*in.Prior.Finished), 2)
		dropped = big.NewRat(int64(2*in.Prior.Dropped), 2)
	}
	top := new(big.Rat).Add(finished, big.NewRat(int64(a.Finished), 1))
	bottom := new(big.Rat).Add(finished, dropped)
	bottom.Add(bottom, big.NewRat(int64(a.Accepted), 1))
	return top.Quo(top, bottom)
}

// randomCall makes a small call in which people are scarce, sizes compete and
// records often tie.
func randomCall(rng *rand.Rand, sizes, people int) Input {
	var in Input
	for s := range sizes {
		fewest := rng.IntN(3)
		wanted := fewest + rng.IntN(2)
		in.Sizes = append(in.Sizes, Size{Name: fmt.Sprint(s + 1), Fewest: fewest, Wanted: wanted, Most: wanted + rng.IntN(2)})
	}
	for i := range people {
		a := Applicant{ID: fmt.Sprintf("a%d", i), Accepted: rng.IntN(4)}
		a.Finished = rng.IntN(a.Accepted + 1)
		for _, s := range rng.Perm(sizes)[:rng.IntN(sizes+1)] {
			a.Sizes = append(a.Sizes, in.Sizes[s].Name)
		}
		in.Applicants = append(in.Applicants, a)
		size := in.Sizes[rng.IntN(sizes)].Name
		switch rng.IntN(8) {
		case 0:
			in.Fixed = append(in.Fixed, Pair{a.ID, size})
		case 1:
			in.Forbidden = append(in.Forbidden, Pair{a.ID, size})
		}
	}
	if rng.IntN(2) == 0 {
		in.Prior = &Prior{Finished: 0.5 + float64(rng.IntN(4))/2, Dropped: float64(rng.IntN(4)) / 2}
	}
	return in
}

// orderOf reads a plan back as the position of each applicant's size, by id.
func orderOf(in Input, out Output) []int {
	var ids []string
	for _, a := range in.Applicants {
		ids = append(ids, a.ID)
	}
	slices.Sort(ids)
	order := make([]int, len(ids))
	for i, id := range ids {
		order[i] = len(in.Sizes)
		for _, a := range out.Assignments {
			if a.Applicant == id {
				order[i] = slices.IndexFunc(in.Sizes, func(s Size) bool { return s.Name == a.Size })
			}
		}
	}
	return order
}

func TestPlanIsTheBestOfAllPlans(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 3000 {
		compareWithAll(t, randomCall(rng, 1+rng.IntN(3), rng.IntN(6)))
	}
	for range 20 {
		compareWithAll(t, randomCall(rng, 4, 6))
	}
	for range 20 {
		compareWithAll(t, randomCall(rng, 2, 9))
	}
}

func compareWithAll(t *testing.T, in Input) {
	t.Helper()
	out, err := Calculate(in)
	require.NoError(t, err)
	best := tryAll(in)
	require.Equal(t, best.order, orderOf(in, out), "%+v", in)
	require.Equal(t, best.short, out.Objective.Short, "%+v", in)
	require.Equal(t, best.below, out.Objective.BelowWanted, "%+v", in)
	require.Equal(t, best.preference, out.Objective.Preference, "%+v", in)
	probability, _ := best.probability.Float64()
	require.InDelta(t, probability, out.Objective.Probability, 1e-12, "%+v", in)
	for _, reason := range out.Reasons {
		comparePrice(t, in, best, reason)
	}
}

// comparePrice checks a reason's price against the best of all plans that have
// the pair.
func comparePrice(t *testing.T, in Input, best worth, reason Reason) {
	t.Helper()
	if reason.Size == "" {
		return
	}
	forced := in
	forced.Applicants = slices.Clone(in.Applicants)
	who := slices.IndexFunc(in.Applicants, func(a Applicant) bool { return a.ID == reason.Applicant })
	size := slices.IndexFunc(in.Sizes, func(s Size) bool { return s.Name == reason.Size })
	var with *worth
	var try func(order []int)
	people := slices.Clone(in.Applicants)
	try = func(order []int) {
		if len(order) < len(people) {
			for s := 0; s <= len(in.Sizes); s++ {
				if len(order) != who || s == size {
					try(append(order, s))
				}
			}
			return
		}
		if w, allowed := judge(in, people, order); allowed && (with == nil || w.compare(*with) < 0) {
			w.order = slices.Clone(order)
			with = &w
		}
	}
	try(nil)
	if with == nil {
		require.Nil(t, reason.Price, "%+v %+v", in, reason)
		return
	}
	require.NotNil(t, reason.Price, "%+v %+v", in, reason)
	loss, _ := new(big.Rat).Sub(best.probability, with.probability).Float64()
	require.Equal(t, with.short-best.short, reason.Price.Short, "%+v %+v", in, reason)
	require.Equal(t, with.below-best.below, reason.Price.BelowWanted, "%+v %+v", in, reason)
	require.Equal(t, with.preference-best.preference, reason.Price.Preference, "%+v %+v", in, reason)
	require.InDelta(t, loss, reason.Price.Probability, 1e-12, "%+v %+v", in, reason)
}
