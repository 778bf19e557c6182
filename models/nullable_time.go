package models

import (
	"fmt"
	"time"
)

// nullableTime reads a moment that a query computes: SQLite gives the result of
// max() as text, PostgreSQL as a time.
type nullableTime struct{ at *time.Time }

// Scan reads what the database sends.
func (n *nullableTime) Scan(value any) error {
	n.at = nil
	switch v := value.(type) {
	case nil:
		return nil
	case time.Time:
		n.at = &v
		return nil
	case []byte:
		return n.Scan(string(v))
	case string:
		for _, layout := range []string{"2006-01-02 15:04:05.999999999-07:00", "2006-01-02T15:04:05.999999999Z07:00", "2006-01-02 15:04:05.999999999"} {
			if t, err := time.Parse(layout, v); err == nil {
				n.at = &t
				return nil
			}
		}
	}
	return fmt.Errorf("read a moment: %T", value)
}

// daysTo returns the days from one moment to another, to a hundredth; ok is
// false when either is missing or they run backwards.
func (n nullableTime) daysTo(other nullableTime) (days float64, ok bool) {
	if n.at == nil || other.at == nil || other.at.Before(*n.at) {
		return 0, false
	}
	return other.at.Sub(*n.at).Hours() / 24, true
}
