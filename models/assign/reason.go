package assign

import "fmt"

// reasons explains each applicant who did not get the size that they like
// best among those open to them.
//
// Giving person a the place t instead of theirs costs price(a, t) -
// price(a, theirs) and then the cheapest chain of moves that passes one on
// from t to theirs; a cheapest plan with that pair differs from the plan by
// exactly one such exchange and others of no gain.
func (r *round) reasons(p *plan) []Reason {
	reasons := []Reason{}
	var chain [][]link
	for who, i := range r.free {
		options := r.people[who].choices
		if len(options) == 0 {
			reasons = append(reasons, Reason{Applicant: r.byID[i].ID, Message: r.unplaceable(i)})
			continue
		}
		best := options[0]
		if best.size == p.at[who] {
			continue
		}
		if chain == nil {
			chain = shortest(p.residual())
		}
		reason := Reason{Applicant: r.byID[i].ID, Size: r.in.Sizes[best.size].Name}
		reason.Message = fmt.Sprintf("size %s is filled by fixed pairs", reason.Size)
		if l := chain[best.size][p.at[who]]; l.open {
			loss := p.price(who, best.size, best.place).minus(p.here(who)).plus(l.cost)
			reason.Price = r.priceOf(loss)
			reason.Message = fmt.Sprintf("size %s for %s %s", reason.Size, reason.Applicant, r.lossMessage(loss))
		}
		reasons = append(reasons, reason)
	}
	return reasons
}

func (r *round) unplaceable(i int) string {
	if len(r.byID[i].Sizes) == 0 {
		return r.byID[i].ID + " listed no size"
	}
	return "every size that " + r.byID[i].ID + " listed is forbidden to them"
}

func (r *round) priceOf(loss cost) *Price {
	return &Price{
		Short:       int(loss.short),
		BelowWanted: int(loss.below),
		Preference:  int(loss.place),
		Probability: r.scale.probability(loss.doubt),
	}
}

// lossMessage says what decides: the first part of the objective that is worse.
func (r *round) lossMessage(loss cost) string {
	switch {
	case loss.short > 0:
		return "would leave " + quantity(int(loss.short), "more report", "more reports") + " short elsewhere"
	case loss.below > 0:
		return "would leave " + quantity(int(loss.below), "more wanted place", "more wanted places") + " empty elsewhere"
	case loss.place > 0:
		return "would push others down their lists by " + quantity(int(loss.place), "place", "places") + " more than it gains"
	case loss.doubt > 0:
		return fmt.Sprintf("would displace someone likelier to finish (%.2g fewer reports to expect)", r.scale.probability(loss.doubt))
	}
	return "would be as good; the order of ids and sizes decided"
}
