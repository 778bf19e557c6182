package together

import (
	"slices"

	"tenter/models/schedule"
)

// busy are the people whose time a design takes.
func busy(tasks []schedule.Task) map[string]bool {
	out := map[string]bool{}
	for _, t := range tasks {
		if t.Hours != nil {
			out[t.Who] = true
		}
	}
	return out
}

// groups parts the designs into those that share people, directly or through a
// third one; each rising, in the order of their first.
func (in Input) groups() [][]int {
	of := make([]int, len(in.Designs)) // the first design of each one's group
	firstOf := map[string]int{}        // by person
	for i, tasks := range in.Designs {
		of[i] = i
		for who := range busy(tasks) {
			other, met := firstOf[who]
			if !met {
				firstOf[who] = i
				continue
			}
			join(of, of[other], of[i])
		}
	}
	var out [][]int
	at := map[int]int{}
	for i, first := range of {
		k, begun := at[first]
		if !begun {
			k, at[first] = len(out), len(out)
			out = append(out, nil)
		}
		out[k] = append(out[k], i)
	}
	return out
}

// join makes two groups one, under the earlier first.
func join(of []int, a, b int) {
	low, high := min(a, b), max(a, b)
	for i := range of {
		if of[i] == high {
			of[i] = low
		}
	}
}

// group is the one that a design is in.
func (in Input) group(place int) []int {
	for _, g := range in.groups() {
		if slices.Contains(g, place) {
			return g
		}
	}
	return []int{place}
}
