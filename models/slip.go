package models

import (
	"context"
	"fmt"
	"time"
)

// Remedy is what will be done about a slip.
type Remedy string

// The remedies of a slip.
const (
	OnScreenNote Remedy = "on_screen_note"
	Cut          Remedy = "cut"
	RecordAgain  Remedy = "record_again" // its take doesn't count as accepted until the slip is mended
)

// Slip is something said or shown wrong in a take, at a time code. The designer
// and the filmers write slips.
type Slip struct {
	ID        string `gorm:"primaryKey"`
	TakeID    string
	AtMS      TimeCode `gorm:"column:at_ms"`
	Wrong     string   // what was said or shown
	ShouldBe  string
	Remedy    Remedy
	MendedAt  *time.Time
	Revision  int
	CreatedAt time.Time
	UpdatedAt time.Time
}

const mostSlips = 300 // of one take; chosen

func (s Slip) validate(k *Take) error {
	var p problems
	switch {
	case s.AtMS < 0 || s.AtMS > LongestRecording:
		p.addf("at_ms", "has to lie between 0 and %d; that is 24 hours", LongestRecording)
	case k.endsBefore(s.AtMS):
		p.addf("at", "is %s, after the end of the take (%s); check the time code or the take's length", s.AtMS, TimeCode(*k.Seconds*second))
	}
	p.text("wrong", s.Wrong, true, longText)
	p.text("should_be", s.ShouldBe, false, longText)
	p.oneOf("remedy", string(s.Remedy), string(OnScreenNote), string(Cut), string(RecordAgain))
	return p.err()
}

// AddSlip notes a slip in a take. One that has to be recorded again makes an
// accepted take count no longer, whatever was edited since.
func (s *Store) AddSlip(ctx context.Context, actor Actor, takeID string, slip Slip) (*Slip, error) {
	slip = Slip{ID: NewID(), TakeID: takeID, AtMS: slip.AtMS, Wrong: slip.Wrong, ShouldBe: slip.ShouldBe, Remedy: slip.Remedy, Revision: 1}
	err := s.change(ctx, actor, func(t *tx) error {
		take, in, err := t.lockTake(takeID)
		if err != nil {
			return err
		}
		if err := slip.validate(take); err != nil {
			return err
		}
		if len(take.Slips) >= mostSlips {
			return failf(Conflict, "This take has %d slips, which is the most that one can have; record it again.", mostSlips)
		}
		slip.CreatedAt, slip.UpdatedAt = t.now, t.now
		if err := t.Create(&slip).Error; err != nil {
			return fmt.Errorf("add slip: %w", err)
		}
		return t.record(in.DesignID, "slip", slip.ID, "added", nil, slip)
	})
	return &slip, err
}

// SlipChange says what to change; nil leaves a field as it is.
type SlipChange struct {
	AtMS            *TimeCode
	Wrong, ShouldBe *string
	Remedy          *Remedy
	Mended          *bool
}

// ChangeSlip changes a slip or marks it as mended.
func (s *Store) ChangeSlip(ctx context.Context, actor Actor, id string, revision *int, c SlipChange) (*Slip, error) {
	var after Slip
	err := s.change(ctx, actor, func(t *tx) error {
		found, err := first[Slip](t.DB, "slip", "id = ?", id)
		if err != nil {
			return err
		}
		take, in, err := t.lockTake(found.TakeID)
		if err != nil {
			return err
		}
		before, err := first[Slip](t.DB, "slip", "id = ?", id)
		if err != nil {
			return err
		}
		if err := checkRevision("slip", before.Revision, revision); err != nil {
			return err
		}
		after = *before
		set(&after.AtMS, c.AtMS)
		set(&after.Wrong, c.Wrong)
		set(&after.ShouldBe, c.ShouldBe)
		set(&after.Remedy, c.Remedy)
		if c.Mended != nil {
			after.MendedAt = stamp(*c.Mended, before.MendedAt, t.now)
		}
		if err := after.validate(take); err != nil {
			return err
		}
		if unchanged(before, &after) {
			return nil
		}
		err = t.bump("slip", &Slip{}, id, before.Revision, map[string]any{"at_ms": after.AtMS, "wrong": after.Wrong,
			"should_be": after.ShouldBe, "remedy": after.Remedy, "mended_at": after.MendedAt})
		if err != nil {
			return err
		}
		after.Revision, after.UpdatedAt = before.Revision+1, t.now
		return t.record(in.DesignID, "slip", id, "changed", before, after)
	})
	return &after, err
}

// Slip returns a slip by id.
func (s *Store) Slip(ctx context.Context, id string) (*Slip, error) {
	return first[Slip](s.read(ctx), "slip", "id = ?", id)
}
