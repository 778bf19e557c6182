package models

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tenter/models/assign"
)

func TestCountedRecord(t *testing.T) {
	for _, row := range []struct {
		name            string
		record          TesterRecord
		taken, finished int
	}{
		{"a newcomer", TesterRecord{}, 0, 0},
		{"only what was told", TesterRecord{ToldTaken: 5, ToldFinished: 4}, 5, 4},
		{"ours are among those told", TesterRecord{Taken: 3, InTime: 3, ToldTaken: 5, ToldFinished: 4}, 5, 4},
		{"told of fewer than we know", TesterRecord{Taken: 6, InTime: 2, ToldTaken: 2, ToldFinished: 2}, 6, 2},
		{"told better than we know", TesterRecord{Taken: 3, InTime: 1, ToldTaken: 5, ToldFinished: 5}, 5, 3},
		{"elsewhere is added", TesterRecord{Taken: 3, InTime: 1, ToldTaken: 5, ToldFinished: 5, Elsewhere: true}, 8, 6},
	} {
		t.Run(row.name, func(t *testing.T) {
			taken, finished := row.record.Counted()
			require.Equal(t, []int{row.taken, row.finished}, []int{taken, finished})
		})
	}
}

// TestCountedRecordMakesSense: never more finished than taken, never less
// taken than we know of, never more finished by telling of fewer.
func TestCountedRecordMakesSense(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := TesterRecord{Taken: rapid.IntRange(0, 30).Draw(t, "taken"), ToldTaken: rapid.IntRange(0, 30).Draw(t, "told"), Elsewhere: rapid.Bool().Draw(t, "elsewhere")}
		r.InTime = rapid.IntRange(0, r.Taken).Draw(t, "in time")
		r.ToldFinished = rapid.IntRange(0, r.ToldTaken).Draw(t, "told finished")
		taken, finished := r.Counted()
		require.GreaterOrEqual(t, taken, r.Taken)
		require.GreaterOrEqual(t, finished, r.InTime)
		require.LessOrEqual(t, finished, taken)
		p := r.Probability()
		require.Greater(t, p, 0.0)
		require.Less(t, p, 1.0)
	})
}

func TestSettledTests(t *testing.T) {
	at := func(day int) *time.Time { v := time.Date(2027, 2, day, 22, 30, 0, 0, time.UTC); return &v }
	due := Date("2027-02-10")
	east := time.FixedZone("east", 3*3600) // 22:30 UTC is the next day there
	for _, row := range []struct {
		name string
		test settledTest
		zone *time.Location
		want TesterRecord
	}{
		{"on the day", settledTest{due: due, first: at(10)}, time.UTC, TesterRecord{Taken: 1, InTime: 1}},
		{"on the day, where it is past midnight", settledTest{due: due, first: at(10)}, east, TesterRecord{Taken: 1, Late: 1}},
		{"sent by import, never accepted", settledTest{due: due, first: at(9)}, time.UTC, TesterRecord{Taken: 1, InTime: 1}},
		{"given up", settledTest{due: "2027-05-01", accepted: true, withdrawn: true}, time.UTC, TesterRecord{Taken: 1, Dropped: 1}},
		{"said no", settledTest{due: "2027-05-01", withdrawn: true}, time.UTC, TesterRecord{}},
		{"overdue", settledTest{due: due, accepted: true}, time.UTC, TesterRecord{Taken: 1, Dropped: 1}},
		{"the last day is not over", settledTest{due: "2027-02-20", accepted: true}, time.UTC, TesterRecord{Running: 1}},
	} {
		t.Run(row.name, func(t *testing.T) {
			got := settle([]settledTest{row.test}, "2027-02-20", row.zone)
			got.MedianDaysLate, got.Completeness = nil, nil
			require.Equal(t, row.want, got)
		})
	}
}

func TestMedian(t *testing.T) {
	require.InDelta(t, 3, median([]float64{5, 3, -2}), 0)
	require.InDelta(t, 0.5, median([]float64{3, -2}), 0)
	require.InDelta(t, 7, median([]float64{7}), 0)
	require.Equal(t, []string{"on the day", "1 day late", "2.5 days early"}, []string{daysLate(0), daysLate(1), daysLate(-2.5)})
}

func TestQuiet(t *testing.T) {
	day := func(d int) *time.Time { v := time.Date(2027, 2, d, 9, 0, 0, 0, time.UTC); return &v }
	for _, row := range []struct {
		name   string
		tester callTester
		want   assign.State
	}{
		{"asked, and no day set", callTester{due: "2027-03-15", assignedAt: *day(1)}, assign.Working},
		{"asked, the day of the answer", callTester{due: "2027-03-15", answerBy: "2027-02-20"}, assign.Working},
		{"asked, a day later", callTester{due: "2027-03-15", answerBy: "2027-02-19"}, assign.Quiet},
		{"accepted a fortnight ago", callTester{due: "2027-03-15", acceptedAt: day(6)}, assign.Working},
		{"accepted fifteen days ago", callTester{due: "2027-03-15", acceptedAt: day(5)}, assign.Quiet},
		{"but checked in since", callTester{due: "2027-03-15", acceptedAt: day(1), checkedIn: day(10)}, assign.Working},
		{"overdue without a word", callTester{due: "2027-02-18", acceptedAt: day(17)}, assign.Quiet},
		{"overdue, and said something after it", callTester{due: "2027-02-18", acceptedAt: day(10), checkedIn: day(19)}, assign.Working},
		{"reported long ago", callTester{due: "2027-02-01", acceptedAt: day(1), reported: true}, assign.Reported},
	} {
		t.Run(row.name, func(t *testing.T) { require.Equal(t, row.want, row.tester.state("2027-02-20", time.UTC)) })
	}
}

// TestProgressRaisesAndQuietLowers: 0.727 for a newcomer; three of five
// sections: 0.727 / (0.727 + 0.273 * 0.4) = 0.870; then quiet:
// 0.870 / (0.870 + 3 * 0.130) = 0.690.
func TestProgressRaisesAndQuietLowers(t *testing.T) {
	at := time.Date(2027, 2, 1, 9, 0, 0, 0, time.UTC)
	one := callTester{due: "2027-05-01", acceptedAt: &at, checkedIn: &at, done: 3, of: 5}
	require.InDelta(t, 0.8696, one.tester(TesterRecord{}, "2027-02-10", time.UTC).Now(), 1e-4)
	require.InDelta(t, 0.6897, one.tester(TesterRecord{}, "2027-02-20", time.UTC).Now(), 1e-4)
}
