package models

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"tenter/models/schedule"
	"tenter/models/together"
)

// Schedule is when everything that a design still needs can be done, by whom,
// and how likely each announced day is to be kept.
type Schedule struct {
	Today     Date
	Design    *Design
	Tasks     []ScheduledTask
	Chain     []string // names of the critical chain's tasks, in order
	Words     string   // the chain and its slack, in a sentence
	Week      []PersonWeek
	Findings  []string
	Estimates map[string]Estimate
	People    map[string]PersonWork // by handle, of those who have something to do
	Draws     int
	Lacks     []string  // what the schedule can't know
	Together  []*Design // the other running designs that the same people work on
	Rule      string    // how they are planned together, in a sentence; "" when there are none

	others []otherDay // announced days of those designs
}

// ScheduledTask is a piece of work with its dates.
type ScheduledTask struct {
	Name        string // "record 3 Face edge"
	Kind        string
	Installment string  // id; "" for none
	Who         string  // handle; "" for nobody in particular
	Expected    float64 // hours, or days
	Unit        string
	On, Due     Date
	After       []string
	Plan        schedule.TaskPlan
	LaterDays   int        // by which other designs' work pushes its planned days back
	Waits       string     // for what of another design it waits, in a sentence; "" when it does not
	WaitsFrom   Date       // the day on which it could be started but for that
	WaitsFor    []WeekTask // what its person is at until then
	Through     string     // the task that waits, where this one is later only because of that
}

// PersonWeek is what somebody begins within a week.
type PersonWeek struct {
	Who   string
	Tasks []WeekTask
}

// WeekTask is a piece of work with its planned days.
type WeekTask struct {
	Design      *Design
	Name        string
	From, Until Date
	Due         Date
}

// scheduleSeed makes the same data give the same answer.
const scheduleSeed = 1

// Schedule reckons a design's schedule as things stand.
func (s *Store) Schedule(ctx context.Context, idOrSlug string) (*Schedule, error) {
	design, err := s.Design(ctx, idOrSlug)
	if err != nil {
		return nil, err
	}
	all, err := s.readSchedules(ctx, design)
	if err != nil {
		return nil, err
	}
	return s.reckon(ctx, all, design.ID)
}

// reckon plans a design together with those that share its people.
func (s *Store) reckon(ctx context.Context, all *studioRows, designID string) (*Schedule, error) {
	in, lists, left, err := s.tasksOf(all, designID)
	if err != nil {
		return nil, err
	}
	place := slices.IndexFunc(lists, func(b *taskList) bool { return b.r.design.ID == designID })
	b := lists[place]
	b.lackPeople()
	out := &Schedule{Today: all.today, Design: b.r.design, Tasks: b.tasks, Estimates: b.r.estimates, Lacks: b.lacks, People: map[string]PersonWork{}}
	for _, p := range b.people() {
		out.People[p.Handle] = all.hours[p.ID]
	}
	if len(b.tasks) == 0 {
		out.Words = "Nothing is left to schedule."
		return out, nil
	}
	plan, err := s.planTogether(ctx, in, place)
	if err != nil {
		return nil, err
	}
	out.Draws, out.Chain = plan.Draws, plan.Alone.CriticalChain
	t := telling{out: out, plan: plan, lists: lists}
	t.tasks()
	t.together(left)
	t.findings()
	out.Words = t.chain()
	out.Week = t.week(b)
	return out, nil
}

// planTogether keeps the draws of several requests from taking the whole
// machine: a few at a time, and nobody waits longer than the request may take.
func (s *Store) planTogether(ctx context.Context, in together.Input, place int) (together.Plan, error) {
	select {
	case s.drawing <- struct{}{}:
		defer func() { <-s.drawing }()
	case <-ctx.Done():
		return together.Plan{}, ctx.Err()
	}
	plan, err := in.Of(place)
	var fault *schedule.FieldError
	if errors.As(err, &fault) {
		return plan, failf(Conflict, "The schedule can't be reckoned: %s %s.", fault.Field, fault.Problem)
	}
	return plan, err
}

// taskList gathers the tasks of one design.
type taskList struct {
	r      *scheduleRows
	tasks  []ScheduledTask
	lasts  []schedule.Task
	lacks  []string
	holds  []Hold
	nobody []string // tasks in hours that nobody in the studio can do
	names  *names
}

func newTaskList(r *scheduleRows) *taskList { return &taskList{r: r, names: &names{}} }

// who returns the person of a role that a task goes to: the preferred one when
// they have the role, else the first who has, else the designer, else nobody.
func (b *taskList) who(role Role, preferred *string) *Person {
	var found *Person
	for _, p := range b.r.studio.people {
		switch {
		case preferred != nil && p.ID == *preferred:
			return p
		case found == nil && slices.Contains(p.Roles, role):
			found = p
		}
	}
	if found == nil && role != Designer {
		return b.who(Designer, nil)
	}
	return found
}

// add puts a task on the list and returns its name.
func (b *taskList) add(t ScheduledTask, who *Person, points [3]float64, after ...string) string {
	t.Name = b.names.own(t.Name)
	t.After = slices.DeleteFunc(slices.Clone(after), func(a string) bool { return a == "" })
	in := schedule.Task{ID: t.Name, After: t.After}
	for i := range points {
		points[i] = math.Round(points[i]*100) / 100
	}
	t.Expected = math.Round((points[0]+4*points[1]+points[2])/6*100) / 100
	if t.Unit == "hours" && who != nil && points[2] > 0 {
		in.Hours = points[:]
	} else {
		if t.Unit == "hours" { // nobody on file can do it: a day for each 3 hours
			for i := range points {
				points[i] = math.Ceil(points[i] / usualHoursPerDay)
			}
			b.nobody = append(b.nobody, t.Name)
		}
		t.Unit, in.Days = "days", points[:]
	}
	if who != nil {
		t.Who, in.Who = who.Handle, who.Handle
	}
	in.On, in.Due = b.within(&t.On, t.Name), b.within(&t.Due, t.Name)
	b.tasks, b.lasts = append(b.tasks, t), append(b.lasts, in)
	return t.Name
}

// within keeps dates out of the calculation that lie years away.
func (b *taskList) within(d *Date, name string) string {
	if *d == "" {
		return ""
	}
	if n := b.r.today.DaysUntil(*d); n > schedule.MaxHorizonDays/2 || n < -schedule.MaxHorizonDays/2 {
		b.lacks = append(b.lacks, fmt.Sprintf("%s is dated %s, more than five years away, and is not held to that day.", name, *d))
		*d = ""
		return ""
	}
	return string(*d)
}

// people lists those who have a task.
func (b *taskList) people() []*Person {
	var out []*Person
	for _, p := range b.r.studio.people {
		if slices.ContainsFunc(b.tasks, func(t ScheduledTask) bool { return t.Who == p.Handle }) {
			out = append(out, p)
		}
	}
	return out
}

// asPerson is somebody as the calculation knows them.
func (w PersonWork) asPerson(handle string, today Date) schedule.Person {
	p := schedule.Person{ID: handle, Days: w.DayList(), HoursPerDay: w.HoursPerDay}
	for _, a := range w.Away {
		for d := a.FromOn; d <= a.UntilOn && len(p.Away) < schedule.MaxAway; d = d.Add(1) {
			if d >= today && today.DaysUntil(d) < schedule.MaxHorizonDays {
				p.Away = append(p.Away, string(d))
			}
		}
	}
	slices.Sort(p.Away)
	p.Away = slices.Compact(p.Away)
	return p
}
