// Package together plans several designs on which the same people work.
//
// Every design is planned twice. Alone, as if the studio had no other: that
// gives its earliest and latest dates, its slack and its critical chain, which
// set people aside and so are its own. And together with the designs that its
// people also work on, in one calculation: that gives the days on which
// somebody gets round to it. The rule is the schedule's own: one thing at a
// time for each person, and of what can be started, what has to be finished
// first goes first.
//
// A chance is never put higher than the design would have alone. One more task
// in a plan of this kind can bring another forward by accident (Graham, "Bounds
// on multiprocessing timing anomalies", SIAM Journal on Applied Mathematics 17,
// 1969; from memory): somebody who waits for what is late elsewhere does
// something else meanwhile. Nobody would promise a day on such luck.
package together

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"tenter/models/schedule"
)

const (
	fewestDraws = 500
	// mostSteps bounds draws × (tasks + entries of after) of one calculation,
	// so that a page's answer stays within a second (chosen).
	mostSteps = 6_000_000
	// MaxDesigns bounds how many designs are planned together.
	MaxDesigns = 100
)

// Input is the studio's work as known today. Designs come in the order in which
// ties are broken; the names of their tasks are unique within each.
type Input struct {
	Today   string // YYYY-MM-DD
	Seed    int64
	Draws   int // at most; 0 for the schedule's default
	People  []schedule.Person
	Designs [][]schedule.Task
}

// Plan is one design's plan, its tasks in the order of the input.
type Plan struct {
	Alone schedule.Output // as if the studio had no other design
	Tasks []Task
	Draws int   // of the chances in Tasks, at least
	With  []int // places of the other designs in the same calculation, rising
	// Group holds, for each design of that calculation by its place, its tasks
	// as planned together.
	Group map[int][]schedule.TaskPlan
	Order []Turns // of everybody in that calculation
	Apart error   // why the other designs could not be planned with it; nil: they were
}

// Left are designs that could not be planned, and why.
type Left struct {
	Designs []int
	Why     error
}

// Task is a task with its days alone, and with those on which it is planned
// together with the other designs.
type Task struct {
	schedule.TaskPlan
	LaterDays int    // by how much other designs push its planned days back
	Waits     *Wait  // it waits for another design itself
	Through   string // the task of this design that waits and so holds this one up; its own name when it waits itself
}

// Wait is why a task can't be started: its person is at something else.
type Wait struct {
	Who   string
	From  string // the day on which it could be started but for that
	Until string // the last day of that something
	Turns []Turn // what it is, in order
}

// Turn is a task of a design.
type Turn struct {
	Design       int // its place
	Task         string
	Start, Until string // planned days
}

// Turns are what somebody does, in order.
type Turns struct {
	Who   string
	Turns []Turn
}

// Of plans the design at a place.
func (in Input) Of(place int) (Plan, error) {
	if place < 0 || place >= len(in.Designs) || len(in.Designs) > MaxDesigns {
		return Plan{}, fmt.Errorf("there is no design %d among %d; at most %d are planned together", place, len(in.Designs), MaxDesigns)
	}
	alone, draws, err := in.calculate([]int{place}, in.draws())
	if err != nil {
		return Plan{}, err
	}
	all, group, apart := alone, in.group(place), error(nil)
	if len(group) > 1 {
		together, fewer, err := in.calculate(group, in.draws())
		if err == nil {
			all, draws = together, fewer
		} else {
			apart, group = err, []int{place}
		}
	}
	p := in.answer(group, place, alone, all)
	p.Draws, p.Apart = draws, apart
	return p, nil
}

// Everybody is what each person does, over all designs, in the order of people.
func (in Input) Everybody() (out []Turns, left []Left, err error) {
	if len(in.Designs) > MaxDesigns {
		return nil, nil, fmt.Errorf("there are %d designs; at most %d are planned together", len(in.Designs), MaxDesigns)
	}
	for _, p := range in.People {
		out = append(out, Turns{Who: p.ID})
	}
	for _, group := range in.groups() {
		all, _, err := in.calculate(group, 1) // what comes when needs no draws
		if err != nil {
			left = append(left, Left{group, err})
			continue
		}
		for _, t := range in.turns(group, all) {
			at := slices.IndexFunc(out, func(o Turns) bool { return o.Who == t.Who })
			out[at].Turns = append(out[at].Turns, t.Turns...)
		}
	}
	for _, o := range out { // who sees to tasks of two groups has them one behind the other
		slices.SortStableFunc(o.Turns, func(a, b Turn) int { return strings.Compare(a.Start, b.Start) })
	}
	return out, left, nil
}

func (in Input) draws() int {
	if in.Draws == 0 {
		return schedule.DefaultDraws
	}
	return in.Draws
}

// id is a task's name in a calculation of several designs. Ties are broken by
// it, so the earlier design goes first.
func id(place int, name string) string { return fmt.Sprintf("%02d %s", place, name) }

// taken undoes id.
func taken(id string) (place int, name string) {
	place, _ = strconv.Atoi(id[:2]) // written by id
	return place, id[3:]
}

// calculate plans some designs in one, with as many draws as their size allows.
func (in Input) calculate(group []int, draws int) (schedule.Output, int, error) {
	one := schedule.Input{Today: in.Today, Seed: in.Seed, People: in.People}
	steps := 0
	for _, place := range group {
		for _, t := range in.Designs[place] {
			steps += 1 + len(t.After)
			t.ID, t.After = id(place, t.ID), slices.Clone(t.After)
			for i, a := range t.After {
				t.After[i] = id(place, a)
			}
			one.Tasks = append(one.Tasks, t)
		}
	}
	if draws > 1 && steps > 0 {
		draws = min(draws, max(fewestDraws, mostSteps/steps))
	}
	one.Draws = draws
	out, err := schedule.Calculate(one)
	var fault *schedule.FieldError
	if errors.As(err, &fault) {
		for _, place := range group { // names as their readers know them
			fault.Problem = strings.ReplaceAll(fault.Problem, `"`+id(place, ""), `"`)
		}
	}
	return out, draws, err
}
