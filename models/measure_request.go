package models

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"

	"gorm.io/gorm"
)

// MeasureRequest asks a tester to measure a point of their piece, or their
// swatch, again. The designer asks; the tester sees it beside the point; their next report that
// measures it answers. There is one open request for each piece and point. It tells nothing of what is expected: a tester measures blind.
type MeasureRequest struct {
	ID           string
	DesignID     string
	AssignmentID string
	PointID      *string // nil: the swatch
	Why          string  // in words to the tester
	AskedBy      *string
	AskedAt      time.Time
	Was          *Length // the last reading when it was asked
	AnsweredAt   *time.Time
	ReportID     *string // that answered
	Now          *Length // the last reading of that report
	WithdrawnAt  *time.Time
	Revision     int

	Handle, SizeID string // of the tester, their size
	Point          string // its name; "" for the swatch
}

// Open tells whether the tester still has to measure.
func (m MeasureRequest) Open() bool { return m.AnsweredAt == nil && m.WithdrawnAt == nil }

// Same tells whether what was measured again is the same to half a centimetre,
// which is as fine as a tape is read: then it was no slip of the pen.
func (m MeasureRequest) Same() bool {
	return m.Was != nil && m.Now != nil && m.Was.CM-m.Now.CM <= sameReadingCM && m.Now.CM-m.Was.CM <= sameReadingCM
}

const sameReadingCM = 0.5 // chosen

// NewMeasureRequest is what it takes to ask.
type NewMeasureRequest struct {
	AssignmentID string
	PointID      *string // nil: the swatch
	Why          string
}

// AskToMeasureAgain asks a tester for a point once more.
func (s *Store) AskToMeasureAgain(ctx context.Context, actor Actor, idOrSlug string, in NewMeasureRequest) (*MeasureRequest, error) {
	var p problems
	p.text("why", in.Why, false, longText)
	if err := p.err(); err != nil {
		return nil, err
	}
	var out *MeasureRequest
	err := s.change(ctx, actor, func(t *tx) error {
		design, err := designIn(t.DB, idOrSlug)
		if err != nil {
			return err
		}
		m := MeasureRequest{ID: NewID(), DesignID: design.ID, AssignmentID: in.AssignmentID, PointID: in.PointID, Why: in.Why, AskedAt: t.now, Revision: 1}
		if t.actor.PersonID != "" {
			m.AskedBy = &t.actor.PersonID
		}
		if err := t.checkRequest(&m); err != nil {
			return err
		}
		if err := t.createRequest(m); err != nil {
			return err
		}
		if out, err = measureRequestIn(t.DB, m.ID); err != nil {
			return err
		}
		return t.record(design.ID, "measure_request", m.ID, "asked", nil, out)
	})
	return out, err
}

// checkRequest refuses an assignment or point of another design, and fills in
// what the tester's report says now.
func (t *tx) checkRequest(m *MeasureRequest) error {
	refuse := func(field, problem string) error {
		return &Error{Kind: Invalid, Message: "Nobody was asked.", Fields: []FieldProblem{{field, problem}}}
	}
	a, err := first[Assignment](t.DB, "assignment", "id = ? AND design_id = ?", m.AssignmentID, m.DesignID)
	if KindOf(err) == NotFound {
		return refuse("assignment_id", "is not an assignment of this design")
	}
	if err != nil {
		return err
	}
	if m.PointID != nil {
		if _, err = first[Point](t.DB, "point", "id = ? AND design_id = ?", *m.PointID, m.DesignID); KindOf(err) == NotFound {
			return refuse("point_id", "is not a point of this design")
		}
		if err != nil {
			return err
		}
	}
	if a.WithdrawnAt != nil {
		return failf(Conflict, "This tester has withdrawn and can't be asked any more.")
	}
	report, err := first[Report](t.DB, "report", "assignment_id = ? AND superseded_at IS NULL", a.ID)
	if KindOf(err) == NotFound {
		return failf(Conflict, "This tester has not reported yet; there is nothing to measure again.")
	}
	if err != nil {
		return err
	}
	if m.PointID != nil {
		m.Was, err = lastReadingIn(t.DB, report.ID, *m.PointID)
	}
	return err
}

// lastReadingIn is what a report says of a point, nil where it says nothing.
func lastReadingIn(db *gorm.DB, reportID, pointID string) (*Length, error) {
	var l *Length
	err := query(db, func(rows *sql.Rows) error {
		l = &Length{}
		return rows.Scan(&l.Value, &l.Unit, &l.CM)
	}, `SELECT value, unit, cm FROM measurements WHERE report_id = ? AND point_id = ? ORDER BY reading DESC LIMIT 1`, reportID, pointID)
	if err != nil {
		return nil, fmt.Errorf("last reading: %w", err)
	}
	return l, nil
}

func (t *tx) createRequest(m MeasureRequest) error {
	row := map[string]any{"id": m.ID, "design_id": m.DesignID, "assignment_id": m.AssignmentID, "point_id": m.PointID, "why": m.Why,
		"asked_by": m.AskedBy, "asked_at": m.AskedAt, "revision": m.Revision, "created_at": t.now, "updated_at": t.now}
	if m.Was != nil {
		row["was_value"], row["was_unit"], row["was_cm"] = m.Was.Value, m.Was.Unit, m.Was.CM
	}
	err := t.Table("measure_requests").Create(row).Error
	if errors.Is(err, gorm.ErrDuplicatedKey) {
		return failf(Conflict, "This tester has been asked to measure it already and has not answered yet.")
	}
	if err != nil {
		return fmt.Errorf("ask to measure again: %w", err)
	}
	return nil
}

// WithdrawMeasureRequest takes back a request that was not answered yet.
func (s *Store) WithdrawMeasureRequest(ctx context.Context, actor Actor, id string, revision *int) (*MeasureRequest, error) {
	var out *MeasureRequest
	err := s.change(ctx, actor, func(t *tx) error {
		before, err := measureRequestIn(t.DB, id)
		if err != nil {
			return err
		}
		if err := checkRevision("request", before.Revision, revision); err != nil {
			return err
		}
		if !before.Open() {
			return failf(Conflict, "This request is answered or taken back already.")
		}
		if err := t.bumpRequest(before, map[string]any{"withdrawn_at": t.now}); err != nil {
			return err
		}
		if out, err = measureRequestIn(t.DB, id); err != nil {
			return err
		}
		return t.record(out.DesignID, "measure_request", id, "taken back", before, out)
	})
	return out, err
}

// requestRow is a measure request as gorm updates it.
type requestRow struct{}

// TableName is where requests are kept.
func (requestRow) TableName() string { return "measure_requests" }

func (t *tx) bumpRequest(m *MeasureRequest, values map[string]any) error {
	return t.bump("request", &requestRow{}, m.ID, m.Revision, values)
}

// answerRequests counts a report as the answer to the open requests for the
// points that it measures.
func (t *tx) answerRequests(a *Assignment, r *Report) error {
	open, err := openRequestsIn(t.DB, a.ID)
	if err != nil {
		return err
	}
	for _, m := range open {
		now, answered := m.answer(r)
		if !answered {
			continue
		}
		values := map[string]any{"answered_at": t.now, "report_id": r.ID}
		if now != nil {
			values["now_value"], values["now_unit"], values["now_cm"] = now.Value, now.Unit, now.CM
		}
		if err := t.bumpRequest(&m, values); err != nil {
			return err
		}
		after := m
		after.AnsweredAt, after.ReportID, after.Now, after.Revision = &t.now, &r.ID, now, m.Revision+1
		if err := t.record(a.DesignID, "measure_request", m.ID, "answered", m, after); err != nil {
			return err
		}
	}
	return nil
}

// answer is what a report says to a request; answered is false when it says
// nothing.
func (m MeasureRequest) answer(r *Report) (now *Length, answered bool) {
	if m.PointID == nil {
		return nil, !r.Swatch.IsEmpty()
	}
	for i := range r.Measurements {
		if r.Measurements[i].PointID == *m.PointID {
			now = &r.Measurements[i].Length
		}
	}
	return now, now != nil
}

// openRequestsIn are the requests that an assignment's tester has to answer.
func openRequestsIn(db *gorm.DB, assignmentID string) ([]MeasureRequest, error) {
	return measureRequestsIn(db, "r.assignment_id = ? AND r.answered_at IS NULL AND r.withdrawn_at IS NULL", assignmentID)
}

// MeasureRequest returns a request to the studio's own people.
func (s *Store) MeasureRequest(ctx context.Context, id string) (*MeasureRequest, error) {
	return measureRequestIn(s.read(ctx), id)
}

func measureRequestIn(db *gorm.DB, id string) (*MeasureRequest, error) {
	rows, err := measureRequestsIn(db, "r.id = ?", id)
	if err != nil {
		return nil, err
	}
	if len(rows) == 0 {
		return nil, notFound("request")
	}
	return &rows[0], nil
}

func measureRequestsIn(db *gorm.DB, where string, args ...any) ([]MeasureRequest, error) {
	var out []MeasureRequest
	err := query(db, func(rows *sql.Rows) error {
		var (
			m        MeasureRequest
			was, now maybeLength
		)
		err := rows.Scan(&m.ID, &m.DesignID, &m.AssignmentID, &m.PointID, &m.Why, &m.AskedBy, &m.AskedAt, &was.value, &was.unit, &was.cm,
			&m.AnsweredAt, &m.ReportID, &now.value, &now.unit, &now.cm, &m.WithdrawnAt, &m.Revision, &m.Handle, &m.SizeID, &m.Point)
		m.Was, m.Now = was.length(), now.length()
		out = append(out, m)
		return err
	}, `SELECT r.id, r.design_id, r.assignment_id, r.point_id, r.why, r.asked_by, r.asked_at, r.was_value, r.was_unit, r.was_cm,
			r.answered_at, r.report_id, r.now_value, r.now_unit, r.now_cm, r.withdrawn_at, r.revision, h.handle, a.size_id, coalesce(q.name, '')
		FROM measure_requests r JOIN assignments a ON a.id = r.assignment_id JOIN people h ON h.id = a.person_id LEFT JOIN points q ON q.id = r.point_id
		WHERE `+where+` ORDER BY r.id`, args...)
	if err != nil {
		return nil, fmt.Errorf("requests to measure again: %w", err)
	}
	return out, nil
}

// maybeLength is a length that a row may lack.
type maybeLength struct {
	value, cm *float64
	unit      *string
}

func (m maybeLength) length() *Length {
	if m.value == nil || m.unit == nil || m.cm == nil {
		return nil
	}
	return &Length{*m.value, *m.unit, *m.cm}
}
