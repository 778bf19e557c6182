// Package film plans which sample is filmed for which shot.
//
// A sample only moves forwards, and a shot needs one in exactly the right
// state on its day. Put the shots in time order and draw an arc from shot i to
// shot j when the sample that was filmed for i can be worked off camera from
// where i leaves it to where j starts, within the time between the two. Whether
// that is so depends on i and j alone, not on what the sample did before i, so
// every plan is a set of paths in this graph that share no shot, each started
// by one sample of the studio or by a new one, and every such set is a plan.
//
// A set of disjoint paths in an acyclic graph is a flow in which each shot
// passes at most one unit. Serving a shot, starting a new sample, using a
// sample and working an hour are all costs of single arcs, so the best plan is
// a minimum-cost flow whose costs are compared in that order, level by level.
// The levels are kept apart in a vector instead of being weighed into one
// number: sums and comparisons of such vectors obey the same rules as those of
// numbers, so the flow found is exactly optimal on every level. Arcs may not be
// joined by transitivity (half an hour between two shots of one day does not
// allow two shots in a row to be skipped), so the textbook reduction to a
// matching on the closure of an order would be wrong here.
//
// Sources: path covers by flows, Ford and Fulkerson, "Flows in Networks"
// (1962); successive shortest paths with node potentials, Ahuja, Magnanti and
// Orlin, "Network Flows" (1993), chapter 9. Both from memory.
package film

// Limits of one calculation. Making a garment in public takes some dozens of
// shots; the limits leave room and keep a request within about a second.
const (
	MaxStates      = 100
	MaxSamples     = 100
	MaxShots       = 200
	MaxStateHours  = 10_000 // hours of making from one state to the next
	MaxHoursPerDay = 24
	MaxNameLength  = 100 // bytes of an id or a state's name
)

// Input is what is known today: the states of the demo size in making order,
// the samples, and the shots that are not recorded yet.
type Input struct {
	Today        string   `json:"today"`          // YYYY-MM-DD
	HoursPerDay  float64  `json:"hours_per_day"`  // making hours on each day between two dates
	SameDayHours float64  `json:"same_day_hours"` // making hours between two shots of one day
	States       []State  `json:"states"`
	Samples      []Sample `json:"samples"`
	Shots        []Shot   `json:"shots"`
}

// State is a point in the making. Hours is the making time from the state
// before; nothing comes before the first state, where every new sample starts,
// so its hours are not used.
type State struct {
	Name  string  `json:"name"`
	Hours float64 `json:"hours"`
}

// Sample is a piece of the demo size that exists. It can be worked on from
// FreeFrom, or from today when that is empty or past.
type Sample struct {
	ID       string `json:"id"`
	State    string `json:"state"`
	FreeFrom string `json:"free_from,omitempty"` // YYYY-MM-DD
}

// Shot is one thing to be shown on a date: it needs a sample in state From and
// leaves it in state To. Shots of one date are filmed in the order given.
type Shot struct {
	ID   string `json:"id"`
	On   string `json:"on"` // YYYY-MM-DD
	From string `json:"from"`
	To   string `json:"to"`
}

// Output is the best plan. No list in it is null.
type Output struct {
	Chains     []Chain    `json:"chains"`
	Samples    int        `json:"samples"`     // samples in use, new ones included
	NewSamples int        `json:"new_samples"` // of these, the new ones
	Hours      float64    `json:"hours"`       // off-camera making in all
	Unserved   []Unserved `json:"unserved"`
	Warnings   []Warning  `json:"warnings"`
}

// Chain is what one sample is filmed for, in time order, and the making before
// and between. A sample that no shot uses has no chain.
type Chain struct {
	Sample string   `json:"sample"` // a sample's id, or "new 1", "new 2", ...
	New    bool     `json:"new"`
	Shots  []string `json:"shots"`
	Work   []Work   `json:"work"`
}

// Work is making off camera, to be finished for Shot on the date By.
type Work struct {
	From  string  `json:"from"`
	To    string  `json:"to"`
	Hours float64 `json:"hours"`
	By    string  `json:"by"`
	Shot  string  `json:"shot"`
}

// Unserved is a shot that no sample can be filmed for, and why.
type Unserved struct {
	Shot    string `json:"shot"`
	Message string `json:"message"`
}

// Warning is about one sample and the shots at stake.
type Warning struct {
	Sample  string   `json:"sample"`
	Shots   []string `json:"shots"`
	Message string   `json:"message"`
}

// Calculate finds the plan that is best on the first of these levels, and on
// each further one among the best of those before it: most shots served,
// fewest new samples, fewest samples in use, fewest hours of off-camera making.
// What is still equal is settled shot by shot in time order: a shot goes to the
// sample with the least id (compared byte by byte), then to the new samples in
// the order of their first use, and is left unserved last. So the answer does
// not depend on the order in which samples are given.
//
// The hours that fit between two shots are (days between) × HoursPerDay, or
// SameDayHours on one date. Hours are compared with a millionth of an hour to
// spare, so that three times a tenth of an hour fit into 0.3 hours.
//
// Bad input gives a *FieldError. A shot dated before today, or one that nothing
// can be ready for, is not bad input: it is listed as unserved.
func Calculate(in Input) (Output, error) {
	p, err := newProblem(in)
	if err != nil {
		return Output{}, err
	}
	return describe(p, assign(p)), nil
}
