package models

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"gorm.io/gorm"
	"gorm.io/gorm/clause"
)

// SecondFactor is the second step of a person's sign-in: a code by time from a
// device of theirs. The person sets it up and takes it away, each time with
// their password; a designer can take it away for somebody who has lost the
// device. Nobody is ever shown the secret again.
type SecondFactor struct {
	PersonID    string `gorm:"primaryKey"`
	Sealed      []byte
	KeyName     string
	ConfirmedAt *time.Time // nil: a secret was made, and no code has been given yet
	LastStep    int64
	WrongTries  int
	WrongAt     *time.Time
	CreatedAt   time.Time
}

// NewSecret is a secret on its way to the person's device, shown once.
type NewSecret struct {
	Text string // base32, to be typed
	Link string // for a QR code
}

var errNoSecondFactor = failf(Conflict, "There is no second step to take away or to change.")

// PrepareSecondFactor makes a secret for the person who asks. It counts for
// nothing until a code from it is given; asking again makes another.
func (s *Store) PrepareSecondFactor(ctx context.Context, actor Actor, password string) (*NewSecret, error) {
	me, err := s.ownPassword(ctx, actor, "password", password)
	if err != nil {
		return nil, err
	}
	studio, err := s.Studio(ctx)
	if err != nil {
		return nil, err
	}
	secret := randomBytes(codeSecretBytes)
	sealed, key := s.sealer.seal(secret, me.ID)
	err = s.change(ctx, actor, func(t *tx) error {
		if err := t.alone(me.ID); err != nil {
			return err
		}
		have, err := secondFactorIn(t.DB, me.ID)
		if err != nil {
			return err
		}
		if have != nil && have.ConfirmedAt != nil {
			return failf(Conflict, "The second step is set up already; take it away first, then set it up anew.")
		}
		row := SecondFactor{PersonID: me.ID, Sealed: sealed, KeyName: key, LastStep: -1, CreatedAt: t.now}
		if err := t.Clauses(clause.OnConflict{UpdateAll: true}).Create(&row).Error; err != nil {
			return fmt.Errorf("second step: %w", err)
		}
		return t.record("", "person", me.ID, "second step begun", nil, nil)
	})
	if err != nil {
		return nil, err
	}
	return &NewSecret{Text: base32Bare.EncodeToString(secret), Link: codeLink(studio.Name, me.Handle, secret)}, nil
}

// ConfirmSecondFactor sets the second step up for good with a first code, and
// returns the recovery codes, which are not kept.
func (s *Store) ConfirmSecondFactor(ctx context.Context, actor Actor, code string) (codes []string, err error) {
	err = s.change(ctx, actor, func(t *tx) error {
		if err := t.alone(actor.PersonID); err != nil {
			return err
		}
		row, err := secondFactorIn(t.DB, actor.PersonID)
		if err != nil {
			return err
		}
		if row == nil || row.ConfirmedAt != nil {
			return failf(Conflict, "There is no second step that waits for its first code.")
		}
		step, right, err := s.takes(row, code, t.now)
		if err != nil {
			return err
		}
		if !right {
			return errWrongCode
		}
		err = t.Model(&SecondFactor{}).Where("person_id = ?", actor.PersonID).Updates(map[string]any{"confirmed_at": t.now, "last_step": step}).Error
		if err != nil {
			return fmt.Errorf("confirm the second step: %w", err)
		}
		if codes, err = t.renewRecoveryCodes(actor.PersonID); err != nil {
			return err
		}
		// The code was given here and now; who signed in elsewhere did not.
		if err := t.endSignInsBut(actor.PersonID, actor.FamilyID); err != nil {
			return err
		}
		if err := t.Model(&SignIn{}).Where("id = ?", actor.FamilyID).Update("second_step", true).Error; err != nil {
			return fmt.Errorf("this sign-in: %w", err)
		}
		return t.record("", "person", actor.PersonID, "second step set up", nil, nil)
	})
	return codes, err
}

// RenewRecoveryCodes ends the recovery codes that the person has and returns
// new ones.
func (s *Store) RenewRecoveryCodes(ctx context.Context, actor Actor, password string) (codes []string, err error) {
	if _, err := s.ownPassword(ctx, actor, "password", password); err != nil {
		return nil, err
	}
	err = s.change(ctx, actor, func(t *tx) error {
		if err := t.alone(actor.PersonID); err != nil {
			return err
		}
		row, err := secondFactorIn(t.DB, actor.PersonID)
		if err != nil {
			return err
		}
		if row == nil || row.ConfirmedAt == nil {
			return errNoSecondFactor
		}
		if codes, err = t.renewRecoveryCodes(actor.PersonID); err != nil {
			return err
		}
		return t.record("", "person", actor.PersonID, "recovery codes renewed", nil, nil)
	})
	return codes, err
}

// RemoveMySecondFactor takes the second step away from the person who asks.
func (s *Store) RemoveMySecondFactor(ctx context.Context, actor Actor, password string) error {
	if _, err := s.ownPassword(ctx, actor, "password", password); err != nil {
		return err
	}
	return s.change(ctx, actor, func(t *tx) error { return t.removeSecondFactor(actor.PersonID) })
}

// RemoveSecondFactor takes it away from somebody who has lost their device. A
// designer gives their own password for it: an open screen is not enough. It
// ends the other's sign-ins.
func (s *Store) RemoveSecondFactor(ctx context.Context, actor Actor, personID, password string) error {
	if personID == actor.PersonID {
		return failf(Conflict, "Take your own second step away on your own page.")
	}
	if _, err := s.Person(ctx, personID); err != nil {
		return err
	}
	if _, err := s.ownPassword(ctx, actor, "password", password); err != nil {
		return err
	}
	return s.ForceSecondFactorOff(ctx, actor, personID)
}

// ForceSecondFactorOff is RemoveSecondFactor without a password, for whoever
// holds the database anyway: the command line.
func (s *Store) ForceSecondFactorOff(ctx context.Context, actor Actor, personID string) error {
	return s.change(ctx, actor, func(t *tx) error {
		if err := t.removeSecondFactor(personID); err != nil {
			return err
		}
		return t.endSignInsBut(personID, "")
	})
}

func (t *tx) removeSecondFactor(personID string) error {
	if err := t.alone(personID); err != nil {
		return err
	}
	res := t.Where("person_id = ?", personID).Delete(&SecondFactor{})
	if res.Error != nil {
		return fmt.Errorf("take the second step away: %w", res.Error)
	}
	if res.RowsAffected == 0 {
		return errNoSecondFactor
	}
	if err := t.Where("person_id = ?", personID).Delete(&RecoveryCode{}).Error; err != nil {
		return fmt.Errorf("recovery codes: %w", err)
	}
	return t.record("", "person", personID, "second step taken away", nil, nil)
}

// SecondFactorState is what a person is told of their second step.
type SecondFactorState struct {
	Since        *time.Time // nil: it is not set up
	RecoveryLeft int
	Wanted       bool // the studio wants it of this person
}

// SecondFactor tells how the second step of a person stands.
func (s *Store) SecondFactor(ctx context.Context, personID string, roles []Role) (*SecondFactorState, error) {
	db := s.read(ctx)
	row, err := secondFactorIn(db, personID)
	if err != nil {
		return nil, err
	}
	studio, err := studioIn(db)
	if err != nil {
		return nil, err
	}
	out := &SecondFactorState{Wanted: studio.StaffSecondStep && Actor{Roles: roles}.IsStaff()}
	if row == nil || row.ConfirmedAt == nil {
		return out, nil
	}
	out.Since = row.ConfirmedAt
	var left int64
	if err := db.Model(&RecoveryCode{}).Where("person_id = ? AND used_at IS NULL", personID).Count(&left).Error; err != nil {
		return nil, fmt.Errorf("recovery codes: %w", err)
	}
	out.RecoveryLeft = int(left)
	return out, nil
}

// secondFactorIn returns a person's second step, or nil.
func secondFactorIn(db *gorm.DB, personID string) (*SecondFactor, error) {
	row, err := first[SecondFactor](db, "second step", "person_id = ?", personID)
	if KindOf(err) == NotFound {
		return nil, nil
	}
	return row, err
}

// errWrongCode is told of every code that is not taken, whatever is wrong.
var errWrongCode = &Error{Kind: Invalid, Message: "Nothing was changed.",
	Fields: []FieldProblem{{"code", "is not right, or was used before. Wait for the next code; if none is taken, see that the clock of your device is right"}}}

// takes tells whether a one-time code is right for a person's secret, and which
// time step it is of.
func (s *Store) takes(row *SecondFactor, code string, now time.Time) (step int64, right bool, err error) {
	code = strings.Join(strings.Fields(code), "")
	if !isCode(code) {
		return 0, false, nil
	}
	secret, err := s.sealer.open(row.Sealed, row.KeyName, row.PersonID)
	if errors.Is(err, errSealedElsewhere) {
		return 0, false, failf(Unavailable, "The server's key was changed, so codes can't be checked any more. Use a recovery code, or ask the designer to take your second step away.")
	}
	if err != nil {
		return 0, false, err
	}
	step, right = codeTaken(secret, code, now, row.LastStep)
	return step, right, nil
}
