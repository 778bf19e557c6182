package models

import (
	"context"
	"fmt"
	"time"

	"gorm.io/gorm"
)

// Invitation is a single-use link with which somebody chooses a password. Only
// its hash is kept; making a new one for the same person ends the earlier ones.
type Invitation struct {
	ID           string `gorm:"primaryKey"`
	PersonID     string
	AssignmentID *string
	TokenHash    string `json:"-"`
	CreatedBy    *string
	CreatedAt    time.Time
	ExpiresAt    time.Time
	UsedAt       *time.Time
	RevokedAt    *time.Time
}

// invitationLife is how long an invitation can be used (chosen).
const invitationLife = 14 * 24 * time.Hour

// Invite makes an invitation for a person and returns its secret, which is not
// kept anywhere.
func (s *Store) Invite(ctx context.Context, actor Actor, personID string) (*Invitation, string, error) {
	var (
		row    *Invitation
		secret string
	)
	err := s.change(ctx, actor, func(t *tx) (err error) {
		row, secret, err = t.invite(personID, nil, "")
		return err
	})
	return row, secret, err
}

func (t *tx) invite(personID string, assignmentID *string, designID string) (*Invitation, string, error) {
	secret, _ := newToken()
	row, err := t.inviteWith(secret, personID, assignmentID, designID)
	return row, secret, err
}

func (t *tx) inviteWith(secret, personID string, assignmentID *string, designID string) (*Invitation, error) {
	person, err := personIn(t.DB, personID)
	if err != nil {
		return nil, err
	}
	if person.DisabledAt != nil {
		return nil, failf(Conflict, "%s can't sign in any more; let them in again first.", person.Handle)
	}
	if err := t.endInvitations(personID); err != nil {
		return nil, err
	}
	row := Invitation{ID: NewID(), PersonID: personID, AssignmentID: assignmentID, TokenHash: hashToken(secret), CreatedAt: t.now, ExpiresAt: t.now.Add(invitationLife)}
	if t.actor.PersonID != "" {
		row.CreatedBy = &t.actor.PersonID
	}
	if err := t.Create(&row).Error; err != nil {
		return nil, fmt.Errorf("invitation: %w", err)
	}
	return &row, t.record(designID, "invitation", row.ID, "made", nil, row)
}

// endInvitations ends the links of a person that are still open.
func (t *tx) endInvitations(personID string) error {
	err := t.Model(&Invitation{}).Where("person_id = ? AND used_at IS NULL AND revoked_at IS NULL", personID).Update("revoked_at", t.now).Error
	if err != nil {
		return fmt.Errorf("end earlier invitations: %w", err)
	}
	return nil
}

var errInvitationOver = failf(NotFound, "This link has been used, has run out, or was replaced by a newer one. Ask the designer for a new link.")

// openInvitation returns a usable invitation by its secret.
func openInvitation(db *gorm.DB, secret string, now time.Time) (*Invitation, error) {
	row, err := first[Invitation](db, "invitation", "token_hash = ?", hashToken(secret))
	if KindOf(err) == NotFound {
		return nil, errInvitationOver
	}
	if err != nil {
		return nil, err
	}
	if row.UsedAt != nil || row.RevokedAt != nil || !now.Before(row.ExpiresAt) {
		return nil, errInvitationOver
	}
	return row, nil
}

// OpenInvitationOf returns the link of a person that still works, nil when
// there is none: a new one ends it.
func (s *Store) OpenInvitationOf(ctx context.Context, personID string) (*Invitation, error) {
	row, err := first[Invitation](s.read(ctx), "invitation", "person_id = ? AND used_at IS NULL AND revoked_at IS NULL AND expires_at > ?", personID, s.Now())
	if KindOf(err) == NotFound {
		return nil, nil
	}
	return row, err
}

// InvitationLook is what somebody with the link sees before they use it.
type InvitationLook struct {
	Person     *Person
	DesignName string // "" when the invitation is to the studio
	SizeName   string
	ExpiresAt  time.Time
}

// LookAtInvitation shows an invitation without using it.
func (s *Store) LookAtInvitation(ctx context.Context, secret string) (*InvitationLook, error) {
	db := s.read(ctx)
	row, err := openInvitation(db, secret, s.Now())
	if err != nil {
		return nil, err
	}
	look := &InvitationLook{ExpiresAt: row.ExpiresAt}
	if look.Person, err = personIn(db, row.PersonID); err != nil {
		return nil, err
	}
	if row.AssignmentID != nil {
		err = db.Raw(`SELECT d.name, z.name FROM assignments a
			JOIN designs d ON d.id = a.design_id JOIN sizes z ON z.id = a.size_id WHERE a.id = ?`, *row.AssignmentID).
			Row().Scan(&look.DesignName, &look.SizeName)
		if err != nil {
			return nil, fmt.Errorf("invitation's assignment: %w", err)
		}
	}
	return look, nil
}

// AcceptInvitation uses the link: it sets the password (and unit and terms,
// when given) and begins a sign-in. A link is no way around the second step.
func (s *Store) AcceptInvitation(ctx context.Context, actor Actor, secret, password, unit, terms, agent string) (person *Person, begun *Begun, err error) {
	look, err := s.LookAtInvitation(ctx, secret)
	if err != nil {
		return nil, nil, err
	}
	// Hashing is slow on purpose, so it happens before the one writer is taken.
	hash, err := HashPassword(password, look.Person.Handle, look.Person.Name)
	if err != nil {
		return nil, nil, err
	}
	err = s.change(ctx, actor, func(t *tx) error {
		row, err := openInvitation(t.DB, secret, t.now)
		if err != nil {
			return err
		}
		res := t.Model(&Invitation{}).Where("id = ? AND used_at IS NULL", row.ID).Update("used_at", t.now)
		if err := res.Error; err != nil {
			return fmt.Errorf("use invitation: %w", err)
		}
		if res.RowsAffected == 0 {
			return errInvitationOver // used by another request in this very moment
		}
		if err := t.setPassword(row.PersonID, hash); err != nil {
			return err
		}
		if person, err = t.adoptPreferences(row.PersonID, unit, terms); err != nil {
			return err
		}
		if err := t.endSignInsBut(row.PersonID, ""); err != nil {
			return err
		}
		t.actor.PersonID = row.PersonID
		if err := t.record("", "invitation", row.ID, "used", nil, nil); err != nil {
			return err
		}
		if err := t.record("", "person", row.PersonID, "invitation used", nil, nil); err != nil {
			return err
		}
		begun, err = t.beginSignIn(row.PersonID, agent)
		return err
	})
	return person, begun, err
}

func (t *tx) adoptPreferences(personID, unit, terms string) (*Person, error) {
	before, err := personIn(t.DB, personID)
	if err != nil {
		return nil, err
	}
	after := *before
	after.Unit, after.Terms = orElse(unit, before.Unit), orElse(terms, before.Terms)
	if after.Unit == before.Unit && after.Terms == before.Terms {
		return before, nil
	}
	if err := after.validate(); err != nil {
		return nil, err
	}
	return &after, t.savePerson(before, &after)
}
