package models

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"fmt"
	"time"
)

// RefreshToken is one link of a sign-in. Each use replaces it by the next of
// its family; a token that comes back after its use was stolen or copied, and
// ends the family.
type RefreshToken struct {
	ID        string `gorm:"primaryKey"`
	FamilyID  string
	PersonID  string
	TokenHash string
	Agent     string // the browser's own words, for the person's list of sign-ins
	CreatedAt time.Time
	ExpiresAt time.Time
	UsedAt    *time.Time
	RevokedAt *time.Time
}

const (
	refreshLife = 30 * 24 * time.Hour // chosen
	tokenBytes  = 32
	agentLength = 200
)

// newToken returns a secret for the person and its hash for the database.
func newToken() (secret, hash string) {
	b := make([]byte, tokenBytes)
	rand.Read(b) //nolint:errcheck // never fails, by its documentation since Go 1.24
	secret = base64.RawURLEncoding.EncodeToString(b)
	return secret, hashToken(secret)
}

func hashToken(secret string) string {
	sum := sha256.Sum256([]byte(secret))
	return hex.EncodeToString(sum[:])
}

// StartSignIn begins a family of refresh tokens and returns its first secret.
func (s *Store) StartSignIn(ctx context.Context, actor Actor, personID, agent string) (familyID, secret string, err error) {
	err = s.change(ctx, actor, func(t *tx) error {
		familyID, secret, err = t.startSignIn(personID, agent)
		return err
	})
	return familyID, secret, err
}

func (t *tx) startSignIn(personID, agent string) (familyID, secret string, err error) {
	familyID = NewID()
	if secret, err = t.issue(familyID, personID, agent); err != nil {
		return "", "", err
	}
	return familyID, secret, t.record("", "person", personID, "signed in", nil, nil)
}

func (t *tx) issue(familyID, personID, agent string) (string, error) {
	secret, hash := newToken()
	if r := []rune(agent); len(r) > agentLength {
		agent = string(r[:agentLength])
	}
	row := RefreshToken{ID: NewID(), FamilyID: familyID, PersonID: personID, TokenHash: hash, Agent: agent,
		CreatedAt: t.now, ExpiresAt: t.now.Add(refreshLife)}
	if err := t.Create(&row).Error; err != nil {
		return "", fmt.Errorf("refresh token: %w", err)
	}
	return secret, nil
}

var errSignInOver = failf(Unsigned, "This sign-in is over. Sign in again.")

// ContinueSignIn trades a refresh token for the next one of its family.
func (s *Store) ContinueSignIn(ctx context.Context, actor Actor, secret string) (person *Person, familyID, next string, err error) {
	var reused bool
	err = s.change(ctx, actor, func(t *tx) error {
		row, err := first[RefreshToken](t.DB, "token", "token_hash = ?", hashToken(secret))
		if KindOf(err) == NotFound {
			return errSignInOver
		}
		if err != nil {
			return err
		}
		if row.UsedAt != nil && row.RevokedAt == nil {
			reused = true // committed, so that the thief's copy dies as well
			if err := t.endSignIns("family_id = ?", row.FamilyID); err != nil {
				return err
			}
			return t.record("", "person", row.PersonID, "refresh token reused", nil, nil)
		}
		if row.RevokedAt != nil || !t.now.Before(row.ExpiresAt) {
			return errSignInOver
		}
		if person, err = personIn(t.DB, row.PersonID); err != nil {
			return err
		}
		if person.DisabledAt != nil {
			return errSignInOver
		}
		if err := t.Model(row).Where("used_at IS NULL").Update("used_at", t.now).Error; err != nil {
			return fmt.Errorf("use refresh token: %w", err)
		}
		familyID = row.FamilyID
		next, err = t.issue(row.FamilyID, row.PersonID, row.Agent)
		return err
	})
	if err == nil && reused {
		err = errSignInOver
	}
	if KindOf(err) == Full {
		return s.continueUnchanged(ctx, secret)
	}
	return person, familyID, next, err
}

// EndSignIn revokes the sign-in that the actor's request belongs to.
func (s *Store) EndSignIn(ctx context.Context, actor Actor) error {
	return s.change(ctx, actor, func(t *tx) error {
		if err := t.endSignIns("family_id = ?", actor.FamilyID); err != nil {
			return err
		}
		return t.record("", "person", actor.PersonID, "signed out", nil, nil)
	})
}

func (t *tx) endSignIns(where, id string) error {
	err := t.Model(&RefreshToken{}).Where(where, id).Where("revoked_at IS NULL").Update("revoked_at", t.now).Error
	if err != nil {
		return fmt.Errorf("end sign-ins: %w", err)
	}
	return nil
}

// SignedIn returns the roles of a person whose sign-in is still good. Asking
// the database each time makes a sign-out or a changed role count at once,
// not when the access token runs out.
func (s *Store) SignedIn(ctx context.Context, personID, familyID string) ([]Role, error) {
	var roles []Role
	err := s.read(ctx).Raw(`SELECT r.role FROM people p JOIN person_roles r ON r.person_id = p.id
		WHERE p.id = ? AND p.disabled_at IS NULL
		AND EXISTS (SELECT 1 FROM refresh_tokens f WHERE f.family_id = ? AND f.person_id = p.id AND f.revoked_at IS NULL)`,
		personID, familyID).Scan(&roles).Error
	if err != nil {
		return nil, fmt.Errorf("sign-in: %w", err)
	}
	if len(roles) == 0 {
		return nil, errSignInOver
	}
	return roles, nil
}
