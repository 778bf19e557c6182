package models

import (
	"context"
	"database/sql"
	"fmt"

	"gorm.io/gorm"
)

// boardRows is what a board is made of, as it was read: what the gates are
// computed from, and what is drawn beside it.
type boardRows struct {
	*gateRows
	studio      *Studio
	points      []Point
	yardstick   *yardstick
	coverage    map[string]BoardCoverage // by size; of the running call
	sampleMarks map[cell][]sampleMark    // by size and point
	sent        []boardReport            // the current reports
	marks       map[cell][]reportMark    // by size and point
	made        map[string][]madeVersion
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
	design, err := designIn(db, idOrSlug)
	if err != nil {
		return nil, err
	}
	r := &boardRows{}
	if r.studio, err = studioIn(db); err != nil {
		return nil, err
	}
	gates, err := s.gateRowsOf(db, r.studio, DateOf(s.Now(), r.studio.Location()), []Design{*design})
	if err != nil {
		return nil, fmt.Errorf("board: %w", err)
	}
	r.gateRows = gates[0]
	for _, read := range []func(*gorm.DB) error{r.readPoints, func(db *gorm.DB) error { return r.readCoverage(s, db) }, r.readSampleMarks, r.readReports, r.readMarks, r.readMade} {
		if err := read(db); err != nil {
			return nil, fmt.Errorf("board: %w", err)
		}
	}
	r.yardstick, err = s.yardstickIn(db, r.design, r.points,
		"SELECT version_id FROM assignments WHERE design_id = ? AND withdrawn_at IS NULL UNION SELECT CAST(? AS TEXT)", r.design.ID, r.latest.ID)
	if err != nil {
		return nil, err
	}
	made := make([]madeBy, len(r.sent))
	for i, p := range r.sent {
		made[i] = madeBy{p.id, p.handle}
	}
	return r, s.judgeGatesOf(ctx, db, r.gateRows, made)
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

// readPoints reads the points with what is intended.
func (r *boardRows) readPoints(db *gorm.DB) error {
	if err := db.Where("design_id = ?", r.design.ID).Order("position").Find(&r.points).Error; err != nil {
		return err
	}
	at := make(map[string]*Point, len(r.points))
	for i := range r.points {
		at[r.points[i].ID] = &r.points[i]
	}
	return query(db, func(rows *sql.Rows) error {
		var m IntendedMeasurement
		if err := rows.Scan(&m.PointID, &m.SizeID, &m.Length.CM); err != nil {
			return err
		}
		at[m.PointID].Intended = append(at[m.PointID].Intended, m)
		return nil
	}, `SELECT i.point_id, i.size_id, i.cm FROM intended_measurements i JOIN points p ON p.id = i.point_id WHERE p.design_id = ?`, r.design.ID)
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
		r.sent = append(r.sent, b)
		return err
	}, `SELECT p.id, h.handle, a.size_id, a.version_id, p.swatch_stitches, p.swatch_rows, p.swatch_span, p.swatch_unit
		FROM assignments a JOIN reports p ON p.assignment_id = a.id AND p.superseded_at IS NULL JOIN people h ON h.id = a.person_id
		WHERE a.design_id = ? AND a.withdrawn_at IS NULL ORDER BY p.id`, r.design.ID)
}

// readMarks reads every measurement of the current reports; of a point that
// was measured several times the last reading counts.
func (r *boardRows) readMarks(db *gorm.DB) error {
	r.marks = map[cell][]reportMark{}
	at := make(map[string]*boardReport, len(r.sent))
	for i := range r.sent {
		at[r.sent[i].id] = &r.sent[i]
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
