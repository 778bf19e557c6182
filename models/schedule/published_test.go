package schedule_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/models/schedule"
)

const today = "2026-03-02" // a Monday

// day gives the date some days after today.
func day(days int) string {
	t, err := time.Parse(time.DateOnly, today)
	if err != nil {
		panic(err)
	}
	return t.AddDate(0, 0, days).Format(time.DateOnly)
}

func exactly(days float64) []float64 { return []float64{days, days, days} }

func calculate(t *testing.T, in schedule.Input) schedule.Output {
	t.Helper()
	out, err := schedule.Calculate(in)
	require.NoError(t, err)
	return out
}

func planOf(t *testing.T, out schedule.Output, id string) schedule.TaskPlan {
	t.Helper()
	for _, p := range out.Tasks {
		if p.ID == id {
			return p
		}
	}
	require.Fail(t, "no task "+id)
	return schedule.TaskPlan{}
}

// activity is a row of a published critical-path table. Times are counted from
// the start of the plan; an activity that takes time is finished on the day
// before its EF or LF.
type activity struct {
	id             string
	days           []float64
	after          []string
	es, ef, ls, lf int
}

func checkTable(t *testing.T, table []activity, duration int, critical []string) {
	t.Helper()
	in := schedule.Input{Today: today, Draws: 1}
	for _, a := range table {
		in.Tasks = append(in.Tasks, schedule.Task{ID: a.id, Days: a.days, After: a.after})
	}
	out := calculate(t, in)
	var got []string
	end := 0
	for i, a := range table {
		last := 1
		if a.ef == a.es {
			last = 0
		}
		require.Equal(t, schedule.TaskPlan{
			ID: a.id, EarliestStart: day(a.es), EarliestFinish: day(a.ef - last),
			LatestStart: day(a.ls), LatestFinish: day(a.lf - last),
			PlannedStart: day(a.es), PlannedFinish: day(a.ef - last),
			SlackDays: a.ls - a.es, Critical: a.ls == a.es,
		}, out.Tasks[i])
		end = max(end, a.ef)
		if out.Tasks[i].Critical {
			got = append(got, a.id)
		}
	}
	require.Equal(t, duration, end)
	require.Equal(t, critical, got)
	require.Equal(t, critical, out.CriticalChain)
}

// Taylor, "Introduction to Management Science", solutions to chapter 8: the
// earliest and latest times and the slack are those printed there.
func TestTaylorSevenActivities(t *testing.T) {
	checkTable(t, []activity{
		{"1-2", exactly(7), nil, 0, 7, 2, 9},
		{"1-3", exactly(10), nil, 0, 10, 0, 10},
		{"2-4", exactly(6), []string{"1-2"}, 7, 13, 9, 15},
		{"3-4", exactly(5), []string{"1-3"}, 10, 15, 10, 15},
		{"3-5", exactly(4), []string{"1-3"}, 10, 14, 14, 18},
		{"4-5", exactly(3), []string{"2-4", "3-4"}, 15, 18, 15, 18},
		{"5-6", exactly(2), []string{"3-5", "4-5"}, 18, 20, 18, 20},
	}, 20, []string{"1-3", "3-4", "4-5", "5-6"})
}

// The same source; activity 4-5 takes no time.
func TestTaylorThirteenActivitiesWithOneOfNoTime(t *testing.T) {
	before5 := []string{"2-5", "3-5", "4-5"}
	checkTable(t, []activity{
		{"1-2", exactly(8), nil, 0, 8, 1, 9},
		{"1-3", exactly(10), nil, 0, 10, 0, 10},
		{"1-4", exactly(9), nil, 0, 9, 6, 15},
		{"2-5", exactly(6), []string{"1-2"}, 8, 14, 9, 15},
		{"2-6", exactly(4), []string{"1-2"}, 8, 12, 16, 20},
		{"3-5", exactly(5), []string{"1-3"}, 10, 15, 10, 15},
		{"4-5", exactly(0), []string{"1-4"}, 9, 9, 15, 15},
		{"4-7", exactly(7), []string{"1-4"}, 9, 16, 20, 27},
		{"5-7", exactly(12), before5, 15, 27, 15, 27},
		{"5-8", exactly(15), before5, 15, 30, 16, 31},
		{"6-9", exactly(18), []string{"2-6"}, 12, 30, 20, 38},
		{"7-8", exactly(4), []string{"4-7", "5-7"}, 27, 31, 27, 31},
		{"8-9", exactly(7), []string{"5-8", "7-8"}, 31, 38, 31, 38},
	}, 38, []string{"1-3", "3-5", "5-7", "7-8", "8-9"})
}

// reliableConstruction is the example of the Reliable Construction Co. in
// Hillier and Lieberman, "Introduction to Operations Research": three-point
// estimates, 44 weeks and the critical path A-B-C-E-F-J-L-N, from memory; the
// other times follow from them.
func reliableConstruction() []activity {
	return []activity{
		{"A", []float64{1, 2, 3}, nil, 0, 2, 0, 2},
		{"B", []float64{2, 3.5, 8}, []string{"A"}, 2, 6, 2, 6},
		{"C", []float64{6, 9, 18}, []string{"B"}, 6, 16, 6, 16},
		{"D", []float64{4, 5.5, 10}, []string{"C"}, 16, 22, 20, 26},
		{"E", []float64{1, 4.5, 5}, []string{"C"}, 16, 20, 16, 20},
		{"F", []float64{4, 4, 10}, []string{"E"}, 20, 25, 20, 25},
		{"G", []float64{5, 6.5, 11}, []string{"D"}, 22, 29, 26, 33},
		{"H", []float64{5, 8, 17}, []string{"E", "G"}, 29, 38, 33, 42},
		{"I", []float64{3, 7.5, 9}, []string{"C"}, 16, 23, 18, 25},
		{"J", []float64{3, 9, 9}, []string{"F", "I"}, 25, 33, 25, 33},
		{"K", []float64{4, 4, 4}, []string{"J"}, 33, 37, 34, 38},
		{"L", []float64{1, 5.5, 7}, []string{"J"}, 33, 38, 33, 38},
		{"M", []float64{1, 2, 3}, []string{"H"}, 38, 40, 42, 44},
		{"N", []float64{5, 5.5, 9}, []string{"K", "L"}, 38, 44, 38, 44},
	}
}

func TestReliableConstruction(t *testing.T) {
	checkTable(t, reliableConstruction(), 44, []string{"A", "B", "C", "E", "F", "J", "L", "N"})
}

// The textbook gives P(T ≤ 47) = 0.84 (from memory) from a normal distribution
// on the one critical path, which leaves out that other paths may become
// critical. 400,000 draws of the whole network with random.betavariate of Python
// 3.11 gave 0.8156 with standard error 0.0006.
func TestReliableConstructionProbability(t *testing.T) {
	const textbook, python = 0.84, 0.8156
	in := schedule.Input{Today: today, Draws: 200_000, Seed: 47, Tasks: []schedule.Task{
		{ID: "end", Days: exactly(0), After: []string{"M", "N"}, Due: day(46)},
	}}
	for _, a := range reliableConstruction() {
		in.Tasks = append(in.Tasks, schedule.Task{ID: a.id, Days: a.days, After: a.after})
	}
	end := planOf(t, calculate(t, in), "end")
	require.InDelta(t, textbook, *end.Probability, 0.03)
	require.InDelta(t, python, *end.Probability, 4*(*end.StandardError+0.0006))
}

// A published course exercise in PERT with 14 activities; its means are sixths
// of a day, so every estimate is taken six times, which makes the plan's whole
// days exact. Its earliest and latest times of A to F (5 1/3, 13 1/2, 15 1/3,
// 18 1/6, 20, ...) are printed there; the others were computed from its
// estimates and predecessors.
func TestCourseExerciseInSixthsOfADay(t *testing.T) {
	six := func(low, likely, high float64) []float64 { return []float64{6 * low, 6 * likely, 6 * high} }
	checkTable(t, []activity{
		{"A", six(5, 5, 7), nil, 0, 32, 0, 32},
		{"B", six(1, 2, 5), nil, 0, 14, 48, 62},
		{"C", six(5, 5, 5), []string{"A"}, 32, 62, 32, 62},
		{"D", six(4, 8, 13), []string{"A"}, 32, 81, 43, 92},
		{"E", six(1, 10, 17), []string{"B", "C"}, 62, 120, 62, 120},
		{"F", six(1, 5, 7), []string{"D"}, 81, 109, 92, 120},
		{"G", six(2, 6, 9), []string{"D"}, 81, 116, 111, 146},
		{"H", six(4, 4, 6), []string{"E", "F"}, 120, 146, 120, 146},
		{"I", six(2, 7, 10), []string{"G", "H"}, 146, 186, 146, 186},
		{"J", six(2, 4, 7), []string{"I"}, 186, 211, 201, 226},
		{"K", six(6, 10, 13), []string{"I"}, 186, 245, 186, 245},
		{"L", six(2, 6, 6), []string{"J"}, 211, 243, 226, 258},
		{"M", six(2, 2, 3), []string{"K"}, 245, 258, 245, 258},
		{"N", six(7, 7, 12), []string{"L", "M"}, 258, 305, 258, 305},
	}, 305, []string{"A", "C", "E", "H", "I", "K", "M", "N"})
}

// Taylor's worked PERT example (flylib.com/books/en/3.287.1.117): critical path
// 1, 3, 5, 7, expected duration 24, and P(T ≤ 28) = 0.9633 from a normal
// distribution with variance 5. The beta distributions themselves are skew to
// the late side and have variance 5.857, so the published value is a little too
// hopeful: the draws are held to 1.5 million draws with random.betavariate of
// Python 3.11, 0.9389 with standard error 0.0002, and lie within 0.03 of the
// published value.
func TestTaylorPertProbability(t *testing.T) {
	const published, python = 0.9633, 0.9389
	out := calculate(t, schedule.Input{Today: today, Draws: 200_000, Seed: 1, Tasks: []schedule.Task{
		{ID: "1", Days: []float64{5, 8, 17}},
		{ID: "3", Days: []float64{3, 5, 7}, After: []string{"1"}},
		{ID: "5", Days: []float64{4, 6, 8}, After: []string{"3"}},
		{ID: "7", Days: []float64{3, 4, 5}, After: []string{"5"}, Due: day(27)},
	}})
	last := planOf(t, out, "7")
	require.Equal(t, day(23), last.EarliestFinish)
	require.InDelta(t, published, *last.Probability, 0.03)
	require.InDelta(t, python, *last.Probability, 4*(*last.StandardError+0.0002))
}

// A pattern release: sample, grade and write, test,
// layout, with photos beside. Computed with numpy, 4 million draws:
// P(end ≤ 55 days) = 0.9042, mean 48.945, 80th percentile 52.829. Times are
// taken tenfold, so that days of the calendar are tenths of a day: 400 tasks
// that take no time and are due on successive days then give the distribution
// of the end, and its mean by the trapezoid rule.
func TestReleaseAgainstNumpy(t *testing.T) {
	const scale, draws = 10, 100_000
	times := func(low, likely, high float64) []float64 {
		return []float64{scale * low, scale * likely, scale * high}
	}
	in := schedule.Input{Today: today, Draws: draws, Seed: 20260302, Tasks: []schedule.Task{
		{ID: "sample", Days: times(8, 10, 15)},
		{ID: "grade", Days: times(3, 5, 9), After: []string{"sample"}},
		{ID: "write", Days: times(4, 6, 8), After: []string{"sample"}},
		{ID: "photo", Days: times(2, 3, 10), After: []string{"sample"}},
		{ID: "test", Days: times(20, 28, 42), After: []string{"grade", "write"}},
		{ID: "layout", Days: times(2, 3, 5), After: []string{"test", "photo"}},
	}}
	const first, last = 34 * scale, 72 * scale // the end lies between 34 and 71 days
	for k := first; k <= last; k++ {
		in.Tasks = append(in.Tasks, schedule.Task{ID: day(k), Days: exactly(0), After: []string{"layout"}, Due: day(k - 1)})
	}
	out := calculate(t, in)
	by := func(k int) float64 { return *planOf(t, out, day(k)).Probability }

	p55 := planOf(t, out, day(55*scale))
	require.InDelta(t, 0.9042, *p55.Probability, 4**p55.StandardError)
	require.InDelta(t, 0.00093, *p55.StandardError, 0.00001, "√(0.9042 × 0.0958 / 100,000)")

	require.Zero(t, by(first))
	require.Equal(t, 1.0, by(last))
	mean := float64(first)
	for k := first; k < last; k++ {
		mean += 1 - (by(k)+by(k+1))/2
	}
	sd := 4.6 // of the end, in days; a rough figure to set the tolerance
	require.InDelta(t, 48.945, mean/scale, 4*sd/316)
	require.Less(t, by(528), 0.8+0.004, "80th percentile 52.829, four standard errors")
	require.Greater(t, by(529), 0.8-0.004)
}
