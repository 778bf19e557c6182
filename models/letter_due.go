package models

import (
	"fmt"
	"slices"
	"strings"

	"gorm.io/gorm"
)

// lettersOf returns the newest letter about each reminder, by call.
func lettersOf(db *gorm.DB, callIDs []string) (map[string]map[ReminderKey]Letter, error) {
	var rows []Letter
	err := db.Select("test_call_id", "person_id", "kind", "about", "state", "said").Where("test_call_id IN ?", callIDs).Order("id").Find(&rows).Error
	if err != nil {
		return nil, fmt.Errorf("letters of calls: %w", err)
	}
	out := map[string]map[ReminderKey]Letter{}
	for _, id := range callIDs {
		out[id] = map[ReminderKey]Letter{}
	}
	for _, l := range rows {
		out[*l.TestCallID][ReminderKey{l.PersonID, ReminderKind(l.Kind), l.About}] = l
	}
	return out, nil
}

// withMail fills in which reminders can go by e-mail.
func withMail(db *gorm.DB, reminders []Reminder) error {
	if len(reminders) == 0 {
		return nil
	}
	ids := make([]string, len(reminders))
	for i, r := range reminders {
		ids[i] = r.PersonID
	}
	slices.Sort(ids)
	ids = slices.Compact(ids) // statements take only so many values
	refused, err := refusedIn(db, ids)
	if err != nil {
		return err
	}
	var people []Person
	if err := db.Select("id", "email", "email_doubtful_at", "disabled_at", "password_hash").Where("id IN ?", ids).Find(&people).Error; err != nil {
		return fmt.Errorf("addresses: %w", err)
	}
	byID := make(map[string]Person, len(people))
	for _, p := range people {
		byID[p.ID] = p
	}
	for i := range reminders {
		r := &reminders[i]
		p := byID[r.PersonID]
		r.Doubtful, r.Link = p.EmailDoubtfulAt != nil, PageLink
		switch {
		case r.Kind == RemindDeclined:
			r.Link = NoLink
		case p.PasswordHash == nil && r.AssignmentID != "":
			r.Link = JoinLink // they have no other way in yet
		case p.PasswordHash == nil:
			r.Link = NoLink
		}
		switch {
		case p.Email == nil:
			r.ByHandOnly = "has no e-mail address on file"
		case p.DisabledAt != nil:
			r.ByHandOnly = "is no longer here"
		case slices.Contains(refused[r.PersonID], LetterKind(r.Kind).Group()):
			r.ByHandOnly = "does not want this by e-mail"
		}
	}
	return nil
}

// Bounds of how long the words of letters are kept.
const usualKeepDays, mostKeepDays = 90, 3650 // chosen

func (s Studio) checkLetters(p *problems) {
	for i, k := range s.LetterKindsByItself() {
		if !slices.Contains(ReminderKinds(), ReminderKind(k)) {
			p.addf(fmt.Sprintf("letters_by_itself[%d]", i), "is not one of %s", strings.Join(reminderKindNames(), ", "))
		}
	}
	if s.LettersKeepDays < 1 || s.LettersKeepDays > mostKeepDays {
		p.addf("letters_keep_days", "has to lie between 1 and %d days", mostKeepDays)
	}
}

// LetterKindsByItself lists the kinds of letters that go out unasked.
func (s Studio) LetterKindsByItself() []LetterKind {
	out := []LetterKind{}
	for _, k := range strings.Split(s.LettersByItself, "\n") {
		if k != "" {
			out = append(out, LetterKind(k))
		}
	}
	return out
}

func joinLetterKinds(kinds []LetterKind) string {
	names := make([]string, len(kinds))
	for i, k := range kinds {
		names[i] = string(k)
	}
	return strings.Join(names, "\n")
}
