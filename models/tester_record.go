package models

import (
	"database/sql"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"gorm.io/gorm"

	"tenter/models/assign"
)

// TesterRecord is what the studio knows of a tester from the calls of all its
// designs but one, and what they told of themselves. It is computed, never
// stored.
//
// A test counts once it is settled: the report is in, or its day is over, or
// it was withdrawn after it had been accepted. Finished means that the first
// report came by the day that held at the end, so time that was granted counts
// as in time.
type TesterRecord struct {
	Taken   int // settled tests
	InTime  int
	Late    int // reported, but later
	Dropped int // withdrawn, or not reported yet and overdue
	Running int // not settled
	// MedianDaysLate is over those that were reported; below zero is early.
	MedianDaysLate *float64
	// Completeness is the mean share of a design's points that their reports
	// have a measurement for.
	Completeness *float64

	ToldTaken, ToldFinished int
	Elsewhere               bool // what was told leaves out tests for this studio
}

// Counted returns the record that planning goes by: the studio's own in full,
// and of what was told the part that the studio has not seen. Somebody who
// told of all tests so far has told of ours as well.
func (r TesterRecord) Counted() (taken, finished int) {
	if r.Elsewhere {
		return r.Taken + r.ToldTaken, r.InTime + r.ToldFinished
	}
	more := max(0, r.ToldTaken-r.Taken)
	return r.Taken + more, r.InTime + min(more, max(0, r.ToldFinished-r.InTime))
}

// Probability is the chance that they finish in time, by the record alone.
func (r TesterRecord) Probability() float64 {
	return assign.DefaultPrior().Completion(r.Counted())
}

// Sentence explains the record.
func (r TesterRecord) Sentence() string {
	var parts []string
	if r.Taken == 0 {
		parts = append(parts, "no test settled here yet")
	} else {
		here := fmt.Sprintf("here %d of %d in time", r.InTime, r.Taken)
		if r.Late > 0 {
			here += fmt.Sprintf(", %d late", r.Late)
		}
		if r.Dropped > 0 {
			here += fmt.Sprintf(", %d not finished", r.Dropped)
		}
		parts = append(parts, here)
	}
	if m := r.MedianDaysLate; m != nil {
		parts = append(parts, "usually "+daysLate(*m))
	}
	if c := r.Completeness; c != nil {
		parts = append(parts, fmt.Sprintf("measures %.0f %% of the points", 100**c))
	}
	if r.ToldTaken > 0 {
		where := "so far"
		if r.Elsewhere {
			where = "elsewhere"
		}
		parts = append(parts, fmt.Sprintf("told of %d finished out of %d %s", r.ToldFinished, r.ToldTaken, where))
	}
	taken, finished := r.Counted()
	if taken == 0 {
		return fmt.Sprintf("no test settled yet; counted as a newcomer, %.0f %%", 100*r.Probability())
	}
	return fmt.Sprintf("%s; counted as %d of %d", strings.Join(parts, "; "), finished, taken)
}

func daysLate(m float64) string {
	days := fmt.Sprintf("%g", math.Abs(m))
	unit := " days"
	if math.Abs(m) == 1 {
		unit = " day"
	}
	switch {
	case m > 0:
		return days + unit + " late"
	case m < 0:
		return days + unit + " early"
	}
	return "on the day"
}

// settledTest is one assignment in another call, as far as a record needs it.
type settledTest struct {
	due                 Date
	accepted, withdrawn bool
	first               *time.Time // when the first report was sent
	measured, points    int
}

// recordsIn computes the records of everybody who has applied to a call or was
// asked in it, by person, in one statement.
func recordsIn(db *gorm.DB, callID string, today Date, zone *time.Location) (map[string]*TesterRecord, error) {
	tests := map[string][]settledTest{}
	err := query(db, func(rows *sql.Rows) error {
		var (
			person string
			t      settledTest
			first  sql.NullTime
		)
		if err := rows.Scan(&person, &t.due, &t.accepted, &t.withdrawn, &first, &t.measured, &t.points); err != nil {
			return err
		}
		if first.Valid {
			t.first = &first.Time
		}
		tests[person] = append(tests[person], t)
		return nil
	}, `SELECT a.person_id, a.due_on, a.accepted_at IS NOT NULL, a.withdrawn_at IS NOT NULL, f.sent_at,
			(SELECT count(DISTINCT m.point_id) FROM measurements m WHERE m.report_id = c.id),
			(SELECT count(*) FROM points p WHERE p.design_id = a.design_id)
		FROM assignments a
		LEFT JOIN reports f ON f.assignment_id = a.id AND f.number = 1
		LEFT JOIN reports c ON c.assignment_id = a.id AND c.superseded_at IS NULL
		WHERE a.test_call_id <> @call AND a.person_id IN (SELECT person_id FROM applications WHERE test_call_id = @call
			UNION SELECT person_id FROM assignments WHERE test_call_id = @call)
		ORDER BY a.person_id, a.id`, map[string]any{"call": callID})
	if err != nil {
		return nil, fmt.Errorf("records of testers: %w", err)
	}
	out := make(map[string]*TesterRecord, len(tests))
	for person, list := range tests {
		r := settle(list, today, zone)
		out[person] = &r
	}
	return out, nil
}

// settle counts tests into a record.
func settle(tests []settledTest, today Date, zone *time.Location) TesterRecord {
	var (
		r        TesterRecord
		late     []float64
		complete float64
		measured int
	)
	for _, t := range tests {
		switch {
		case t.first != nil:
			days := t.due.DaysUntil(DateOf(*t.first, zone))
			late = append(late, float64(days))
			r.Taken++
			if days <= 0 {
				r.InTime++
			} else {
				r.Late++
			}
			if t.points > 0 {
				complete += float64(min(t.measured, t.points)) / float64(t.points)
				measured++
			}
		case !t.accepted: // never took it on: that says nothing about finishing
		case t.withdrawn || t.due < today:
			r.Taken++
			r.Dropped++
		default:
			r.Running++
		}
	}
	if len(late) > 0 {
		m := median(late)
		r.MedianDaysLate = &m
	}
	if measured > 0 {
		c := complete / float64(measured)
		r.Completeness = &c
	}
	return r
}

// median of at least one number, the mean of the middle two of an even many.
func median(v []float64) float64 {
	v = slices.Sorted(slices.Values(v))
	return (v[(len(v)-1)/2] + v[len(v)/2]) / 2
}
