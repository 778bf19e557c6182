package models

import (
	"context"
	"fmt"
	"time"
)

// InstallmentChange says what to change; nil leaves a field as it is, and an
// empty date means none. The last four mark a step or take its mark away.
type InstallmentChange struct {
	Position            *int
	Title, Covers, Link *string
	AirOn, RecordBy     *Date
	ShootOn             *Date

	Edited, Captioned, Scheduled, Aired *bool

	BeforeItsDay bool // it is meant to be marked as aired before its air date
}

func (c InstallmentChange) wish() [stepCount]*bool {
	return [stepCount]*bool{c.Edited, c.Captioned, c.Scheduled, c.Aired}
}

func (c InstallmentChange) marks() bool {
	return c.Edited != nil || c.Captioned != nil || c.Scheduled != nil || c.Aired != nil
}

func (c InstallmentChange) apply(in *Installment) {
	set(&in.Title, c.Title)
	set(&in.Covers, c.Covers)
	set(&in.Link, c.Link)
	set(&in.AirOn, c.AirOn)
	set(&in.RecordBy, c.RecordBy)
	set(&in.ShootOn, c.ShootOn)
}

// ChangeInstallment changes an installment, moves it to another place in the
// run, or marks its steps.
func (s *Store) ChangeInstallment(ctx context.Context, actor Actor, id string, revision *int, c InstallmentChange) (*InstallmentNow, error) {
	err := s.change(ctx, actor, func(t *tx) error {
		found, err := first[Installment](t.DB, "installment", "id = ?", id)
		if err != nil {
			return err
		}
		others, err := t.lockInstallments(found.DesignID)
		if err != nil {
			return err
		}
		before, err := t.lockInstallment(id)
		if err != nil {
			return err
		}
		if err := withShotsOf(t.DB, before); err != nil {
			return err
		}
		if err := checkRevision("installment", before.Revision, revision); err != nil {
			return err
		}
		after := *before
		c.apply(&after)
		if err := after.validate(); err != nil {
			return err
		}
		if c.marks() {
			if err := t.markSteps(ctx, &after, c); err != nil {
				return err
			}
		}
		if c.Position != nil {
			if err := t.moveInstallment(&after, *c.Position, len(others)); err != nil {
				return err
			}
		}
		if unchanged(before, &after) {
			return nil
		}
		return t.saveInstallment(before, &after)
	})
	if err != nil {
		return nil, err
	}
	return s.Installment(ctx, id)
}

// markSteps marks the steps after a wish. An installment with a shut gate can't
// be marked as aired, whoever asks and by whichever way; where its captions or
// takes are let through by hand, it can be without the steps that rest on them.
func (t *tx) markSteps(ctx context.Context, in *Installment, c InstallmentChange) error {
	wish := c.wish()
	takes, err := takesWhere(t.DB, "takes.installment_id = ?", in.ID)
	if err != nil {
		return err
	}
	recorded := in.recordedAt(takes)
	held := stepsHolding(*in, recorded)
	var gates []Gate
	var out Version
	airs := held[stepAired] == nil && wish[stepAired] != nil && *wish[stepAired]
	if airs {
		if gates, out, err = t.airing(ctx, in, held.wished(wish, t.now)); err != nil {
			return err
		}
	}
	next, err := held.mark(wish, recorded, letThrough(gates), t.now)
	if err != nil {
		return err
	}
	if next[stepScheduled] != nil && in.AirOn == "" && wish[stepScheduled] != nil {
		return &Error{Kind: Invalid, Message: "The installment was not changed.", Fields: []FieldProblem{{"scheduled", "needs a day; give its air date (air_on) first"}}}
	}
	if shut := shutOnes(gates); len(shut) > 0 {
		return heldBack("aired", fmt.Sprintf("“%s” can't be marked as aired", in.Title), shut)
	}
	if airs {
		today, err := t.today()
		if err != nil {
			return err
		}
		if err := early("“"+in.Title+"”", in.AirOn, today, c.BeforeItsDay, "air_on"); err != nil {
			return err
		}
	}
	in.EditedAt, in.CaptionedAt, in.ScheduledAt, in.AiredAt = next[stepEdited], next[stepCaptioned], next[stepScheduled], next[stepAired]
	switch {
	case airs:
		in.AiredBy, in.OutVersion = t.person(), &out.Number
	case in.AiredAt == nil:
		in.AiredBy, in.OutVersion = nil, nil
	}
	return nil
}

// letThrough tells whether the takes or captions of an installment are open
// only by hand: then the steps that rest on them can't be asked for.
func letThrough(own []Gate) bool {
	for _, g := range own {
		if g.InstallmentID != "" && g.ByHand() && (g.Key == GateTakes || g.Key == GateCaptions) {
			return true
		}
	}
	return false
}

// moveInstallment gives an installment its new place; those in between close
// up. Their revisions stay: nothing of their own has changed.
func (t *tx) moveInstallment(in *Installment, to, most int) error {
	if err := positionWithin(to, most); err != nil {
		return err
	}
	from := in.Position
	in.Position = to
	if to > from {
		return t.shiftInstallments(in.DesignID, from+1, to, -1)
	}
	return t.shiftInstallments(in.DesignID, to, from-1, +1)
}

func (t *tx) saveInstallment(before, after *Installment) error {
	err := t.bump("installment", &Installment{}, before.ID, before.Revision, map[string]any{"position": after.Position, "title": after.Title,
		"covers": after.Covers, "air_on": after.AirOn, "record_by": after.RecordBy, "shoot_on": after.ShootOn, "link": after.Link,
		"edited_at": after.EditedAt, "captioned_at": after.CaptionedAt, "scheduled_at": after.ScheduledAt, "aired_at": after.AiredAt,
		"aired_by": after.AiredBy, "out_version": after.OutVersion})
	if err != nil {
		return err
	}
	after.Revision, after.UpdatedAt = before.Revision+1, t.now
	return t.record(after.DesignID, "installment", after.ID, action(before, after), before, after)
}

// action names what was done to an installment, for the history.
func action(before, after *Installment) string {
	names, was, is := stepNames(), before.marked(), after.marked()
	for i := stepCount - 1; i >= 0; i-- {
		if became(was[i], is[i]) {
			return "marked as " + names[i]
		}
	}
	if before.Position != after.Position {
		return "moved"
	}
	return "changed"
}

func became(was, is *time.Time) bool { return is != nil && (was == nil || is.After(*was)) }

// RemoveInstallment takes an installment out of the run, as long as nothing
// was recorded of it and no sample is or was worked through it. Those behind
// it move up.
func (s *Store) RemoveInstallment(ctx context.Context, actor Actor, id string, revision *int) error {
	return s.change(ctx, actor, func(t *tx) error {
		found, err := first[Installment](t.DB, "installment", "id = ?", id)
		if err != nil {
			return err
		}
		if _, err := t.lockInstallments(found.DesignID); err != nil {
			return err
		}
		in, err := t.lockInstallment(id)
		if err != nil {
			return err
		}
		if err := checkRevision("installment", in.Revision, revision); err != nil {
			return err
		}
		if err := t.unused(in); err != nil {
			return err
		}
		if err := t.Where("installment_id = ?", id).Delete(&Shot{}).Error; err != nil {
			return fmt.Errorf("remove shots: %w", err) // before the states that they stand on
		}
		if err := t.Where("id = ?", id).Delete(&Installment{}).Error; err != nil {
			return fmt.Errorf("remove installment: %w", err)
		}
		if err := t.shiftInstallments(in.DesignID, in.Position+1, mostInstallments, -1); err != nil {
			return err
		}
		return t.record(in.DesignID, "installment", id, "removed", in, nil)
	})
}

func (t *tx) unused(in *Installment) error {
	var takes, samples, shots int64
	err := t.Raw(`SELECT (SELECT count(*) FROM takes WHERE installment_id = @id),
		(SELECT count(*) FROM samples WHERE worked_through = @id) + (SELECT count(*) FROM sample_moves WHERE worked_through = @id)
			+ (SELECT count(*) FROM samples s JOIN design_states d ON d.id = s.state_id WHERE d.installment_id = @id)
			+ (SELECT count(*) FROM sample_moves m JOIN design_states d ON d.id = m.state_id WHERE d.installment_id = @id),
		(SELECT count(*) FROM shots h JOIN design_states d ON d.id IN (h.from_state, h.to_state) WHERE d.installment_id = @id AND h.installment_id <> @id)`,
		map[string]any{"id": in.ID}).Row().Scan(&takes, &samples, &shots)
	switch {
	case err != nil:
		return fmt.Errorf("look for uses of installment: %w", err)
	case takes > 0:
		return failf(Conflict, "“%s” can't be taken away: it has %s. Set them aside instead, and change its title or day.", in.Title, counted(int(takes), "take"))
	case shots > 0:
		return failf(Conflict, "“%s” can't be taken away: shots of other installments start or end in its states. Change those first.", in.Title)
	case samples > 0:
		return failf(Conflict, "“%s” can't be taken away: samples are or were worked through it. Change its title or what it covers instead.", in.Title)
	}
	return nil
}
