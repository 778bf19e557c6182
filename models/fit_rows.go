package models

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"fmt"
	"maps"
	"slices"
	"time"

	"gorm.io/gorm"
)

// fitReport is a current report with what places it in the test.
type fitReport struct {
	ReportID, AssignmentID, Handle, SizeID, VersionID string

	Number       int
	SentAt       time.Time
	ApprovedAt   *time.Time
	Swatch       SwatchGauge
	Yarn         Amount
	measurements []Measurement // in the order of points, then readings
}

// fitRows is what a design's diagnosis is made of, as it was read.
type fitRows struct {
	design    *Design
	latest    Version
	numbers   map[string]int // of versions, by id
	versions  map[string]Version
	decisions map[string]*Decision
	made      []string // versions that somebody has reported on, the first one first
	sizes     []Size
	points    []Point
	reports   []fitReport // in the order in which they were sent
	yardstick *yardstick
}

func (r *fitRows) size(id string) *Size {
	if i := slices.IndexFunc(r.sizes, func(z Size) bool { return z.ID == id }); i >= 0 {
		return &r.sizes[i]
	}
	return nil
}

// snapshot runs f on one state of the database, so that what f reads in
// several statements belongs together.
func (s *Store) snapshot(ctx context.Context, f func(db *gorm.DB) error) error {
	if s.dialect == "postgres" {
		return s.read(ctx).Transaction(f, &sql.TxOptions{Isolation: sql.LevelRepeatableRead, ReadOnly: true})
	}
	return s.read(ctx).Transaction(f) // a reader of SQLite sees one state for as long as it reads
}

// fitRowsIn reads everything of a design that the diagnosis and the yarn need.
func (s *Store) fitRowsIn(db *gorm.DB, designID string) (*fitRows, error) {
	r := &fitRows{numbers: map[string]int{}, versions: map[string]Version{}}
	var err error
	if r.design, err = designIn(db, designID); err != nil {
		return nil, err
	}
	if err = db.Where("design_id = ?", designID).Order("position").Find(&r.sizes).Error; err != nil {
		return nil, fmt.Errorf("sizes: %w", err)
	}
	if r.points, err = pointsIn(db, []string{designID}); err != nil {
		return nil, err
	}
	if err = r.readVersions(db); err != nil {
		return nil, err
	}
	if r.reports, err = fitReportsIn(db, designID); err != nil {
		return nil, err
	}
	if r.decisions, err = decisionsIn(db, designID); err != nil {
		return nil, err
	}
	if err = r.readMeasurements(db); err != nil {
		return nil, fmt.Errorf("measurements: %w", err)
	}
	for _, report := range r.reports {
		if !slices.Contains(r.made, report.VersionID) {
			r.made = append(r.made, report.VersionID)
		}
	}
	slices.SortFunc(r.made, func(a, b string) int { return r.numbers[a] - r.numbers[b] })
	r.yardstick, err = s.yardstickIn(db, r.design, r.points, "SELECT id FROM versions WHERE design_id = ?", designID)
	return r, err
}

func (r *fitRows) readVersions(db *gorm.DB) error {
	var versions []Version
	if err := db.Where("design_id = ?", r.design.ID).Order("number").Find(&versions).Error; err != nil {
		return fmt.Errorf("versions: %w", err)
	}
	for _, v := range versions {
		r.numbers[v.ID], r.versions[v.ID], r.latest = v.Number, v, v
	}
	return nil
}

// fitReportsIn reads the current report of every assignment that was not
// withdrawn, over all of the design's calls.
func fitReportsIn(db *gorm.DB, designID string) ([]fitReport, error) {
	var out []fitReport
	err := query(db, func(rows *sql.Rows) error {
		var p fitReport
		err := rows.Scan(&p.ReportID, &p.AssignmentID, &p.Handle, &p.SizeID, &p.VersionID, &p.Number, &p.SentAt, &p.ApprovedAt,
			&p.Swatch.Stitches, &p.Swatch.Rows, &p.Swatch.Span, &p.Swatch.Unit, &p.Yarn.Value, &p.Yarn.Unit)
		out = append(out, p)
		return err
	}, `SELECT p.id, a.id, h.handle, a.size_id, a.version_id, p.number, p.sent_at, p.approved_at,
			p.swatch_stitches, p.swatch_rows, p.swatch_span, p.swatch_unit, p.yarn_value, p.yarn_unit
		FROM assignments a JOIN reports p ON p.assignment_id = a.id AND p.superseded_at IS NULL JOIN people h ON h.id = a.person_id
		WHERE a.design_id = ? AND a.withdrawn_at IS NULL ORDER BY p.id`, designID)
	if err != nil {
		return nil, fmt.Errorf("reports: %w", err)
	}
	return out, nil
}

func (r *fitRows) readMeasurements(db *gorm.DB) error {
	at := make(map[string]*fitReport, len(r.reports))
	for i := range r.reports {
		at[r.reports[i].ReportID] = &r.reports[i]
	}
	return query(db, func(rows *sql.Rows) error {
		var m Measurement
		if err := rows.Scan(&m.ReportID, &m.PointID, &m.Reading, &m.Length.Value, &m.Length.Unit, &m.Length.CM); err != nil {
			return err
		}
		if p := at[m.ReportID]; p != nil {
			p.measurements = append(p.measurements, m)
		}
		return nil
	}, `SELECT m.report_id, m.point_id, m.reading, m.value, m.unit, m.cm FROM assignments a
		JOIN reports p ON p.assignment_id = a.id AND p.superseded_at IS NULL
		JOIN measurements m ON m.report_id = p.id JOIN points q ON q.id = m.point_id
		WHERE a.design_id = ? AND a.withdrawn_at IS NULL ORDER BY m.report_id, q.position, m.reading`, r.design.ID)
}

// revisionKey tells states of a design's test apart. A report never changes,
// a correction is another one; sizes, points and gauge are covered by the
// design's revision; a version that somebody made never changes, the latest
// may. The handle is in every message. A count that was accepted as wrong parts
// the pieces made before and after (see fitRound.variants).
type revisionKey struct{ hash [sha256.Size]byte }

func (k revisionKey) String() string { return hex.EncodeToString(k.hash[:8]) }

// madeBy is what of a report tells states apart.
type madeBy struct{ reportID, handle string }

// testRevision makes the key; reports come in the order of their ids.
func testRevision(design *Design, latest Version, reports []madeBy, decisions map[string]*Decision) revisionKey {
	h := sha256.New()
	fmt.Fprintf(h, "%s %d %s %d", design.ID, design.Revision, latest.ID, latest.Revision)
	for _, p := range reports {
		fmt.Fprintf(h, " %s %s", p.reportID, p.handle)
	}
	for _, key := range slices.Sorted(maps.Keys(decisions)) {
		if at, accepted := decisions[key].correctedFrom(); accepted {
			fmt.Fprintf(h, " %s %d", key, at.UnixMicro())
		}
	}
	return revisionKey{[sha256.Size]byte(h.Sum(nil))}
}

func (r *fitRows) revision() revisionKey {
	made := make([]madeBy, len(r.reports))
	for i, p := range r.reports {
		made[i] = madeBy{p.ReportID, p.Handle}
	}
	return testRevision(r.design, r.latest, made, r.decisions)
}
