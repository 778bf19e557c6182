package models

import (
	"context"
	"fmt"
	"time"

	"gorm.io/gorm"
)

// Report is what a tester measured. Each sending is a row of its own with the
// next number; the one that nothing supersedes is what counts, the others are
// its history. Only the assignment's tester sends one, or the designer who
// imports what a tester wrote elsewhere. A new sending is not approved yet.
type Report struct {
	ID           string `gorm:"primaryKey"`
	AssignmentID string
	Number       int
	SentAt       time.Time
	SentBy       *string
	Source       string      // "tester" or "import"
	Swatch       SwatchGauge `gorm:"embedded;embeddedPrefix:swatch_"`
	Yarn         Amount      `gorm:"embedded;embeddedPrefix:yarn_"`
	Hours        *float64
	Note         string
	SupersededAt *time.Time
	ApprovedAt   *time.Time
	ApprovedBy   *string
	Revision     int
	CreatedAt    time.Time
	UpdatedAt    time.Time

	Measurements []Measurement `gorm:"-"`
}

// Measurement is one reading of one point on the finished piece.
type Measurement struct {
	ReportID string `gorm:"primaryKey"`
	PointID  string `gorm:"primaryKey"`
	Reading  int    `gorm:"primaryKey"` // 1, 2, ...: the same point measured again
	Length   Length `gorm:"embedded"`
}

// NewReport is what is sent.
type NewReport struct {
	Swatch       SwatchGauge
	Measurements []Measurement // Reading is counted from their order
	Yarn         Amount
	Hours        *float64
	Note         string
	Remarks      []NewRemark
	// Corrects is the number that this sending replaces, as its writer saw it;
	// nil does not check.
	Corrects *int
}

const (
	mostHours        = 2000.0
	mostMeasurements = mostPoints * mostReadings
	mostReadings     = 10
	mostRemarks      = 100
)

func (r NewReport) validate(points map[string]bool) error {
	var p problems
	r.Swatch.validate(&p, "swatch", false)
	r.Yarn.validate(&p, "yarn")
	if r.Hours != nil && !(*r.Hours > 0 && *r.Hours <= mostHours) {
		p.addf("hours", "has to lie between 0 and %g", mostHours)
	}
	p.text("note", r.Note, false, longText)
	if len(r.Measurements) > mostMeasurements {
		p.addf("measurements", "has more than %d readings", mostMeasurements)
	}
	readings := map[string]int{}
	for i, m := range r.Measurements {
		at := fmt.Sprintf("measurements[%d]", i)
		if !points[m.PointID] {
			p.addf(at+".point_id", "is not a point of this design")
		}
		if readings[m.PointID]++; readings[m.PointID] > mostReadings {
			p.addf(at+".point_id", "is measured more than %d times", mostReadings)
		}
		p.length(at, m.Length)
	}
	if len(r.Measurements) == 0 && r.Swatch.IsEmpty() {
		p.addf("measurements", "is empty; measure at least one point, or tell the swatch's gauge")
	}
	if len(r.Remarks) > mostRemarks {
		p.addf("remarks", "has more than %d remarks", mostRemarks)
	}
	for i, m := range r.Remarks {
		m.validate(&p, fmt.Sprintf("remarks[%d].", i))
	}
	return p.err()
}

// SendReport keeps what a tester measured as the next number of their report.
func (s *Store) SendReport(ctx context.Context, actor Actor, assignmentID string, in NewReport) (*Report, error) {
	var out *Report
	err := s.change(ctx, actor, func(t *tx) error {
		a, err := assignmentFor(t.DB, actor, assignmentID)
		if err != nil {
			return err
		}
		if a.PersonID != actor.PersonID {
			return failf(Forbidden, "Only the tester sends this report; import what they wrote elsewhere.")
		}
		out, err = t.sendReport(a, "tester", in)
		return err
	})
	return out, err
}

func (t *tx) sendReport(a *Assignment, source string, in NewReport) (*Report, error) {
	if a.WithdrawnAt != nil {
		return nil, failf(Conflict, "This assignment was withdrawn; ask the designer to assign the size again.")
	}
	points, err := pointsIn(t.DB, []string{a.DesignID})
	if err != nil {
		return nil, err
	}
	known := map[string]bool{}
	for _, q := range points {
		known[q.ID] = true
	}
	if err := in.validate(known); err != nil {
		return nil, err
	}
	number, err := t.supersede(a.ID, in.Corrects)
	if err != nil {
		return nil, err
	}
	r := Report{ID: NewID(), AssignmentID: a.ID, Number: number, SentAt: t.now, Source: source, Swatch: in.Swatch, Yarn: in.Yarn,
		Hours: in.Hours, Note: in.Note, Revision: 1, CreatedAt: t.now, UpdatedAt: t.now}
	if t.actor.PersonID != "" {
		r.SentBy = &t.actor.PersonID
	}
	if in.Swatch.IsEmpty() {
		r.Swatch = SwatchGauge{} // a span without a count says nothing
	}
	if err := t.Create(&r).Error; err != nil {
		return nil, fmt.Errorf("send report: %w", err)
	}
	if r.Measurements, err = t.writeMeasurements(r.ID, in.Measurements); err != nil {
		return nil, err
	}
	for _, m := range in.Remarks {
		if _, err := t.addRemark(a.DesignID, a.VersionID, &a.ID, m); err != nil {
			return nil, err
		}
	}
	if err := t.acceptIfAsked(a); err != nil {
		return nil, err
	}
	if err := t.answerRequests(a, &r); err != nil {
		return nil, err
	}
	return &r, t.record(a.DesignID, "report", r.ID, "sent", nil, r)
}

// supersede closes the report that has counted so far and returns the next number.
func (t *tx) supersede(assignmentID string, corrects *int) (int, error) {
	latest, err := first[Report](t.DB, "report", "assignment_id = ? AND superseded_at IS NULL", assignmentID)
	if KindOf(err) == NotFound {
		if corrects != nil {
			return 0, failf(Conflict, "There is no report %d to correct; this would be the first.", *corrects)
		}
		return 1, nil
	}
	if err != nil {
		return 0, err
	}
	if corrects != nil && *corrects != latest.Number {
		return 0, failf(Conflict, "Report %d is the latest, not %d; read it first, then correct it.", latest.Number, *corrects)
	}
	err = t.bump("report", &Report{}, latest.ID, latest.Revision, map[string]any{"superseded_at": t.now})
	return latest.Number + 1, err
}

func (t *tx) writeMeasurements(reportID string, in []Measurement) ([]Measurement, error) {
	rows := make([]Measurement, len(in))
	readings := map[string]int{}
	for i, m := range in {
		readings[m.PointID]++
		m.ReportID, m.Reading = reportID, readings[m.PointID]
		rows[i] = m
	}
	if err := createAll(t.DB, rows); err != nil {
		return nil, fmt.Errorf("measurements: %w", err)
	}
	return rows, nil
}

// acceptIfAsked counts a report as the tester's acceptance.
func (t *tx) acceptIfAsked(a *Assignment) error {
	if a.AcceptedAt != nil {
		return nil
	}
	if err := t.agreeByAccepting(a); err != nil {
		return err
	}
	return t.bump("assignment", &Assignment{}, a.ID, a.Revision, map[string]any{"accepted_at": t.now})
}

// ApproveReport says whether the designer takes a report as it is.
func (s *Store) ApproveReport(ctx context.Context, actor Actor, id string, approved bool) (*Report, error) {
	var after Report
	err := s.change(ctx, actor, func(t *tx) error {
		before, err := reportIn(t.DB, actor, id)
		if err != nil {
			return err
		}
		if before.SupersededAt != nil {
			return failf(Conflict, "Report %d was corrected since; approve the latest one.", before.Number)
		}
		after = *before
		after.ApprovedAt, after.ApprovedBy = stamp(approved, before.ApprovedAt, t.now), nil
		if approved && actor.PersonID != "" {
			after.ApprovedBy = &actor.PersonID
		}
		err = t.bump("report", &Report{}, id, before.Revision, map[string]any{"approved_at": after.ApprovedAt, "approved_by": after.ApprovedBy})
		if err != nil {
			return err
		}
		after.Revision = before.Revision + 1
		a, err := first[Assignment](t.DB, "assignment", "id = ?", after.AssignmentID)
		if err != nil {
			return err
		}
		return t.record(a.DesignID, "report", id, approvalWord(approved), before, after)
	})
	return &after, err
}

func approvalWord(approved bool) string {
	if approved {
		return "approved"
	}
	return "approval taken back"
}

// Report returns a report to staff and to its own tester.
func (s *Store) Report(ctx context.Context, actor Actor, id string) (*Report, error) {
	return reportIn(s.read(ctx), actor, id)
}

func reportIn(db *gorm.DB, actor Actor, id string) (*Report, error) {
	r, err := first[Report](db, "report", "id = ?", id)
	if err != nil {
		return nil, err
	}
	if _, err := assignmentFor(db, actor, r.AssignmentID); err != nil {
		if KindOf(err) == NotFound {
			return nil, notFound("report")
		}
		return nil, err
	}
	return r, withReadings(db, []*Report{r})
}

// Reports returns every sending of an assignment's report, the first one
// first, to staff and to its own tester.
func (s *Store) Reports(ctx context.Context, actor Actor, assignmentID string) ([]*Report, error) {
	db := s.read(ctx)
	if _, err := assignmentFor(db, actor, assignmentID); err != nil {
		return nil, err
	}
	var rows []*Report
	if err := db.Where("assignment_id = ?", assignmentID).Order("number").Find(&rows).Error; err != nil {
		return nil, fmt.Errorf("reports: %w", err)
	}
	return rows, withReadings(db, rows)
}

// withReadings fills reports in one query, in the order of the points.
func withReadings(db *gorm.DB, reports []*Report) error {
	if len(reports) == 0 {
		return nil
	}
	at := make(map[string]*Report, len(reports))
	ids := make([]string, len(reports))
	for i, r := range reports {
		at[r.ID], ids[i] = r, r.ID
	}
	rows, err := db.Raw(`SELECT m.report_id, m.point_id, m.reading, m.value, m.unit, m.cm FROM measurements m
		JOIN points p ON p.id = m.point_id WHERE m.report_id IN ? ORDER BY m.report_id, p.position, m.reading`, ids).Rows()
	if err != nil {
		return fmt.Errorf("measurements: %w", err)
	}
	defer rows.Close()
	for rows.Next() {
		var m Measurement
		if err := rows.Scan(&m.ReportID, &m.PointID, &m.Reading, &m.Length.Value, &m.Length.Unit, &m.Length.CM); err != nil {
			return fmt.Errorf("measurements: %w", err)
		}
		at[m.ReportID].Measurements = append(at[m.ReportID].Measurements, m)
	}
	return rows.Err()
}
