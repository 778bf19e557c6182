package assign

// Bounds on one input. They are far above any test call and keep the longest
// calculation to seconds.
const (
	MaxSizes      = 100
	MaxApplicants = 10_000
	MaxForbidden  = 100_000
	MaxFewest     = 1_000   // reports that a size needs
	MaxReports    = 10_000  // wanted and most of a size
	MaxRecord     = 100_000 // tests that one applicant accepted
	MaxNameLength = 200     // bytes in an id or a size's name
)

// Input is one test call: its sizes, who applied, and what is settled already.
type Input struct {
	Sizes      []Size      `json:"sizes"`      // smallest to largest
	Applicants []Applicant `json:"applicants"` // in any order
	Fixed      []Pair      `json:"fixed,omitempty"`
	Forbidden  []Pair      `json:"forbidden,omitempty"`
	// Prior is the record that everybody is credited with; DefaultPrior when nil.
	Prior *Prior `json:"prior,omitempty"`
	// Probability is asked of each size, between 0 and 1; DefaultProbability when nil.
	Probability *float64 `json:"probability,omitempty"`
}

// Size is one size of the design and how many reports it should get:
// 0 <= fewest <= wanted <= most.
type Size struct {
	Name   string `json:"name"`
	Fewest int    `json:"fewest"` // without so many the size counts as untested
	Wanted int    `json:"wanted"` // the plan fills up to here
	Most   int    `json:"most"`   // testers added to be on the safe side stop here
}

// Applicant is a person who offers to make one of some sizes.
type Applicant struct {
	ID    string   `json:"id"`
	Sizes []string `json:"sizes"` // best first
	// Accepted and Finished are their record: tests taken on so far, and how
	// many of those they finished in time.
	Accepted int `json:"accepted,omitempty"`
	Finished int `json:"finished,omitempty"`
}

// Pair is an applicant and a size.
type Pair struct {
	Applicant string `json:"applicant"`
	Size      string `json:"size"`
}
