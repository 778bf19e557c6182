// Package schedule tells whether a design will be ready on its announced days.
//
// It plans three times. First people are set aside: each task starts as early
// as those before it allow, and as late as those after it allow (the critical
// path method), which gives slack and the critical chain. Then each person does
// one task at a time, which gives an order to work in. Last, the durations are
// drawn at random many times in that order, which gives the probability that an
// announced day is kept.
//
// Time is counted in days from the start of today: 0 is the start of today, 1
// its end. A task in calendar days fills them. A task in hours fills the
// person's working days; each of them holds hours_per_day, spread evenly from
// its start to its end, so half of a day's hours end at the day's middle, and
// another task in hours may start there. In the plans a task in calendar days
// starts with a day, and the planned lengths are whole days and half hours; in
// the draws nothing is rounded.
//
// Sources: the critical path method, Kelley and Walker, "Critical-path planning
// and scheduling" (1959); three-point estimates and the beta distribution,
// Malcolm, Roseboom, Clark and Fazar, "Application of a technique for research
// and development program evaluation", Operations Research 7 (1959). From
// memory.
package schedule

// Limits of one calculation.
const (
	MaxPeople      = 50
	MaxTasks       = 2_000
	MaxAway        = 1_000  // dates on which one person is away
	MaxDays        = 3_650  // calendar days of one task
	MaxHours       = 10_000 // hours of one task
	MaxHoursPerDay = 24
	MinHoursPerDay = 0.05  // three minutes; less is a slip
	MaxHorizonDays = 3_653 // ten years: the farthest date from today, and the longest plan
	MaxNameLength  = 100   // bytes of an id

	DefaultDraws = 10_000
	MaxDraws     = 200_000
	// MaxSteps bounds draws × (tasks + entries of after), which is what the
	// draws cost: some seconds on one core.
	MaxSteps = 100_000_000
)

// Input is a plan's people and tasks as known today. Draws is the number of
// random draws, DefaultDraws when 0; the same Seed gives the same answer.
type Input struct {
	Today  string   `json:"today"` // YYYY-MM-DD
	Draws  int      `json:"draws,omitempty"`
	Seed   int64    `json:"seed,omitempty"`
	People []Person `json:"people,omitempty"`
	Tasks  []Task   `json:"tasks"`
}

// Person works HoursPerDay on each of the Days ("mon" to "sun"), except on the
// dates in Away.
type Person struct {
	ID          string   `json:"id"`
	Days        []string `json:"days"`
	HoursPerDay float64  `json:"hours_per_day"`
	Away        []string `json:"away,omitempty"` // YYYY-MM-DD
}

// Task takes Days, calendar days, or Hours of the person Who; either is the
// low, the likely and the high estimate. A task in days may name who sees to
// it, but does not take that person's time. After names the tasks that end
// before it starts. On fixes the day of its start, NotBefore bounds the start
// and Due the finish.
type Task struct {
	ID        string    `json:"id"`
	Who       string    `json:"who,omitempty"`
	Days      []float64 `json:"days,omitempty"`
	Hours     []float64 `json:"hours,omitempty"`
	After     []string  `json:"after,omitempty"`
	On        string    `json:"on,omitempty"`         // YYYY-MM-DD
	NotBefore string    `json:"not_before,omitempty"` // YYYY-MM-DD
	Due       string    `json:"due,omitempty"`        // YYYY-MM-DD
}

// Output is the answer; tasks and people in the order of the input. No list in
// it is null.
type Output struct {
	Tasks         []TaskPlan   `json:"tasks"`
	CriticalChain []string     `json:"critical_chain"`
	Week          []PersonList `json:"week"`  // what each person starts from today to the same day next week
	Order         []PersonList `json:"order"` // all that each person does, in order
	Findings      []Finding    `json:"findings"`
}

// TaskPlan gives a task's dates. Earliest and latest dates set people aside;
// planned ones let each person do one task at a time. Slack is in days, latest
// start minus earliest start, negative when it can't be met. LateByDays is by
// how much the earliest dates miss On or Due, whichever they miss by more. A
// task with On or Due has the Probability that it is kept, and its standard
// error √(p(1−p)/draws). When no draw differs, that error is 0 and tells too
// little: the probability is then within 3/draws of the 0 or 1 shown, with 95 %
// confidence (rule of three, Hanley and Lippman-Hand, JAMA 249, 1983; from
// memory).
type TaskPlan struct {
	ID             string   `json:"id"`
	EarliestStart  string   `json:"earliest_start"`
	EarliestFinish string   `json:"earliest_finish"`
	LatestStart    string   `json:"latest_start"`
	LatestFinish   string   `json:"latest_finish"`
	PlannedStart   string   `json:"planned_start"`
	PlannedFinish  string   `json:"planned_finish"`
	SlackDays      int      `json:"slack_days"`
	Critical       bool     `json:"critical"`
	LateByDays     int      `json:"late_by_days"`
	Probability    *float64 `json:"probability,omitempty"`
	StandardError  *float64 `json:"standard_error,omitempty"`
}

// PersonList is a person's tasks in the order in which they are done.
type PersonList struct {
	Who   string   `json:"who"`
	Tasks []string `json:"tasks"`
}

// Finding is something to know about a task. Kind is "past" (its day is before
// today), "day off" (announced for a day on which its person does not work),
// "late" (can't be kept, people aside), "people" (can't be kept when each
// person does one task at a time) or "at risk" (the plan keeps it, too many
// draws do not).
type Finding struct {
	Task    string `json:"task"`
	Kind    string `json:"kind"`
	Message string `json:"message"`
}

// Calculate plans the tasks.
//
// Earliest dates run forwards from today, latest dates backwards from each On
// and Due, and from the last earliest finish of the plan for what has neither
// downstream. The plan uses (low + 4 likely + high) / 6, rounded up to whole
// days or to the next half hour. Critical are the tasks with the smallest slack.
//
// With people, whoever is free takes, of the tasks that can be started, the one
// with the least latest finish, then the one with the least id.
//
// A draw gives each task a beta-PERT duration,
//
//	low + (high − low) · Beta(1 + 4 (likely − low)/(high − low), 1 + 4 (high − likely)/(high − low)),
//
// and keeps people's working days and their order. A task with Due is kept when
// it ends by the end of that day; one with On when all before it end by the
// start of that day and its person, if it has one, starts on that day.
//
// The answer does not depend on the order of tasks and people, apart from the
// order of the lists, nor on the number of processors. Bad input gives a
// *FieldError; days that can't be kept are findings.
func Calculate(in Input) (Output, error) {
	n, err := newNetwork(in)
	if err != nil {
		return Output{}, err
	}
	earliest, err := n.forwards()
	if err != nil {
		return Output{}, err
	}
	latest := n.backwards(earliest)
	planned, sequence, err := n.withPeople(latest)
	if err != nil {
		return Output{}, err
	}
	kept := n.draw(sequence)
	return n.describe(earliest, latest, planned, sequence, kept), nil
}
