package models

import (
	"context"
	"fmt"
	"time"

	"gorm.io/gorm"
)

// TestCall is the period in which testers make one version of a design. Only
// the designer changes it. It stays with its version: to test another one, a
// new call is made. What testers agree to until release doesn't change once
// somebody has been asked.
type TestCall struct {
	ID              string `gorm:"primaryKey"`
	DesignID        string
	VersionID       string
	Title           string
	OpensOn         Date
	DueOn           Date
	Confidentiality string // what testers agree to until release
	ClosedAt        *time.Time
	Sections        string // of the work, one a line, for check-ins; "": the usual ones
	AnswerDays      int    // in which somebody who was asked answers
	Thanks          string // what testers are told when the call closes
	Revision        int    // of the call and its slots
	CreatedAt       time.Time
	UpdatedAt       time.Time

	Slots []SlotCount `gorm:"-"`
}

// NewTestCall is what it takes to make a call. An empty VersionID means the
// design's latest version.
type NewTestCall struct {
	VersionID       string
	Title           string
	OpensOn, DueOn  Date
	Confidentiality string
	Sections        string
	AnswerDays      int // 0: the usual number
	Slots           []Slot
}

// usualAnswerDays is how long somebody who was asked may think (chosen).
const usualAnswerDays = 5

func (c TestCall) check(p *problems) {
	p.text("title", c.Title, true, shortText)
	p.date("opens_on", c.OpensOn, true)
	p.date("due_on", c.DueOn, true)
	if c.OpensOn.Valid() && c.DueOn.Valid() && c.DueOn < c.OpensOn {
		p.addf("due_on", "lies before the day on which the call opens, %s; swap them or choose a later day", c.OpensOn)
	}
	p.text("confidentiality", c.Confidentiality, false, longText)
	c.checkCourse(p)
}

// AddTestCall makes a call for testers of a design.
func (s *Store) AddTestCall(ctx context.Context, actor Actor, idOrSlug string, in NewTestCall) (*TestCall, error) {
	c := TestCall{ID: NewID(), Title: in.Title, OpensOn: in.OpensOn, DueOn: in.DueOn, Confidentiality: in.Confidentiality,
		Sections: in.Sections, AnswerDays: in.AnswerDays, Revision: 1}
	if c.AnswerDays == 0 {
		c.AnswerDays = usualAnswerDays
	}
	err := s.change(ctx, actor, func(t *tx) error {
		design, err := designIn(t.DB, idOrSlug)
		if err != nil {
			return err
		}
		version, err := versionOf(t.DB, design.ID, in.VersionID, "version_id")
		if err != nil {
			return err
		}
		c.DesignID, c.VersionID, c.CreatedAt, c.UpdatedAt = design.ID, version.ID, t.now, t.now
		if err := t.checkCall(c, in.Slots, nil); err != nil {
			return err
		}
		if err := t.Create(&c).Error; err != nil {
			return fmt.Errorf("add test call: %w", err)
		}
		if err := t.replaceSlots(c.ID, in.Slots); err != nil {
			return err
		}
		if err := withSlots(t.DB, &c); err != nil {
			return err
		}
		return t.record(c.DesignID, "test call", c.ID, "added", nil, c)
	})
	return &c, err
}

func (t *tx) checkCall(c TestCall, slots []Slot, assigned map[string]int) error {
	sizes, err := sizesIn(t.DB, []string{c.DesignID})
	if err != nil {
		return err
	}
	var p problems
	c.check(&p)
	checkSlots(&p, slots, sizes, assigned)
	return p.err()
}

// TestCallChange says what to change; nil leaves a field as it is.
type TestCallChange struct {
	Title           *string
	OpensOn, DueOn  *Date
	Confidentiality *string
	Sections        *string
	AnswerDays      *int
	Thanks          *string
	Closed          *bool
	Slots           *[]Slot
}

func (c TestCallChange) apply(call *TestCall, now time.Time) {
	set(&call.Title, c.Title)
	set(&call.OpensOn, c.OpensOn)
	set(&call.DueOn, c.DueOn)
	set(&call.Confidentiality, c.Confidentiality)
	set(&call.Sections, c.Sections)
	set(&call.AnswerDays, c.AnswerDays)
	set(&call.Thanks, c.Thanks)
	if c.Closed != nil {
		call.ClosedAt = stamp(*c.Closed, call.ClosedAt, now)
	}
}

// ChangeTestCall changes a call. When its last day moves, so does that of each
// tester who still works towards it; a day that was agreed with one tester
// stays.
func (s *Store) ChangeTestCall(ctx context.Context, actor Actor, id string, revision *int, c TestCallChange) (*TestCall, error) {
	var after TestCall
	err := s.change(ctx, actor, func(t *tx) error {
		before, err := t.lockCall(id)
		if err != nil {
			return err
		}
		if err := checkRevision("test call", before.Revision, revision); err != nil {
			return err
		}
		after = *before
		c.apply(&after, t.now)
		if unchanged(before, &after) && (c.Slots == nil || sameSlots(before.Slots, *c.Slots)) {
			return nil
		}
		if err := t.saveCall(before, &after, c.Slots); err != nil {
			return err
		}
		if err := t.moveDueDays(before, &after); err != nil {
			return err
		}
		if err := withSlots(t.DB, &after); err != nil {
			return err
		}
		return t.record(after.DesignID, "test call", id, "changed", before, after)
	})
	return &after, err
}

func (t *tx) saveCall(before, after *TestCall, slots *[]Slot) error {
	assigned, err := assignedBySize(t.DB, before.ID)
	if err != nil {
		return err
	}
	var asked int64
	if err := t.Model(&Assignment{}).Where("test_call_id = ?", before.ID).Count(&asked).Error; err != nil {
		return fmt.Errorf("count assignments: %w", err)
	}
	if asked > 0 && after.Confidentiality != before.Confidentiality {
		return &Error{Kind: Conflict, Message: "Testers were asked on these words; they can't change any more.",
			Fields: []FieldProblem{{"confidentiality", "stays as it is, because testers have been asked on it"}}}
	}
	next := make([]Slot, len(before.Slots))
	for i, c := range before.Slots {
		next[i] = c.Slot
	}
	set(&next, slots)
	if err := t.checkCall(*after, next, assigned); err != nil {
		return err
	}
	if slots != nil {
		if err := t.replaceSlots(before.ID, next); err != nil {
			return err
		}
	}
	after.Revision, after.UpdatedAt = before.Revision+1, t.now
	return t.bump("test call", &TestCall{}, before.ID, before.Revision, map[string]any{"title": after.Title, "opens_on": after.OpensOn,
		"due_on": after.DueOn, "confidentiality": after.Confidentiality, "closed_at": after.ClosedAt,
		"sections": after.Sections, "answer_days": after.AnswerDays, "thanks": after.Thanks})
}

// moveDueDays moves the last day of those who had the call's own and have
// neither withdrawn nor reported.
func (t *tx) moveDueDays(before, after *TestCall) error {
	if before.DueOn == after.DueOn {
		return nil
	}
	var rows []Assignment
	err := t.Where(`test_call_id = ? AND due_on = ? AND withdrawn_at IS NULL
		AND NOT EXISTS (SELECT 1 FROM reports r WHERE r.assignment_id = assignments.id)`, before.ID, before.DueOn).Order("id").Find(&rows).Error
	if err != nil {
		return fmt.Errorf("assignments of call: %w", err)
	}
	for _, a := range rows {
		next := a
		next.DueOn = after.DueOn
		if err := t.saveAssignment(&a, &next, "due day moved"); err != nil {
			return err
		}
	}
	return nil
}

// lockCall loads a call with its slots and holds off whoever else changes it
// or its testers until this change is done, so that no slot is overfilled.
// SQLite has one writer anyway; PostgreSQL locks the row.
func (t *tx) lockCall(id string) (*TestCall, error) {
	if err := t.Exec("UPDATE test_calls SET revision = revision WHERE id = ?", id).Error; err != nil {
		return nil, fmt.Errorf("hold test call: %w", err)
	}
	return callIn(t.DB, id)
}

// openCall is lockCall for what only happens while a call is open.
func (t *tx) openCall(id string) (*TestCall, error) {
	call, err := t.lockCall(id)
	if err != nil {
		return nil, err
	}
	if call.ClosedAt != nil {
		return nil, failf(Conflict, "The call %q is closed; open it again first.", call.Title)
	}
	return call, nil
}

// TestCall returns a call with its slots.
func (s *Store) TestCall(ctx context.Context, id string) (*TestCall, error) {
	return callIn(s.read(ctx), id)
}

func callIn(db *gorm.DB, id string) (*TestCall, error) {
	c, err := first[TestCall](db, "test call", "id = ?", id)
	if err != nil {
		return nil, err
	}
	return c, withSlots(db, c)
}

// TestCalls lists a design's calls with their slots, the first one first.
func (s *Store) TestCalls(ctx context.Context, designID string, page Page) ([]*TestCall, string, error) {
	db := s.read(ctx)
	q := db.Where("design_id = ?", designID)
	if page.After != "" {
		q = q.Where("id > ?", page.After)
	}
	var rows []*TestCall
	if err := q.Order("id").Limit(page.limit() + 1).Find(&rows).Error; err != nil {
		return nil, "", fmt.Errorf("list test calls: %w", err)
	}
	rows, next := cut(rows, page, func(c *TestCall) string { return c.ID })
	return rows, next, withSlots(db, rows...)
}

func withSlots(db *gorm.DB, calls ...*TestCall) error {
	ids := make([]string, len(calls))
	for i, c := range calls {
		ids[i] = c.ID
	}
	slots, err := slotCountsIn(db, ids)
	if err != nil {
		return err
	}
	for _, c := range calls {
		c.Slots = slots[c.ID]
	}
	return nil
}
