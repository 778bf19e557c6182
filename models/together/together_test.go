package together_test

import (
	"errors"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models/schedule"
	"tenter/models/together"
)

// monday is the first day of every case here.
const monday = "2026-03-02"

// filmer works six hours from Monday to Friday.
func filmer() schedule.Person {
	return schedule.Person{ID: "odile", Days: []string{"mon", "tue", "wed", "thu", "fri"}, HoursPerDay: 6}
}

func hours(n float64) []float64 { return []float64{n, n, n} }

// run is a design whose one installment is recorded in so many hours and airs
// on a day.
func run(n float64, on string) []schedule.Task {
	return []schedule.Task{
		{ID: "record 1", Who: "odile", Hours: hours(n)},
		{ID: "air 1", Days: hours(0), After: []string{"record 1"}, On: on},
	}
}

func of(t *testing.T, in together.Input, place int) together.Plan {
	t.Helper()
	p, err := in.Of(place)
	require.NoError(t, err)
	return p
}

// TestTwoDesignsOfOneFilmer is worked by hand. Both designs need 12 hours of the
// filmer and air on Thursday 5 March. The bonnet has to be recorded by Tuesday,
// so it goes first: Monday and Tuesday. The pullover's hours fill Wednesday and
// Thursday. Alone it would be ready on Tuesday and air in time; now it airs on
// Friday, a day late.
func TestTwoDesignsOfOneFilmer(t *testing.T) {
	in := together.Input{Today: monday, People: []schedule.Person{filmer()}, Designs: [][]schedule.Task{run(12, "2026-03-05"), run(12, "2026-03-05")}}
	in.Designs[0][0].Due = "2026-03-03"

	bonnet := of(t, in, 0)
	require.Equal(t, []int{1}, bonnet.With)
	require.Equal(t, "2026-03-02", bonnet.Tasks[0].PlannedStart)
	require.Equal(t, "2026-03-03", bonnet.Tasks[0].PlannedFinish)
	require.Zero(t, bonnet.Tasks[0].LaterDays)
	require.InDelta(t, 1, *bonnet.Tasks[1].Probability, 0)

	pullover := of(t, in, 1)
	record, air := pullover.Tasks[0], pullover.Tasks[1]
	require.Equal(t, "2026-03-04", record.PlannedStart)
	require.Equal(t, "2026-03-05", record.PlannedFinish)
	require.Equal(t, "2026-03-02", record.EarliestStart, "earliest dates set people aside")
	require.Equal(t, 2, record.LaterDays)
	require.Equal(t, &together.Wait{Who: "odile", From: monday, Until: "2026-03-03", Turns: []together.Turn{{Design: 0, Task: "record 1", Start: monday, Until: "2026-03-03"}}}, record.Waits)
	require.Equal(t, "record 1", record.Through)
	require.Equal(t, "2026-03-06", air.PlannedStart)
	require.Equal(t, 1, air.LaterDays)
	require.Nil(t, air.Waits)
	require.Equal(t, "record 1", air.Through, "it is late because the recording waits")
	require.InDelta(t, 0, *air.Probability, 0)
	require.InDelta(t, 1, *pullover.Alone.Tasks[1].Probability, 0)
	require.Equal(t, []string{"record 1", "air 1"}, pullover.Alone.CriticalChain)

	everybody, left, err := in.Everybody()
	require.NoError(t, err)
	require.Empty(t, left)
	require.Equal(t, []together.Turns{{Who: "odile", Turns: []together.Turn{
		{Design: 0, Task: "record 1", Start: monday, Until: "2026-03-03"}, {Design: 1, Task: "record 1", Start: "2026-03-04", Until: "2026-03-05"}}}}, everybody)
}

func TestDesignsWithoutACommonPersonDoNotMeet(t *testing.T) {
	maker := schedule.Person{ID: "pim", Days: []string{"mon"}, HoursPerDay: 2}
	in := together.Input{Today: monday, People: []schedule.Person{filmer(), maker}, Designs: [][]schedule.Task{
		run(12, "2026-03-05"),
		{{ID: "make 1", Who: "pim", Hours: hours(2)}, {ID: "wait", Who: "odile", Days: hours(9)}},
		nil,
	}}
	alone := of(t, together.Input{Today: monday, People: in.People, Designs: in.Designs[:1]}, 0)
	require.Equal(t, alone, of(t, in, 0), "days that somebody only sees to take none of their time")
	require.Empty(t, alone.With)
	require.Equal(t, alone.Alone.Tasks[0], alone.Tasks[0].TaskPlan)
	require.Empty(t, of(t, in, 2).Tasks)
}

// TestDesignsMeetThroughAThird: the first and the last share nobody, but both
// wait for what the one between them leaves.
func TestDesignsMeetThroughAThird(t *testing.T) {
	maker := schedule.Person{ID: "pim", Days: []string{"mon", "tue", "wed"}, HoursPerDay: 2}
	in := together.Input{Today: monday, People: []schedule.Person{filmer(), maker}, Designs: [][]schedule.Task{
		run(6, "2026-03-20"),
		{{ID: "make 1", Who: "pim", Hours: hours(2)}},
		{{ID: "make 1", Who: "pim", Hours: hours(2)}, {ID: "record 1", Who: "odile", Hours: hours(2), After: []string{"make 1"}}},
	}}
	require.Equal(t, []int{1, 2}, of(t, in, 0).With)
}

func TestWhatCannotBePlannedTogetherIsPlannedApart(t *testing.T) {
	in := together.Input{Today: monday, People: []schedule.Person{filmer()}, Designs: [][]schedule.Task{run(6, "2026-03-05"), run(10_000, "2026-03-05"), run(10_000, "2026-03-05")}}
	p := of(t, in, 0)
	require.Empty(t, p.With)
	require.InDelta(t, 1, *p.Tasks[1].Probability, 0)
	var fault *schedule.FieldError
	require.True(t, errors.As(p.Apart, &fault))
	require.Contains(t, fault.Problem, `with "record 1" the plan is longer than ten years`, "without the place of the design")
	_, left, err := in.Everybody()
	require.NoError(t, err)
	require.Len(t, left, 1)
	require.Equal(t, []int{0, 1, 2}, left[0].Designs)

	_, err = in.Of(3)
	require.Error(t, err)
	_, err = in.Of(-1)
	require.Error(t, err)
	in.Designs = make([][]schedule.Task, together.MaxDesigns+1)
	_, err = in.Of(0)
	require.Error(t, err)
	_, _, err = in.Everybody()
	require.Error(t, err)
}

// BenchmarkTogether plans a studio of designs that all share their people, with
// thirty tasks each.
func BenchmarkTogether(b *testing.B) {
	for _, designs := range []int{1, 2, 10, 20, 40} {
		in := studio(designs, 6)
		b.Run(fmt.Sprintf("%d designs", designs), func(b *testing.B) {
			for b.Loop() {
				if _, err := in.Of(0); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// studio has designs of so many installments, each made, recorded, edited,
// captioned and aired by the same three people.
func studio(designs, installments int) together.Input {
	in := together.Input{Today: monday, People: []schedule.Person{filmer(), {ID: "pim", Days: []string{"mon", "wed", "sat"}, HoursPerDay: 4}, {ID: "rue", Days: []string{"tue", "thu"}, HoursPerDay: 3}}}
	for d := range designs {
		var tasks []schedule.Task
		for i := range installments {
			last := ""
			for k, step := range []struct{ word, who string }{{"make", "pim"}, {"record", "odile"}, {"edit", "odile"}, {"caption", "rue"}} {
				t := schedule.Task{ID: fmt.Sprintf("%s %d", step.word, i+1), Who: step.who, Hours: []float64{0.5, 1 + float64(k)/4, 3}}
				if last != "" {
					t.After = []string{last}
				}
				last = t.ID
				tasks = append(tasks, t)
			}
			tasks = append(tasks, schedule.Task{ID: fmt.Sprintf("air %d", i+1), Days: hours(0), After: []string{last}, On: fmt.Sprintf("2026-%02d-%02d", 4+i%8, 1+d%28)})
		}
		in.Designs = append(in.Designs, tasks)
	}
	return in
}
