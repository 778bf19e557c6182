package models

import (
	"context"
	"fmt"
	"time"
)

// CalendarLink is a secret address under which a person's calendar can be read
// without signing in. Only its hash is kept; a person has one at a time, makes
// it themselves, and can end it at any moment.
type CalendarLink struct {
	ID        string `gorm:"primaryKey"`
	PersonID  string
	TokenHash string `json:"-"`
	CreatedAt time.Time
	RevokedAt *time.Time
}

// MakeCalendarLink makes the actor's link anew and ends the one before. The
// secret is not kept anywhere.
func (s *Store) MakeCalendarLink(ctx context.Context, actor Actor) (*CalendarLink, string, error) {
	secret, hash := newToken()
	row := CalendarLink{ID: NewID(), PersonID: actor.PersonID, TokenHash: hash}
	err := s.change(ctx, actor, func(t *tx) error {
		if err := t.endCalendarLinks(actor.PersonID); err != nil {
			return err
		}
		row.CreatedAt = t.now
		if err := t.Create(&row).Error; err != nil {
			return fmt.Errorf("calendar link: %w", err)
		}
		return t.record("", "calendar link", row.ID, "made", nil, row)
	})
	return &row, secret, err
}

// EndCalendarLink ends the actor's link.
func (s *Store) EndCalendarLink(ctx context.Context, actor Actor) error {
	return s.change(ctx, actor, func(t *tx) error {
		if err := t.endCalendarLinks(actor.PersonID); err != nil {
			return err
		}
		return t.record("", "calendar link", actor.PersonID, "ended", nil, nil)
	})
}

func (t *tx) endCalendarLinks(personID string) error {
	err := t.Model(&CalendarLink{}).Where("person_id = ? AND revoked_at IS NULL", personID).Update("revoked_at", t.now).Error
	if err != nil {
		return fmt.Errorf("end calendar links: %w", err)
	}
	return nil
}

// CalendarLinkOf returns a person's link, nil when there is none.
func (s *Store) CalendarLinkOf(ctx context.Context, personID string) (*CalendarLink, error) {
	row, err := first[CalendarLink](s.read(ctx), "calendar link", "person_id = ? AND revoked_at IS NULL", personID)
	if KindOf(err) == NotFound {
		return nil, nil
	}
	return row, err
}

// personOfLink returns whose calendar a secret opens.
func (s *Store) personOfLink(ctx context.Context, secret string) (*Person, error) {
	db := s.read(ctx)
	row, err := first[CalendarLink](db, "calendar", "token_hash = ? AND revoked_at IS NULL", hashToken(secret))
	if err != nil {
		return nil, err
	}
	person, err := personIn(db, row.PersonID)
	if err != nil {
		return nil, err
	}
	if person.DisabledAt != nil {
		return nil, notFound("calendar")
	}
	return person, nil
}
