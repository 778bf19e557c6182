package models

import (
	"context"
	"database/sql"
	"fmt"
	"slices"
	"strings"
	"time"

	"gorm.io/gorm"

	"tenter/models/cautions"
)

// FeatureList says that a designer has told what a garment has of the things
// that a caution may be about; that it has none of them is an answer too.
type FeatureList struct {
	DesignID string `gorm:"primaryKey"`
	ToldBy   *string
	ToldAt   time.Time
}

// DesignFeature is one of those things.
type DesignFeature struct {
	DesignID string `gorm:"primaryKey"`
	Feature  cautions.Feature
}

// CautionAcknowledgement says that somebody has read a caution for a design,
// by name and date. It says nothing about whether the garment meets a rule. A
// caution whose words have changed since has to be read again.
type CautionAcknowledgement struct {
	ID             string `gorm:"primaryKey"`
	DesignID       string
	Caution        string
	Statement      string // what was read
	Note           string // what was decided about it
	AcknowledgedBy *string
	AcknowledgedAt time.Time
	TakenBackAt    *time.Time

	Name   string `gorm:"-"`
	Handle string `gorm:"-"`
}

// ReadCaution is a caution for a design with who has read it; nil while nobody
// has, or while its words have changed since.
type ReadCaution struct {
	cautions.Caution
	Read  *CautionAcknowledgement
	Holds bool // release, until it is read
}

// DesignCautions is what to watch for in a design.
type DesignCautions struct {
	Design   Design
	Features []cautions.Feature
	Told     *FeatureList // nil: nobody has said what the garment has
	Cautions []ReadCaution
	Deferral string
}

// forChildren tells whether the cautions of a design hold its release, all of
// them: those of other designs do when they are more than a note.
func forChildren(audience string) bool {
	return slices.Contains([]string{"baby", "child", "youth"}, audience)
}

func statement(c cautions.Caution) string { return c.Title + ". " + c.Text }

// DesignCautions returns what to watch for in a design.
func (s *Store) DesignCautions(ctx context.Context, idOrSlug string) (*DesignCautions, error) {
	db := s.read(ctx)
	design, err := designIn(db, idOrSlug)
	if err != nil {
		return nil, err
	}
	return cautionsIn(db, design)
}

// cautionsIn reads them in two statements.
func cautionsIn(db *gorm.DB, design *Design) (*DesignCautions, error) {
	out := &DesignCautions{Design: *design, Features: []cautions.Feature{}}
	err := query(db, func(rows *sql.Rows) error {
		var (
			told    FeatureList
			feature *string
		)
		if err := rows.Scan(&told.DesignID, &told.ToldBy, &told.ToldAt, &feature); err != nil {
			return err
		}
		out.Told = &told
		if feature != nil {
			out.Features = append(out.Features, cautions.Feature(*feature))
		}
		return nil
	}, `SELECT l.design_id, l.told_by, l.told_at, f.feature FROM feature_lists l
		LEFT JOIN design_features f ON f.design_id = l.design_id WHERE l.design_id = ? ORDER BY f.feature`, design.ID)
	if err != nil {
		return nil, fmt.Errorf("features: %w", err)
	}
	var rows []struct {
		CautionAcknowledgement
		PersonName, PersonHandle *string
	}
	err = db.Table("caution_acknowledgements").Select("caution_acknowledgements.*, people.name AS person_name, people.handle AS person_handle").
		Joins("LEFT JOIN people ON people.id = caution_acknowledgements.acknowledged_by").
		Where("design_id = ? AND taken_back_at IS NULL", design.ID).Find(&rows).Error
	if err != nil {
		return nil, fmt.Errorf("acknowledgements: %w", err)
	}
	read := map[string]*CautionAcknowledgement{}
	for i := range rows {
		r := &rows[i].CautionAcknowledgement
		set(&r.Name, rows[i].PersonName)
		set(&r.Handle, rows[i].PersonHandle)
		read[r.Caution] = r
	}
	return out, out.selectFor(design.Audience, read)
}

func (d *DesignCautions) selectFor(audience string, read map[string]*CautionAcknowledgement) error {
	advice, err := cautions.Select(cautions.Design{Audience: audience, Features: d.Features})
	if err != nil {
		return fmt.Errorf("cautions: %w", err)
	}
	d.Deferral = advice.Deferral
	for _, c := range advice.Cautions {
		one := ReadCaution{Caution: c, Holds: forChildren(audience) || c.Level != cautions.Note}
		if r := read[c.ID]; r != nil && r.Statement == statement(c) {
			one.Read = r
		}
		d.Cautions = append(d.Cautions, one)
	}
	return nil
}

// why tells what still holds release.
func (d *DesignCautions) why() string {
	if d.Told == nil && forChildren(d.Design.Audience) {
		return "Nobody has said yet what this has of what cautions are about: cords, ties, a hood, small parts, sleepwear."
	}
	var open []string
	for _, c := range d.Cautions {
		if c.Holds && c.Read == nil {
			open = append(open, "“"+c.Title+"”")
		}
	}
	if len(open) == 0 {
		return ""
	}
	return fmt.Sprintf("%s not acknowledged: %s.", counted(len(open), "caution")+" "+isAre(len(open)), strings.Join(open, ", "))
}

func (r *boardRows) readCautions(db *gorm.DB) (err error) {
	r.cautions, err = cautionsIn(db, r.design)
	return err
}
