package assign

import (
	"fmt"
	"math/rand/v2"
	"testing"
)

// busyCall makes a call as large rounds look: each applicant lists a few
// neighbouring sizes, popular in the middle of the range, and there are about
// twice as many applicants as places.
func busyCall(people, sizes, listed int) Input {
	rng := rand.New(rand.NewPCG(21, uint64(people)))
	var in Input
	wanted := max(1, people/(2*sizes))
	for s := range sizes {
		in.Sizes = append(in.Sizes, Size{Name: fmt.Sprint(s + 1), Fewest: (wanted + 1) / 2, Wanted: wanted, Most: wanted + 2})
	}
	for i := range people {
		a := Applicant{ID: fmt.Sprintf("a%06d", i), Accepted: rng.IntN(9)}
		a.Finished = rng.IntN(a.Accepted + 1)
		middle := int(rng.NormFloat64()*float64(sizes)/5) + sizes/2
		first := max(0, min(sizes-1, middle)-listed/2)
		for s := first; s < min(sizes, first+listed); s++ {
			a.Sizes = append(a.Sizes, in.Sizes[s].Name)
		}
		rng.Shuffle(len(a.Sizes), func(i, j int) { a.Sizes[i], a.Sizes[j] = a.Sizes[j], a.Sizes[i] })
		in.Applicants = append(in.Applicants, a)
	}
	return in
}

// Targets: 1,000 x 20 in 200 ms, 5,000 x 30 in 3 s.
func BenchmarkCalculate(b *testing.B) {
	for _, row := range []struct{ people, sizes, listed int }{
		{40, 9, 3},
		{250, 20, 3},
		{500, 20, 3},
		{1000, 20, 3},
		{1000, 20, 20},
		{2000, 20, 3},
		{5000, 30, 4},
		{5000, 30, 30},
		{10000, 30, 4},
		{MaxApplicants, MaxSizes, MaxSizes},
	} {
		in := busyCall(row.people, row.sizes, row.listed)
		b.Run(fmt.Sprintf("%dx%d,%d listed", row.people, row.sizes, row.listed), func(b *testing.B) {
			for b.Loop() {
				if _, err := Calculate(in); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
