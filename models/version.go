package models

import (
	"context"
	"fmt"
	"time"

	"gorm.io/gorm"
)

// Version is one state of a design's text and count sheet. Once a tester has
// been given it, it never changes: their report is compared with exactly what
// they made. Its revision covers the version with its counts and rules.
type Version struct {
	ID         string `gorm:"primaryKey"`
	DesignID   string
	Number     int
	Note       string
	GivenOutAt *time.Time
	SealedHash *string // of its sheet when it was given out; see seal.go
	Revision   int
	CreatedAt  time.Time
	UpdatedAt  time.Time
}

func (t *tx) addFirstVersion(designID string) error {
	v := Version{ID: NewID(), DesignID: designID, Number: 1, Revision: 1, CreatedAt: t.now, UpdatedAt: t.now}
	if err := t.Create(&v).Error; err != nil {
		return fmt.Errorf("first version: %w", err)
	}
	return t.record(designID, "version", v.ID, "added", nil, v)
}

// AddVersion adds the next version of a design as a copy of its latest one.
func (s *Store) AddVersion(ctx context.Context, actor Actor, idOrSlug, note string) (*Version, error) {
	var p problems
	p.text("note", note, false, longText)
	if err := p.err(); err != nil {
		return nil, err
	}
	var v Version
	err := s.change(ctx, actor, func(t *tx) error {
		design, err := designIn(t.DB, idOrSlug)
		if err != nil {
			return err
		}
		latest, err := latestVersion(t.DB, design.ID)
		if err != nil {
			return err
		}
		v = Version{ID: NewID(), DesignID: design.ID, Number: latest.Number + 1, Note: note, Revision: 1, CreatedAt: t.now, UpdatedAt: t.now}
		if err := t.Create(&v).Error; err != nil {
			return fmt.Errorf("add version: %w", err)
		}
		sheet, err := sheetIn(t.DB, *latest)
		if err != nil {
			return err
		}
		if err := t.writeSheet(v.ID, sheet.asNew()); err != nil {
			return err
		}
		return t.record(design.ID, "version", v.ID, "added", nil, v)
	})
	return &v, err
}

// NoteVersion changes a version's note, which is about the version and not
// part of it: it may change after the version was given out. nil leaves it.
func (s *Store) NoteVersion(ctx context.Context, actor Actor, id string, revision *int, note *string) (*Version, error) {
	var after Version
	err := s.change(ctx, actor, func(t *tx) error {
		before, err := first[Version](t.DB, "version", "id = ?", id)
		if err != nil {
			return err
		}
		if err := checkRevision("version", before.Revision, revision); err != nil {
			return err
		}
		after = *before
		set(&after.Note, note)
		var p problems
		if p.text("note", after.Note, false, longText); p.err() != nil {
			return p.err()
		}
		if unchanged(before, &after) {
			return nil
		}
		after.Revision = before.Revision + 1
		if err := t.bump("version", &Version{}, id, before.Revision, map[string]any{"note": after.Note}); err != nil {
			return err
		}
		return t.record(after.DesignID, "version", id, "changed", before, after)
	})
	return &after, err
}

// giveOut seals a version: from now on it never changes.
func (t *tx) giveOut(id string) error {
	v, err := first[Version](t.DB, "version", "id = ?", id)
	if err != nil || v.GivenOutAt != nil {
		return err
	}
	sealed := *v
	sealed.GivenOutAt, sealed.Revision = &t.now, v.Revision+1
	if sealed.SealedHash, err = sealIn(t.DB, *v); err != nil {
		return err
	}
	if err := t.bump("version", &Version{}, id, v.Revision, map[string]any{"given_out_at": t.now, "sealed_hash": sealed.SealedHash}); err != nil {
		return err
	}
	return t.record(v.DesignID, "version", id, "given out", v, sealed)
}

// Versions lists a design's versions, the first one first.
func (s *Store) Versions(ctx context.Context, designID string) ([]Version, error) {
	var rows []Version
	if err := s.read(ctx).Where("design_id = ?", designID).Order("number").Find(&rows).Error; err != nil {
		return nil, fmt.Errorf("versions: %w", err)
	}
	return rows, nil
}

func latestVersion(db *gorm.DB, designID string) (*Version, error) {
	return first[Version](db.Order("number DESC"), "version", "design_id = ?", designID)
}

// versionOf returns a version by id and refuses one of another design; an
// empty id means the latest.
func versionOf(db *gorm.DB, designID, versionID, field string) (*Version, error) {
	if versionID == "" {
		return latestVersion(db, designID)
	}
	v, err := first[Version](db, "version", "id = ? AND design_id = ?", versionID, designID)
	if KindOf(err) == NotFound {
		return nil, &Error{Kind: Invalid, Message: "That is not a version of this design.", Fields: []FieldProblem{{field, "is not a version of this design; choose one of its versions"}}}
	}
	return v, err
}
