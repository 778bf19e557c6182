package models

import (
	"context"
	"fmt"
	"net/url"
	"time"

	"gorm.io/gorm"
	"gorm.io/gorm/clause"
)

// Installment is one dated part of a design's make-along. It starts where the
// one before it ended, so positions run from 1 without gaps. The designer plans
// installments; the designer and the filmers mark how far each one is.
//
// The four stamps are what somebody marked. Whether they still hold depends on
// the takes: see stepsHolding.
type Installment struct {
	ID          string `gorm:"primaryKey"`
	DesignID    string
	Position    int
	Title       string
	Covers      string // which part of the text it teaches
	AirOn       Date   // "": no day announced yet
	RecordBy    Date   // "": the air date less the studio's lead days
	ShootOn     Date   // on which it is to be recorded; "": by RecordBy
	EditedAt    *time.Time
	CaptionedAt *time.Time
	ScheduledAt *time.Time
	AiredAt     *time.Time
	AiredBy     *string // who marked it
	OutVersion  *int    // number of the text's version that went out with it; nil while it has not aired
	Link        string
	Revision    int
	CreatedAt   time.Time
	UpdatedAt   time.Time

	States []DesignState `gorm:"-" json:"-"` // its end and the points within, where they were read
	Shots  []Shot        `gorm:"-" json:"-"` // in order, without numbers and tails, where they were read
}

const (
	mostInstallments = 100 // of one design; chosen
	longestLink      = 500
)

func (in Installment) validate() error {
	var p problems
	p.text("title", in.Title, true, shortText)
	p.text("covers", in.Covers, false, longText)
	p.date("air_on", in.AirOn, false)
	p.date("record_by", in.RecordBy, false)
	p.date("shoot_on", in.ShootOn, false)
	if in.AirOn.Valid() && in.ShootOn.Valid() && in.ShootOn > in.AirOn {
		p.addf("shoot_on", "is after the air date, %s; record before it airs", in.AirOn)
	}
	if in.AirOn.Valid() && in.RecordBy.Valid() && in.RecordBy > in.AirOn {
		p.addf("record_by", "is after the air date, %s; record before it airs", in.AirOn)
	}
	p.text("link", in.Link, false, longestLink)
	if in.Link != "" && !isWebAddress(in.Link) {
		p.addf("link", "is not a web address; write it like https://example.org/part-1")
	}
	return p.err()
}

// isWebAddress keeps other schemes out of what becomes a link on a page.
func isWebAddress(s string) bool {
	u, err := url.Parse(s)
	return err == nil && (u.Scheme == "https" || u.Scheme == "http") && u.Host != ""
}

// AddInstallment adds an installment at a position, 0 for the end; those from
// there on move back by one.
func (s *Store) AddInstallment(ctx context.Context, actor Actor, idOrSlug string, in Installment) (*InstallmentNow, error) {
	in = Installment{ID: NewID(), Position: in.Position, Title: in.Title, Covers: in.Covers, AirOn: in.AirOn, RecordBy: in.RecordBy, ShootOn: in.ShootOn, Link: in.Link, Revision: 1}
	if err := in.validate(); err != nil {
		return nil, err
	}
	err := s.change(ctx, actor, func(t *tx) error {
		design, err := designIn(t.DB, idOrSlug)
		if err != nil {
			return err
		}
		others, err := t.lockInstallments(design.ID)
		if err != nil {
			return err
		}
		if len(others) >= mostInstallments {
			return failf(Conflict, "This design has %d installments, which is the most that one can have.", mostInstallments)
		}
		if in.Position == 0 {
			in.Position = len(others) + 1
		}
		if err := positionWithin(in.Position, len(others)+1); err != nil {
			return err
		}
		in.DesignID, in.CreatedAt, in.UpdatedAt = design.ID, t.now, t.now
		if err := t.shiftInstallments(design.ID, in.Position, mostInstallments, +1); err != nil {
			return err
		}
		if err := t.Create(&in).Error; err != nil {
			return fmt.Errorf("add installment: %w", err)
		}
		if err := t.addEnd(&in); err != nil {
			return err
		}
		return t.record(design.ID, "installment", in.ID, "added", nil, in)
	})
	if err != nil {
		return nil, err
	}
	return s.Installment(ctx, in.ID)
}

func positionWithin(position, most int) error {
	if position >= 1 && position <= most {
		return nil
	}
	return &Error{Kind: Invalid, Message: "The installments were not moved.", Fields: []FieldProblem{{"position", fmt.Sprintf("has to lie between 1 and %d", most)}}}
}

// lockInstallments returns a design's installments in order and keeps two
// people from ordering them at the same moment.
func (t *tx) lockInstallments(designID string) ([]Installment, error) {
	err := t.Clauses(clause.Locking{Strength: "UPDATE"}).Select("id").Where("id = ?", designID).Take(&Design{}).Error
	if err != nil {
		return nil, fmt.Errorf("lock design: %w", err)
	}
	return installmentRows(t.DB, designID)
}

// shiftInstallments moves the positions from first to last by a step.
func (t *tx) shiftInstallments(designID string, first, last, step int) error {
	err := t.Exec("UPDATE installments SET position = position + ? WHERE design_id = ? AND position BETWEEN ? AND ?", step, designID, first, last).Error
	if err != nil {
		return fmt.Errorf("order installments: %w", err)
	}
	return nil
}

// lockInstallment returns an installment that nobody else changes, nor its
// takes and slips, until this change is committed.
func (t *tx) lockInstallment(id string) (*Installment, error) {
	return first[Installment](t.Clauses(clause.Locking{Strength: "UPDATE"}), "installment", "id = ?", id)
}

// installmentRows returns a design's run with its states and shots, in three
// queries.
func installmentRows(db *gorm.DB, designID string) ([]Installment, error) {
	var rows []Installment
	if err := db.Where("design_id = ?", designID).Order("position").Find(&rows).Error; err != nil {
		return nil, fmt.Errorf("installments: %w", err)
	}
	if err := withStates(db, rows); err != nil {
		return nil, err
	}
	return rows, withShots(db, rows)
}

// installmentOf returns an installment by id and refuses one of another design.
func installmentOf(rows []Installment, id, field string) (*Installment, error) {
	for i := range rows {
		if rows[i].ID == id {
			return &rows[i], nil
		}
	}
	return nil, &Error{Kind: Invalid, Message: "That is not an installment of this design.", Fields: []FieldProblem{{field, "is not an installment of this design; choose one of its installments"}}}
}
