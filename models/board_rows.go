package models

import (
	"context"
	"database/sql"
	"fmt"

	"gorm.io/gorm"
)

// boardRows is what a board is made of, as it was read.
type boardRows struct {
	today        Date
	studio       *Studio
	design       *Design
	version      Version
	call         *BoardCall
	sizes        []Size
	points       []Point
	yardstick    *yardstick
	testers      map[string]Testers       // by size
	coverage     map[string]BoardCoverage // by size; of the running call
	samples      []Sample
	sampleMarks  map[cell][]sampleMark // by size and point
	reports      []boardReport
	marks        map[cell][]reportMark // by size and point
	installments []Installment
	takes        []Take
	checked      *SheetCheck // of the latest version
	remarksOpen  int
	said         *Diagnosis // of all current reports together
	decisions    map[string]*Decision
	stated       map[string]bool // sizes whose yarn is stated
	signed       *boardSigned    // nil: nobody has signed the latest version
	made         map[string][]madeVersion
	cautions     *DesignCautions
	corrections  *CorrectionStanding
}

// boardReport is a current report with what places it on the board.
type boardReport struct {
	id, handle, sizeID, versionID string
	swatch                        SwatchGauge
}

type reportMark struct {
	report *boardReport
	length Length
}

type sampleMark struct {
	sample *Sample
	length Length
}

// cell is one size and point.
type cell struct{ size, point string }

func (s *Store) boardRows(ctx context.Context, idOrSlug string) (*boardRows, error) {
	db := s.read(ctx)
	r := &boardRows{}
	var err error
	if r.design, err = designIn(db, idOrSlug); err != nil {
		return nil, err
	}
	if r.studio, err = studioIn(db); err != nil {
		return nil, err
	}
	r.today = DateOf(s.Now(), r.studio.Location())
	for _, read := range []func(*gorm.DB) error{r.readShape, r.readCall, func(db *gorm.DB) error { return r.readCoverage(s, db) }, r.readSamples, r.readSampleMarks, r.readReports, r.readMarks, r.readRun, r.readRemarks, r.readSigned, r.readCautions, r.readMade, r.readDecisions, r.readStated, r.readCorrections} {
		if err := read(db); err != nil {
			return nil, fmt.Errorf("board: %w", err)
		}
	}
	r.yardstick, err = s.yardstickIn(db, r.design, r.points,
		"SELECT version_id FROM assignments WHERE design_id = ? AND withdrawn_at IS NULL UNION SELECT CAST(? AS TEXT)", r.design.ID, r.version.ID)
	if err != nil {
		return nil, err
	}
	if r.said, err = s.diagnosis(ctx, r.design.ID, r.testRevision(), false); err != nil {
		return nil, err
	}
	r.checked, err = s.checkedLatest(db, r.design, r.version)
	return r, err
}

// query runs a statement and scans each row.
func query(db *gorm.DB, scan func(*sql.Rows) error, statement string, args ...any) error {
	rows, err := db.Raw(statement, args...).Rows()
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		if err := scan(rows); err != nil {
			return err
		}
	}
	return rows.Err()
}

// readShape reads sizes, points with what is intended, and the latest version.
func (r *boardRows) readShape(db *gorm.DB) error {
	if err := db.Where("design_id = ?", r.design.ID).Order("position").Find(&r.sizes).Error; err != nil {
		return err
	}
	if err := db.Where("design_id = ?", r.design.ID).Order("position").Find(&r.points).Error; err != nil {
		return err
	}
	at := make(map[string]*Point, len(r.points))
	for i := range r.points {
		at[r.points[i].ID] = &r.points[i]
	}
	err := query(db, func(rows *sql.Rows) error {
		var m IntendedMeasurement
		if err := rows.Scan(&m.PointID, &m.SizeID, &m.Length.CM); err != nil {
			return err
		}
		at[m.PointID].Intended = append(at[m.PointID].Intended, m)
		return nil
	}, `SELECT i.point_id, i.size_id, i.cm FROM intended_measurements i JOIN points p ON p.id = i.point_id WHERE p.design_id = ?`, r.design.ID)
	if err != nil {
		return err
	}
	latest, err := latestVersion(db, r.design.ID)
	if err != nil {
		return err
	}
	r.version = *latest
	return nil
}

// readCall reads the newest call and, for each size, how its testers stand
// over all calls.
func (r *boardRows) readCall(db *gorm.DB) error {
	r.testers = map[string]Testers{}
	var call BoardCall
	err := query(db, func(rows *sql.Rows) error {
		r.call = &call
		return rows.Scan(&call.ID, &call.Title, &call.DueOn, &call.Closed, &call.VersionNumber)
	}, `SELECT c.id, c.title, c.due_on, c.closed_at IS NOT NULL, v.number FROM test_calls c JOIN versions v ON v.id = c.version_id
		WHERE c.design_id = ? ORDER BY c.id DESC LIMIT 1`, r.design.ID)
	if err != nil || r.call == nil {
		return err
	}
	sizes, err := testersBySize(db, []string{r.design.ID}, r.today)
	for _, z := range sizes {
		r.testers[z.sizeID] = z.Testers
	}
	return err
}

func (r *boardRows) readSamples(db *gorm.DB) error {
	return query(db, func(rows *sql.Rows) error {
		var s Sample
		err := rows.Scan(&s.ID, &s.SizeID, &s.Label, &s.Purpose, &s.WorkedThrough, &s.StateID, &s.WorkedNote, &s.Holder, &s.HeldNote,
			&s.Before.Stitches, &s.Before.Rows, &s.Before.Span, &s.Before.Unit, &s.After.Stitches, &s.After.Rows, &s.After.Span, &s.After.Unit)
		r.samples = append(r.samples, s)
		return err
	}, `SELECT s.id, s.size_id, s.label, s.purpose, s.worked_through, s.state_id, s.worked_note, coalesce(p.handle, ''), s.held_note,
			s.before_stitches, s.before_rows, s.before_span, s.before_unit, s.after_stitches, s.after_rows, s.after_span, s.after_unit
		FROM samples s LEFT JOIN people p ON p.id = s.held_by WHERE s.design_id = ? AND s.retired_at IS NULL ORDER BY s.id`, r.design.ID)
}

func (r *boardRows) readSampleMarks(db *gorm.DB) error {
	r.sampleMarks = map[cell][]sampleMark{}
	at := make(map[string]*Sample, len(r.samples))
	for i := range r.samples {
		at[r.samples[i].ID] = &r.samples[i]
	}
	return query(db, func(rows *sql.Rows) error {
		var (
			sample, point string
			l             Length
		)
		if err := rows.Scan(&sample, &point, &l.Value, &l.Unit, &l.CM); err != nil {
			return err
		}
		if s := at[sample]; s != nil {
			key := cell{s.SizeID, point}
			r.sampleMarks[key] = append(r.sampleMarks[key], sampleMark{s, l})
		}
		return nil
	}, `SELECT m.sample_id, m.point_id, m.value, m.unit, m.cm FROM sample_measurements m JOIN samples s ON s.id = m.sample_id
		WHERE s.design_id = ? AND s.retired_at IS NULL ORDER BY m.sample_id`, r.design.ID)
}

func (r *boardRows) readReports(db *gorm.DB) error {
	return query(db, func(rows *sql.Rows) error {
		var b boardReport
		err := rows.Scan(&b.id, &b.handle, &b.sizeID, &b.versionID, &b.swatch.Stitches, &b.swatch.Rows, &b.swatch.Span, &b.swatch.Unit)
		r.reports = append(r.reports, b)
		return err
	}, `SELECT p.id, h.handle, a.size_id, a.version_id, p.swatch_stitches, p.swatch_rows, p.swatch_span, p.swatch_unit
		FROM assignments a JOIN reports p ON p.assignment_id = a.id AND p.superseded_at IS NULL JOIN people h ON h.id = a.person_id
		WHERE a.design_id = ? AND a.withdrawn_at IS NULL ORDER BY p.id`, r.design.ID)
}

// readMarks reads every measurement of the current reports; of a point that
// was measured several times the last reading counts.
func (r *boardRows) readMarks(db *gorm.DB) error {
	r.marks = map[cell][]reportMark{}
	at := make(map[string]*boardReport, len(r.reports))
	for i := range r.reports {
		at[r.reports[i].id] = &r.reports[i]
	}
	var lastReport, lastPoint string
	return query(db, func(rows *sql.Rows) error {
		var (
			report, point string
			l             Length
		)
		if err := rows.Scan(&report, &point, &l.Value, &l.Unit, &l.CM); err != nil {
			return err
		}
		b := at[report]
		if b == nil {
			return nil
		}
		key := cell{b.sizeID, point}
		if report == lastReport && point == lastPoint {
			marks := r.marks[key]
			marks[len(marks)-1].length = l
			return nil
		}
		lastReport, lastPoint = report, point
		r.marks[key] = append(r.marks[key], reportMark{b, l})
		return nil
	}, `SELECT m.report_id, m.point_id, m.value, m.unit, m.cm FROM assignments a
		JOIN reports p ON p.assignment_id = a.id AND p.superseded_at IS NULL JOIN measurements m ON m.report_id = p.id
		WHERE a.design_id = ? AND a.withdrawn_at IS NULL ORDER BY m.report_id, m.point_id, m.reading`, r.design.ID)
}

// readRun reads the run of installments with takes and slips.
func (r *boardRows) readRun(db *gorm.DB) (err error) {
	if r.installments, err = installmentRows(db, r.design.ID); err != nil {
		return err
	}
	r.takes, err = takesWhere(db, "installments.design_id = ?", r.design.ID)
	return err
}

func (r *boardRows) readCorrections(db *gorm.DB) (err error) {
	r.corrections, err = correctionStandingIn(db, r.design.ID)
	return err
}

func (r *boardRows) readRemarks(db *gorm.DB) error {
	return query(db, func(rows *sql.Rows) error { return rows.Scan(&r.remarksOpen) },
		`SELECT count(*) FROM remarks WHERE design_id = ? AND settled_at IS NULL`, r.design.ID)
}
