package models

import (
	"context"
	"fmt"
	"time"
)

// Remark is a tester's or an editor's note on a place in the text. Its writer
// stays as they wrote it; the designer or the tech editor answers and settles it.
type Remark struct {
	ID           string `gorm:"primaryKey"`
	DesignID     string
	VersionID    string
	AssignmentID *string // nil: from the studio's own people
	PersonID     *string // nil: somebody who was forgotten
	Place        string  // where in the text
	Body         string
	Answer       string
	SettledAt    *time.Time
	Revision     int
	CreatedAt    time.Time
	UpdatedAt    time.Time

	Handle        string `gorm:"->;-:migration"` // of the writer; only read
	VersionNumber int    `gorm:"->;-:migration"`
}

// NewRemark is a remark as it is written.
type NewRemark struct{ Place, Body string }

func (m NewRemark) validate(p *problems, at string) {
	p.text(at+"place", m.Place, false, shortText)
	p.text(at+"body", m.Body, true, longText)
}

func (t *tx) addRemark(designID, versionID string, assignmentID *string, in NewRemark) (*Remark, error) {
	m := Remark{ID: NewID(), DesignID: designID, VersionID: versionID, AssignmentID: assignmentID, Place: in.Place, Body: in.Body,
		Revision: 1, CreatedAt: t.now, UpdatedAt: t.now}
	if t.actor.PersonID != "" {
		m.PersonID = &t.actor.PersonID
	}
	if err := t.Omit("Handle", "VersionNumber").Create(&m).Error; err != nil {
		return nil, fmt.Errorf("add remark: %w", err)
	}
	return &m, t.record(designID, "remark", m.ID, "added", nil, m)
}

// AddRemark adds a remark of the studio's own people; an empty version is the
// latest.
func (s *Store) AddRemark(ctx context.Context, actor Actor, idOrSlug, versionID string, in NewRemark) (*Remark, error) {
	var p problems
	if in.validate(&p, ""); p.err() != nil {
		return nil, p.err()
	}
	var out *Remark
	err := s.change(ctx, actor, func(t *tx) error {
		d, err := designIn(t.DB, idOrSlug)
		if err != nil {
			return err
		}
		v, err := versionOf(t.DB, d.ID, versionID, "version_id")
		if err != nil {
			return err
		}
		out, err = t.addRemark(d.ID, v.ID, nil, in)
		return err
	})
	return out, err
}

// RemarkOnAssignment adds a remark of the assignment's own tester.
func (s *Store) RemarkOnAssignment(ctx context.Context, actor Actor, assignmentID string, in NewRemark) (*Remark, error) {
	var p problems
	if in.validate(&p, ""); p.err() != nil {
		return nil, p.err()
	}
	var out *Remark
	err := s.change(ctx, actor, func(t *tx) error {
		a, err := assignmentFor(t.DB, actor, assignmentID)
		if err != nil {
			return err
		}
		out, err = t.addRemark(a.DesignID, a.VersionID, &a.ID, in)
		return err
	})
	return out, err
}

// AnswerRemark answers or settles a remark; nil leaves a field as it is.
func (s *Store) AnswerRemark(ctx context.Context, actor Actor, id string, revision *int, answer *string, settled *bool) (*Remark, error) {
	var p problems
	if answer != nil {
		if p.text("answer", *answer, false, longText); p.err() != nil {
			return nil, p.err()
		}
	}
	var after Remark
	err := s.change(ctx, actor, func(t *tx) error {
		before, err := first[Remark](t.Select(remarkColumns), "remark", "id = ?", id)
		if err != nil {
			return err
		}
		if err := checkRevision("remark", before.Revision, revision); err != nil {
			return err
		}
		after = *before
		set(&after.Answer, answer)
		if settled != nil {
			after.SettledAt = stamp(*settled, before.SettledAt, t.now)
		}
		if unchanged(before, &after) {
			return nil
		}
		err = t.bump("remark", &Remark{}, id, before.Revision, map[string]any{"answer": after.Answer, "settled_at": after.SettledAt})
		if err != nil {
			return err
		}
		after.Revision = before.Revision + 1
		return t.record(after.DesignID, "remark", id, "answered", before, after)
	})
	return &after, err
}

const remarkColumns = "id, design_id, version_id, assignment_id, person_id, place, body, answer, settled_at, revision, created_at, updated_at"

// Remarks lists a design's remarks, the newest first.
func (s *Store) Remarks(ctx context.Context, designID string, page Page) ([]Remark, string, error) {
	return s.remarks(ctx, page, "remarks.design_id = ?", designID)
}

// RemarksOf lists an assignment's remarks, the newest first, to staff and to
// its own tester.
func (s *Store) RemarksOf(ctx context.Context, actor Actor, assignmentID string, page Page) ([]Remark, string, error) {
	if _, err := assignmentFor(s.read(ctx), actor, assignmentID); err != nil {
		return nil, "", err
	}
	return s.remarks(ctx, page, "remarks.assignment_id = ?", assignmentID)
}

func (s *Store) remarks(ctx context.Context, page Page, where string, id string) ([]Remark, string, error) {
	q := s.read(ctx).Table("remarks").Select("remarks.*, people.handle AS handle, versions.number AS version_number").
		Joins("LEFT JOIN people ON people.id = remarks.person_id").Joins("JOIN versions ON versions.id = remarks.version_id").Where(where, id)
	if page.After != "" {
		q = q.Where("remarks.id < ?", page.After)
	}
	var rows []Remark
	if err := q.Order("remarks.id DESC").Limit(page.limit() + 1).Find(&rows).Error; err != nil {
		return nil, "", fmt.Errorf("remarks: %w", err)
	}
	rows, next := cut(rows, page, func(m Remark) string { return m.ID })
	return rows, next, nil
}

// RemarkRevision returns the revision that a remark is at.
func (s *Store) RemarkRevision(ctx context.Context, id string) (int, error) {
	m, err := first[Remark](s.read(ctx).Select(remarkColumns), "remark", "id = ?", id)
	if err != nil {
		return 0, err
	}
	return m.Revision, nil
}
