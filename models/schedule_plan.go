package models

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"gorm.io/gorm"

	"tenter/models/schedule"
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
	Lacks     []string // what the schedule can't know
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

const (
	// usualDraws keeps a page's answer well within a second; mostDrawSteps
	// bounds what a request may cost (both chosen).
	usualDraws    = 10_000
	mostDrawSteps = 12_000_000
	scheduleSeed  = 1
)

// Schedule reckons a design's schedule as things stand.
func (s *Store) Schedule(ctx context.Context, idOrSlug string) (*Schedule, error) {
	r, err := s.scheduleRows(ctx, idOrSlug)
	if err != nil {
		return nil, err
	}
	return s.reckon(ctx, r)
}

// scheduleRows is what a schedule is made of.
type scheduleRows struct {
	*filmingRows
	zone      *Studio
	estimates map[string]Estimate
	people    []*Person // the studio's own, by id
	hours     map[string]PersonWork
	calls     []callRow
	signed    bool // a sign-off of the latest version stands
	remarks   int  // not settled
}

type callRow struct {
	ID, Title string
	DueOn     Date
}

func (s *Store) scheduleRows(ctx context.Context, idOrSlug string) (*scheduleRows, error) {
	film, err := s.filmingRows(ctx, idOrSlug)
	if err != nil {
		return nil, err
	}
	r := &scheduleRows{filmingRows: film}
	db := s.read(ctx)
	if r.zone, err = studioIn(db); err != nil {
		return nil, err
	}
	if r.estimates, err = estimatesIn(db, r.design.ID); err != nil {
		return nil, err
	}
	if err := db.Where(`disabled_at IS NULL AND EXISTS (SELECT 1 FROM person_roles r WHERE r.person_id = people.id AND r.role <> ?)`, Tester).
		Order("id").Limit(schedule.MaxPeople).Find(&r.people).Error; err != nil {
		return nil, fmt.Errorf("people of schedule: %w", err)
	}
	if err := withRoles(db, r.people); err != nil {
		return nil, err
	}
	ids := make([]string, len(r.people))
	for i, p := range r.people {
		ids[i] = p.ID
	}
	if r.hours, err = workIn(db, ids); err != nil {
		return nil, err
	}
	return r, r.readTesting(db)
}

func (r *scheduleRows) readTesting(db *gorm.DB) error {
	if err := db.Raw("SELECT id, title, due_on FROM test_calls WHERE design_id = ? AND closed_at IS NULL ORDER BY id", r.design.ID).Scan(&r.calls).Error; err != nil {
		return fmt.Errorf("calls of schedule: %w", err)
	}
	var standing int64
	if err := db.Raw("SELECT (SELECT count(*) FROM sign_offs WHERE version_id = ? AND withdrawn_at IS NULL), (SELECT count(*) FROM remarks WHERE design_id = ? AND settled_at IS NULL)",
		r.sheet.Version.ID, r.design.ID).Row().Scan(&standing, &r.remarks); err != nil {
		return fmt.Errorf("sign-off of schedule: %w", err)
	}
	r.signed = standing > 0
	return nil
}

// reckon builds the tasks and hands them to the calculation.
func (s *Store) reckon(ctx context.Context, r *scheduleRows) (*Schedule, error) {
	b := newTaskList(r, "")
	if err := s.listTasks(b, r); err != nil {
		return nil, err
	}
	out := &Schedule{Today: r.today, Design: r.design, Tasks: b.tasks, Estimates: r.estimates, Lacks: b.lacks, People: map[string]PersonWork{}}
	for _, p := range b.people() {
		out.People[p.Handle] = r.hours[p.ID]
	}
	if len(b.tasks) == 0 {
		out.Words = "Nothing is left to schedule."
		return out, nil
	}
	in := b.input(r.today)
	steps := len(in.Tasks)
	for _, t := range in.Tasks {
		steps += len(t.After)
	}
	in.Draws, in.Seed = max(500, min(usualDraws, mostDrawSteps/steps)), scheduleSeed
	answer, err := s.calculateSchedule(ctx, in)
	if err != nil {
		return nil, err
	}
	out.Draws = in.Draws
	for i := range out.Tasks {
		out.Tasks[i].Plan = answer.Tasks[i]
	}
	out.Chain, out.Words = answer.CriticalChain, chainWords(answer)
	for _, f := range answer.Findings {
		out.Findings = append(out.Findings, datesInWords(f.Message, r.today))
	}
	out.Week = b.week(answer)
	return out, nil
}

// calculateSchedule keeps the draws of several requests from taking the whole
// machine: a few at a time, and nobody waits longer than the request may take.
func (s *Store) calculateSchedule(ctx context.Context, in schedule.Input) (schedule.Output, error) {
	select {
	case s.drawing <- struct{}{}:
		defer func() { <-s.drawing }()
	case <-ctx.Done():
		return schedule.Output{}, ctx.Err()
	}
	out, err := schedule.Calculate(in)
	var fault *schedule.FieldError
	if errors.As(err, &fault) {
		return out, failf(Conflict, "The schedule can't be reckoned: %s %s.", fault.Field, fault.Problem)
	}
	return out, err
}

// chainWords tells the critical chain as a sentence.
func chainWords(out schedule.Output) string {
	if len(out.CriticalChain) == 0 {
		return "Nothing presses."
	}
	last := out.CriticalChain[len(out.CriticalChain)-1]
	slack := 0
	for _, t := range out.Tasks {
		if t.ID == out.CriticalChain[0] {
			slack = t.SlackDays
		}
	}
	words := strings.Join(out.CriticalChain, ", then ")
	switch {
	case len(out.CriticalChain) == 1:
		words = fmt.Sprintf("What presses most: %s", last)
	default:
		words = fmt.Sprintf("What presses most: %s", words)
	}
	switch {
	case slack < 0:
		return words + fmt.Sprintf("; it is %s too long for its day.", counted(-slack, "day"))
	case slack == 0:
		return words + "; there is no day to spare."
	}
	return words + fmt.Sprintf("; there %s %s to spare.", isAre(slack), counted(slack, "day"))
}

// taskList gathers the tasks of one design.
type taskList struct {
	r      *scheduleRows
	prefix string // before every name, where several designs are planned together
	tasks  []ScheduledTask
	lasts  []schedule.Task
	lacks  []string
	holds  []Hold
	names  *names
}

func newTaskList(r *scheduleRows, prefix string) *taskList {
	return &taskList{r: r, prefix: prefix, names: &names{}}
}

// who returns the person of a role that a task goes to: the preferred one when
// they have the role, else the first who has, else the designer, else nobody.
func (b *taskList) who(role Role, preferred *string) *Person {
	var found *Person
	for _, p := range b.r.people {
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
	t.Name = b.names.own(b.prefix + t.Name)
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
	for _, p := range b.r.people {
		if slices.ContainsFunc(b.tasks, func(t ScheduledTask) bool { return t.Who == p.Handle }) {
			out = append(out, p)
		}
	}
	return out
}

func (b *taskList) input(today Date) schedule.Input {
	in := schedule.Input{Today: string(today), Tasks: b.lasts}
	for _, p := range b.people() {
		in.People = append(in.People, b.r.hours[p.ID].asPerson(p.Handle, today))
	}
	return in
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

// week is what each person begins within the week, of one design.
func (b *taskList) week(answer schedule.Output) []PersonWeek {
	return weekOf(answer, func(name string) WeekTask {
		i := slices.IndexFunc(b.tasks, func(t ScheduledTask) bool { return t.Name == name })
		t := b.tasks[i]
		return WeekTask{Design: b.r.design, Name: t.Name, Due: Date(orElse(string(t.Due), string(t.On)))}
	})
}

func weekOf(answer schedule.Output, task func(name string) WeekTask) []PersonWeek {
	plan := map[string]schedule.TaskPlan{}
	for _, t := range answer.Tasks {
		plan[t.ID] = t
	}
	var out []PersonWeek
	for _, w := range answer.Week {
		person := PersonWeek{Who: w.Who}
		for _, name := range w.Tasks {
			t := task(name)
			t.From, t.Until = Date(plan[name].PlannedStart), Date(plan[name].PlannedFinish)
			person.Tasks = append(person.Tasks, t)
		}
		out = append(out, person)
	}
	return out
}
