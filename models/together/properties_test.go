package together_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tenter/models/schedule"
	"tenter/models/together"
)

var week = []string{"sun", "mon", "tue", "wed", "thu", "fri", "sat"}

func day(n int) string {
	at, _ := time.Parse(time.DateOnly, monday)
	return at.AddDate(0, 0, n).Format(time.DateOnly)
}

func dayNumber(date string) int {
	from, _ := time.Parse(time.DateOnly, monday)
	to, _ := time.Parse(time.DateOnly, date)
	return int(to.Sub(from).Hours() / 24)
}

// drawPerson has four hours on some days of the week.
func drawPerson(t *rapid.T, id string) schedule.Person {
	p := schedule.Person{ID: id, HoursPerDay: 4}
	for i := range week {
		if rapid.IntRange(0, 2).Draw(t, id+" works") > 0 || i == 6 && len(p.Days) == 0 {
			p.Days = append(p.Days, week[i])
		}
	}
	return p
}

// simple is a piece of work of so many half hours, due on a day of its own, or
// one that is the second of two.
type simple struct {
	design, person, halves, due, after int
	id                                 string
}

// simulate does the work half hour by half hour: whoever is free takes what can
// be started and has to be finished first, then what stands first. It gives the
// days of start and finish, and whether the finish is in time.
func simulate(people []schedule.Person, tasks []simple) (start, finish []int) {
	start, finish = make([]int, len(tasks)), make([]int, len(tasks))
	left, at := make([]int, len(tasks)), make([]int, len(people))
	ended := make([]int, len(tasks)) // the half hour, counted from the first, after which it is done
	for i, x := range tasks {
		left[i], start[i], ended[i] = x.halves, -1, -1
	}
	for p := range at {
		at[p] = -1
	}
	halves := int(2 * people[0].HoursPerDay)
	undone := len(tasks)
	for now := 0; undone > 0; now++ {
		today := now / halves
		for p, person := range people {
			if !slices.Contains(person.Days, week[(1+today)%7]) {
				continue
			}
			if at[p] < 0 {
				for i, x := range tasks {
					open := x.person == p && start[i] < 0 && (x.after < 0 || ended[x.after] >= 0 && ended[x.after] <= now)
					if open && (at[p] < 0 || lastDay(person, x.due) < lastDay(person, tasks[at[p]].due)) {
						at[p] = i
					}
				}
				if at[p] < 0 {
					continue
				}
				start[at[p]] = today
			}
			if left[at[p]]--; left[at[p]] == 0 {
				finish[at[p]], ended[at[p]] = today, now+1
				at[p] = -1
				undone--
			}
		}
	}
	return start, finish
}

// lastDay is somebody's last working day up to a day.
func lastDay(p schedule.Person, day int) int {
	for !slices.Contains(p.Days, week[((1+day)%7+7)%7]) {
		day--
	}
	return day
}

// TestPlansLikeASimulationByTheHalfHour holds designs with fixed hours against
// a simulation that knows neither calendars nor latest dates.
func TestPlansLikeASimulationByTheHalfHour(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := together.Input{Today: monday, Draws: 500, People: []schedule.Person{drawPerson(t, "odile"), drawPerson(t, "pim")}}
		var all []simple
		for d := range rapid.IntRange(2, 3).Draw(t, "designs") {
			var tasks []schedule.Task
			for i := range rapid.IntRange(1, 4).Draw(t, "pairs") {
				due := rapid.IntRange(-3, 40).Draw(t, "due")
				for k, word := range []string{"a", "b"} { // b after a, and due so much later that a's own day counts
					x := simple{design: d, person: rapid.IntRange(0, 1).Draw(t, "who"), halves: rapid.IntRange(1, 12).Draw(t, "half hours"), due: due + 60*k, after: -1, id: fmt.Sprintf("%s %d", word, i)}
					task := schedule.Task{ID: x.id, Who: in.People[x.person].ID, Hours: hours(float64(x.halves) / 2), Due: day(x.due)}
					if k == 1 {
						x.after, task.After = len(all)-1, []string{fmt.Sprintf("a %d", i)}
					}
					all, tasks = append(all, x), append(tasks, task)
				}
			}
			in.Designs = append(in.Designs, tasks)
		}
		// The simulation takes what stands first among equals: by design, then by name.
		order := make([]int, len(all))
		for i := range order {
			order[i] = i
		}
		slices.SortFunc(order, func(i, j int) int {
			if d := all[i].design - all[j].design; d != 0 {
				return d
			}
			return strings.Compare(all[i].id, all[j].id)
		})
		sorted, place := make([]simple, len(all)), make([]int, len(all))
		for k, i := range order {
			sorted[k], place[i] = all[i], k
		}
		for k := range sorted {
			if sorted[k].after >= 0 {
				sorted[k].after = place[sorted[k].after]
			}
		}
		start, finish := simulate(in.People, sorted)
		k := 0
		for d := range in.Designs {
			p, err := in.Of(d)
			require.NoError(t, err)
			for _, task := range p.Tasks {
				i := place[k]
				x := sorted[i]
				if len(p.With) == len(in.Designs)-1 {
					require.Equal(t, day(start[i]), task.PlannedStart, "%s of design %d starts", x.id, d)
					require.Equal(t, day(finish[i]), task.PlannedFinish, "%s of design %d ends", x.id, d)
					if finish[i] > x.due {
						require.InDelta(t, 0, *task.Probability, 0)
					}
				}
				k++
			}
		}
	})
}

// drawRun is a design as the product builds one: installments that are made,
// recorded, edited and aired, by people who are drawn, with three points.
func drawRun(t *rapid.T, people []schedule.Person) []schedule.Task {
	var tasks []schedule.Task
	on := 0
	for i := range rapid.IntRange(1, 3).Draw(t, "installments") {
		last := ""
		for _, word := range []string{"make", "record", "edit"} {
			low := float64(rapid.IntRange(1, 8).Draw(t, "low")) / 2
			likely := low + float64(rapid.IntRange(0, 6).Draw(t, "likely"))/2
			x := schedule.Task{ID: fmt.Sprintf("%s %d", word, i), Who: people[rapid.IntRange(0, len(people)-1).Draw(t, "who")].ID, Hours: []float64{low, likely, likely + float64(rapid.IntRange(0, 9).Draw(t, "high"))}}
			if last != "" {
				x.After = []string{last}
			}
			last = x.ID
			tasks = append(tasks, x)
		}
		on += rapid.IntRange(1, 12).Draw(t, "days on")
		tasks = append(tasks, schedule.Task{ID: fmt.Sprintf("air %d", i), Days: hours(0), After: []string{last}, On: day(on)})
	}
	return tasks
}

func drawStudio(t *rapid.T) together.Input {
	in := together.Input{Today: monday, Draws: 500, People: []schedule.Person{drawPerson(t, "odile"), drawPerson(t, "pim")}}
	for range rapid.IntRange(1, 4).Draw(t, "designs") {
		in.Designs = append(in.Designs, drawRun(t, in.People))
	}
	return in
}

// TestOtherDesignsNeverMakeADayMoreLikely: whatever is added to a design, none
// of its days gets a better chance.
func TestOtherDesignsNeverMakeADayMoreLikely(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawStudio(t)
		alone := in
		alone.Designs = in.Designs[:1]
		before, err := alone.Of(0)
		require.NoError(t, err)
		after, err := in.Of(0)
		require.NoError(t, err)
		for i, was := range before.Tasks {
			if was.Probability == nil {
				continue
			}
			now := after.Tasks[i]
			require.LessOrEqual(t, *now.Probability, *was.Probability, was.ID)
			require.InDelta(t, math.Sqrt(*now.Probability*(1-*now.Probability)/float64(after.Draws)), *now.StandardError, 1e-3)
		}
		require.Equal(t, before.Alone, after.Alone, "slack and chain are the design's own")
	})
}

// TestNobodyIsPromisedTwice: within any days, nobody's planned hours are more
// than they work, over all designs.
func TestNobodyIsPromisedTwice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawStudio(t)
		everybody, left, err := in.Everybody()
		require.NoError(t, err)
		require.Empty(t, left)
		done := 0
		for who, turns := range everybody {
			for _, first := range turns.Turns {
				for _, last := range turns.Turns {
					from, until, planned := dayNumber(first.Start), dayNumber(last.Until), 0.0
					for _, x := range turns.Turns {
						if dayNumber(x.Start) >= from && dayNumber(x.Until) <= until {
							planned += expected(in.Designs[x.Design], x.Task)
						}
					}
					works := 0.0
					for d := from; d <= until; d++ {
						if slices.Contains(in.People[who].Days, week[(1+d)%7]) {
							works += in.People[who].HoursPerDay
						}
					}
					require.LessOrEqual(t, planned, works+1e-9, "%s from %d to %d", turns.Who, from, until)
				}
			}
			done += len(turns.Turns)
		}
		for place := range in.Designs {
			p, err := in.Of(place)
			require.NoError(t, err)
			for _, x := range p.Tasks {
				for _, turns := range everybody {
					for _, turn := range turns.Turns {
						if turn.Design == place && turn.Task == x.ID {
							require.Equal(t, [2]string{turn.Start, turn.Until}, [2]string{x.PlannedStart, x.PlannedFinish}, "the week and the schedule agree")
							done--
						}
					}
				}
			}
		}
		require.Zero(t, done)
	})
}

func expected(tasks []schedule.Task, name string) float64 {
	for _, x := range tasks {
		if x.ID == name && x.Hours != nil {
			return (x.Hours[0] + 4*x.Hours[1] + x.Hours[2]) / 6
		}
	}
	return 0
}

// TestWhatIsSaidOfWaitingIsSo: a task that waits does so for other designs'
// tasks of the same person, which end no earlier than it could be started, and
// one that is late through another names one that waits.
func TestWhatIsSaidOfWaitingIsSo(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawStudio(t)
		p, err := in.Of(0)
		require.NoError(t, err)
		waits := map[string]bool{}
		for i, x := range p.Tasks {
			if waits[x.ID] = x.Waits != nil; !waits[x.ID] {
				continue
			}
			require.Positive(t, x.LaterDays)
			require.GreaterOrEqual(t, x.PlannedStart, x.Waits.Until)
			require.GreaterOrEqual(t, x.Waits.Until, x.Waits.From)
			require.NotEmpty(t, x.Waits.Turns)
			for _, turn := range x.Waits.Turns {
				require.NotZero(t, turn.Design)
				k := slices.IndexFunc(in.Designs[turn.Design], func(o schedule.Task) bool { return o.ID == turn.Task })
				require.Equal(t, in.Designs[0][i].Who, in.Designs[turn.Design][k].Who)
			}
		}
		for _, x := range p.Tasks {
			if x.Through != "" {
				require.True(t, waits[x.Through], "%s is late through %s", x.ID, x.Through)
				require.Positive(t, x.LaterDays)
			}
		}
	})
}

func TestTheAnswerIsTheSameTwice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawStudio(t)
		a, err := in.Of(0)
		require.NoError(t, err)
		b, err := in.Of(0)
		require.NoError(t, err)
		require.Equal(t, a, b)
	})
}
