package assign

// results says how each size stands under a plan.
func (r *round) results(at []int) []SizeResult {
	testers := make([][]float64, len(r.sizes))
	for i, s := range at {
		if s != nobody {
			testers[s] = append(testers[s], r.completion(i))
		}
	}
	reserve := r.reserves(at)
	results := make([]SizeResult, len(r.sizes))
	for s, size := range r.in.Sizes {
		p := testers[s]
		results[s] = SizeResult{
			Name:               size.Name,
			Assigned:           len(p),
			Short:              max(0, size.Fewest-len(p)),
			Probability:        AtLeast(p, size.Fewest),
			ProbabilityLowered: AtLeast(lowered(p), size.Fewest),
			Recruit:            Recruits(p, size.Fewest, r.prior.Newcomer(), r.asked),
			Reserve:            []string{},
		}
		for _, i := range reserve[s] {
			results[s].Reserve = append(results[s].Reserve, r.byID[i].ID)
		}
		results[s].Add, results[s].ProbabilityWithAdd = r.additions(size, p, reserve[s])
	}
	return results
}

// reserves lists for each size the unassigned who may make it, best first.
func (r *round) reserves(at []int) [][]int {
	list := queues(len(r.sizes), r.people)
	for s := range list {
		kept := list[s][:0]
		for _, who := range list[s] {
			if i := r.free[who]; at[i] == nobody {
				kept = append(kept, i)
			}
		}
		list[s] = kept
	}
	return list
}

// additions takes people from the reserve, in its order, until the size's
// probability is as asked, `most` is reached or the reserve is used up.
func (r *round) additions(size Size, testers []float64, reserve []int) ([]string, float64) {
	add := []string{}
	f := reports(testers, size.Fewest)
	for _, i := range reserve {
		if reaches(f[size.Fewest], r.asked) || len(testers)+len(add) >= size.Most {
			break
		}
		oneMore(f, r.completion(i))
		add = append(add, r.byID[i].ID)
	}
	return add, min(1, f[size.Fewest])
}
