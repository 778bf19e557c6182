package models

import (
	"context"
	"fmt"
)

// TakeChange says what to change; nil leaves a field as it is. Accepting a take
// brings it back when it was set aside, and the other way about.
type TakeChange struct {
	RecordedOn         *Date
	Seconds            **int
	SampleID           **string
	Note               *string
	Accepted, SetAside *bool
}

func (c TakeChange) apply(k *Take, t *tx) error {
	set(&k.RecordedOn, c.RecordedOn)
	set(&k.Seconds, c.Seconds)
	set(&k.SampleID, c.SampleID)
	set(&k.Note, c.Note)
	accepted, aside := k.AcceptedAt != nil, k.SetAsideAt != nil
	set(&accepted, c.Accepted)
	set(&aside, c.SetAside)
	if accepted && aside {
		switch {
		case c.Accepted != nil && c.SetAside != nil:
			return &Error{Kind: Invalid, Message: "The take was not changed.", Fields: []FieldProblem{{"set_aside", "can't be while the take is accepted; choose one"}}}
		case c.Accepted != nil:
			aside = false
		default:
			accepted = false
		}
	}
	k.AcceptedAt = stamp(accepted, k.AcceptedAt, t.now)
	k.SetAsideAt = stamp(aside, k.SetAsideAt, t.now)
	return nil
}

// ChangeTake changes a take. The last take that counts can't be given up while
// the installment is marked as edited: the edit is made of it.
func (s *Store) ChangeTake(ctx context.Context, actor Actor, id string, revision *int, c TakeChange) (*Take, error) {
	err := s.change(ctx, actor, func(t *tx) error {
		before, in, err := t.lockTake(id)
		if err != nil {
			return err
		}
		if err := checkRevision("take", before.Revision, revision); err != nil {
			return err
		}
		after := *before
		if err := c.apply(&after, t); err != nil {
			return err
		}
		today, err := t.today()
		if err != nil {
			return err
		}
		if err := after.validate(today); err != nil {
			return err
		}
		if err := after.holdsItsSlips(); err != nil {
			return err
		}
		if c.SampleID != nil && after.SampleID != nil {
			if _, err := sampleOf(t.DB, in.DesignID, *after.SampleID, "sample_id"); err != nil {
				return err
			}
		}
		t.acceptShots(before, &after, c)
		if before.AcceptedAt != nil && after.AcceptedAt == nil || before.SetAsideAt == nil && after.SetAsideAt != nil {
			if err := t.keepsTheEdit(in, &after); err != nil {
				return err
			}
		}
		if unchanged(before, &after) {
			return nil
		}
		return t.saveTake(in.DesignID, before, &after)
	})
	if err != nil {
		return nil, err
	}
	return s.Take(ctx, id)
}

// acceptShots lets a decision on a take be one on all the shots that it holds.
func (t *tx) acceptShots(before, after *Take, c TakeChange) {
	after.Shots = append([]TakeShot(nil), before.Shots...)
	if c.Accepted == nil || (before.AcceptedAt != nil) == (after.AcceptedAt != nil) {
		return
	}
	for i := range after.Shots {
		s := &after.Shots[i]
		s.AcceptedAt = stamp(after.AcceptedAt != nil, s.AcceptedAt, t.now)
	}
}

// lockTake returns a take with its slips and its installment, which nobody
// else changes until this is committed.
func (t *tx) lockTake(id string) (*Take, *Installment, error) {
	row, err := first[Take](t.DB, "take", "id = ?", id)
	if err != nil {
		return nil, nil, err
	}
	in, err := t.lockInstallment(row.InstallmentID)
	if err != nil {
		return nil, nil, err
	}
	takes, err := takesWhere(t.DB, "takes.id = ?", id)
	if err != nil {
		return nil, nil, err
	}
	return &takes[0], in, nil
}

// holdsItsSlips refuses a length that ends before a slip.
func (k Take) holdsItsSlips() error {
	for _, slip := range k.Slips {
		if k.endsBefore(slip.AtMS) {
			return &Error{Kind: Invalid, Message: "The take was not changed.", Fields: []FieldProblem{{"seconds", fmt.Sprintf("ends before the slip at %s; check the length", slip.AtMS)}}}
		}
	}
	return nil
}

// endsBefore tells whether a time code lies beyond the take. Its length is
// kept in whole seconds, so the second that was begun belongs to it.
func (k Take) endsBefore(at TimeCode) bool {
	return k.Seconds != nil && int(at) >= (*k.Seconds+1)*second
}

// keepsTheEdit refuses a change of a take that would leave an edit without
// anything it is made of.
func (t *tx) keepsTheEdit(in *Installment, after *Take) error {
	takes, err := takesWhere(t.DB, "takes.installment_id = ?", in.ID)
	if err != nil {
		return err
	}
	if err := withShotsOf(t.DB, in); err != nil {
		return err
	}
	held := stepsHolding(*in, in.recordedAt(takes))
	if held[stepEdited] == nil {
		return nil
	}
	for i := range takes {
		if takes[i].ID == after.ID {
			takes[i] = *after
		}
	}
	if in.recordedAt(takes) == nil {
		return failf(Conflict, "The edit of this installment is made of take %d: take “edited” and what follows it away first, or accept another take.", after.Number)
	}
	return nil
}

func (t *tx) saveTake(designID string, before, after *Take) error {
	err := t.bump("take", &Take{}, before.ID, before.Revision, map[string]any{"recorded_on": after.RecordedOn, "seconds": after.Seconds,
		"sample_id": after.SampleID, "note": after.Note, "accepted_at": after.AcceptedAt, "set_aside_at": after.SetAsideAt})
	if err != nil {
		return err
	}
	for _, s := range after.Shots {
		err := t.Model(&TakeShot{}).Where("take_id = ? AND shot_id = ?", s.TakeID, s.ShotID).Update("accepted_at", s.AcceptedAt).Error
		if err != nil {
			return fmt.Errorf("accept shot: %w", err)
		}
	}
	after.Revision, after.UpdatedAt = before.Revision+1, t.now
	return t.record(designID, "take", after.ID, "changed", before, after)
}
