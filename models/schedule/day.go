package schedule

import (
	"math"
	"time"
)

// rounding is what is forgiven before a time counts as past a day's start or
// end, in days; less than a tenth of a millisecond.
const rounding = 1e-9

// snap moves a time that is within rounding of a day's start onto it, so that
// sums of parts of a day end where the day does.
func snap(at float64) float64 {
	if whole := math.Round(at); math.Abs(at-whole) <= rounding {
		return whole
	}
	return at
}

// date is a calendar day, kept as the start of that day in UTC.
type date struct{ time.Time }

// parseDate reads a date. Years are bounded, so that a slip such as 0206 is
// caught.
func parseDate(field, text string) (date, error) {
	if text == "" {
		return date{}, fault(field, "is missing; give a date such as 2026-03-02")
	}
	t, err := time.Parse(time.DateOnly, text)
	if err != nil {
		return date{}, fault(field, "%q is not a date; write it as YYYY-MM-DD", clip(text))
	}
	if t.Year() < 1900 || t.Year() > 2199 {
		return date{}, fault(field, "%s is outside the years 1900 to 2199", text)
	}
	return date{t}, nil
}

// daysFrom gives the days from another date to d, negative when d is earlier.
func (d date) daysFrom(other date) int {
	const secondsPerDay = 24 * 60 * 60
	return int((d.Unix() - other.Unix()) / secondsPerDay)
}

// plus gives the date some days later, as text.
func (d date) plus(days int) string { return d.AddDate(0, 0, days).Format(time.DateOnly) }

// readOffset reads a date as days from today, within the horizon.
func readOffset(field, text string, today date) (int, error) {
	d, err := parseDate(field, text)
	if err != nil {
		return 0, err
	}
	days := d.daysFrom(today)
	if days < -MaxHorizonDays || days > MaxHorizonDays {
		return 0, fault(field, "%s is more than ten years from today", text)
	}
	return days, nil
}
