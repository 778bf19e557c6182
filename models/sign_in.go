package models

import (
	"context"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"fmt"
	"time"

	"gorm.io/gorm/clause"
)

// RefreshToken is one link of a sign-in. Each use replaces it by the next of
// its family; a token that comes back after its use was stolen or copied, and
// ends the family.
type RefreshToken struct {
	ID        string `gorm:"primaryKey"`
	FamilyID  string
	PersonID  string
	TokenHash string
	Agent     string // the browser's own words
	CreatedAt time.Time
	ExpiresAt time.Time
	UsedAt    *time.Time
	RevokedAt *time.Time
}

const (
	refreshLife = 30 * 24 * time.Hour // without use (chosen)
	signInLife  = 90 * 24 * time.Hour // with however much use (chosen)
	tokenBytes  = 32
	agentLength = 200
)

// newToken returns a secret for the person and its hash for the database.
func newToken() (secret, hash string) {
	secret = base64.RawURLEncoding.EncodeToString(randomBytes(tokenBytes))
	return secret, hashToken(secret)
}

func hashToken(secret string) string {
	sum := sha256.Sum256([]byte(secret))
	return hex.EncodeToString(sum[:])
}

// StartSignIn begins a family of refresh tokens and returns its first secret.
// It asks for no second step; BeginSignIn does.
func (s *Store) StartSignIn(ctx context.Context, actor Actor, personID, agent string) (familyID, secret string, err error) {
	err = s.change(ctx, actor, func(t *tx) error {
		familyID, secret, err = t.startSignIn(personID, agent, false)
		return err
	})
	return familyID, secret, err
}

func (t *tx) startSignIn(personID, agent string, secondStep bool) (familyID, secret string, err error) {
	if r := []rune(agent); len(r) > agentLength {
		agent = string(r[:agentLength])
	}
	row := SignIn{ID: NewID(), PersonID: personID, Agent: agent, SecondStep: secondStep, BegunAt: t.now, UsedAt: t.now}
	if err := t.Create(&row).Error; err != nil {
		return "", "", fmt.Errorf("sign-in: %w", err)
	}
	if secret, err = t.issue(&row); err != nil {
		return "", "", err
	}
	return row.ID, secret, t.record("", "person", personID, "signed in", nil, nil)
}

// issue makes the next refresh token of a sign-in.
func (t *tx) issue(of *SignIn) (string, error) {
	secret, hash := newToken()
	row := RefreshToken{ID: NewID(), FamilyID: of.ID, PersonID: of.PersonID, TokenHash: hash, Agent: of.Agent,
		CreatedAt: t.now, ExpiresAt: earlier(t.now.Add(refreshLife), of.BegunAt.Add(signInLife))}
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
		// Held until the end of the change: of two that come with it at the same
		// moment, the second finds it used.
		row, err := first[RefreshToken](t.Clauses(clause.Locking{Strength: clause.LockingStrengthUpdate}), "token", "token_hash = ?", hashToken(secret))
		if KindOf(err) == NotFound {
			return errSignInOver
		}
		if err != nil {
			return err
		}
		if row.UsedAt != nil && row.RevokedAt == nil {
			reused = true // committed, so that the thief's copy dies as well
			if err := t.endSignIns(row.PersonID, "id = ?", row.FamilyID); err != nil {
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
		next, err = t.goOn(row.FamilyID)
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
