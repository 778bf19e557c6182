package assign

// Output is the plan and what to say about it. Its lists are never nil.
// People come by id, sizes in their own order.
type Output struct {
	Assignments []Assignment `json:"assignments"`
	Objective   Objective    `json:"objective"`
	Sizes       []SizeResult `json:"sizes"`
	Unassigned  []string     `json:"unassigned"`
	Shortfalls  []Shortfall  `json:"shortfalls"`
	Reasons     []Reason     `json:"reasons"`
	Warnings    []Warning    `json:"warnings"`
}

// Assignment is one tester and the size that they make.
type Assignment struct {
	Applicant   string  `json:"applicant"`
	Size        string  `json:"size"`
	Place       int     `json:"place"`       // of the size in their list, from 1; 0 when a fixed pair is not on it
	Probability float64 `json:"probability"` // that they finish in time
	Fixed       bool    `json:"fixed"`
}

// Objective is what the plan reaches, in the order in which it counts.
type Objective struct {
	Short       int     `json:"short"`
	BelowWanted int     `json:"below_wanted"`
	Preference  int     `json:"preference"`
	Probability float64 `json:"probability"` // summed over all assigned, fixed pairs too
}

// SizeResult says how one size stands.
type SizeResult struct {
	Name     string `json:"name"`
	Assigned int    `json:"assigned"`
	Short    int    `json:"short"` // max(0, fewest - assigned)
	// Probability is that at least `fewest` of the assigned finish.
	Probability float64 `json:"probability"`
	// ProbabilityLowered is the same with every tester's own probability
	// lowered by 0.1, as testers are not quite independent.
	ProbabilityLowered float64 `json:"probability_lowered"`
	// Recruit is the fewest newcomers that lift Probability to the asked one.
	Recruit int `json:"recruit"`
	// Reserve is the unassigned who listed the size, best first.
	Reserve []string `json:"reserve"`
	// Add is the start of Reserve that lifts Probability to the asked one
	// within `most`, or as near to it as they can. One person may stand in
	// the lists of several sizes.
	Add []string `json:"add"`
	// ProbabilityWithAdd is Probability once those in Add are assigned too.
	ProbabilityWithAdd float64 `json:"probability_with_add"`
}

// Shortfall proves that some sizes must stay short: together they need more
// reports than there are people for them.
type Shortfall struct {
	Sizes      []string `json:"sizes"`
	Applicants []string `json:"applicants"` // all who could make one of them
	Missing    int      `json:"missing"`
	Message    string   `json:"message"`
}

// Reason says what it would take to give an applicant the size that they like
// best among those open to them, when they did not get it.
type Reason struct {
	Applicant string `json:"applicant"`
	Size      string `json:"size,omitempty"` // empty when no size is open to them
	// Price is by how much the best plan with this pair is worse; nil when no
	// plan has it.
	Price   *Price `json:"price,omitempty"`
	Message string `json:"message"`
}

// Price is the loss in each part of the objective: the first that is not zero
// is a loss, those after it may be gains (negative).
type Price struct {
	Short       int     `json:"short"`
	BelowWanted int     `json:"below_wanted"`
	Preference  int     `json:"preference"`
	Probability float64 `json:"probability"`
}

// Warning points at a fixed pair that goes against what was asked.
type Warning struct {
	Size      string `json:"size"`
	Applicant string `json:"applicant,omitempty"`
	Message   string `json:"message"`
}
