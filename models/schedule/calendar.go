package schedule

import (
	"math"
	"sort"
	"strings"
)

// The table of working days reaches from firstDay to lastDay, days from today.
// Plans end within the horizon; late draws and latest dates before today may
// leave it, and stop at the table's ends.
const (
	firstDay = -3 * MaxHorizonDays
	lastDay  = 2 * MaxHorizonDays
)

// calendar is when a person works.
type calendar struct {
	perDay  float64 // hours of a working day
	working []int32 // the working days, rising
	atOrSee []int32 // for each day from firstDay on, the place in working of the first one not before it
}

// weekdays are in the order of time.Weekday.
const weekdays = "sun mon tue wed thu fri sat"

// weekdayNumber gives the place of a day's name in the week, or -1.
func weekdayNumber(name string) int {
	at := strings.Index(weekdays, name)
	if len(name) != 3 || at%4 != 0 {
		return -1
	}
	return at / 4
}

// newCalendar lists the days on which the week says works and that are not away.
func newCalendar(today date, perDay float64, works [7]bool, away map[int]bool) *calendar {
	c := &calendar{perDay: perDay}
	weekday := int(today.Weekday())
	for d := firstDay; d <= lastDay; d++ {
		c.atOrSee = append(c.atOrSee, int32(len(c.working)))
		if works[((weekday+d)%7+7)%7] && !away[d] {
			c.working = append(c.working, int32(d))
		}
	}
	return c
}

func (c *calendar) works(day int) bool {
	i := sort.Search(len(c.working), func(i int) bool { return int(c.working[i]) >= day })
	return i < len(c.working) && int(c.working[i]) == day
}

// after gives when work of some hours begins and ends that may begin at a time.
// Past the table it gives the table's end.
func (c *calendar) after(at, hours float64) (begin, end float64) {
	if at >= lastDay {
		return lastDay, lastDay
	}
	day := math.Floor(at)
	i := int(c.atOrSee[int(day)-firstDay])
	if i == len(c.working) {
		return lastDay, lastDay
	}
	first := float64(c.working[i])
	begin = math.Max(at, first)
	span := snap(begin - first + hours/c.perDay) // working days from the first one's start
	further := max(0, int(math.Ceil(span))-1)
	if i+further >= len(c.working) {
		return begin, lastDay
	}
	return begin, float64(c.working[i+further]) + span - float64(further)
}

// before gives when work of some hours begins and ends at the latest that must
// have ended at a time. Before the table it gives the table's start.
func (c *calendar) before(at, hours float64) (begin, end float64) {
	day := math.Ceil(at) - 1 // the day that the last moment before at is in
	if day < firstDay {
		return firstDay, firstDay
	}
	i := len(c.working) - 1
	if day < lastDay {
		i = int(c.atOrSee[int(day)+1-firstDay]) - 1
	}
	if i < 0 {
		return firstDay, firstDay
	}
	last := float64(c.working[i]) + 1
	end = math.Min(at, last)
	span := snap(last - end + hours/c.perDay) // working days to the last one's end
	further := max(0, int(math.Ceil(span))-1)
	if further > i {
		return firstDay, end
	}
	return float64(c.working[i-further]) + 1 - (span - float64(further)), end
}
