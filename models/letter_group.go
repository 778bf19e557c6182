package models

import (
	"context"
	"fmt"
	"slices"
	"time"

	"gorm.io/gorm"
	"gorm.io/gorm/clause"
)

// LetterGroup is a group of letters that a person may do without.
type LetterGroup string

// The groups.
const (
	GroupReminders LetterGroup = "reminders"
	GroupNews      LetterGroup = "news"
)

// LetterGroups lists the groups with what they are.
func LetterGroups() []LetterGroup { return []LetterGroup{GroupReminders, GroupNews} }

// Says is what a group holds, in words to the person.
func (g LetterGroup) Says() string {
	if g == GroupReminders {
		return "reminders of days: your answer, how far you are, your report"
	}
	return "thanks, corrections and other news of what you tested"
}

// Group is the group of a kind of letter; "" for what answers something that
// the person asked or did, or asks something of them alone: that can't be
// declined, only not asked for. A kind that is new is news.
func (k LetterKind) Group() LetterGroup {
	switch k {
	case LetterInvitation, LetterTest:
		return ""
	}
	switch ReminderKind(k) {
	case RemindAsked, RemindDeclined, RemindYarn, RemindTime, RemindMeasure:
		return ""
	case RemindAnswer, RemindCheckIn, RemindDueSoon, RemindOverdue:
		return GroupReminders
	}
	return GroupNews
}

// LetterRefusal is a group of letters that a person does not want.
type LetterRefusal struct {
	PersonID    string      `gorm:"primaryKey"`
	LetterGroup LetterGroup `gorm:"primaryKey"`
	RefusedAt   time.Time
}

// LettersRefused lists the groups that a person does not want.
func (s *Store) LettersRefused(ctx context.Context, personID string) ([]LetterGroup, error) {
	refused, err := refusedIn(s.read(ctx), []string{personID})
	return refused[personID], err
}

func refusedIn(db *gorm.DB, people []string) (map[string][]LetterGroup, error) {
	var rows []LetterRefusal
	if err := db.Where("person_id IN ?", people).Order("letter_group").Find(&rows).Error; err != nil {
		return nil, fmt.Errorf("letters that are not wanted: %w", err)
	}
	out := map[string][]LetterGroup{}
	for _, r := range rows {
		out[r.PersonID] = append(out[r.PersonID], r.LetterGroup)
	}
	return out, nil
}

// RefuseLetters sets which groups of letters the actor does not want.
func (s *Store) RefuseLetters(ctx context.Context, actor Actor, groups []LetterGroup) error {
	var p problems
	for i, g := range groups {
		if !slices.Contains(LetterGroups(), g) {
			p.addf(fmt.Sprintf("refused[%d]", i), "is not one of %s, %s", GroupReminders, GroupNews)
		}
	}
	if err := p.err(); err != nil {
		return err
	}
	return s.change(ctx, actor, func(t *tx) error {
		before, err := refusedIn(t.DB, []string{actor.PersonID})
		if err != nil {
			return err
		}
		for _, g := range LetterGroups() {
			want, have := slices.Contains(groups, g), slices.Contains(before[actor.PersonID], g)
			switch {
			case want && !have:
				err = t.refuse(actor.PersonID, g)
			case have && !want:
				err = t.Where("person_id = ? AND letter_group = ?", actor.PersonID, g).Delete(&LetterRefusal{}).Error
				if err == nil {
					err = t.record("", "letters", actor.PersonID, "wanted again", nil, map[string]any{"Group": g})
				}
			}
			if err != nil {
				return fmt.Errorf("letters that are not wanted: %w", err)
			}
		}
		return nil
	})
}

// refuse keeps that somebody wants no more letters of a group; those that wait
// end when they come to be sent. It changes nothing when that is known.
func (t *tx) refuse(personID string, g LetterGroup) error {
	res := t.Clauses(clause.OnConflict{DoNothing: true}).Create(&LetterRefusal{personID, g, t.now})
	if res.Error != nil {
		return fmt.Errorf("letters that are not wanted: %w", res.Error)
	}
	if res.RowsAffected == 0 {
		return nil
	}
	return t.record("", "letters", personID, "not wanted", nil, map[string]any{"Group": g})
}

// LetterToStop is what a link at the end of a letter ends.
type LetterToStop struct {
	Group   LetterGroup
	Refused bool
}

// LookAtStop tells what a link ends, and changes nothing: programs that look
// through mail open every link in it.
func (s *Store) LookAtStop(ctx context.Context, token string) (*LetterToStop, error) {
	l, err := s.letterToStop(ctx, token)
	if err != nil {
		return nil, err
	}
	refused, err := s.LettersRefused(ctx, l.PersonID)
	return &LetterToStop{l.Kind.Group(), slices.Contains(refused, l.Kind.Group())}, err
}

func (s *Store) letterToStop(ctx context.Context, token string) (*Letter, error) {
	l, err := first[Letter](s.read(ctx), "letter", "stop_hash = ?", hashToken(token))
	if KindOf(err) == NotFound {
		return nil, failf(NotFound, "This link ends nothing: it is not whole, or what it belongs to was erased.")
	}
	return l, err
}

// StopLetters ends letters of a kind for whom one was written to. Doing it
// again changes nothing.
func (s *Store) StopLetters(ctx context.Context, actor Actor, token string) (LetterGroup, error) {
	l, err := s.letterToStop(ctx, token)
	if err != nil {
		return "", err
	}
	group := l.Kind.Group()
	actor.PersonID = l.PersonID // whoever has the link acts for them, in this alone
	return group, s.change(ctx, actor, func(t *tx) error { return t.refuse(l.PersonID, group) })
}
