package models

import (
	"context"
	"fmt"
	"strings"
	"time"
)

// CheckIn is a tester's own word on how far the piece is, by the sections of
// the call. Only its tester writes one; the latest counts, the others are its
// history. Going back is allowed: pieces are ripped back.
type CheckIn struct {
	ID           string `gorm:"primaryKey"`
	AssignmentID string
	At           time.Time
	Done         int    // sections finished
	Of           int    // sections there were
	Section      string // the last one finished; "" before the first
	Note         string
}

// mostCheckIns bounds one assignment's check-ins (chosen).
const mostCheckIns = 200

// AddCheckIn keeps how far the actor's own piece is.
func (s *Store) AddCheckIn(ctx context.Context, actor Actor, assignmentID string, done int, note string) (*AssignmentLine, error) {
	return s.changeAssignment(ctx, actor, assignmentID, func(t *tx, a *Assignment) error {
		call, err := t.atWork(actor, a)
		if err != nil {
			return err
		}
		sections := call.SectionNames()
		note = strings.TrimSpace(note)
		var p problems
		if done < 0 || done > len(sections) {
			p.addf("done", "has to lie between 0 and %d, the number of sections", len(sections))
		}
		p.text("note", note, false, longText)
		if err := p.err(); err != nil {
			return err
		}
		var n int64
		if err := t.Model(&CheckIn{}).Where("assignment_id = ?", a.ID).Count(&n).Error; err != nil {
			return fmt.Errorf("count check-ins: %w", err)
		}
		if n >= mostCheckIns {
			return failf(Conflict, "There are %d check-ins already; send the report when the piece is done.", n)
		}
		row := CheckIn{ID: NewID(), AssignmentID: a.ID, At: t.now, Done: done, Of: len(sections), Note: note}
		if done > 0 {
			row.Section = sections[done-1]
		}
		if err := t.Create(&row).Error; err != nil {
			return fmt.Errorf("check in: %w", err)
		}
		return t.record(a.DesignID, "check-in", row.ID, "added", nil, row)
	})
}

// atWork refuses what only happens while the actor's own piece is being made.
func (t *tx) atWork(actor Actor, a *Assignment) (*TestCall, error) {
	switch {
	case a.PersonID != actor.PersonID:
		return nil, notFound("assignment")
	case a.WithdrawnAt != nil:
		return nil, failf(Conflict, "This assignment was withdrawn; ask the designer if you would like to make it after all.")
	case a.AcceptedAt == nil:
		return nil, failf(Conflict, "Accept the size first.")
	}
	if err := t.hasNoReport(a.ID, "the piece is done"); err != nil {
		return nil, err
	}
	return first[TestCall](t.DB, "test call", "id = ?", a.TestCallID)
}
