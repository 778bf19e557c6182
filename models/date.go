package models

import (
	"database/sql/driver"
	"regexp"
	"time"
)

// Date is a calendar date without time or zone, written YYYY-MM-DD: an air
// date or a due date stays the same day wherever it is read. The empty Date is
// no date. Dates compare as text.
type Date string

const dateLayout = "2006-01-02"

// The span of years in which a production date can reasonably lie (chosen).
const firstYear, lastYear = 2000, 2100

// DateOf returns the date of a moment in a zone.
func DateOf(t time.Time, zone *time.Location) Date {
	return Date(t.In(zone).Format(dateLayout))
}

// Valid tells whether d is a real calendar date within the span of years.
func (d Date) Valid() bool {
	t, err := time.Parse(dateLayout, string(d))
	return err == nil && t.Year() >= firstYear && t.Year() <= lastYear
}

// time returns midnight UTC of the date; the zero time for an invalid one.
func (d Date) time() time.Time {
	t, err := time.Parse(dateLayout, string(d))
	if err != nil {
		return time.Time{}
	}
	return t
}

// Add returns the date some days later (earlier when negative).
func (d Date) Add(days int) Date {
	return Date(d.time().AddDate(0, 0, days).Format(dateLayout))
}

var writtenDate = regexp.MustCompile(`\b\d{4}-\d{2}-\d{2}\b`)

// datesInWords writes the dates of a calculation's sentence as people say them.
func datesInWords(sentence string, today Date) string {
	return writtenDate.ReplaceAllStringFunc(sentence, func(d string) string {
		if !Date(d).Valid() {
			return d
		}
		return Date(d).words(today)
	})
}

// DaysUntil returns the number of days from d to other.
func (d Date) DaysUntil(other Date) int {
	return int(other.time().Sub(d.time()).Hours() / 24)
}

// Value writes the empty date as NULL: no date, rather than an empty text that
// sorts before all of them.
func (d Date) Value() (driver.Value, error) {
	if d == "" {
		return nil, nil
	}
	return string(d), nil
}

func (p *problems) date(field string, d Date, required bool) {
	switch {
	case d == "" && required:
		p.addf(field, "is missing; give a date as YYYY-MM-DD")
	case d != "" && !d.Valid():
		p.addf(field, "is not a date between %d and %d; write it as YYYY-MM-DD", firstYear, lastYear)
	}
}

// Said writes a day out, as in "Monday 2 January 2006".
func (d Date) Said() string { return d.time().Format("Monday 2 January 2006") }
