package models

import (
	"context"
	"fmt"
	"time"

	"gorm.io/gorm"
	"gorm.io/gorm/clause"
)

// HalfSignIn is a sign-in whose password was right and whose code is waited
// for. It opens nothing but the second step.
type HalfSignIn struct {
	TokenHash string `gorm:"primaryKey"`
	PersonID  string
	ExpiresAt time.Time
}

// halfLife is how long the code is waited for (chosen).
const halfLife = 5 * time.Minute

// Begun is a sign-in as far as it has come: a family of refresh tokens with its
// first secret, or, where the person has a second step, only a token for that.
type Begun struct {
	FamilyID string
	Refresh  string
	Half     string // "" when nothing more is needed
	HalfEnds time.Time
}

// BeginSignIn begins a sign-in for somebody whose password was right.
func (s *Store) BeginSignIn(ctx context.Context, actor Actor, personID, agent string) (*Begun, error) {
	var out *Begun
	err := s.change(ctx, actor, func(t *tx) (err error) {
		out, err = t.beginSignIn(personID, agent)
		return err
	})
	return out, err
}

func (t *tx) beginSignIn(personID, agent string) (*Begun, error) {
	if err := t.alone(personID); err != nil {
		return nil, err
	}
	factor, err := secondFactorIn(t.DB, personID)
	if err != nil {
		return nil, err
	}
	out := &Begun{}
	if factor == nil || factor.ConfirmedAt == nil {
		out.FamilyID, out.Refresh, err = t.startSignIn(personID, agent, false)
		return out, err
	}
	if err := t.Where("expires_at < ?", t.now).Delete(&HalfSignIn{}).Error; err != nil {
		return nil, fmt.Errorf("sign-ins that were left: %w", err)
	}
	secret, hash := newToken()
	row := HalfSignIn{TokenHash: hash, PersonID: personID, ExpiresAt: t.now.Add(halfLife)}
	if err := t.Create(&row).Error; err != nil {
		return nil, fmt.Errorf("half a sign-in: %w", err)
	}
	out.Half, out.HalfEnds = secret, row.ExpiresAt
	return out, nil
}

// halfSignIn returns what waits for its code, and holds the person's sign-ins.
func (t *tx) halfSignIn(half string) (*HalfSignIn, error) {
	find := func() (*HalfSignIn, error) {
		row, err := first[HalfSignIn](t.DB, "sign-in", "token_hash = ?", hashToken(half))
		if KindOf(err) == NotFound || err == nil && !t.now.Before(row.ExpiresAt) {
			return nil, errHalfOver
		}
		return row, err
	}
	row, err := find()
	if err != nil {
		return nil, err
	}
	if err := t.alone(row.PersonID); err != nil {
		return nil, err
	}
	return find() // it may have been finished or ended while this waited
}

var errHalfOver = failf(Unsigned, "That took too long. Sign in again.")

// FinishSignIn takes the second step: a one-time code or a recovery code.
func (s *Store) FinishSignIn(ctx context.Context, actor Actor, half, code, agent string) (person *Person, begun *Begun, err error) {
	var wrong error
	err = s.change(ctx, actor, func(t *tx) error {
		row, err := t.halfSignIn(half)
		if err != nil {
			return err
		}
		if person, err = personIn(t.DB, row.PersonID); err != nil {
			return err
		}
		if person.DisabledAt != nil {
			return errHalfOver
		}
		t.actor.PersonID = row.PersonID
		if wrong, err = t.passSecondStep(row.PersonID, code); err != nil || wrong != nil {
			return err // a wrong try is counted, so it is committed
		}
		if err := t.Delete(row).Error; err != nil {
			return fmt.Errorf("use half a sign-in: %w", err)
		}
		begun = &Begun{}
		begun.FamilyID, begun.Refresh, err = t.startSignIn(row.PersonID, agent, true)
		return err
	})
	if err == nil {
		err = wrong
	}
	return person, begun, err
}

// Wrong codes in a row are free up to a number; after that each makes the next
// wait twice as long, up to an hour (chosen). It is kept with the person, so
// that it holds for every server, and counts no recovery code, which nobody can
// guess: whoever has one is never shut out by a stranger's tries.
const (
	freeTries   = 5
	longestWait = time.Hour
)

func (f *SecondFactor) waits(now time.Time) time.Duration {
	if f.WrongTries < freeTries || f.WrongAt == nil {
		return 0
	}
	wait := min(time.Minute<<min(f.WrongTries-freeTries, 10), longestWait)
	return max(f.WrongAt.Add(wait).Sub(now), 0)
}

// passSecondStep takes a code of either sort. wrong is what to tell the person,
// and is no reason to undo what was counted.
func (t *tx) passSecondStep(personID, code string) (wrong, err error) {
	// Held until the end of the change, so that tries at the same moment are
	// counted one after the other.
	row, err := secondFactorIn(t.Clauses(clause.Locking{Strength: clause.LockingStrengthUpdate}), personID)
	if err != nil {
		return nil, err
	}
	if row == nil || row.ConfirmedAt == nil {
		return errHalfOver, nil // taken away in the meantime: the password alone does, once more
	}
	if used, err := t.useRecoveryCode(personID, code); err != nil || used {
		return nil, err
	}
	if wait := row.waits(t.now); wait > 0 {
		return &Error{Kind: TooMany, Message: "Too many wrong codes. Wait, then try again; a recovery code is taken at any time.", Wait: wait}, nil
	}
	step, right, err := t.store.takes(row, code, t.now)
	if err != nil {
		return nil, err
	}
	if right {
		// Two requests with one code at the same moment: the second finds the
		// step taken.
		res := t.Model(&SecondFactor{}).Where("person_id = ? AND last_step < ?", personID, step).
			Updates(map[string]any{"last_step": step, "wrong_tries": 0, "wrong_at": nil})
		if res.Error != nil {
			return nil, fmt.Errorf("use a code: %w", res.Error)
		}
		if res.RowsAffected > 0 {
			return nil, nil
		}
	}
	return t.countWrongCode(row)
}

func (t *tx) countWrongCode(row *SecondFactor) (wrong, err error) {
	err = t.Model(&SecondFactor{}).Where("person_id = ?", row.PersonID).
		Updates(map[string]any{"wrong_tries": gorm.Expr("wrong_tries + 1"), "wrong_at": t.now}).Error
	if err != nil {
		return nil, fmt.Errorf("count a wrong code: %w", err)
	}
	if row.WrongTries+1 == freeTries {
		if err := t.record("", "person", row.PersonID, "wrong codes", nil, nil); err != nil {
			return nil, err
		}
	}
	return &Error{Kind: Invalid, Message: "You are not signed in yet.", Fields: errWrongCode.Fields}, nil
}
