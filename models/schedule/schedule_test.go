package schedule_test

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models/schedule"
)

// filmer works three hours on Mondays, Wednesdays and Thursdays.
func filmer() schedule.Person {
	return schedule.Person{ID: "filmer", Days: []string{"mon", "wed", "thu"}, HoursPerDay: 3}
}

// example is a made sample, its filming, and the day it is announced for.
func example() schedule.Input {
	who := filmer()
	who.Away = []string{"2026-03-11"}
	return schedule.Input{
		Today: today, Draws: 10_000, Seed: 1,
		People: []schedule.Person{who},
		Tasks: []schedule.Task{
			{ID: "make-2", Days: []float64{3, 4, 8}},
			{ID: "film-2", Who: "filmer", Hours: []float64{2, 3, 6}, After: []string{"make-2"}, Due: "2026-03-16"},
			{ID: "air-2", Days: exactly(0), After: []string{"film-2"}, On: "2026-03-20"},
		},
	}
}

// Making takes 27/6 = 4.5, so 5 days, to Friday 6 March. Filming takes 20/6,
// so 3.5 hours: Monday 9, not Wednesday 11, Thursday 12; at the latest Thursday
// 12 and Monday 16, when it is due.
func TestAnswerAsDocument(t *testing.T) {
	got, err := json.Marshal(calculate(t, example()))
	require.NoError(t, err)
	require.JSONEq(t, `{
		"tasks": [
			{"id": "make-2", "earliest_start": "2026-03-02", "earliest_finish": "2026-03-06",
			 "latest_start": "2026-03-07", "latest_finish": "2026-03-11",
			 "planned_start": "2026-03-02", "planned_finish": "2026-03-06",
			 "slack_days": 5, "critical": false, "late_by_days": 0},
			{"id": "film-2", "earliest_start": "2026-03-09", "earliest_finish": "2026-03-12",
			 "latest_start": "2026-03-12", "latest_finish": "2026-03-16",
			 "planned_start": "2026-03-09", "planned_finish": "2026-03-12",
			 "slack_days": 3, "critical": false, "late_by_days": 0, "probability": 1, "standard_error": 0},
			{"id": "air-2", "earliest_start": "2026-03-20", "earliest_finish": "2026-03-20",
			 "latest_start": "2026-03-20", "latest_finish": "2026-03-20",
			 "planned_start": "2026-03-20", "planned_finish": "2026-03-20",
			 "slack_days": 0, "critical": true, "late_by_days": 0, "probability": 1, "standard_error": 0}],
		"critical_chain": ["make-2", "film-2", "air-2"],
		"week": [{"who": "filmer", "tasks": ["film-2"]}],
		"order": [{"who": "filmer", "tasks": ["film-2"]}],
		"findings": []
	}`, string(got))
}

func TestEmptyAnswerHasNoNull(t *testing.T) {
	got, err := json.Marshal(calculate(t, schedule.Input{Today: today}))
	require.NoError(t, err)
	require.JSONEq(t, `{"tasks": [], "critical_chain": [], "week": [], "order": [], "findings": []}`, string(got))
}

func TestDatesOfTasks(t *testing.T) {
	hours := func(h float64) []float64 { return exactly(h) }
	a := []string{"a"}
	for _, tc := range []struct {
		shows                    string
		tasks                    []schedule.Task
		es, ef, ls, lf, ps, pf   int // of the last task
		slack, late              int
		critical                 bool
		finding, findingMessages string
	}{
		{shows: "one day is started and finished today", tasks: []schedule.Task{{ID: "b", Days: exactly(1)}}, critical: true},
		{shows: "part of a day takes the day", tasks: []schedule.Task{{ID: "b", Days: exactly(0.1)}}, critical: true},
		{shows: "a follower starts on the day after", tasks: []schedule.Task{{ID: "a", Days: exactly(2)}, {ID: "b", Days: exactly(1), After: a}},
			es: 2, ef: 2, ls: 2, lf: 2, ps: 2, pf: 2, critical: true},
		{shows: "a task of no time lets its follower start on the same day",
			tasks: []schedule.Task{{ID: "a", Days: exactly(0), On: day(3)}, {ID: "b", Days: exactly(1), After: a}},
			es:    3, ef: 3, ls: 3, lf: 3, ps: 3, pf: 3, critical: true},
		{shows: "no time after two days is on the third", tasks: []schedule.Task{{ID: "a", Days: exactly(2)}, {ID: "b", Days: exactly(0), After: a}},
			es: 2, ef: 2, ls: 2, lf: 2, ps: 2, pf: 2, critical: true},
		{shows: "not before, and the slack that is left until due",
			tasks: []schedule.Task{{ID: "b", Days: exactly(2), NotBefore: day(4), Due: day(9)}},
			es:    4, ef: 5, ls: 8, lf: 9, ps: 4, pf: 5, slack: 4, critical: true},
		{shows: "due too soon is negative slack", tasks: []schedule.Task{{ID: "b", Days: exactly(5), Due: day(2)}},
			es: 0, ef: 4, ls: -2, lf: 2, ps: 0, pf: 4, slack: -2, late: 2, critical: true,
			finding: "late", findingMessages: "b is due on 2026-03-04, but is finished on 2026-03-06 at the earliest, 2 days late."},
		{shows: "due in the past", tasks: []schedule.Task{{ID: "b", Days: exactly(1), Due: day(-3)}},
			es: 0, ef: 0, ls: -3, lf: -3, ps: 0, pf: 0, slack: -3, late: 3, critical: true,
			finding: "past late", findingMessages: "b was due on 2026-02-27, which is before today. b is due on 2026-02-27, but is finished on 2026-03-02 at the earliest, 3 days late."},
		{shows: "announced for a past day", tasks: []schedule.Task{{ID: "b", Days: exactly(0), On: day(-1)}},
			es: 0, ef: 0, ls: -1, lf: -1, ps: 0, pf: 0, slack: -1, late: 1, critical: true,
			finding: "past late", findingMessages: "b was announced for 2026-03-01, which is before today. b is announced for 2026-03-01, but can start on 2026-03-02 at the earliest, 1 day late."},
		{shows: "an announced day that what comes before does not keep",
			tasks: []schedule.Task{{ID: "a", Days: exactly(5)}, {ID: "b", Days: exactly(0), After: a, On: day(3)}},
			es:    5, ef: 5, ls: 3, lf: 3, ps: 5, pf: 5, slack: -2, late: 2, critical: true,
			finding: "late", findingMessages: "b is announced for 2026-03-05, but can start on 2026-03-07 at the earliest, 2 days late, because a ends on 2026-03-06."},
		{shows: "announced before it may start", tasks: []schedule.Task{{ID: "b", Days: exactly(0), On: day(3), NotBefore: day(4)}},
			es: 4, ef: 4, ls: 3, lf: 3, ps: 4, pf: 4, slack: -1, late: 1, critical: true,
			finding: "late", findingMessages: "b is announced for 2026-03-05, but can start on 2026-03-06 at the earliest, 1 day late, because it may not start before that."},
		{shows: "hours go over the person's days: Monday, Wednesday, Thursday",
			tasks: []schedule.Task{{ID: "b", Who: "filmer", Hours: hours(7)}}, es: 0, ef: 3, ls: 0, lf: 3, ps: 0, pf: 3, critical: true},
		{shows: "six hours fill two days exactly",
			tasks: []schedule.Task{{ID: "b", Who: "filmer", Hours: hours(6)}}, es: 0, ef: 2, ls: 0, lf: 2, ps: 0, pf: 2, critical: true},
		{shows: "hours that follow hours start on the same day when there are some left",
			tasks: []schedule.Task{{ID: "a", Who: "filmer", Hours: hours(1.5)}, {ID: "b", Who: "filmer", Hours: hours(1.5), After: a}}, critical: true},
		{shows: "no more fit into a day than it has",
			tasks: []schedule.Task{{ID: "a", Who: "filmer", Hours: hours(1.5)}, {ID: "b", Who: "filmer", Hours: hours(2), After: a}},
			es:    0, ef: 2, ls: 0, lf: 2, ps: 0, pf: 2, critical: true},
		{shows: "days that follow hours start on the next day",
			tasks: []schedule.Task{{ID: "a", Who: "filmer", Hours: hours(1)}, {ID: "b", Days: exactly(1), After: a}},
			es:    1, ef: 1, ls: 1, lf: 1, ps: 1, pf: 1, critical: true},
		{shows: "hours that may start on Tuesday start on Wednesday",
			tasks: []schedule.Task{{ID: "b", Who: "filmer", Hours: hours(1), NotBefore: day(1)}},
			es:    2, ef: 2, ls: 2, lf: 2, ps: 2, pf: 2, critical: true},
		{shows: "due on a Sunday is finished on the Thursday before at the latest",
			tasks: []schedule.Task{{ID: "b", Who: "filmer", Hours: hours(4), Due: day(6)}},
			es:    0, ef: 2, ls: 2, lf: 3, ps: 0, pf: 2, slack: 2, critical: true},
		{shows: "announced for a day off", tasks: []schedule.Task{{ID: "b", Who: "filmer", Hours: hours(1), On: day(4)}},
			es: 7, ef: 7, ls: 4, lf: 7, ps: 7, pf: 7, slack: -3, late: 3, critical: true,
			finding: "day off late", findingMessages: "b is announced for 2026-03-06, a day on which filmer does not work. b is announced for 2026-03-06, but can start on 2026-03-09 at the earliest, 3 days late."},
		{shows: "announced for a day on which what comes before still takes hours",
			tasks: []schedule.Task{{ID: "a", Who: "filmer", Hours: hours(1)}, {ID: "b", Who: "filmer", Hours: hours(1), After: a, On: day(0)}},
			es:    2, ef: 2, ls: 0, lf: 0, ps: 2, pf: 2, slack: -2, late: 2,
			finding: "late", findingMessages: "b is announced for 2026-03-02, but can start on 2026-03-04 at the earliest, 2 days late, because a ends on 2026-03-02."},
		{shows: "hours due when two tasks of one person don't both fit: people aside they do",
			tasks: []schedule.Task{{ID: "a", Who: "filmer", Hours: hours(3), Due: day(0)}, {ID: "b", Who: "filmer", Hours: hours(3), Due: day(1)}},
			es:    0, ef: 0, ls: 0, lf: 0, ps: 2, pf: 2, critical: true,
			finding: "people", findingMessages: "b is due on 2026-03-03; with one task at a time for each person it is finished on 2026-03-04, 1 day late."},
		{shows: "an announced day that people don't keep",
			tasks: []schedule.Task{{ID: "a", Who: "filmer", Hours: hours(3)}, {ID: "aa", Who: "filmer", Hours: hours(3)}, {ID: "b", Days: exactly(0), On: day(1), After: []string{"a", "aa"}}},
			es:    1, ef: 1, ls: 1, lf: 1, ps: 3, pf: 3, critical: true,
			finding: "people", findingMessages: "b is announced for 2026-03-03; with one task at a time for each person it starts on 2026-03-05, 2 days late."},
		{shows: "a named person's calendar days do not take their hours",
			tasks: []schedule.Task{{ID: "a", Who: "filmer", Hours: hours(3)}, {ID: "b", Who: "filmer", Days: exactly(2)}}, ef: 1, lf: 1, pf: 1, critical: true},
		{shows: "a plan's undated ends have slack to its last finish",
			tasks: []schedule.Task{{ID: "a", Days: exactly(9)}, {ID: "b", Days: exactly(2)}}, ef: 1, ls: 7, lf: 8, pf: 1, slack: 7},
		{shows: "in the draws too few keep it",
			tasks: []schedule.Task{{ID: "b", Days: []float64{1, 4, 7}, Due: day(3)}}, ef: 3, lf: 3, pf: 3, critical: true,
			finding: "at risk", findingMessages: "b fits the plan, but is kept in only 50 % of the draws."},
	} {
		t.Run(tc.shows, func(t *testing.T) {
			out := calculate(t, schedule.Input{Today: today, Draws: 20_000, Seed: 3, People: []schedule.Person{filmer()}, Tasks: tc.tasks})
			got := out.Tasks[len(out.Tasks)-1]
			got.Probability, got.StandardError = nil, nil
			require.Equal(t, schedule.TaskPlan{
				ID: "b", EarliestStart: day(tc.es), EarliestFinish: day(tc.ef), LatestStart: day(tc.ls), LatestFinish: day(tc.lf),
				PlannedStart: day(tc.ps), PlannedFinish: day(tc.pf), SlackDays: tc.slack, LateByDays: tc.late, Critical: tc.critical,
			}, got)
			var kinds, messages []string
			for _, f := range out.Findings {
				require.Equal(t, "b", f.Task)
				kinds, messages = append(kinds, f.Kind), append(messages, f.Message)
			}
			require.Equal(t, tc.finding, strings.Join(kinds, " "))
			require.Equal(t, tc.findingMessages, strings.Join(messages, " "))
		})
	}
}

func TestOrderOfAPerson(t *testing.T) {
	for _, tc := range []struct {
		shows string
		tasks []schedule.Task
		order string
	}{
		{"least latest finish first", []schedule.Task{
			{ID: "a", Who: "filmer", Hours: exactly(3), Due: day(30)},
			{ID: "b", Who: "filmer", Hours: exactly(3), Due: day(20)},
		}, "b a"},
		{"then by id, whatever the order of the list", []schedule.Task{
			{ID: "b", Who: "filmer", Hours: exactly(3), Due: day(20)},
			{ID: "a", Who: "filmer", Hours: exactly(3), Due: day(20)},
		}, "a b"},
		{"what is pressed downstream comes first", []schedule.Task{
			{ID: "a", Who: "filmer", Hours: exactly(3), Due: day(20)},
			{ID: "b", Who: "filmer", Hours: exactly(3)},
			{ID: "air", Days: exactly(0), After: []string{"b"}, On: day(10)},
		}, "b a"},
		{"nobody waits for a pressed task while another can be done", []schedule.Task{
			{ID: "a", Who: "filmer", Hours: exactly(3), Due: day(20), NotBefore: day(7)},
			{ID: "b", Who: "filmer", Hours: exactly(3), Due: day(30)},
		}, "b a"},
		{"of two that wait for Monday the pressed one, though it was ready later", []schedule.Task{
			{ID: "a", Who: "filmer", Hours: exactly(3), Due: day(30), NotBefore: day(4)},
			{ID: "b", Who: "filmer", Hours: exactly(3), Due: day(20), NotBefore: day(6)},
		}, "b a"},
	} {
		t.Run(tc.shows, func(t *testing.T) {
			out := calculate(t, schedule.Input{Today: today, Draws: 1, People: []schedule.Person{filmer()}, Tasks: tc.tasks})
			require.Equal(t, tc.order, strings.Join(out.Order[0].Tasks, " "))
		})
	}
}

func TestWeekEndsOnTheSameDayNextWeek(t *testing.T) {
	editor := schedule.Person{ID: "editor", Days: []string{"tue"}, HoursPerDay: 1}
	idle := schedule.Person{ID: "idle"}
	out := calculate(t, schedule.Input{Today: today, Draws: 1, People: []schedule.Person{filmer(), editor, idle}, Tasks: []schedule.Task{
		{ID: "next Monday", Who: "filmer", Hours: exactly(1), NotBefore: day(7)},
		{ID: "Wednesday after", Who: "filmer", Hours: exactly(1), NotBefore: day(8)},
		{ID: "Tuesday", Who: "editor", Hours: exactly(1)},
	}})
	require.Equal(t, []schedule.PersonList{
		{Who: "filmer", Tasks: []string{"next Monday"}}, {Who: "editor", Tasks: []string{"Tuesday"}}, {Who: "idle", Tasks: []string{}},
	}, out.Week)
}

func TestCriticalChain(t *testing.T) {
	for _, tc := range []struct {
		shows string
		tasks []schedule.Task
		want  string
	}{
		{"of announced days, all without slack, the one that is pressed most", []schedule.Task{
			{ID: "film-1", Days: exactly(3)}, {ID: "air-1", Days: exactly(0), After: []string{"film-1"}, On: day(40)},
			{ID: "film-2", Days: exactly(3)}, {ID: "air-2", Days: exactly(0), After: []string{"film-2"}, On: day(5)},
		}, "film-2 air-2"},
		{"of two that are pressed alike, the one that ends last", []schedule.Task{
			{ID: "a", Days: exactly(2), Due: day(1)},
			{ID: "b", Days: exactly(5), Due: day(4)},
		}, "b"},
		{"back to the predecessor with the least slack, though another ends later", []schedule.Task{
			{ID: "a", Days: exactly(5)}, {ID: "b", Days: exactly(3), Due: day(5)},
			{ID: "air", Days: exactly(0), After: []string{"a", "b"}, On: day(20)},
		}, "b air"},
		{"of predecessors with the same slack, the one that ends last", []schedule.Task{
			{ID: "a", Days: exactly(3), Due: day(5)}, {ID: "b", Days: exactly(5), Due: day(7)},
			{ID: "air", Days: exactly(0), After: []string{"a", "b"}, On: day(20)},
		}, "b air"},
		{"of predecessors that are alike, the one with the least id", []schedule.Task{
			{ID: "b", Days: exactly(3)}, {ID: "a", Days: exactly(3)},
			{ID: "air", Days: exactly(0), After: []string{"b", "a"}},
		}, "a air"},
	} {
		t.Run(tc.shows, func(t *testing.T) {
			out := calculate(t, schedule.Input{Today: today, Draws: 1, Tasks: tc.tasks})
			require.Equal(t, tc.want, strings.Join(out.CriticalChain, " "))
		})
	}
}

// Seven half hours fill a day of three and a half, though seven times a seventh
// in floating point is a little less than one.
func TestHalfHoursFillADayExactly(t *testing.T) {
	in := schedule.Input{Today: today, Draws: 1, People: []schedule.Person{{ID: "editor", Days: []string{"mon", "fri"}, HoursPerDay: 3.5}}}
	for k := range 15 {
		task := schedule.Task{ID: day(k), Who: "editor", Hours: exactly(0.5)}
		if k > 0 {
			task.After = []string{day(k - 1)}
		}
		if k == 14 {
			task.Due = day(7)
		}
		in.Tasks = append(in.Tasks, task)
	}
	for k, p := range calculate(t, in).Tasks {
		want := day([]int{0, 4, 7}[k/7])
		require.Equal(t, []string{want, want, want, want}, []string{p.EarliestStart, p.EarliestFinish, p.PlannedStart, p.PlannedFinish}, "task %d", k)
		want = day([]int{0, 4, 7}[(k+6)/7])
		require.Equal(t, []string{want, want}, []string{p.LatestStart, p.LatestFinish}, "task %d", k)
	}
}

func TestBadInput(t *testing.T) {
	for _, tc := range []struct {
		shows, field, says string
		spoil              func(*schedule.Input)
	}{
		{"no today", "today", "is missing", func(in *schedule.Input) { in.Today = "" }},
		{"no such day", "today", "YYYY-MM-DD", func(in *schedule.Input) { in.Today = "2026-02-29" }},
		{"a year of two digits", "today", "years 1900 to 2199", func(in *schedule.Input) { in.Today = "0026-02-28" }},
		{"draws below nothing", "draws", "from 1 to 200000", func(in *schedule.Input) { in.Draws = -1 }},
		{"too many draws", "draws", "from 1 to 200000", func(in *schedule.Input) { in.Draws = 200_001 }},
		{"too many people", "people", "at most 50", func(in *schedule.Input) { in.People = make([]schedule.Person, 51) }},
		{"somebody without a name", "people[0].id", "is empty", func(in *schedule.Input) { in.People[0].ID = "" }},
		{"somebody twice", "people[1].id", "used twice", func(in *schedule.Input) { in.People = append(in.People, in.People[0]) }},
		{"no such weekday", "people[0].days[1]", `"Monday" is not a day of the week`, func(in *schedule.Input) { in.People[0].Days[1] = "Monday" }},
		{"a piece of the list of weekdays", "people[0].days[1]", "is not a day of the week", func(in *schedule.Input) { in.People[0].Days[1] = "n m" }},
		{"a weekday twice", "people[0].days[1]", "given twice", func(in *schedule.Input) { in.People[0].Days[1] = "mon" }},
		{"no working day", "people[0].days", `filmer has no working day, but has tasks to do, such as "film-2"`, func(in *schedule.Input) { in.People[0].Days = nil }},
		{"hours of zero a day", "people[0].hours_per_day", `is 0, but filmer has tasks to do, such as "film-2"`, func(in *schedule.Input) { in.People[0].HoursPerDay = 0 }},
		{"hours that are next to nothing", "people[0].hours_per_day", "at least 0.05", func(in *schedule.Input) { in.People[0].HoursPerDay = 1e-300 }},
		{"negative hours a day", "people[0].hours_per_day", "up to 24", func(in *schedule.Input) { in.People[0].HoursPerDay = -1 }},
		{"hours a day that are no number", "people[0].hours_per_day", "up to 24", func(in *schedule.Input) { in.People[0].HoursPerDay = math.NaN() }},
		{"away on no date", "people[0].away[0]", "not a date", func(in *schedule.Input) { in.People[0].Away = []string{"soon"} }},
		{"away too often", "people[0].away", "at most 1000", func(in *schedule.Input) { in.People[0].Away = make([]string, 1001) }},
		{"too many tasks", "tasks", "at most 2000", func(in *schedule.Input) { in.Tasks = make([]schedule.Task, 2001) }},
		{"a task without an id", "tasks[1].id", "is empty", func(in *schedule.Input) { in.Tasks[1].ID = " " }},
		{"an id without end", "tasks[1].id", "longer than 100", func(in *schedule.Input) { in.Tasks[1].ID = strings.Repeat("é", 51) }},
		{"a task twice", "tasks[1].id", "used twice", func(in *schedule.Input) { in.Tasks[1].ID = "make-2" }},
		{"a task of nobody known", "tasks[1].who", `there is no person "maker"`, func(in *schedule.Input) { in.Tasks[1].Who = "maker" }},
		{"hours of nobody", "tasks[1].who", "name the person", func(in *schedule.Input) { in.Tasks[1].Who = "" }},
		{"no time", "tasks[0]", "takes no time", func(in *schedule.Input) { in.Tasks[0].Days = nil }},
		{"days and hours", "tasks[1]", "both days and hours", func(in *schedule.Input) { in.Tasks[1].Days = exactly(1) }},
		{"two points", "tasks[0].days", "has 2 numbers", func(in *schedule.Input) { in.Tasks[0].Days = []float64{1, 2} }},
		{"four points", "tasks[0].days", "has 4 numbers", func(in *schedule.Input) { in.Tasks[0].Days = []float64{1, 2, 3, 4} }},
		{"a low above the likely", "tasks[0].days", "give them rising", func(in *schedule.Input) { in.Tasks[0].Days = []float64{3, 2, 4} }},
		{"a likely above the high", "tasks[1].hours", "give them rising", func(in *schedule.Input) { in.Tasks[1].Hours = []float64{1, 5, 4} }},
		{"negative days", "tasks[0].days", "from 0 to 3650", func(in *schedule.Input) { in.Tasks[0].Days = []float64{-1, 2, 4} }},
		{"endless days", "tasks[0].days", "from 0 to 3650", func(in *schedule.Input) { in.Tasks[0].Days = []float64{1, 2, math.Inf(1)} }},
		{"days that are no number", "tasks[0].days", "give them rising", func(in *schedule.Input) { in.Tasks[0].Days = []float64{1, math.NaN(), 3} }},
		{"too many hours", "tasks[1].hours", "from 0 to 10000", func(in *schedule.Input) { in.Tasks[1].Hours = []float64{1, 2, 10_001} }},
		{"due on no date", "tasks[1].due", "not a date", func(in *schedule.Input) { in.Tasks[1].Due = "16.3.2026" }},
		{"announced in a far year", "tasks[2].on", "more than ten years", func(in *schedule.Input) { in.Tasks[2].On = "2062-03-20" }},
		{"not before a far past", "tasks[2].not_before", "more than ten years", func(in *schedule.Input) { in.Tasks[2].NotBefore = "1962-03-20" }},
		{"a list in after without end", "tasks[2].after", "at most 2000", func(in *schedule.Input) { in.Tasks[2].After = make([]string, 2001) }},
		{"an unknown name in after", "tasks[2].after[1]", `there is no task "edit-2" for "air-2" to wait for`, func(in *schedule.Input) { in.Tasks[2].After = []string{"film-2", "edit-2"} }},
		{"a task that waits for itself", "tasks[0].after", "make-2 → make-2;", func(in *schedule.Input) { in.Tasks[0].After = []string{"make-2"} }},
		{"a circle", "tasks[0].after", "in a circle: make-2 → film-2 → air-2 → make-2;", func(in *schedule.Input) { in.Tasks[0].After = []string{"air-2"} }},
		{"a circle that others wait for, too", "tasks[0].after", "in a circle: make-2 → film-2 → make-2;", func(in *schedule.Input) { in.Tasks[0].After = []string{"film-2"} }},
		{"a plan of more than ten years", "tasks", `with "film-2" the plan is longer than ten years`, func(in *schedule.Input) { in.Tasks[0].Days = exactly(3650) }},
		{"so many hours that nothing ends", "tasks", `with "film-2" the plan is longer than ten years`, func(in *schedule.Input) { in.Tasks[1].Hours = exactly(10_000) }},
	} {
		t.Run(tc.shows, func(t *testing.T) {
			in := example()
			tc.spoil(&in)
			_, err := schedule.Calculate(in)
			var at *schedule.FieldError
			require.ErrorAs(t, err, &at)
			require.Equal(t, tc.field, at.FieldPath())
			require.Contains(t, at.Problem, tc.says)
			require.Equal(t, at.Field+": "+at.Problem, err.Error())
		})
	}
}

func TestMostDrawsForMostTasksIsRefused(t *testing.T) {
	in := schedule.Input{Today: today, Draws: schedule.MaxDraws}
	var before []string
	for i := range 500 {
		in.Tasks = append(in.Tasks, schedule.Task{ID: day(i), Days: exactly(1), After: slices.Clone(before)})
		before = append(before, day(i))
	}
	_, err := schedule.Calculate(in)
	require.EqualError(t, err, "draws: 200000 draws are too many for 500 tasks that wait for each other 124750 times; give at most 798")
}

func TestSomebodyWithoutWorkingDaysMayBeListed(t *testing.T) {
	in := example()
	in.People = append(in.People, schedule.Person{ID: "visitor"})
	calculate(t, in)
}
