package models

import (
	"context"
	"fmt"
	"time"

	"gorm.io/gorm"
)

// Sample is a piece made in the studio, in one size: how far it is worked, who
// has it, its own gauge before and after washing, and what it measures. The
// designer plans samples; makers and filmers record what they do with one:
// moves, gauge, yarn and measurements.
//
// WorkedThrough is the last installment that it is worked through whole,
// WorkedNote what was worked beyond that. A sample only moves forward, unless
// it is ripped back on purpose.
type Sample struct {
	ID            string `gorm:"primaryKey"`
	DesignID      string
	SizeID        string
	VersionID     *string // the counts it was made from; nil: not known
	Label         string  // "the grey one"
	Purpose       string
	WorkedThrough *string
	StateID       *string // a point within the next installment; nil: exactly at the end of WorkedThrough
	WorkedNote    string
	HeldBy        *string // nil: nobody on file; see HeldNote
	HeldNote      string
	Before        SwatchGauge `gorm:"embedded;embeddedPrefix:before_"` // washing
	After         SwatchGauge `gorm:"embedded;embeddedPrefix:after_"`
	Yarn          Amount      `gorm:"embedded;embeddedPrefix:yarn_"`
	RetiredAt     *time.Time  // out of use; it shows nothing and proves nothing any more
	Revision      int
	CreatedAt     time.Time
	UpdatedAt     time.Time

	Holder       string              `gorm:"-"` // handle of HeldBy
	Measurements []SampleMeasurement `gorm:"-"` // in the order of the points
	Moves        []SampleMove        `gorm:"-"` // the first one first
}

// SamplePurposes lists what a sample can be made for.
func SamplePurposes() []string { return []string{"swatch", "fit", "camera", "photography"} }

const mostSamples = 200 // of one design; chosen

func (s Sample) validate() error {
	var p problems
	p.text("label", s.Label, true, shortText)
	p.oneOf("purpose", s.Purpose, SamplePurposes()...)
	p.text("worked_note", s.WorkedNote, false, longText)
	p.text("held_note", s.HeldNote, false, shortText)
	s.Before.validate(&p, "before", false)
	s.After.validate(&p, "after", false)
	s.Yarn.validate(&p, "yarn")
	return p.err()
}

// AddSample adds a sample; where it stands and who has it is its first move.
func (s *Store) AddSample(ctx context.Context, actor Actor, idOrSlug string, sample Sample) (*Sample, error) {
	sample.ID, sample.Revision, sample.RetiredAt = NewID(), 1, nil
	if err := sample.validate(); err != nil {
		return nil, err
	}
	var out *Sample
	err := s.change(ctx, actor, func(t *tx) error {
		design, err := designIn(t.DB, idOrSlug)
		if err != nil {
			return err
		}
		if _, err := t.lockInstallments(design.ID); err != nil {
			return err
		}
		var n int64
		if err := t.Model(&Sample{}).Where("design_id = ?", design.ID).Count(&n).Error; err != nil {
			return fmt.Errorf("count samples: %w", err)
		}
		if n >= mostSamples {
			return failf(Conflict, "This design has %d samples, which is the most that one can have.", mostSamples)
		}
		sample.DesignID, sample.CreatedAt, sample.UpdatedAt = design.ID, t.now, t.now
		if err := t.sampleBelongs(&sample); err != nil {
			return err
		}
		if err := t.Create(&sample).Error; err != nil {
			return fmt.Errorf("add sample: %w", err)
		}
		if err := t.addMove(&sample, Move{}, nil); err != nil {
			return err
		}
		if err := t.record(design.ID, "sample", sample.ID, "added", nil, sample); err != nil {
			return err
		}
		out, err = sampleIn(t.DB, sample.ID)
		return err
	})
	return out, err
}

// sampleBelongs refuses a size, version, installment or holder that can't be
// this sample's.
func (t *tx) sampleBelongs(s *Sample) error {
	if _, err := sizeOf(t.DB, s.DesignID, s.SizeID, "size_id"); err != nil {
		return err
	}
	if s.VersionID != nil {
		if _, err := versionOf(t.DB, s.DesignID, *s.VersionID, "version_id"); err != nil {
			return err
		}
	}
	if s.WorkedThrough != nil || s.StateID != nil {
		rows, err := installmentRows(t.DB, s.DesignID)
		if err != nil {
			return err
		}
		if err := s.standsIn(rows); err != nil {
			return err
		}
	}
	return t.holderThere(s.HeldBy)
}

// standsIn refuses an installment or state of another design, and settles the
// installment that a state within the next one follows on.
func (s *Sample) standsIn(run []Installment) error {
	if s.StateID == nil {
		if s.WorkedThrough == nil {
			return nil
		}
		_, err := installmentOf(run, *s.WorkedThrough, "worked_through")
		return err
	}
	states := statesOf(run)
	rank, ok := states.Rank(s.StateID)
	if !ok {
		return &Error{Kind: Invalid, Message: "That is not a state of this design.", Fields: []FieldProblem{{"state", "is not a state of this design; choose one of its states"}}}
	}
	s.WorkedThrough, s.StateID = states.placed(rank)
	return nil
}

// holderThere refuses somebody who isn't on file or no longer takes part.
func (t *tx) holderThere(id *string) error {
	if id == nil {
		return nil
	}
	_, err := first[Person](t.DB, "person", "id = ? AND disabled_at IS NULL", *id)
	if KindOf(err) == NotFound {
		return &Error{Kind: Invalid, Message: "The sample was not changed.", Fields: []FieldProblem{{"held_by", "is nobody on file here; choose a person, or say in held_note where it is"}}}
	}
	return err
}

// SampleChange says what to change; nil leaves a field as it is. What is held
// and how far it is worked changes by moves only.
type SampleChange struct {
	Label, Purpose, SizeID *string
	VersionID              **string
	Retired                *bool
	Before, After          *SwatchGauge
	Yarn                   *Amount
}

// plans tells whether the change is about what the sample is, which only the
// designer says, and not about what was counted on it.
func (c SampleChange) plans() bool {
	return c.Label != nil || c.Purpose != nil || c.SizeID != nil || c.VersionID != nil || c.Retired != nil
}

// ChangeSample changes a sample's own fields.
func (s *Store) ChangeSample(ctx context.Context, actor Actor, id string, revision *int, c SampleChange) (*Sample, error) {
	if c.plans() && !actor.Has(Designer) {
		return nil, failf(Forbidden, "Only the designer changes what a sample is for, its size, its version and its label, or retires it.")
	}
	var out *Sample
	err := s.change(ctx, actor, func(t *tx) error {
		before, err := first[Sample](t.DB, "sample", "id = ?", id)
		if err != nil {
			return err
		}
		if err := checkRevision("sample", before.Revision, revision); err != nil {
			return err
		}
		after := *before
		set(&after.Label, c.Label)
		set(&after.Purpose, c.Purpose)
		set(&after.SizeID, c.SizeID)
		set(&after.VersionID, c.VersionID)
		set(&after.Before, c.Before)
		set(&after.After, c.After)
		set(&after.Yarn, c.Yarn)
		if c.Retired != nil {
			after.RetiredAt = stamp(*c.Retired, before.RetiredAt, t.now)
		}
		if err := after.validate(); err != nil {
			return err
		}
		if c.plans() {
			// Who has it is left as it is, even when they no longer take part.
			owned := after
			owned.HeldBy = nil
			if err := t.sampleBelongs(&owned); err != nil {
				return err
			}
		}
		if !unchanged(before, &after) {
			if err := t.saveSample(before, &after, "changed"); err != nil {
				return err
			}
		}
		out, err = sampleIn(t.DB, id)
		return err
	})
	return out, err
}

func (t *tx) saveSample(before, after *Sample, action string) error {
	values := map[string]any{"label": after.Label, "purpose": after.Purpose, "size_id": after.SizeID, "version_id": after.VersionID,
		"worked_through": after.WorkedThrough, "state_id": after.StateID, "worked_note": after.WorkedNote, "held_by": after.HeldBy, "held_note": after.HeldNote,
		"before_stitches": after.Before.Stitches, "before_rows": after.Before.Rows, "before_span": after.Before.Span, "before_unit": after.Before.Unit,
		"after_stitches": after.After.Stitches, "after_rows": after.After.Rows, "after_span": after.After.Span, "after_unit": after.After.Unit,
		"yarn_value": after.Yarn.Value, "yarn_unit": after.Yarn.Unit, "retired_at": after.RetiredAt}
	if err := t.bump("sample", &Sample{}, before.ID, before.Revision, values); err != nil {
		return err
	}
	after.Revision, after.UpdatedAt = before.Revision+1, t.now
	return t.record(after.DesignID, "sample", after.ID, action, before, after)
}

// sampleOf returns a sample by id and refuses one of another design.
func sampleOf(db *gorm.DB, designID, sampleID, field string) (*Sample, error) {
	s, err := first[Sample](db, "sample", "id = ? AND design_id = ?", sampleID, designID)
	if KindOf(err) == NotFound {
		return nil, &Error{Kind: Invalid, Message: "That is not a sample of this design.", Fields: []FieldProblem{{field, "is not a sample of this design; choose one of its samples"}}}
	}
	return s, err
}
