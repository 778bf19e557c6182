package together

import (
	"strings"
	"time"

	"tenter/models/schedule"
)

// tracing looks for what pushes a design's tasks back.
type tracing struct {
	place  int
	today  string
	plan   *Plan
	tasks  []schedule.Task // of the design
	at     map[string]int  // place of each of them, by name
	before map[string][]Turn
	seen   []bool
}

// newTracing notes for each task of the design what its person does before it.
// Tasks in days take nobody's time, so they hold nobody up.
func newTracing(in Input, place int, p *Plan) *tracing {
	t := &tracing{place: place, today: in.Today, plan: p, tasks: in.Designs[place], at: map[string]int{}, before: map[string][]Turn{}, seen: make([]bool, len(p.Tasks))}
	takesTime := map[Turn]bool{}
	for _, g := range append([]int{place}, p.With...) {
		for _, x := range in.Designs[g] {
			if x.Hours != nil {
				takesTime[Turn{Design: g, Task: x.ID}] = true
			}
		}
	}
	for i, x := range t.tasks {
		t.at[x.ID] = i
	}
	for _, list := range p.Order {
		var done []Turn
		for _, turn := range list.Turns {
			if !takesTime[Turn{Design: turn.Design, Task: turn.Task}] {
				continue
			}
			if turn.Design == place {
				t.before[turn.Task] = done
			}
			done = append(done[:len(done):len(done)], turn)
		}
	}
	return t
}

func (t *tracing) traceAll() {
	for i := range t.tasks {
		t.trace(i)
	}
}

// trace fills a task's Waits and Through. A task that is later than it would be
// alone is so because its person is at another design when it could be started,
// or because what it follows is later.
func (t *tracing) trace(i int) string {
	task := &t.plan.Tasks[i]
	if t.seen[i] || task.LaterDays == 0 {
		return task.Through
	}
	t.seen[i] = true
	ready, latest := t.ready(i)
	run := t.held(t.before[task.ID], ready)
	if len(run) > 0 {
		last := run[len(run)-1]
		pushed := latest >= 0 && t.plan.Tasks[latest].LaterDays > 0
		if strings.Compare(last.Until, ready) > 0 || !pushed {
			task.Waits = &Wait{Who: t.tasks[i].Who, From: ready, Until: last.Until, Turns: run}
			task.Through = task.ID
			return task.Through
		}
	}
	if done := t.before[task.ID]; len(run) == 0 && len(done) > 0 && strings.Compare(done[len(done)-1].Until, ready) >= 0 {
		latest = t.at[done[len(done)-1].Task] // its person is at another task of this design
	}
	if latest >= 0 {
		task.Through = t.trace(latest)
	}
	return task.Through
}

// ready is the day on which all that a task follows is done, and which of it
// is done last, -1 for nothing.
func (t *tracing) ready(i int) (day string, latest int) {
	day, latest = t.today, -1
	if n := t.tasks[i].NotBefore; n > day {
		day = n
	}
	for _, name := range t.tasks[i].After {
		k := t.at[name]
		until := t.plan.Tasks[k].PlannedFinish
		later := latest < 0 || until > t.plan.Tasks[latest].PlannedFinish ||
			until == t.plan.Tasks[latest].PlannedFinish && t.plan.Tasks[k].LaterDays > t.plan.Tasks[latest].LaterDays
		if until >= day && later {
			day, latest = until, k
		}
	}
	return day, latest
}

// held is what somebody does of other designs directly before a task, as far
// as it goes on when the task could be started.
func (t *tracing) held(done []Turn, ready string) []Turn {
	first := len(done)
	for first > 0 && done[first-1].Design != t.place && strings.Compare(done[first-1].Until, ready) >= 0 {
		first--
	}
	return done[first:]
}

// daysBetween counts the days from one date of an answer to another.
func daysBetween(a, b string) int {
	from, err := time.Parse(time.DateOnly, a)
	to, err2 := time.Parse(time.DateOnly, b)
	if err != nil || err2 != nil {
		return 0
	}
	return int(to.Sub(from).Hours() / 24)
}
