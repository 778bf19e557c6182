package schedule

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// slots walks the calendar in slots of half an hour of work, 2 × perDay of them
// evenly in each working day, and shares nothing with the tables.
type slots struct {
	perDay int
	works  func(day int) bool
}

func (s slots) perSlot() float64 { return 1 / float64(2*s.perDay) }

// forwards does n slots of work from a slot of a day on.
func (s slots) forwards(day, slot, n int) (begin, end float64) {
	begin = math.Inf(-1)
	for ; ; day, slot = day+1, 0 {
		for ; slot < 2*s.perDay && s.works(day); slot++ {
			if math.IsInf(begin, -1) {
				begin = float64(day) + float64(slot)*s.perSlot()
			}
			if n--; n == 0 {
				return begin, float64(day) + float64(slot+1)*s.perSlot()
			}
		}
	}
}

// backwards does n slots of work that are over when a slot of a day starts.
func (s slots) backwards(day, slot, n int) (begin, end float64) {
	end = math.Inf(-1)
	for ; ; day, slot = day-1, 2*s.perDay {
		for ; slot > 0 && s.works(day); slot-- {
			if math.IsInf(end, -1) {
				end = float64(day) + float64(slot)*s.perSlot()
			}
			if n--; n == 0 {
				return float64(day) + float64(slot-1)*s.perSlot(), end
			}
		}
	}
}

func TestCalendarAgainstHalfHours(t *testing.T) {
	today, err := parseDate("today", "2026-03-02") // a Monday
	require.NoError(t, err)
	rapid.Check(t, func(t *rapid.T) {
		week := [7]bool{}
		week[rapid.IntRange(0, 6).Draw(t, "a working day")] = true
		for i := range week {
			week[i] = week[i] || rapid.Bool().Draw(t, "works")
		}
		away := map[int]bool{}
		for _, d := range rapid.SliceOfN(rapid.IntRange(-20, 30), 0, 12).Draw(t, "away") {
			away[d] = true
		}
		s := slots{
			perDay: rapid.IntRange(1, 8).Draw(t, "hours per day"),
			works:  func(day int) bool { return week[((day+1)%7+7)%7] && !away[day] },
		}
		c := newCalendar(today, float64(s.perDay), week, away)
		day := rapid.IntRange(-10, 20).Draw(t, "day")
		slot := rapid.IntRange(0, 2*s.perDay-1).Draw(t, "slot")
		n := rapid.IntRange(1, 60).Draw(t, "half hours")
		at := float64(day) + float64(slot)*s.perSlot()

		begin, end := c.after(at, float64(n)/2)
		wantBegin, wantEnd := s.forwards(day, slot, n)
		require.InDelta(t, wantBegin, begin, 1e-9)
		require.InDelta(t, wantEnd, end, 1e-9)

		begin, end = c.before(at, float64(n)/2)
		wantBegin, wantEnd = s.backwards(day, slot, n)
		require.InDelta(t, wantBegin, begin, 1e-9)
		require.InDelta(t, wantEnd, end, 1e-9)
	})
}

func TestCalendarStopsAtItsEnds(t *testing.T) {
	today, err := parseDate("today", "2026-03-02")
	require.NoError(t, err)
	mondays := newCalendar(today, 1, [7]bool{false, true}, nil)
	for _, at := range []float64{lastDay - 1, lastDay, lastDay + 5000.5} {
		begin, end := mondays.after(at, 3)
		require.LessOrEqual(t, begin, end)
		require.EqualValues(t, lastDay, end)
	}
	for _, at := range []float64{firstDay + 1, firstDay, firstDay - 5000.5} {
		begin, end := mondays.before(at, 3)
		require.LessOrEqual(t, begin, end)
		require.EqualValues(t, firstDay, begin)
	}
	begin, end := mondays.after(1, 0)
	require.Equal(t, []float64{7, 7}, []float64{begin, end}, "no work waits for the next working day, and takes none of it")
}
