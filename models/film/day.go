package film

import (
	"fmt"
	"time"
)

// day counts calendar days; only differences mean anything.
type day int

const secondsPerDay = 24 * 60 * 60

// parseDay reads a date. Years are bounded so that no sum of days can overflow
// and a slip such as 0206 or 20260 is caught.
func parseDay(field, text string) (day, error) {
	if text == "" {
		return 0, fault(field, "is missing; give a date such as 2026-03-02")
	}
	t, err := time.Parse(time.DateOnly, text)
	if err != nil {
		return 0, fault(field, "%q is not a date; write it as YYYY-MM-DD", clip(text))
	}
	if t.Year() < 1900 || t.Year() > 2199 {
		return 0, fault(field, "%s is outside the years 1900 to 2199", text)
	}
	return day(t.Unix() / secondsPerDay), nil
}

func (d day) String() string {
	return time.Unix(int64(d)*secondsPerDay, 0).UTC().Format(time.DateOnly)
}

// clip keeps a quoted input short in a message.
func clip(text string) string {
	const most = 40
	if len(text) <= most {
		return text
	}
	return fmt.Sprintf("%.*s…", most, text)
}
