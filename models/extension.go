package models

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"gorm.io/gorm"
)

// Extension is a tester's wish for more time. The tester asks, the designer
// answers, once; one waits at a time. Granting moves the assignment's day.
type Extension struct {
	ID           string `gorm:"primaryKey"`
	AssignmentID string
	AskedAt      time.Time
	WantedOn     Date
	Why          string
	AnsweredAt   *time.Time // nil: waiting
	Granted      bool
}

// longestExtension bounds what can be asked for at once (chosen).
const longestExtension = 180

// AskForTime keeps the actor's wish to send the report later. Asking again
// replaces a wish that still waits.
func (s *Store) AskForTime(ctx context.Context, actor Actor, assignmentID string, wanted Date, why string) (*AssignmentLine, error) {
	return s.changeAssignment(ctx, actor, assignmentID, func(t *tx, a *Assignment) error {
		if _, err := t.atWork(actor, a); err != nil {
			return err
		}
		why = strings.TrimSpace(why)
		var p problems
		p.date("wanted_on", wanted, true)
		if wanted.Valid() && (wanted <= a.DueOn || a.DueOn.DaysUntil(wanted) > longestExtension) {
			p.addf("wanted_on", "has to be a day after %s, by %d days at most", a.DueOn, longestExtension)
		}
		p.text("why", why, true, longText)
		if err := p.err(); err != nil {
			return err
		}
		row := Extension{ID: NewID(), AssignmentID: a.ID, AskedAt: t.now, WantedOn: wanted, Why: why}
		before, err := first[Extension](t.DB, "wish for more time", "assignment_id = ? AND answered_at IS NULL", a.ID)
		switch {
		case KindOf(err) == NotFound:
			err = t.Create(&row).Error
			if errors.Is(err, gorm.ErrDuplicatedKey) {
				return failf(Conflict, "You have just asked already.")
			}
		case err == nil:
			row.ID = before.ID
			err = t.Model(&Extension{}).Where("id = ? AND answered_at IS NULL", row.ID).Updates(map[string]any{"asked_at": t.now, "wanted_on": wanted, "why": why}).Error
		}
		if err != nil {
			return fmt.Errorf("ask for time: %w", err)
		}
		return t.record(a.DesignID, "extension", row.ID, "asked", nil, row)
	})
}

// AnswerExtension grants more time or doesn't. Granting moves the day to the
// one that was asked for.
func (s *Store) AnswerExtension(ctx context.Context, actor Actor, assignmentID string, revision *int, granted bool) (*AssignmentLine, error) {
	return s.changeAssignment(ctx, actor, assignmentID, func(t *tx, a *Assignment) error {
		if err := checkRevision("assignment", a.Revision, revision); err != nil {
			return err
		}
		before, err := first[Extension](t.DB, "wish for more time that waits", "assignment_id = ? AND answered_at IS NULL", a.ID)
		if err != nil {
			return err
		}
		if a.WithdrawnAt != nil {
			return failf(Conflict, "This assignment was withdrawn meanwhile.")
		}
		after := *before
		after.AnsweredAt, after.Granted = &t.now, granted
		res := t.Model(&Extension{}).Where("id = ? AND answered_at IS NULL", before.ID).Updates(map[string]any{"answered_at": t.now, "granted": granted})
		if res.Error != nil {
			return fmt.Errorf("answer extension: %w", res.Error)
		}
		if res.RowsAffected == 0 {
			return failf(Conflict, "Somebody has answered this in this very moment.")
		}
		if err := t.record(a.DesignID, "extension", before.ID, "answered", before, after); err != nil {
			return err
		}
		if !granted {
			return nil
		}
		moved := *a
		moved.DueOn = before.WantedOn
		return t.saveAssignment(a, &moved, "more time given")
	})
}
