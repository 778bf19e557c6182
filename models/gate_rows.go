package models

import (
	"context"
	"database/sql"
	"fmt"

	"gorm.io/gorm"
)

// gateRows is what the gates of a design are computed from, as it was read. The
// board, the release page, the studio's page and whatever refuses to let
// something out while a gate is shut all read it here.
type gateRows struct {
	today     Date
	design    *Design
	versions  []Version // the first one first
	latest    Version
	out       Version // the version that goes out: the one named, else the latest
	call      *BoardCall
	sizes     []Size
	testers   map[string]Testers // by size
	awaited   awaited
	samples   []Sample
	bearing   GaugeBearing
	run       []InstallmentNow
	remarks   []string        // ids of those not settled
	signed    *versionSigned  // nil: nobody has signed the version that goes out
	stated    map[string]bool // sizes whose yarn is stated
	cautions  *DesignCautions
	overrides map[gateAt]*GateOverride

	// What takes a calculation, or several statements; see judgeGates.
	checked     *SheetCheck // of the version that goes out
	said        *Diagnosis  // of all current reports together
	reports     int
	corrections *CorrectionStanding
	decisions   map[string]*Decision

	own map[string][]Gate // each installment's own gates, once they are computed
}

// gateAt is the place of a gate: an installment's own, or the design's.
type gateAt struct {
	installment string
	key         GateKey
}

// versionSigned is the latest word of a tech editor on a version.
type versionSigned struct {
	id       string
	standing bool
	why      string // it was withdrawn
}

// gateReading reads the rows of several designs at once, in a constant number
// of statements.
type gateReading struct {
	db    *gorm.DB
	today Date
	ids   []string // never empty, which "IN ()" would not take
	of    map[string]*gateRows
	leads int
}

// gateRowsOf reads what the gates of some designs need, but for what takes a
// calculation. They come in the order of the designs.
func (s *Store) gateRowsOf(db *gorm.DB, studio *Studio, today Date, designs []Design) ([]*gateRows, error) {
	r := gateReading{db: db, today: today, ids: []string{""}, of: map[string]*gateRows{}, leads: studio.LeadDays}
	out := make([]*gateRows, len(designs))
	for i := range designs {
		d := &designs[i]
		out[i] = &gateRows{today: today, design: d, testers: map[string]Testers{}, stated: map[string]bool{}, overrides: map[gateAt]*GateOverride{}}
		r.of[d.ID] = out[i]
		r.ids = append(r.ids, d.ID)
	}
	for _, read := range []func() error{r.versions, r.calls, r.sizes, r.samples, r.runs, r.remarks, r.signOffs, r.stated, r.cautions, r.overrides} {
		if err := read(); err != nil {
			return nil, fmt.Errorf("gates: %w", err)
		}
	}
	for _, rows := range out {
		var err error
		if rows.bearing, err = BearGauge(*rows.design, rows.samples); err != nil {
			return nil, fmt.Errorf("gates: %w", err)
		}
	}
	return out, nil
}

// gateRowsIn reads and judges the rows of one design.
func (s *Store) gateRowsIn(ctx context.Context, db *gorm.DB, design *Design) (*gateRows, error) {
	studio, err := studioIn(db)
	if err != nil {
		return nil, err
	}
	rows, err := s.gateRowsOf(db, studio, DateOf(s.Now(), studio.Location()), []Design{*design})
	if err != nil {
		return nil, err
	}
	return rows[0], s.judgeGates(ctx, db, rows[0])
}

// judgeGates adds what takes a calculation: the check of the count sheet, and
// what the current reports say together. Both are kept, so that it is done again
// only when something changed. The corrections come with it.
func (s *Store) judgeGates(ctx context.Context, db *gorm.DB, r *gateRows) error {
	var made []madeBy
	err := query(db, func(rows *sql.Rows) error {
		var m madeBy
		err := rows.Scan(&m.reportID, &m.handle)
		made = append(made, m)
		return err
	}, `SELECT p.id, h.handle FROM assignments a JOIN reports p ON p.assignment_id = a.id AND p.superseded_at IS NULL JOIN people h ON h.id = a.person_id
		WHERE a.design_id = ? AND a.withdrawn_at IS NULL ORDER BY p.id`, r.design.ID)
	if err != nil {
		return fmt.Errorf("reports: %w", err)
	}
	return s.judgeGatesOf(ctx, db, r, made)
}

// judgeGatesOf is judgeGates for a caller that has the reports.
func (s *Store) judgeGatesOf(ctx context.Context, db *gorm.DB, r *gateRows, made []madeBy) (err error) {
	r.reports = len(made)
	if r.decisions, err = decisionsIn(db, r.design.ID); err != nil {
		return err
	}
	if r.said, err = s.diagnosis(ctx, db, r.design.ID, testRevision(r.design, r.latest, made, r.decisions), false); err != nil {
		return err
	}
	if r.corrections, err = correctionStandingIn(db, r.design.ID); err != nil {
		return err
	}
	r.checked, err = s.checkedVersion(db, r.design, r.out)
	return err
}
