package models

import (
	"context"
	"database/sql"
	"fmt"
	"slices"
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

func cautionsIn(db *gorm.DB, design *Design) (*DesignCautions, error) {
	all, err := cautionsOf(db, []*Design{design})
	return all[design.ID], err
}

// cautionsOf reads those of some designs in two statements.
func cautionsOf(db *gorm.DB, designs []*Design) (map[string]*DesignCautions, error) {
	out := make(map[string]*DesignCautions, len(designs))
	ids := []string{""}
	for _, d := range designs {
		out[d.ID] = &DesignCautions{Design: *d, Features: []cautions.Feature{}}
		ids = append(ids, d.ID)
	}
	err := query(db, func(rows *sql.Rows) error {
		var (
			told    FeatureList
			feature *string
		)
		if err := rows.Scan(&told.DesignID, &told.ToldBy, &told.ToldAt, &feature); err != nil {
			return err
		}
		d := out[told.DesignID]
		d.Told = &told
		if feature != nil {
			d.Features = append(d.Features, cautions.Feature(*feature))
		}
		return nil
	}, `SELECT l.design_id, l.told_by, l.told_at, f.feature FROM feature_lists l
		LEFT JOIN design_features f ON f.design_id = l.design_id WHERE l.design_id IN ? ORDER BY f.feature`, ids)
	if err != nil {
		return nil, fmt.Errorf("features: %w", err)
	}
	var rows []struct {
		CautionAcknowledgement
		PersonName, PersonHandle *string
	}
	err = db.Table("caution_acknowledgements").Select("caution_acknowledgements.*, people.name AS person_name, people.handle AS person_handle").
		Joins("LEFT JOIN people ON people.id = caution_acknowledgements.acknowledged_by").
		Where("design_id IN ? AND taken_back_at IS NULL", ids).Find(&rows).Error
	if err != nil {
		return nil, fmt.Errorf("acknowledgements: %w", err)
	}
	read := map[string]map[string]*CautionAcknowledgement{}
	for i := range rows {
		r := &rows[i].CautionAcknowledgement
		set(&r.Name, rows[i].PersonName)
		set(&r.Handle, rows[i].PersonHandle)
		if read[r.DesignID] == nil {
			read[r.DesignID] = map[string]*CautionAcknowledgement{}
		}
		read[r.DesignID][r.Caution] = r
	}
	for id, d := range out {
		if err := d.selectFor(d.Design.Audience, read[id]); err != nil {
			return nil, err
		}
	}
	return out, nil
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
