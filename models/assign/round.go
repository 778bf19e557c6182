package assign

import (
	"cmp"
	"slices"
)

// round is an input that has been checked, in the terms of the solver: sizes
// as positions, people in order of id, fixed pairs and forbidden sizes taken
// out.
type round struct {
	in     *Input
	prior  Prior
	asked  float64
	scale  *scale
	byID   []*Applicant // all applicants, by id
	fixed  []int        // by id -> size that a fixed pair holds them at, or nobody
	barred []map[int]bool
	size   map[string]int

	sizes  []demand
	people []person
	free   []int // person -> position in byID
	person []int // position in byID -> person, or nobody for those who are held
}

func newRound(in *Input, d *directory) *round {
	r := &round{in: in, prior: DefaultPrior(), asked: DefaultProbability, size: d.size}
	if in.Prior != nil {
		r.prior = *in.Prior
	}
	if in.Probability != nil {
		r.asked = *in.Probability
	}
	r.scale = newScale(r.prior, in.Applicants)
	for i := range in.Applicants {
		r.byID = append(r.byID, &in.Applicants[i])
	}
	slices.SortFunc(r.byID, func(a, b *Applicant) int { return cmp.Compare(a.ID, b.ID) })
	r.settlePairs()
	for _, s := range in.Sizes {
		r.sizes = append(r.sizes, demand{fewest: s.Fewest, wanted: s.Wanted})
	}
	r.person = make([]int, len(r.byID))
	for i, a := range r.byID {
		if s := r.fixed[i]; s != nobody {
			r.sizes[s].held++
			r.person[i] = nobody
			continue
		}
		r.person[i] = len(r.people)
		r.people = append(r.people, person{choices: r.choices(i), score: r.scale.score(a.Accepted, a.Finished)})
		r.free = append(r.free, i)
	}
	return r
}

// settlePairs turns the fixed and forbidden pairs into positions.
func (r *round) settlePairs() {
	position := make(map[string]int, len(r.byID))
	r.fixed = make([]int, len(r.byID))
	for i, a := range r.byID {
		position[a.ID] = i
		r.fixed[i] = nobody
	}
	for _, p := range r.in.Fixed {
		r.fixed[position[p.Applicant]] = r.size[p.Size]
	}
	r.barred = make([]map[int]bool, len(r.byID))
	for _, p := range r.in.Forbidden {
		i := position[p.Applicant]
		if r.barred[i] == nil {
			r.barred[i] = map[int]bool{}
		}
		r.barred[i][r.size[p.Size]] = true
	}
}

// choices gives the sizes that an applicant listed and may make. A forbidden
// one keeps its place in their list.
func (r *round) choices(i int) []choice {
	var list []choice
	for place, name := range r.byID[i].Sizes {
		if s := r.size[name]; !r.barred[i][s] {
			list = append(list, choice{size: s, place: int64(place)})
		}
	}
	return list
}

// completion is an applicant's probability of finishing in time.
func (r *round) completion(i int) float64 {
	return r.prior.Completion(r.byID[i].Accepted, r.byID[i].Finished)
}

// score is completion in exact units.
func (r *round) score(i int) int64 {
	return r.scale.score(r.byID[i].Accepted, r.byID[i].Finished)
}

// place gives the place of a size in an applicant's list, from 1, or 0.
func (r *round) place(i, size int) int {
	return 1 + slices.Index(r.byID[i].Sizes, r.in.Sizes[size].Name)
}
