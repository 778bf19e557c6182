package assign

// Calculate plans who makes which size; the package documentation defines the
// plan. A bad input gives a *FieldError and no plan.
func Calculate(in Input) (Output, error) {
	d, err := check(&in)
	if err != nil {
		return Output{}, err
	}
	r := newRound(&in, d)
	p := solve(r.sizes, r.people)
	at := r.places(p)
	out := Output{
		Objective:  r.objective(p, at),
		Sizes:      r.results(at),
		Unassigned: []string{},
		Shortfalls: r.shortfalls(p),
		Reasons:    r.reasons(p),
		Warnings:   r.warnings(),
	}
	out.Assignments = []Assignment{}
	for i, a := range r.byID {
		if at[i] == nobody {
			out.Unassigned = append(out.Unassigned, a.ID)
			continue
		}
		out.Assignments = append(out.Assignments, Assignment{
			Applicant:   a.ID,
			Size:        in.Sizes[at[i]].Name,
			Place:       r.place(i, at[i]),
			Probability: r.completion(i),
			Fixed:       r.fixed[i] != nobody,
		})
	}
	return out, nil
}

// places gives every applicant's size, held ones too, or nobody's.
func (r *round) places(p *plan) []int {
	at := append([]int(nil), r.fixed...)
	for who, i := range r.free {
		if p.at[who] != p.out() {
			at[i] = p.at[who]
		}
	}
	return at
}

func (r *round) objective(p *plan, at []int) Objective {
	var o Objective
	for s, d := range r.sizes {
		o.Short += max(0, d.fewest-p.count[s])
		o.BelowWanted += max(0, d.wanted-p.count[s])
	}
	for _, paid := range p.paid {
		o.Preference += int(paid)
	}
	var score int64
	for i, s := range at {
		if s != nobody {
			score += r.score(i)
		}
	}
	o.Probability = r.scale.probability(score)
	return o
}
