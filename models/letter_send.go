package models

import (
	"context"
	"fmt"
	"slices"
	"time"
)

// letterQueue holds a letter for longer than the longest time that one can
// take, times how many are taken (chosen).
func letterQueue() queue {
	return queue{table: "letters", due: "next_try_at", waits: "state = '" + string(LetterWaiting) + "'", hold: 15 * time.Minute}
}

// OutLetter is a letter as it goes out, with what is kept nowhere once it has.
type OutLetter struct {
	Letter
	Address, Name        string // to whom
	Studio               string
	JoinToken, StopToken string // "" where there is none
	JoinUntil            Date
}

// ClaimLetters takes letters that are due to be sent, the longest waiting
// first, for one server process alone. What can't be sent any more, because it
// is too late, nobody wants it or it is not so any more, ends here.
func (s *Store) ClaimLetters(ctx context.Context, lease string, most int) (out []OutLetter, err error) {
	err = s.takeDue(ctx, System("post"), letterQueue(), lease, most, func(t *tx) error {
		var taken []Letter
		if err := t.Where("lease = ? AND state = ?", lease, LetterWaiting).Order("next_try_at, id").Find(&taken).Error; err != nil {
			return fmt.Errorf("read letters: %w", err)
		}
		out, err = t.sendable(taken)
		return err
	})
	return out, err
}

// sendable ends the letters that are not to be sent any more and completes the others.
func (t *tx) sendable(taken []Letter) ([]OutLetter, error) {
	studio, err := studioIn(t.DB)
	if err != nil {
		return nil, err
	}
	sight := &lastSight{t: t, due: map[string]map[ReminderKey]bool{}}
	var out []OutLetter
	for i := range taken {
		l := &taken[i]
		person, err := personIn(t.DB, l.PersonID)
		if err != nil {
			return nil, err
		}
		state, why, err := sight.over(l, person)
		if err != nil {
			return nil, err
		}
		if state != "" {
			if err := t.endLetter(l, state, why); err != nil {
				return nil, err
			}
			continue
		}
		o := OutLetter{Letter: *l, Address: *person.Email, Name: orElse(person.Name, person.Handle), Studio: studio.Name}
		if l.Link == JoinLink {
			o.JoinToken = l.joinToken()
			o.JoinUntil = DateOf(l.CreatedAt.Add(invitationLife), studio.Location())
		}
		if l.StopHash != nil {
			o.StopToken = l.stopToken()
		}
		out = append(out, o)
	}
	return out, nil
}

// lastSight looks at letters once more before they go.
type lastSight struct {
	t   *tx
	due map[string]map[ReminderKey]bool // by call, read once
}

// over tells whether a letter is not to be sent any more: how it ends, and why.
func (g *lastSight) over(l *Letter, person *Person) (LetterState, string, error) {
	switch {
	case !g.t.now.Before(l.GiveUpAt):
		return LetterFailed, "it was tried for three days. " + orElse(l.Said, "No mail server was reached in that time."), nil
	case person.Email == nil:
		return LetterFailed, "there is no e-mail address on file", nil
	case person.DisabledAt != nil:
		return LetterWithdrawn, "they are no longer here", nil
	}
	if group := l.Kind.Group(); group != "" {
		refused, err := refusedIn(g.t.DB, []string{l.PersonID})
		if err != nil {
			return "", "", err
		}
		if slices.Contains(refused[l.PersonID], group) {
			return LetterWithdrawn, "they do not want it by e-mail", nil
		}
	}
	if l.Link == JoinLink {
		_, err := openInvitation(g.t.DB, l.joinToken(), g.t.now)
		if KindOf(err) == NotFound {
			return LetterWithdrawn, "its link was used or replaced meanwhile", nil
		}
		if err != nil {
			return "", "", err
		}
	}
	still, err := g.stillDue(l)
	if err == nil && !still {
		return LetterWithdrawn, "it is not so any more, or they were told otherwise", nil
	}
	return "", "", err
}

// stillDue tells whether what a letter says is still so. Only what was tried
// before is looked at again: at first it was written a moment ago.
func (g *lastSight) stillDue(l *Letter) (bool, error) {
	if l.TestCallID == nil || l.Kind == LetterInvitation || l.Tries < 2 {
		return true, nil
	}
	due, known := g.due[*l.TestCallID]
	if !known {
		call, err := callIn(g.t.DB, *l.TestCallID)
		if err != nil {
			return false, err
		}
		rooms, err := g.t.store.mailrooms(g.t.DB, []TestCall{*call})
		if err != nil {
			return false, err
		}
		told, err := toldIn(g.t.DB, []string{call.ID})
		if err != nil {
			return false, err
		}
		due = map[ReminderKey]bool{}
		for _, r := range rooms[call.ID].all() {
			due[r.key()] = !told[call.ID][r.key()]
		}
		g.due[*l.TestCallID] = due
	}
	return due[ReminderKey{l.PersonID, ReminderKind(l.Kind), l.About}], nil
}

// LetterWasSent keeps that a mail server took a letter over, whoever held the
// lease by then, and that its reminder was told.
func (s *Store) LetterWasSent(ctx context.Context, id string) error {
	return s.change(ctx, System("post"), func(t *tx) error {
		l, err := first[Letter](t.DB, "letter", "id = ?", id)
		if KindOf(err) == NotFound {
			return nil // who it was to was forgotten meanwhile
		}
		if err != nil || l.State != LetterWaiting {
			return err
		}
		if err := t.endLetter(l, LetterSent, ""); err != nil {
			return err
		}
		if err := t.doubt(l.PersonID, false); err != nil {
			return err
		}
		if l.TestCallID == nil || l.Kind == LetterInvitation {
			return nil
		}
		return t.markTold(*l.TestCallID, ReminderKey{l.PersonID, ReminderKind(l.Kind), l.About})
	})
}

// LetterNotTaken keeps that a letter was not taken this time, and what was
// said; it is tried again after wait.
func (s *Store) LetterNotTaken(ctx context.Context, id, lease, said string, wait time.Duration) error {
	return s.change(ctx, System("post"), func(t *tx) error {
		return t.Model(&Letter{}).Where("id = ? AND lease = ? AND state = ?", id, lease, LetterWaiting).
			Updates(settled(map[string]any{"said": said, "next_try_at": t.now.Add(wait)})).Error
	})
}

// LetterRefused keeps that a mail server refused a letter for good, and what
// it said. noSuchAddress marks the person's address as doubtful.
func (s *Store) LetterRefused(ctx context.Context, id, lease, said string, noSuchAddress bool) error {
	return s.change(ctx, System("post"), func(t *tx) error {
		l, err := first[Letter](t.DB, "letter", "id = ? AND lease = ? AND state = ?", id, lease, LetterWaiting)
		if KindOf(err) == NotFound {
			return nil
		}
		if err != nil {
			return err
		}
		if err := t.endLetter(l, LetterFailed, said); err != nil || !noSuchAddress {
			return err
		}
		return t.doubt(l.PersonID, true)
	})
}

// ReleaseLetters gives back what a process has taken and not tried.
func (s *Store) ReleaseLetters(ctx context.Context, lease string) error {
	return s.giveBack(ctx, System("post"), letterQueue(), lease)
}

// endLetter ends a letter; what its links were made of goes.
func (t *tx) endLetter(l *Letter, state LetterState, said string) error {
	l.State, l.Said, l.EndedAt, l.Secret, l.Lease, l.LeasedUntil = state, said, &t.now, "", "", nil
	err := t.Model(&Letter{}).Where("id = ?", l.ID).Updates(settled(map[string]any{"state": state, "said": said, "ended_at": t.now, "secret": ""})).Error
	if err != nil {
		return fmt.Errorf("end the letter: %w", err)
	}
	return t.recordLetter(l, map[LetterState]string{LetterSent: "sent", LetterFailed: "not sent", LetterWithdrawn: "withdrawn"}[state])
}

// doubt marks an address as one that a mail server doesn't know, or takes that
// back when a letter was taken.
func (t *tx) doubt(personID string, doubtful bool) error {
	var at any
	q := t.Model(&Person{}).Where("id = ? AND email_doubtful_at IS NOT NULL", personID)
	if doubtful {
		at, q = t.now, t.Model(&Person{}).Where("id = ? AND email_doubtful_at IS NULL", personID)
	}
	if err := q.UpdateColumn("email_doubtful_at", at).Error; err != nil {
		return fmt.Errorf("doubt an address: %w", err)
	}
	return nil
}
