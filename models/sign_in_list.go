package models

import (
	"context"
	"errors"
	"fmt"
	"time"

	"gorm.io/gorm"
	"gorm.io/gorm/clause"
)

// SignIn is one sign-in of one person, from a password to its end: what the
// refresh tokens of one family belong to. Only its own person is shown it. Of
// where it came from, the browser's own words are kept and no address: they
// tell people what they need to know it again.
type SignIn struct {
	ID         string `gorm:"primaryKey"` // the family of its refresh tokens
	PersonID   string
	Agent      string
	SecondStep bool
	BegunAt    time.Time
	UsedAt     time.Time
	EndedAt    *time.Time
}

// Ends returns when a sign-in runs out if it is not used again.
func (s SignIn) Ends() time.Time {
	return earlier(s.UsedAt.Add(refreshLife), s.BegunAt.Add(signInLife))
}

func earlier(a, b time.Time) time.Time {
	if b.Before(a) {
		return b
	}
	return a
}

// signInMemory is how long a sign-in that is over is kept (chosen): long enough
// to find out later who it was.
const signInMemory = 90 * 24 * time.Hour

// goOn notes that a sign-in is in use and makes its next refresh token.
func (t *tx) goOn(id string) (string, error) {
	row, err := first[SignIn](t.DB, "sign-in", "id = ?", id)
	if KindOf(err) == NotFound || err == nil && (row.EndedAt != nil || !t.now.Before(row.BegunAt.Add(signInLife))) {
		return "", errSignInOver
	}
	if err != nil {
		return "", err
	}
	if err := t.Model(row).Update("used_at", t.now).Error; err != nil {
		return "", fmt.Errorf("go on with a sign-in: %w", err)
	}
	return t.issue(row)
}

// SignIns lists a person's sign-ins that are not over, the one used last first.
func (s *Store) SignIns(ctx context.Context, personID string) ([]SignIn, error) {
	var rows []SignIn
	now := s.Now()
	err := s.read(ctx).Where("person_id = ? AND ended_at IS NULL AND used_at > ? AND begun_at > ?", personID, now.Add(-refreshLife), now.Add(-signInLife)).
		Order("used_at DESC, id").Find(&rows).Error
	if err != nil {
		return nil, fmt.Errorf("sign-ins: %w", err)
	}
	return rows, nil
}

// EndSignIn ends the sign-in that the actor's request belongs to.
func (s *Store) EndSignIn(ctx context.Context, actor Actor) error {
	return s.change(ctx, actor, func(t *tx) error {
		if err := t.endSignIns(actor.PersonID, "id = ?", actor.FamilyID); err != nil {
			return err
		}
		return t.record("", "person", actor.PersonID, "signed out", nil, nil)
	})
}

// EndMySignIn ends one of the sign-ins of the person who asks.
func (s *Store) EndMySignIn(ctx context.Context, actor Actor, id string) error {
	return s.change(ctx, actor, func(t *tx) error {
		row, err := first[SignIn](t.DB, "sign-in", "id = ? AND person_id = ?", id, actor.PersonID)
		if err != nil {
			return err
		}
		if row.EndedAt != nil {
			return notFound("sign-in")
		}
		if err := t.endSignIns(actor.PersonID, "id = ?", id); err != nil {
			return err
		}
		return t.record("", "person", actor.PersonID, "sign-in ended", nil, nil)
	})
}

// EndMyOtherSignIns ends every sign-in of the person who asks but this one.
func (s *Store) EndMyOtherSignIns(ctx context.Context, actor Actor) error {
	return s.change(ctx, actor, func(t *tx) error {
		if err := t.endSignInsBut(actor.PersonID, actor.FamilyID); err != nil {
			return err
		}
		return t.record("", "person", actor.PersonID, "other sign-ins ended", nil, nil)
	})
}

// EndSignInsOf ends every sign-in of somebody, as a designer asks.
func (s *Store) EndSignInsOf(ctx context.Context, actor Actor, personID string) error {
	return s.change(ctx, actor, func(t *tx) error {
		if _, err := personIn(t.DB, personID); err != nil {
			return err
		}
		if err := t.endSignInsBut(personID, ""); err != nil {
			return err
		}
		return t.record("", "person", personID, "sign-ins ended", nil, nil)
	})
}

// endSignIns ends those of a person's sign-ins that the condition picks, their
// refresh tokens, and what the person had half begun, also where none is picked.
func (t *tx) endSignIns(personID, where string, args ...any) error {
	picked := func() *gorm.DB {
		return t.Model(&SignIn{}).Where("person_id = ? AND ended_at IS NULL", personID).Where(where, args...)
	}
	err := t.Where("person_id = ?", personID).Delete(&HalfSignIn{}).Error
	if err == nil {
		err = t.Model(&RefreshToken{}).Where("family_id IN (?)", picked().Select("id")).Where("revoked_at IS NULL").Update("revoked_at", t.now).Error
	}
	if err == nil {
		err = picked().Update("ended_at", t.now).Error
	}
	if err != nil {
		return fmt.Errorf("end sign-ins: %w", err)
	}
	return nil
}

// endSignInsBut ends every sign-in of a person but one, "" for all of them, and
// those that another request begins or finishes at this moment.
func (t *tx) endSignInsBut(personID, but string) error {
	if err := t.alone(personID); err != nil {
		return err
	}
	return t.endSignIns(personID, "id <> ?", but)
}

// alone makes what begins, finishes and ends a person's sign-ins, and sets up
// their second step, wait for each other until the end of the change. It comes
// before anything else of these is read or written. SQLite has one writer.
func (t *tx) alone(personID string) error {
	// Rows that refer to the person can still be written.
	err := t.Clauses(clause.Locking{Strength: "NO KEY UPDATE"}).Select("id").Where("id = ?", personID).Take(&Person{}).Error
	if errors.Is(err, gorm.ErrRecordNotFound) {
		return notFound("person")
	}
	if err != nil {
		return fmt.Errorf("hold a person's sign-ins: %w", err)
	}
	return nil
}

// DropOldSignIns forgets sign-ins and refresh tokens that have been over for
// long, and returns how many sign-ins those were.
func (s *Store) DropOldSignIns(ctx context.Context) (int, error) {
	dropped := 0
	err := s.change(ctx, System("retention"), func(t *tx) error {
		since := t.now.Add(-signInMemory)
		old := t.Model(&SignIn{}).Select("id").Where("ended_at < ? OR used_at < ? OR begun_at < ?", since, since.Add(-refreshLife), since.Add(-signInLife))
		if err := t.Where("family_id IN (?)", old).Delete(&RefreshToken{}).Error; err != nil {
			return fmt.Errorf("old refresh tokens: %w", err)
		}
		res := t.Where("ended_at < ? OR used_at < ? OR begun_at < ?", since, since.Add(-refreshLife), since.Add(-signInLife)).Delete(&SignIn{})
		if res.Error != nil {
			return fmt.Errorf("old sign-ins: %w", res.Error)
		}
		dropped = int(res.RowsAffected)
		// A refresh token that was used long ago is not worth a theft any more.
		return t.Where("used_at < ?", since).Delete(&RefreshToken{}).Error
	})
	return dropped, err
}

// Standing is what a signed-in person may do at this moment.
type Standing struct {
	Roles []Role
	// SetUpFirst: the studio wants a second step of its people, and this person
	// has none yet; until then they may do nothing but set it up.
	SetUpFirst bool
}

// SignedIn returns the standing of a person whose sign-in is still good. Asking
// the database each time makes a sign-out or a changed role count at once, not
// when the access token runs out.
func (s *Store) SignedIn(ctx context.Context, personID, familyID string) (*Standing, error) {
	var rows []struct {
		Role Role
		Bare bool
	}
	err := s.read(ctx).Raw(`SELECT r.role, u.staff_second_step AND NOT EXISTS
			(SELECT 1 FROM second_factors x WHERE x.person_id = p.id AND x.confirmed_at IS NOT NULL) AS bare
		FROM people p JOIN person_roles r ON r.person_id = p.id JOIN studio u ON u.id = 1
		WHERE p.id = ? AND p.disabled_at IS NULL
		AND EXISTS (SELECT 1 FROM sign_ins f WHERE f.id = ? AND f.person_id = p.id AND f.ended_at IS NULL AND f.begun_at > ?)`,
		personID, familyID, s.Now().Add(-signInLife)).Scan(&rows).Error
	if err != nil {
		return nil, fmt.Errorf("sign-in: %w", err)
	}
	if len(rows) == 0 {
		return nil, errSignInOver
	}
	out := &Standing{}
	for _, r := range rows {
		out.Roles = append(out.Roles, r.Role)
	}
	out.SetUpFirst = rows[0].Bare && Actor{Roles: out.Roles}.IsStaff()
	return out, nil
}
