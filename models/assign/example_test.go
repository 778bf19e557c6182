package assign_test

import (
	"fmt"

	"tenter/models/assign"
)

// Two sizes at the end of the range compete for the same two people.
func ExampleCalculate() {
	out, err := assign.Calculate(assign.Input{
		Sizes: []assign.Size{
			{Name: "7", Fewest: 1, Wanted: 1, Most: 2},
			{Name: "8", Fewest: 2, Wanted: 2, Most: 3},
			{Name: "9", Fewest: 2, Wanted: 2, Most: 3},
		},
		Applicants: []assign.Applicant{
			{ID: "oat", Sizes: []string{"8", "9"}, Accepted: 3, Finished: 3},
			{ID: "rye", Sizes: []string{"9", "8"}},
			{ID: "teff", Sizes: []string{"7"}, Accepted: 4, Finished: 2},
			{ID: "wheat", Sizes: []string{"7"}, Accepted: 2, Finished: 2},
		},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, a := range out.Assignments {
		fmt.Printf("%s makes size %s (choice %d, %.0f %%)\n", a.Applicant, a.Size, a.Place, 100*a.Probability)
	}
	for _, s := range out.Sizes {
		fmt.Printf("size %s: %.0f %%, recruit %d, reserve %v\n", s.Name, 100*s.Probability, s.Recruit, s.Reserve)
	}
	fmt.Println(out.Shortfalls[0].Message)
	fmt.Println(out.Reasons[0].Message)
	// Output:
	// oat makes size 8 (choice 1, 82 %)
	// rye makes size 9 (choice 1, 73 %)
	// wheat makes size 7 (choice 1, 80 %)
	// size 7: 80 %, recruit 1, reserve [teff]
	// size 8: 0 %, recruit 3, reserve []
	// size 9: 0 %, recruit 3, reserve []
	// sizes 8 and 9 need four reports; only two people offered either
	// size 7 for teff would displace someone likelier to finish (0.17 fewer reports to expect)
}
