package models

import (
	"context"
	"fmt"
	"strings"
)

// WriteInvitation invites somebody by e-mail. The link is made here and known
// to nobody but the letter.
func (s *Store) WriteInvitation(ctx context.Context, actor Actor, personID string) (*Letter, error) {
	var out *Letter
	err := s.change(ctx, actor, func(t *tx) (err error) {
		out, err = t.writeInvitation(personID, nil)
		return err
	})
	return out, err
}

// WriteTesterInvitation is WriteInvitation for what a tester was asked to make.
func (s *Store) WriteTesterInvitation(ctx context.Context, actor Actor, assignmentID string) (*Letter, error) {
	var out *Letter
	err := s.change(ctx, actor, func(t *tx) error {
		a, err := assignmentFor(t.DB, actor, assignmentID)
		if err != nil {
			return err
		}
		if a.WithdrawnAt != nil {
			return failf(Conflict, "This assignment was withdrawn; ask the tester again with a new one.")
		}
		out, err = t.writeInvitation(a.PersonID, a)
		return err
	})
	return out, err
}

func (t *tx) writeInvitation(personID string, a *Assignment) (*Letter, error) {
	studio, err := studioIn(t.DB)
	if err != nil {
		return nil, err
	}
	person, err := t.reachable(personID)
	if err != nil {
		return nil, err
	}
	what, subject := fmt.Sprintf("this is your way into the studio %s.", studio.Name), studio.Name+": your way in"
	designID, assignmentID := "", (*string)(nil)
	if a != nil {
		line, err := assignmentLineIn(t.DB, t.now, a.ID)
		if err != nil {
			return nil, err
		}
		designID, assignmentID = a.DesignID, &a.ID
		what = fmt.Sprintf("this is your way to size %s of %s: your counts, your days, and the form for your report.", line.SizeName, line.DesignName)
		subject = line.DesignName + ": your way in"
	}
	body := strings.Join([]string{fmt.Sprintf("Dear %s,", orElse(person.Name, person.Handle)), what + " You choose a password first.", studio.Name}, "\n\n")
	l, err := t.newLetter(personID, LetterInvitation, subject, body, JoinLink)
	if err != nil {
		return nil, err
	}
	if a != nil {
		l.TestCallID, l.DesignID, l.About = &a.TestCallID, &a.DesignID, l.ID
	}
	// Earlier letters of this kind would bring a link that is over.
	if err := t.withdrawWaiting("a newer invitation took its place", "person_id = ? AND link = ?", personID, JoinLink); err != nil {
		return nil, err
	}
	if _, err := t.put(l); err != nil {
		return nil, err
	}
	_, err = t.inviteWith(l.joinToken(), personID, assignmentID, designID)
	return l, err
}

// reachable returns somebody who can be written to.
func (t *tx) reachable(personID string) (*Person, error) {
	person, err := personIn(t.DB, personID)
	switch {
	case err != nil:
		return nil, err
	case person.Email == nil:
		return nil, failf(Conflict, "%s has no e-mail address on file.", person.Handle)
	case person.DisabledAt != nil:
		return nil, failf(Conflict, "%s can't sign in any more; let them in again first.", person.Handle)
	}
	return person, nil
}

// WriteTest puts out a letter to the actor, to see whether e-mail works.
func (s *Store) WriteTest(ctx context.Context, actor Actor) (*Letter, error) {
	var out *Letter
	err := s.change(ctx, actor, func(t *tx) error {
		studio, err := studioIn(t.DB)
		if err != nil {
			return err
		}
		person, err := t.reachable(actor.PersonID)
		if err != nil {
			return err
		}
		body := fmt.Sprintf("Dear %s,\n\nthis letter was sent to see whether e-mail from %s arrives. It does.\n\n%s", orElse(person.Name, person.Handle), studio.Name, studio.Name)
		if out, err = t.newLetter(person.ID, LetterTest, studio.Name+": does e-mail arrive?", body, NoLink); err != nil {
			return err
		}
		_, err = t.put(out)
		return err
	})
	return out, err
}
