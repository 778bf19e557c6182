package schedule_test

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mathext"

	"tenter/models/schedule"
)

// pertBelow is the probability that a beta-PERT estimate takes at most x: the
// regularised incomplete beta function, which the draws do not use.
func pertBelow(points []float64, x float64) float64 {
	low, likely, high := points[0], points[1], points[2]
	z := (x - low) / (high - low)
	if z <= 0 || z >= 1 {
		return math.Min(1, math.Max(0, math.Ceil(z)))
	}
	return mathext.RegIncBeta(1+4*(likely-low)/(high-low), 1+4*(high-likely)/(high-low), z)
}

func TestProbabilityOfOneTask(t *testing.T) {
	for _, tc := range []struct {
		shows string
		tasks []schedule.Task
		want  float64 // of the last task
	}{
		{"days, due at the end of day 5", []schedule.Task{{ID: "a", Days: []float64{3, 4, 8}, Due: day(4)}}, pertBelow([]float64{3, 4, 8}, 5)},
		{"likely is low", []schedule.Task{{ID: "a", Days: []float64{3, 3, 8}, Due: day(3)}}, pertBelow([]float64{3, 3, 8}, 4)},
		{"likely is high", []schedule.Task{{ID: "a", Days: []float64{3, 8, 8}, Due: day(6)}}, pertBelow([]float64{3, 8, 8}, 7)},
		{"certain, and just in time", []schedule.Task{{ID: "a", Days: exactly(5), Due: day(4)}}, 1},
		{"certain, and just too late", []schedule.Task{{ID: "a", Days: exactly(5), Due: day(3)}}, 0},
		{"in the draws a not_before counts from the start of its day",
			[]schedule.Task{{ID: "a", Days: []float64{3, 4, 8}, NotBefore: day(2), Due: day(6)}}, pertBelow([]float64{3, 4, 8}, 5)},
		{"announced: what comes before has ended by the start of the day",
			[]schedule.Task{{ID: "a", Days: []float64{3, 4, 8}}, {ID: "b", Days: exactly(0), After: []string{"a"}, On: day(5)}}, pertBelow([]float64{3, 4, 8}, 5)},
		{"announced for today with nothing before", []schedule.Task{{ID: "a", Days: exactly(1), On: day(0)}}, 1},
		{"announced for a past day", []schedule.Task{{ID: "a", Days: exactly(1), On: day(-1)}}, 0},
		{"announced before it may start", []schedule.Task{{ID: "a", Days: exactly(1), On: day(1), NotBefore: day(2)}}, 0},
		{"a task starts on its announced day, not before",
			[]schedule.Task{{ID: "a", Days: []float64{1, 2, 6}, On: day(3), Due: day(5)}}, pertBelow([]float64{1, 2, 6}, 3)},
		{"three hours on Monday, three on Wednesday, due on Tuesday",
			[]schedule.Task{{ID: "a", Who: "filmer", Hours: []float64{1, 2, 8}, Due: day(1)}}, pertBelow([]float64{1, 2, 8}, 3)},
		{"and due on Wednesday", []schedule.Task{{ID: "a", Who: "filmer", Hours: []float64{1, 2, 8}, Due: day(2)}}, pertBelow([]float64{1, 2, 8}, 6)},
		{"the person's other task, which is due first, takes two of the hours",
			[]schedule.Task{{ID: "b", Who: "filmer", Hours: exactly(2), Due: day(0)}, {ID: "a", Who: "filmer", Hours: []float64{1, 2, 8}, Due: day(3)}}, pertBelow([]float64{1, 2, 8}, 7)},
		{"announced for a day off", []schedule.Task{{ID: "a", Who: "filmer", Hours: exactly(1), On: day(1)}}, 0},
		{"announced for a day that the person's other task may take up",
			[]schedule.Task{{ID: "b", Who: "filmer", Hours: []float64{1, 2, 8}, Due: day(0)}, {ID: "a", Who: "filmer", Hours: exactly(1), On: day(2)}}, pertBelow([]float64{1, 2, 8}, 6)},
	} {
		t.Run(tc.shows, func(t *testing.T) {
			const draws = 40_000
			out := calculate(t, schedule.Input{Today: today, Draws: draws, Seed: 11, People: []schedule.Person{filmer()}, Tasks: tc.tasks})
			got := out.Tasks[len(out.Tasks)-1]
			error1 := math.Sqrt(tc.want * (1 - tc.want) / draws)
			require.InDelta(t, tc.want, *got.Probability, 4*error1)
			p := *got.Probability
			require.InDelta(t, math.Sqrt(p*(1-p)/draws), *got.StandardError, 1e-15)
		})
	}
}

func TestOnlyDatedTasksHaveAProbability(t *testing.T) {
	out := calculate(t, example())
	require.Nil(t, planOf(t, out, "make-2").Probability)
	require.NotNil(t, planOf(t, out, "air-2").Probability)
}

func TestDrawsThatAreLeftOutAreTenThousand(t *testing.T) {
	in := example()
	in.Tasks[1].Due = day(11) // some draws miss it
	want := calculate(t, in)
	in.Draws = 0
	require.Equal(t, want, calculate(t, in))
}

// season is a plan of about n tasks: garments that are made, filmed, edited and
// announced, each person with several at a time.
func season(n int) schedule.Input {
	r := rand.New(rand.NewPCG(1, 1))
	in := schedule.Input{Today: today, Draws: 10_000, Seed: 1, People: []schedule.Person{
		filmer(), {ID: "editor", Days: []string{"mon", "tue", "wed", "thu", "fri"}, HoursPerDay: 4},
	}}
	for k := 0; len(in.Tasks) < n; k++ {
		id := func(name string) string { return fmt.Sprintf("%s-%d", name, k) }
		high := 4 + r.Float64()*6
		on := 10 + 3*k
		in.Tasks = append(in.Tasks,
			schedule.Task{ID: id("make"), Days: []float64{2, 3, high}},
			schedule.Task{ID: id("film"), Who: "filmer", Hours: []float64{1, 2, 4}, After: []string{id("make")}},
			schedule.Task{ID: id("edit"), Who: "editor", Hours: []float64{2, 3, 8}, After: []string{id("film")}, Due: day(on - 1)},
			schedule.Task{ID: id("air"), Days: exactly(0), After: []string{id("edit")}, On: day(on)})
		if k > 0 {
			in.Tasks[len(in.Tasks)-3].After = append(in.Tasks[len(in.Tasks)-3].After, fmt.Sprintf("film-%d", k-1))
		}
	}
	return in
}

func TestSameSeedSameAnswerOnAnyNumberOfProcessors(t *testing.T) {
	in := season(40)
	document := func() string {
		text, err := json.Marshal(calculate(t, in))
		require.NoError(t, err)
		return string(text)
	}
	want := document()
	before := runtime.GOMAXPROCS(1)
	defer runtime.GOMAXPROCS(before)
	require.Equal(t, want, document())
	runtime.GOMAXPROCS(7)
	require.Equal(t, want, document())
	in.Seed = 2
	require.NotEqual(t, want, document(), "another seed draws otherwise")
}

func BenchmarkSchedule(b *testing.B) {
	for _, size := range []struct{ tasks, draws int }{{300, 10_000}, {300, 1}, {500, 80_000}} {
		b.Run(fmt.Sprintf("%d tasks, %d draws", size.tasks, size.draws), func(b *testing.B) {
			in := season(size.tasks)
			in.Draws = size.draws
			for b.Loop() {
				if _, err := schedule.Calculate(in); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
