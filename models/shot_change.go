package models

import (
	"context"
	"fmt"
)

// ShotChange says what to change; nil leaves a field as it is.
type ShotChange struct {
	Position                                      *int
	Title, Attached, Marked, Live, Differs, Notes *string
	FromState, ToState                            **string
	Chapter                                       **TimeCode
	Numbers                                       *[]ShotNumber
	Tails                                         *[]ShotTail
}

func (c ShotChange) apply(s *Shot) {
	set(&s.Title, c.Title)
	set(&s.Attached, c.Attached)
	set(&s.Marked, c.Marked)
	set(&s.Live, c.Live)
	set(&s.Differs, c.Differs)
	set(&s.Note, c.Notes)
	set(&s.FromState, c.FromState)
	set(&s.ToState, c.ToState)
	set(&s.ChapterMS, c.Chapter)
	set(&s.Numbers, c.Numbers)
	set(&s.Tails, c.Tails)
}

// ChangeShot changes a shot or moves it within its installment.
func (s *Store) ChangeShot(ctx context.Context, actor Actor, id string, revision *int, c ShotChange) (*Shot, error) {
	err := s.change(ctx, actor, func(t *tx) error {
		found, err := first[Shot](t.DB, "shot", "id = ?", id)
		if err != nil {
			return err
		}
		in, run, err := t.lockShots(found.InstallmentID)
		if err != nil {
			return err
		}
		shots := []Shot{*found}
		if err := t.Where("id = ?", id).Take(&shots[0]).Error; err != nil {
			return fmt.Errorf("read shot: %w", err)
		}
		if err := withShotLists(t.DB, shots, "shot_id = ?", id); err != nil {
			return err
		}
		before := shots[0]
		if err := checkRevision("shot", before.Revision, revision); err != nil {
			return err
		}
		after := before
		c.apply(&after)
		if err := after.validate(); err != nil {
			return err
		}
		// A count that was taken out of the sheet since must not keep the rest
		// of the shot from being changed.
		checked := after
		if c.Numbers == nil {
			checked.Numbers = nil
		}
		if err := checked.belongs(t, in.DesignID, run); err != nil {
			return err
		}
		if c.Position != nil && *c.Position != before.Position {
			if err := t.moveShot(&after, *c.Position, len(in.Shots)); err != nil {
				return err
			}
		}
		if unchanged(&before, &after) {
			return nil
		}
		return t.saveShot(in.DesignID, &before, &after)
	})
	if err != nil {
		return nil, err
	}
	return s.Shot(ctx, id)
}

func (t *tx) moveShot(shot *Shot, to, most int) error {
	if err := positionWithin(to, most); err != nil {
		return err
	}
	from := shot.Position
	shot.Position = to
	if to > from {
		return t.shiftShots(shot.InstallmentID, from+1, to, -1)
	}
	return t.shiftShots(shot.InstallmentID, to, from-1, +1)
}

func (t *tx) saveShot(designID string, before, after *Shot) error {
	err := t.bump("shot", &Shot{}, before.ID, before.Revision, map[string]any{"position": after.Position, "title": after.Title,
		"from_state": after.FromState, "to_state": after.ToState, "attached": after.Attached, "marked": after.Marked, "live": after.Live,
		"differs": after.Differs, "note": after.Note, "chapter_ms": after.ChapterMS})
	if err != nil {
		return err
	}
	if err := t.writeShotLists(after); err != nil {
		return err
	}
	after.Revision, after.UpdatedAt = before.Revision+1, t.now
	return t.record(designID, "shot", after.ID, "changed", before, after)
}

// RemoveShot takes a shot away that no take holds.
func (s *Store) RemoveShot(ctx context.Context, actor Actor, id string, revision *int) error {
	return s.change(ctx, actor, func(t *tx) error {
		shot, err := first[Shot](t.DB, "shot", "id = ?", id)
		if err != nil {
			return err
		}
		in, _, err := t.lockShots(shot.InstallmentID)
		if err != nil {
			return err
		}
		if shot, err = first[Shot](t.DB, "shot", "id = ?", id); err != nil {
			return err
		}
		if err := checkRevision("shot", shot.Revision, revision); err != nil {
			return err
		}
		var takes int64
		if err := t.Model(&TakeShot{}).Where("shot_id = ?", id).Count(&takes).Error; err != nil {
			return fmt.Errorf("takes of shot: %w", err)
		}
		if takes > 0 {
			return failf(Conflict, "“%s” can't be taken away: %s it. Take it out of them first.", shot.Title, countedVerb(int(takes), "take", "holds", "hold"))
		}
		if err := t.Where("id = ?", id).Delete(&Shot{}).Error; err != nil {
			return fmt.Errorf("remove shot: %w", err)
		}
		if err := t.shiftShots(in.ID, shot.Position+1, mostShots, -1); err != nil {
			return err
		}
		return t.record(in.DesignID, "shot", id, "removed", shot, nil)
	})
}
