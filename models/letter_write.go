package models

import (
	"context"
	"fmt"
	"slices"

	"gorm.io/gorm"
)

// ReminderKey names one reminder of a call.
type ReminderKey struct {
	PersonID string
	Kind     ReminderKind
	About    string
}

func (r Reminder) key() ReminderKey { return ReminderKey{r.PersonID, r.Kind, r.About} }

// LeftOut is a reminder that was not sent by e-mail, and why.
type LeftOut struct {
	ReminderKey
	Why string
}

// lettersAtOnce bounds how many letters are put out in one request.
const lettersAtOnce = 500

// WriteReminders puts out letters for reminders that are due, as the designer
// wishes it, and tells which were left out. They count as told when they are
// sent.
func (s *Store) WriteReminders(ctx context.Context, actor Actor, callID string, wanted []ReminderKey) (put int, left []LeftOut, err error) {
	if len(wanted) == 0 || len(wanted) > lettersAtOnce {
		var p problems
		p.addf("letters", "has to name between 1 and %d reminders", lettersAtOnce)
		return 0, nil, p.err()
	}
	err = s.change(ctx, actor, func(t *tx) error {
		due, err := t.dueIn(callID)
		if err != nil {
			return err
		}
		put, left = 0, nil
		for _, key := range wanted {
			why := "is not due any more, or is on its way already"
			if i := slices.IndexFunc(due, func(r Reminder) bool { return r.key() == key }); i >= 0 {
				if why = due[i].ByHandOnly; why == "" {
					kept, err := t.putReminder(callID, due[i], true)
					if err != nil && KindOf(err) != Invalid {
						return err
					}
					if kept {
						put++
						continue
					}
					if why = "is on its way already"; err != nil {
						why = err.Error()
					}
				}
			}
			left = append(left, LeftOut{key, why})
		}
		return nil
	})
	return put, left, err
}

func (t *tx) dueIn(callID string) ([]Reminder, error) {
	call, err := callIn(t.DB, callID)
	if err != nil {
		return nil, err
	}
	return t.store.dueIn(t.DB, call)
}

// putReminder puts out a reminder's letter. Somebody who has not signed in yet
// gets their link with it; where they were given one that still works and
// nobody asks for this letter in particular, that one stays good.
func (t *tx) putReminder(callID string, r Reminder, byHand bool) (bool, error) {
	link := r.Link
	if link == JoinLink && !(byHand && r.Kind == RemindAsked) {
		var open int64
		err := t.Model(&Invitation{}).Where("person_id = ? AND used_at IS NULL AND revoked_at IS NULL AND expires_at > ?", r.PersonID, t.now).Count(&open).Error
		if err != nil {
			return false, fmt.Errorf("links that work: %w", err)
		}
		if open > 0 {
			link = NoLink
		}
	}
	l, err := t.newLetter(r.PersonID, LetterKind(r.Kind), r.Subject, r.Text, link)
	if err != nil {
		return false, err
	}
	l.TestCallID, l.DesignID, l.About = &callID, &r.DesignID, r.About
	kept, err := t.put(l)
	if err == nil && kept && link == JoinLink {
		_, err = t.inviteWith(l.joinToken(), r.PersonID, &r.AssignmentID, r.DesignID)
	}
	return kept, err
}

// PlanLetters puts out what is due and of a kind that goes by itself, and
// returns how many letters that made. What failed or was withdrawn before is
// left to the designer.
func (s *Store) PlanLetters(ctx context.Context) (int, error) {
	studio, err := s.Studio(ctx)
	if err != nil || studio.LettersByItself == "" {
		return 0, err
	}
	calls, err := s.callsToWriteFor(s.read(ctx))
	if err != nil {
		return 0, err
	}
	made := 0
	due, err := s.due(s.read(ctx), calls)
	if err != nil {
		return 0, err
	}
	for _, call := range calls {
		if !slices.ContainsFunc(due[call.ID], studio.goesByItself) {
			continue
		}
		n, err := s.planCall(ctx, studio, call.ID)
		if err != nil {
			return made, err
		}
		made += n
	}
	return made, nil
}

// planCall puts out what of a call is due and goes by itself.
func (s *Store) planCall(ctx context.Context, studio *Studio, callID string) (made int, err error) {
	err = s.change(ctx, System("post"), func(t *tx) error {
		made = 0
		due, err := t.dueIn(callID)
		if err != nil {
			return err
		}
		for _, r := range due {
			if !studio.goesByItself(r) || made == lettersAtOnce {
				continue
			}
			kept, err := t.putReminder(callID, r, false)
			if err != nil && KindOf(err) != Invalid { // what can't be written like this waits for the designer
				return err
			}
			if kept {
				made++
			}
		}
		return nil
	})
	return made, err
}

// goesByItself tells whether a reminder is sent unasked.
func (s Studio) goesByItself(r Reminder) bool {
	return r.ByHandOnly == "" && !r.Doubtful && r.NotSent == "" && slices.Contains(s.LetterKindsByItself(), LetterKind(r.Kind))
}

// stillWritten is for how long letters are written about a call after it has
// closed, or after its text was corrected since (chosen).
const stillWritten = 30 // days

// mostCalls bounds how many calls are looked through at once.
const mostCalls = 200

func (s *Store) callsToWriteFor(db *gorm.DB) ([]TestCall, error) {
	var calls []TestCall
	since := s.Now().AddDate(0, 0, -stillWritten)
	err := db.Where("closed_at IS NULL OR closed_at > ? OR design_id IN (SELECT design_id FROM corrections WHERE announced_at > ? OR withdrawn_at > ?)", since, since, since).Order("id DESC").Limit(mostCalls).Find(&calls).Error
	if err != nil {
		return nil, fmt.Errorf("calls to write for: %w", err)
	}
	return calls, nil
}

// DueLetter is a reminder with the call that it is of, and whether it goes by
// itself.
type DueLetter struct {
	Reminder
	CallID   string
	ByItself bool
}

// DueLetters lists what is due to be told in all calls, in a constant number of
// statements.
func (s *Store) DueLetters(ctx context.Context) ([]DueLetter, error) {
	db := s.read(ctx)
	studio, err := studioIn(db)
	if err != nil {
		return nil, err
	}
	calls, err := s.callsToWriteFor(db)
	if err != nil {
		return nil, err
	}
	out := []DueLetter{}
	due, err := s.due(db, calls)
	if err != nil {
		return nil, err
	}
	for _, call := range calls {
		for _, r := range due[call.ID] {
			out = append(out, DueLetter{r, call.ID, studio.goesByItself(r)})
		}
	}
	return out, nil
}
