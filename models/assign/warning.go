package assign

import "fmt"

// warnings names the fixed pairs that go against the call: more than `most`
// at one size, a size that the applicant did not list.
func (r *round) warnings() []Warning {
	found := []Warning{}
	for s, d := range r.sizes {
		size := r.in.Sizes[s]
		if d.held > size.Most {
			found = append(found, Warning{
				Size:    size.Name,
				Message: fmt.Sprintf("size %s has %d fixed testers; at most %d were to make it", size.Name, d.held, size.Most),
			})
		}
		for i, a := range r.byID {
			if r.fixed[i] == s && r.place(i, s) == 0 {
				found = append(found, Warning{
					Size:      size.Name,
					Applicant: a.ID,
					Message:   fmt.Sprintf("%s is fixed to size %s but did not list it", a.ID, size.Name),
				})
			}
		}
	}
	return found
}
