package models

import (
	"context"
	"fmt"
	"unicode/utf8"

	"github.com/alexedwards/argon2id"
)

// passwordCost are the argon2id parameters: 19 MiB, 2 passes, 1 lane, the
// second of the recommended sets of the OWASP Password Storage Cheat Sheet
// (from memory). Set explicitly: the library's defaults depend on the machine.
var passwordCost = &argon2id.Params{Memory: 19 * 1024, Iterations: 2, Parallelism: 1, SaltLength: 16, KeyLength: 32}

// Bounds of a password in characters. The lower one follows NIST SP 800-63B's
// minimum of 8 with something on top (chosen); the upper one bounds the work.
const shortestPassword, longestPassword = 10, 200

// HashPassword checks a new password and returns its argon2id hash. also are
// words that it may not simply repeat, such as the person's handle.
func HashPassword(password string, also ...string) (string, error) {
	var p problems
	switch n := utf8.RuneCountInString(password); {
	case n < shortestPassword:
		p.addf("password", "is too short; use at least %d characters, a few words are fine", shortestPassword)
	case n > longestPassword:
		p.addf("password", "is too long; keep it to %d characters", longestPassword)
	default:
		if why := easyToGuess(password, also...); why != "" {
			p.addf("password", "%s", why)
		}
	}
	if err := p.err(); err != nil {
		return "", err
	}
	hash, err := argon2id.CreateHash(password, passwordCost)
	if err != nil {
		return "", fmt.Errorf("hash password: %w", err)
	}
	return hash, nil
}

// decoyHash is compared against when there is nobody of that name, so that the
// answer takes as long as for a wrong password.
const decoyHash = "$argon2id$v=19$m=19456,t=2,p=1$c29tZXRoaW5nIHNhbHR5IQ$zmwUgEyVnRGEWrIYRjOqHQ6pBMkXmbMfxzNFQNLzgvM"

// CheckPassword returns the person if the password is theirs, and an Unsigned
// error with one and the same wording in every other case.
func (s *Store) CheckPassword(ctx context.Context, login, password string) (*Person, error) {
	wrong := failf(Unsigned, "That handle or e-mail address and that password don't belong together.")
	person, err := s.PersonByLogin(ctx, login)
	if err != nil && KindOf(err) != NotFound {
		return nil, err
	}
	hash := decoyHash
	known := err == nil && person.PasswordHash != nil && person.DisabledAt == nil
	if known {
		hash = *person.PasswordHash
	}
	if utf8.RuneCountInString(password) > longestPassword {
		return nil, wrong
	}
	match, err := argon2id.ComparePasswordAndHash(password, hash)
	if err != nil {
		return nil, fmt.Errorf("compare password: %w", err)
	}
	if !match || !known {
		return nil, wrong
	}
	return person, nil
}

// ownPassword asks the person who acts for their password once more, before
// what an open screen must not be enough for. field names it in the request.
func (s *Store) ownPassword(ctx context.Context, actor Actor, field, password string) (*Person, error) {
	me, err := s.Person(ctx, actor.PersonID)
	if err != nil {
		return nil, err
	}
	if _, err := s.CheckPassword(ctx, me.Handle, password); err != nil {
		if KindOf(err) == Unsigned {
			return nil, &Error{Kind: Invalid, Message: "Nothing was changed.", Fields: []FieldProblem{{field, "is not your password; try again"}}}
		}
		return nil, err
	}
	return me, nil
}

// ChangePassword sets a person's own password and ends their other sign-ins.
func (s *Store) ChangePassword(ctx context.Context, actor Actor, current, next string) error {
	me, err := s.ownPassword(ctx, actor, "current", current)
	if err != nil {
		return err
	}
	hash, err := HashPassword(next, me.Handle, me.Name)
	if err != nil {
		return renameField(err, "password", "new")
	}
	return s.change(ctx, actor, func(t *tx) error {
		if err := t.setPassword(actor.PersonID, hash); err != nil {
			return err
		}
		if err := t.endSignInsBut(actor.PersonID, actor.FamilyID); err != nil {
			return err
		}
		return t.record("", "person", actor.PersonID, "password changed", nil, nil)
	})
}

func (t *tx) setPassword(personID, hash string) error {
	if err := t.Model(&Person{}).Where("id = ?", personID).Update("password_hash", hash).Error; err != nil {
		return fmt.Errorf("set password: %w", err)
	}
	return nil
}

// renameField gives a field problem the name that the field has in this request.
func renameField(err error, from, to string) error {
	e, ok := err.(*Error)
	if !ok {
		return err
	}
	out := *e
	out.Fields = make([]FieldProblem, len(e.Fields))
	for i, f := range e.Fields {
		if f.Field == from {
			f.Field = to
		}
		out.Fields[i] = f
	}
	return &out
}
