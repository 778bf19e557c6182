package models

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"gorm.io/gorm"
)

// Correction is a change to a text that went out: where, what it said and what
// it says now, for which sizes, and since which version it was wrong. It is
// written by the designer or the tech editor, from a finding, from a remark or
// by hand; how it moves on stands in correction_state.go. Why is for the
// studio; everything else but who found it is published once it is announced.
type Correction struct {
	ID            string `gorm:"primaryKey"`
	DesignID      string
	Number        int // within the design, from 1
	Place         string
	Was           string
	IsNow         string // "" while it is not known
	Why           string
	CountName     string // in the count sheet; "" when it is about no count
	SinceVersion  string // the first version at fault
	MendedVersion *string
	FoundBy       *string // a person; nil: not told, somebody in FoundWords, or forgotten
	FoundWords    string
	FindingKey    string // of the decided finding that it came from
	RemarkID      *string
	InTextAt      *time.Time
	AnnouncedAt   *time.Time
	WithdrawnAt   *time.Time
	WithdrawnWhy  string // published when it had been announced
	Revision      int
	CreatedAt     time.Time
	UpdatedAt     time.Time

	SizeIDs []string `gorm:"-"` // in order; none: all sizes
	Undone  bool     `gorm:"-"` // the mended version's count sheet has the count as it was; told by Corrections only

	Handle       string `gorm:"->;-:migration"` // of FoundBy; only read
	SinceNumber  int    `gorm:"->;-:migration"`
	MendedNumber *int   `gorm:"->;-:migration"`
}

// CorrectionSize is a size that a correction is for.
type CorrectionSize struct {
	CorrectionID string `gorm:"primaryKey"`
	SizeID       string `gorm:"primaryKey"`
}

// CorrectionText is what a correction says.
type CorrectionText struct {
	Place, Was, IsNow, Why string
	CountName              string
	SinceVersion           string   // "" is the latest version, or the remark's
	SizeIDs                []string // none: all
	FoundBy                *string
	FoundWords             string
}

// NewCorrection is a correction as it is begun, with what it came from.
type NewCorrection struct {
	CorrectionText
	FindingKey string
	RemarkID   *string
}

const mostCorrections = 500 // of one design; chosen

// For tells whether a correction is for a size.
func (c Correction) For(sizeID string) bool {
	return len(c.SizeIDs) == 0 || slices.Contains(c.SizeIDs, sizeID)
}

func (in CorrectionText) validate() error {
	var p problems
	p.text("place", in.Place, true, shortText)
	p.text("was", in.Was, in.CountName == "", longText)
	p.text("is_now", in.IsNow, false, longText)
	p.text("why", in.Why, false, longText)
	p.text("count", in.CountName, false, shortText)
	p.text("found_words", in.FoundWords, false, shortText)
	if in.FoundBy != nil && in.FoundWords != "" {
		p.addf("found_words", "can't stand beside a person; choose one of the two")
	}
	for i, id := range in.SizeIDs {
		if slices.Index(in.SizeIDs, id) < i {
			p.addf(fmt.Sprintf("sizes[%d]", i), "is there twice")
		}
	}
	return p.err()
}

// AddCorrection begins a correction as a draft. One that comes from a remark
// takes the remark's version, and its writer as who found it, unless told
// otherwise; of one to a count, what the text said is taken from the count sheet.
func (s *Store) AddCorrection(ctx context.Context, actor Actor, idOrSlug string, in NewCorrection) (*Correction, error) {
	if err := in.validate(); err != nil {
		return nil, err
	}
	c := Correction{ID: NewID(), FindingKey: in.FindingKey, RemarkID: in.RemarkID, Revision: 1}
	err := s.change(ctx, actor, func(t *tx) error {
		design, err := designIn(t.DB, idOrSlug)
		if err != nil {
			return err
		}
		c.DesignID, c.CreatedAt, c.UpdatedAt = design.ID, t.now, t.now
		if err := t.correctionSource(&c, &in); err != nil {
			return err
		}
		if err := t.fillCorrection(design, &c, in.CorrectionText); err != nil {
			return err
		}
		if err := t.Model(&Correction{}).Where("design_id = ?", design.ID).Select("coalesce(max(number), 0)").Row().Scan(&c.Number); err != nil {
			return fmt.Errorf("number of correction: %w", err)
		}
		if c.Number++; c.Number > mostCorrections {
			return failf(Conflict, "This design has %d corrections, which is the most that one can have.", mostCorrections)
		}
		err = t.Omit("Handle", "SinceNumber", "MendedNumber").Create(&c).Error
		if errors.Is(err, gorm.ErrDuplicatedKey) {
			return failf(Conflict, "Somebody has written another correction in this very moment. Send yours again.")
		}
		if err != nil {
			return fmt.Errorf("add correction: %w", err)
		}
		if err := t.putCorrectionSizes(c); err != nil {
			return err
		}
		return t.record(design.ID, "correction", c.ID, "drafted", nil, c)
	})
	if err != nil {
		return nil, err
	}
	return s.Correction(ctx, c.ID)
}

// correctionSource checks what a correction came from, and takes from a remark
// what the input leaves open.
func (t *tx) correctionSource(c *Correction, in *NewCorrection) error {
	if in.FindingKey != "" && in.RemarkID != nil {
		return fieldError("remark_id", "can't stand beside a finding; name one of the two")
	}
	if in.FindingKey != "" {
		_, err := first[Decision](t.DB, "decision", "design_id = ? AND key = ?", c.DesignID, in.FindingKey)
		if KindOf(err) == NotFound {
			return fieldError("finding_key", "is not a decided finding of this design; decide on it first")
		}
		return err
	}
	if in.RemarkID == nil {
		return nil
	}
	m, err := first[Remark](t.Select(remarkColumns), "remark", "id = ? AND design_id = ?", *in.RemarkID, c.DesignID)
	if KindOf(err) == NotFound {
		return fieldError("remark_id", "is not a remark on this design; choose one of its remarks")
	}
	if err != nil {
		return err
	}
	in.SinceVersion = orElse(in.SinceVersion, m.VersionID)
	if in.FoundBy == nil && in.FoundWords == "" {
		in.FoundBy = m.PersonID
	}
	return nil
}

// fieldError is a refusal for one field.
func fieldError(field, format string, args ...any) error {
	var p problems
	p.addf(field, format, args...)
	return p.err()
}

// fillCorrection takes over what a correction says, once everything that it
// names belongs to the design.
func (t *tx) fillCorrection(design *Design, c *Correction, in CorrectionText) error {
	since, err := versionOf(t.DB, design.ID, in.SinceVersion, "since_version_id")
	if err != nil {
		return err
	}
	if in.FoundBy != nil {
		who, err := first[Person](t.DB, "person", "id = ?", *in.FoundBy)
		if KindOf(err) == NotFound || err == nil && who.ForgottenAt != nil {
			return fieldError("found_by", "is nobody who is known here; say it in words instead")
		}
		if err != nil {
			return err
		}
	}
	sheet, err := sheetIn(t.DB, *since)
	if err != nil {
		return err
	}
	c.Place, c.Was, c.IsNow, c.Why, c.CountName = in.Place, in.Was, in.IsNow, in.Why, in.CountName
	c.SinceVersion, c.SinceNumber, c.FoundBy, c.FoundWords, c.SizeIDs = since.ID, since.Number, in.FoundBy, in.FoundWords, nil
	for i, id := range in.SizeIDs {
		if !slices.ContainsFunc(sheet.Sizes, func(z Size) bool { return z.ID == id }) {
			return fieldError(fmt.Sprintf("sizes[%d]", i), "is not a size of this design; choose one of its sizes")
		}
	}
	for _, z := range sheet.Sizes {
		if slices.Contains(in.SizeIDs, z.ID) {
			c.SizeIDs = append(c.SizeIDs, z.ID)
		}
	}
	if c.CountName == "" {
		return nil
	}
	values := sheet.lineOf(c.CountName)
	if values == nil {
		return fieldError("count", "is no count of version %d; choose one of its count sheet, or leave it out", since.Number)
	}
	c.Was = orElse(c.Was, printedFor(design, values))
	return nil
}

func (t *tx) putCorrectionSizes(c Correction) error {
	if err := t.Where("correction_id = ?", c.ID).Delete(&CorrectionSize{}).Error; err != nil {
		return fmt.Errorf("clear sizes of correction: %w", err)
	}
	rows := make([]CorrectionSize, len(c.SizeIDs))
	for i, id := range c.SizeIDs {
		rows[i] = CorrectionSize{c.ID, id}
	}
	if err := createAll(t.DB, rows); err != nil {
		return fmt.Errorf("sizes of correction: %w", err)
	}
	return nil
}

// ChangeCorrection changes what a correction says, until somebody was told of it.
func (s *Store) ChangeCorrection(ctx context.Context, actor Actor, id string, revision *int, in CorrectionText) (*Correction, error) {
	if err := in.validate(); err != nil {
		return nil, err
	}
	return s.changeCorrection(ctx, actor, id, revision, "changed", func(t *tx, design *Design, c *Correction) error {
		if err := t.stillOurs(*c); err != nil {
			return err
		}
		if err := t.fillCorrection(design, c, in); err != nil {
			return err
		}
		if c.MendedVersion != nil {
			if err := t.mend(design, c, *c.MendedVersion); err != nil {
				return err
			}
		}
		return t.putCorrectionSizes(*c)
	})
}

// changeCorrection runs f on a correction and writes what it made of it.
func (s *Store) changeCorrection(ctx context.Context, actor Actor, id string, revision *int, action string, f func(*tx, *Design, *Correction) error) (*Correction, error) {
	err := s.change(ctx, actor, func(t *tx) error {
		before, err := correctionIn(t.DB, id)
		if err != nil {
			return err
		}
		if err := checkRevision("correction", before.Revision, revision); err != nil {
			return err
		}
		design, err := designIn(t.DB, before.DesignID)
		if err != nil {
			return err
		}
		after := *before
		if err := f(t, design, &after); err != nil {
			return err
		}
		if unchanged(before, &after) {
			return nil
		}
		err = t.bump("correction", &Correction{}, id, before.Revision, map[string]any{"place": after.Place, "was": after.Was, "is_now": after.IsNow, "why": after.Why,
			"count_name": after.CountName, "since_version": after.SinceVersion, "mended_version": after.MendedVersion, "found_by": after.FoundBy, "found_words": after.FoundWords,
			"in_text_at": after.InTextAt, "announced_at": after.AnnouncedAt, "withdrawn_at": after.WithdrawnAt, "withdrawn_why": after.WithdrawnWhy})
		if err != nil {
			return err
		}
		after.Revision = before.Revision + 1
		return t.record(after.DesignID, "correction", id, action, before, after)
	})
	if err != nil {
		return nil, err
	}
	return s.Correction(ctx, id)
}

// Correction returns one correction.
func (s *Store) Correction(ctx context.Context, id string) (*Correction, error) {
	return correctionIn(s.read(ctx), id)
}

func correctionIn(db *gorm.DB, id string) (*Correction, error) {
	rows, err := correctionsWhere(db, "corrections.id = ?", id)
	if err != nil {
		return nil, err
	}
	if len(rows) == 0 {
		return nil, notFound("correction")
	}
	return &rows[0], nil
}

// correctionsWhere reads corrections with their sizes, the first one first, in
// two queries.
func correctionsWhere(db *gorm.DB, where string, arg any) ([]Correction, error) {
	var rows []Correction
	err := db.Table("corrections").Select("corrections.*, people.handle AS handle, since.number AS since_number, mended.number AS mended_number").
		Joins("LEFT JOIN people ON people.id = corrections.found_by").Joins("JOIN versions since ON since.id = corrections.since_version").
		Joins("LEFT JOIN versions mended ON mended.id = corrections.mended_version").Where(where, arg).
		Order("corrections.design_id, corrections.number").Find(&rows).Error
	if err != nil {
		return nil, fmt.Errorf("corrections: %w", err)
	}
	if len(rows) == 0 {
		return nil, nil
	}
	at := make(map[string]*Correction, len(rows))
	for i := range rows {
		at[rows[i].ID] = &rows[i]
	}
	var sizes []CorrectionSize
	err = db.Table("correction_sizes").Select("correction_sizes.*").Joins("JOIN corrections ON corrections.id = correction_sizes.correction_id").
		Joins("JOIN sizes ON sizes.id = correction_sizes.size_id").Where(where, arg).Order("sizes.position").Find(&sizes).Error
	if err != nil {
		return nil, fmt.Errorf("sizes of corrections: %w", err)
	}
	for _, z := range sizes {
		if c := at[z.CorrectionID]; c != nil {
			c.SizeIDs = append(c.SizeIDs, z.SizeID)
		}
	}
	return rows, nil
}

// CorrectionRevision returns the revision that a correction is at.
func (s *Store) CorrectionRevision(ctx context.Context, id string) (int, error) {
	c, err := s.Correction(ctx, id)
	if err != nil {
		return 0, err
	}
	return c.Revision, nil
}
