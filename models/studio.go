package models

import (
	"context"
	"fmt"
	"time"

	"gorm.io/gorm"
	"gorm.io/gorm/clause"
)

// Studio is the one studio of this server. Only the designer changes it.
type Studio struct {
	ID       int `gorm:"primaryKey"` // always 1
	Name     string
	Zone     string // IANA zone in which "today" is read
	LeadDays int    // days between recording and air date that editing and captions take
	Demo     bool   // everything in it is invented; the pages say so
	// ForgetAfterMonths is how long a tester has not taken part when they are
	// forgotten unasked; nil: that never happens.
	ForgetAfterMonths *int
	LettersByItself   string // kinds of letters that go out unasked, one a line
	LettersKeepDays   int    // for how long the words of a letter are kept once it has gone
	// StaffSecondStep: the studio's own people need the second step to do
	// anything here.
	StaffSecondStep bool
	Revision        int
	CreatedAt       time.Time
	UpdatedAt       time.Time
}

// TableName keeps the table singular: there is one studio.
func (Studio) TableName() string { return "studio" }

const (
	studioID        = 1
	usualLeadDays   = 4 // chosen
	largestLeadDays = 60
	shortText       = 120 // characters of a name or title
	longText        = 4000
)

// Location returns the studio's zone; UTC when the name is unknown here.
func (s Studio) Location() *time.Location {
	zone, err := time.LoadLocation(s.Zone)
	if err != nil {
		return time.UTC
	}
	return zone
}

func (s Studio) validate() error {
	var p problems
	p.line("name", s.Name, true, shortText)
	if _, err := time.LoadLocation(s.Zone); err != nil || s.Zone == "" || s.Zone == "Local" {
		p.addf("zone", "is not a time zone that this server knows; give an IANA name like Europe/Oslo")
	}
	if s.LeadDays < 0 || s.LeadDays > largestLeadDays {
		p.addf("lead_days", "has to lie between 0 and %d days", largestLeadDays)
	}
	if m := s.ForgetAfterMonths; m != nil && (*m < fewestMonths || *m > mostMonths) {
		p.addf("forget_after_months", "has to lie between %d and %d months; clear it to forget nobody unasked", fewestMonths, mostMonths)
	}
	s.checkLetters(&p)
	return p.err()
}

// Studio returns the studio's settings.
func (s *Store) Studio(ctx context.Context) (*Studio, error) {
	return studioIn(s.read(ctx))
}

func studioIn(db *gorm.DB) (*Studio, error) {
	return first[Studio](db, "studio", "id = ?", studioID)
}

// Today returns the date in the studio's zone.
func (s *Store) Today(ctx context.Context) (Date, error) {
	studio, err := s.Studio(ctx)
	if err != nil {
		return "", err
	}
	return DateOf(s.Now(), studio.Location()), nil
}

func (t *tx) today() (Date, error) {
	studio, err := studioIn(t.DB)
	if err != nil {
		return "", err
	}
	return DateOf(t.now, studio.Location()), nil
}

// EnsureStudio creates the studio's row on the first start.
func (s *Store) EnsureStudio(ctx context.Context, name, zone string, demo bool) error {
	_, err := s.Studio(ctx)
	if KindOf(err) != NotFound {
		return err
	}
	return s.change(ctx, System("first start"), func(t *tx) error {
		row := Studio{ID: studioID, Name: name, Zone: zone, LeadDays: usualLeadDays, LettersKeepDays: usualKeepDays, Demo: demo, Revision: 1, CreatedAt: t.now, UpdatedAt: t.now}
		if err := row.validate(); err != nil {
			return err
		}
		// Not by way of a refused row: after that PostgreSQL takes nothing more
		// in the transaction.
		made := t.Clauses(clause.OnConflict{DoNothing: true}).Create(&row)
		if made.Error != nil {
			return fmt.Errorf("create studio: %w", made.Error)
		}
		if made.RowsAffected == 0 {
			return nil // another process starting at the same moment was first
		}
		return t.record("", "studio", "1", "created", nil, row)
	})
}

// StudioChange says what to change; nil leaves a field as it is.
type StudioChange struct {
	Name     *string
	Zone     *string
	LeadDays *int

	ForgetAfterMonths **int // points to nil: forget nobody unasked
	LettersByItself   *[]LetterKind
	LettersKeepDays   *int
	StaffSecondStep   *bool
}

// ChangeStudio changes the settings.
func (s *Store) ChangeStudio(ctx context.Context, actor Actor, revision *int, c StudioChange) (*Studio, error) {
	var after Studio
	err := s.change(ctx, actor, func(t *tx) error {
		before, err := studioIn(t.DB)
		if err != nil {
			return err
		}
		if err := checkRevision("studio", before.Revision, revision); err != nil {
			return err
		}
		after = *before
		set(&after.Name, c.Name)
		set(&after.Zone, c.Zone)
		set(&after.LeadDays, c.LeadDays)
		set(&after.ForgetAfterMonths, c.ForgetAfterMonths)
		set(&after.LettersKeepDays, c.LettersKeepDays)
		if c.LettersByItself != nil {
			after.LettersByItself = joinLetterKinds(*c.LettersByItself)
		}
		set(&after.StaffSecondStep, c.StaffSecondStep)
		if after.StaffSecondStep && !before.StaffSecondStep {
			if err := t.hasSecondStep(); err != nil {
				return err
			}
		}
		if err := after.validate(); err != nil {
			return err
		}
		if unchanged(before, &after) {
			return nil
		}
		after.Revision, after.UpdatedAt = before.Revision+1, t.now
		err = t.Model(&Studio{}).Where("id = ?", studioID).
			Updates(map[string]any{"name": after.Name, "zone": after.Zone, "lead_days": after.LeadDays,
				"forget_after_months": after.ForgetAfterMonths, "letters_by_itself": after.LettersByItself, "letters_keep_days": after.LettersKeepDays,
				"staff_second_step": after.StaffSecondStep, "revision": after.Revision, "updated_at": t.now}).Error
		if err != nil {
			return fmt.Errorf("change studio: %w", err)
		}
		return t.record("", "studio", "1", "changed", before, after)
	})
	return &after, err
}

// hasSecondStep refuses to want of others what the actor does not have.
func (t *tx) hasSecondStep() error {
	own, err := secondFactorIn(t.DB, t.actor.PersonID)
	if err != nil {
		return err
	}
	if own == nil || own.ConfirmedAt == nil {
		return failf(Conflict, "Set up your own second step first, on your own page; otherwise this would shut you out.")
	}
	return nil
}

// set copies a wanted change onto a field, when there is one.
func set[T any](field *T, want *T) {
	if want != nil {
		*field = *want
	}
}
