package models

import (
	"database/sql"
	"fmt"
	"time"

	"gorm.io/gorm"

	"tenter/models/assign"
)

// callTester is somebody who has a size in a call, with what tells how likely
// their report is.
type callTester struct {
	assignmentID, personID, handle, sizeID string
	revision                               int
	due, answerBy                          Date
	assignedAt                             time.Time
	acceptedAt, checkedIn                  *time.Time
	reported, approved                     bool
	done, of                               int // sections finished, by the last check-in
	told                                   TesterRecord
}

// quietAfter is how many days without a sign of life count as quiet (chosen:
// a check-in is asked for every fortnight).
const quietAfter = 14

// state tells whether a tester is at work, has gone quiet, or has reported.
// Quiet is: no answer by the day that was given for it; no sign of life for a
// fortnight; or overdue without having said anything since the day.
func (t callTester) state(today Date, zone *time.Location) assign.State {
	if t.reported {
		return assign.Reported
	}
	if t.acceptedAt == nil {
		if t.answerBy != "" && t.answerBy < today {
			return assign.Quiet
		}
		return assign.Working
	}
	last := DateOf(*t.acceptedAt, zone)
	if t.checkedIn != nil {
		last = max(last, DateOf(*t.checkedIn, zone))
	}
	if last.DaysUntil(today) > quietAfter || (t.due < today && last <= t.due) {
		return assign.Quiet
	}
	return assign.Working
}

// tester is how assign sees them: by their record, how far they are, and
// whether they have gone quiet.
func (t callTester) tester(record TesterRecord, today Date, zone *time.Location) assign.Tester {
	p := record.Probability()
	if t.of > 0 {
		p = assign.StillAtWork(p, float64(t.done)/float64(t.of))
	}
	return assign.Tester{Probability: p, State: t.state(today, zone)}
}

// callTestersIn reads those who have a size in a call, in one statement.
func callTestersIn(db *gorm.DB, callID string) ([]callTester, error) {
	var out []callTester
	err := query(db, func(rows *sql.Rows) error {
		var (
			t                   callTester
			accepted, checkedIn sql.NullTime
		)
		err := rows.Scan(&t.assignmentID, &t.personID, &t.handle, &t.sizeID, &t.revision, &t.due, &t.answerBy, &t.assignedAt, &accepted, &checkedIn,
			&t.reported, &t.approved, &t.done, &t.of, &t.told.ToldTaken, &t.told.ToldFinished, &t.told.Elsewhere)
		if accepted.Valid {
			t.acceptedAt = &accepted.Time
		}
		if checkedIn.Valid {
			t.checkedIn = &checkedIn.Time
		}
		out = append(out, t)
		return err
	}, `SELECT a.id, a.person_id, h.handle, a.size_id, a.revision, a.due_on, coalesce(a.answer_by, ''), a.assigned_at, a.accepted_at, c.at,
			r.id IS NOT NULL, r.approved_at IS NOT NULL, coalesce(c.done, 0), coalesce(c.of, 0),
			coalesce(p.accepted, 0), coalesce(p.finished, 0), coalesce(p.elsewhere, FALSE)
		FROM assignments a
		JOIN people h ON h.id = a.person_id
		LEFT JOIN applications p ON p.test_call_id = a.test_call_id AND p.person_id = a.person_id
		LEFT JOIN reports r ON r.assignment_id = a.id AND r.superseded_at IS NULL
		LEFT JOIN check_ins c ON c.id = (SELECT max(i.id) FROM check_ins i WHERE i.assignment_id = a.id)
		WHERE a.test_call_id = ? AND a.withdrawn_at IS NULL ORDER BY a.id`, callID)
	if err != nil {
		return nil, fmt.Errorf("testers of call: %w", err)
	}
	return out, nil
}

// recordOf joins what the studio knows with what somebody told.
func recordOf(known *TesterRecord, told TesterRecord) TesterRecord {
	var r TesterRecord
	if known != nil {
		r = *known
	}
	r.ToldTaken, r.ToldFinished, r.Elsewhere = told.ToldTaken, told.ToldFinished, told.Elsewhere
	return r
}
