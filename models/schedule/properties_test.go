package schedule_test

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tenter/models/schedule"
)

// byDate is the critical path method in dates, as the rules are worded: a task
// of d days started on day t is finished on t+d−1, its followers start on t+d;
// one of no time is finished on the day it starts, as may its followers be
// started. Days are numbers from today.
type byDate struct {
	in       schedule.Input
	place    map[string]int
	start    map[int]int
	end      map[int]int // latest finish
	lastDate int
}

func newByDate(in schedule.Input) *byDate {
	b := &byDate{in: in, place: map[string]int{}, start: map[int]int{}, end: map[int]int{}}
	for i, t := range in.Tasks {
		b.place[t.ID] = i
	}
	for i := range in.Tasks {
		b.lastDate = max(b.lastDate, b.finish(i, b.earliest(i)))
	}
	return b
}

func (b *byDate) length(i int) int { return int(b.in.Tasks[i].Days[0]) }

func (b *byDate) finish(i, start int) int { return start + max(b.length(i)-1, 0) }

func (b *byDate) earliest(i int) int {
	if s, known := b.start[i]; known {
		return s
	}
	t := b.in.Tasks[i]
	s := 0
	if t.NotBefore != "" {
		s = max(s, offset(t.NotBefore))
	}
	if t.On != "" {
		s = max(s, offset(t.On))
	}
	for _, name := range t.After {
		p := b.place[name]
		s = max(s, b.earliest(p)+b.length(p))
	}
	b.start[i] = s
	return s
}

func (b *byDate) latestFinish(i int) int {
	if f, known := b.end[i]; known {
		return f
	}
	t := b.in.Tasks[i]
	f := math.MaxInt
	if t.Due != "" {
		f = offset(t.Due)
	}
	if t.On != "" {
		f = min(f, b.finish(i, offset(t.On)))
	}
	for j, u := range b.in.Tasks {
		if slices.Contains(u.After, t.ID) {
			start := b.latestStart(j)
			if b.length(i) > 0 {
				start--
			}
			f = min(f, start)
		}
	}
	if f == math.MaxInt {
		f = b.lastDate
	}
	b.end[i] = f
	return f
}

func (b *byDate) latestStart(i int) int { return b.latestFinish(i) - max(b.length(i)-1, 0) }

func offset(date string) int {
	a, _ := time.Parse(time.DateOnly, today)
	z, _ := time.Parse(time.DateOnly, date)
	return int(z.Sub(a) / (24 * time.Hour))
}

// drawTasks makes tasks without a circle, and mixes their order.
func drawTasks(t *rapid.T, people []string) []schedule.Task {
	n := rapid.IntRange(1, 12).Draw(t, "tasks")
	tasks := make([]schedule.Task, n)
	for i := range tasks {
		task := &tasks[i]
		task.ID = fmt.Sprintf("t%02d", i)
		if len(people) > 0 && rapid.Bool().Draw(t, "by a person") {
			task.Who = rapid.SampledFrom(people).Draw(t, "who")
			task.Hours = exactly(float64(rapid.IntRange(0, 16).Draw(t, "half hours")) / 2)
		} else {
			task.Days = exactly(float64(rapid.IntRange(0, 5).Draw(t, "days")))
		}
		for j := range i {
			if rapid.IntRange(0, 3).Draw(t, "waits") == 0 {
				task.After = append(task.After, tasks[j].ID)
			}
		}
		for _, into := range []*string{&task.On, &task.NotBefore, &task.Due} {
			if rapid.IntRange(0, 4).Draw(t, "dated") == 0 {
				*into = day(rapid.IntRange(-3, 20).Draw(t, "day"))
			}
		}
	}
	return rapid.Permutation(tasks).Draw(t, "order")
}

func TestDatesFollowTheRulesAsWorded(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := schedule.Input{Today: today, Draws: 1, Tasks: drawTasks(t, nil)}
		out, err := schedule.Calculate(in)
		require.NoError(t, err)
		want := newByDate(in)
		least := math.MaxInt
		for i := range in.Tasks {
			least = min(least, want.latestStart(i)-want.earliest(i))
		}
		for i, task := range in.Tasks {
			got := out.Tasks[i]
			es := want.earliest(i)
			late := 0
			if task.On != "" {
				late = max(late, es-offset(task.On))
			}
			if task.Due != "" {
				late = max(late, want.finish(i, es)-offset(task.Due))
			}
			got.Probability, got.StandardError = nil, nil
			require.Equal(t, schedule.TaskPlan{
				ID: task.ID, EarliestStart: day(es), EarliestFinish: day(want.finish(i, es)),
				LatestStart: day(want.latestStart(i)), LatestFinish: day(want.latestFinish(i)),
				PlannedStart: day(es), PlannedFinish: day(want.finish(i, es)),
				SlackDays: want.latestStart(i) - es, Critical: want.latestStart(i)-es == least, LateByDays: late,
			}, got)
		}
	})
}

// What any plan with people must obey, whatever the order chosen.
func TestPlanWithPeopleCanBeDone(t *testing.T) {
	editor := schedule.Person{ID: "editor", Days: []string{"tue", "wed", "sat"}, HoursPerDay: 2.5, Away: []string{day(5), day(8)}}
	people := []schedule.Person{filmer(), editor}
	rapid.Check(t, func(t *rapid.T) {
		in := schedule.Input{Today: today, Draws: 1, People: people, Tasks: drawTasks(t, []string{"filmer", "editor"})}
		out, err := schedule.Calculate(in)
		require.NoError(t, err)
		planned := map[string]schedule.TaskPlan{}
		for _, p := range out.Tasks {
			planned[p.ID] = p
			require.GreaterOrEqual(t, p.PlannedStart, p.EarliestStart, "people only make it later")
			require.LessOrEqual(t, p.PlannedStart, p.PlannedFinish)
		}
		for _, task := range in.Tasks {
			for _, name := range task.After {
				require.LessOrEqual(t, planned[name].PlannedFinish, planned[task.ID].PlannedStart)
			}
		}
		for who, list := range out.Order {
			checkWorkload(t, people[who], list, in, planned)
		}
	})
}

// checkWorkload holds a person's tasks to the hours that there are between the
// first and the last day of each run of them.
func checkWorkload(t *rapid.T, who schedule.Person, list schedule.PersonList, in schedule.Input, planned map[string]schedule.TaskPlan) {
	hours := map[string]float64{}
	var work []string
	for _, task := range in.Tasks {
		if task.Who == who.ID {
			hours[task.ID] = task.Hours[0]
		}
	}
	require.Len(t, list.Tasks, len(hours), "each task once")
	for _, id := range list.Tasks {
		if hours[id] > 0 {
			work = append(work, id)
		}
	}
	for i := range work {
		sum := 0.0
		for j := i; j < len(work); j++ {
			require.LessOrEqual(t, planned[work[i]].PlannedStart, planned[work[j]].PlannedStart, "in the order of the list")
			sum += hours[work[j]]
			require.LessOrEqual(t, sum, hoursBetween(who, offset(planned[work[i]].PlannedStart), offset(planned[work[j]].PlannedFinish)))
		}
	}
}

func hoursBetween(who schedule.Person, first, last int) (hours float64) {
	names := []string{"mon", "tue", "wed", "thu", "fri", "sat", "sun"} // today is a Monday
	for d := first; d <= last; d++ {
		if slices.Contains(who.Days, names[(d%7+7)%7]) && !slices.Contains(who.Away, day(d)) {
			hours += who.HoursPerDay
		}
	}
	return hours
}

func TestOrderOfTheInputDoesNotMatter(t *testing.T) {
	editor := schedule.Person{ID: "editor", Days: []string{"tue", "wed", "sat"}, HoursPerDay: 2.5}
	rapid.Check(t, func(t *rapid.T) {
		in := schedule.Input{Today: today, Draws: 40, Seed: 5, People: []schedule.Person{filmer(), editor}, Tasks: drawTasks(t, []string{"filmer", "editor"})}
		for i := range in.Tasks { // some spread, so that the draws differ
			for _, points := range [][]float64{in.Tasks[i].Days, in.Tasks[i].Hours} {
				if points != nil {
					points[2] += 4
				}
			}
		}
		before, err := json.Marshal(in)
		require.NoError(t, err)
		a, err := schedule.Calculate(in)
		require.NoError(t, err)
		after, err := json.Marshal(in)
		require.NoError(t, err)
		require.Equal(t, string(before), string(after), "the input is only read")

		mixed := in
		mixed.Tasks = rapid.Permutation(in.Tasks).Draw(t, "another order")
		for i := range mixed.Tasks {
			mixed.Tasks[i].After = rapid.Permutation(mixed.Tasks[i].After).Draw(t, "another order of after")
		}
		mixed.People = []schedule.Person{editor, filmer()}
		b, err := schedule.Calculate(mixed)
		require.NoError(t, err)
		require.Equal(t, a.CriticalChain, b.CriticalChain)
		require.ElementsMatch(t, a.Tasks, b.Tasks)
		require.ElementsMatch(t, a.Order, b.Order)
		require.ElementsMatch(t, a.Findings, b.Findings)
	})
}
