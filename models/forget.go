package models

import (
	"context"
	"fmt"
	"slices"
	"strings"
)

// forgottenName stands where a name was.
const forgottenName = "Forgotten"

// Forgetting is what it takes to forget somebody: their handle once more, and
// from the person themselves their password, so that an open screen is not
// enough.
type Forgetting struct {
	Confirm  string
	Password string
}

// ForgetMe erases what is kept about the person who asks.
func (s *Store) ForgetMe(ctx context.Context, actor Actor, in Forgetting) error {
	person, err := s.Person(ctx, actor.PersonID)
	if err != nil {
		return err
	}
	if err := in.confirms(person); err != nil {
		return err
	}
	if _, err := s.ownPassword(ctx, actor, "password", in.Password); err != nil {
		return err
	}
	return s.forget(ctx, actor, person.ID)
}

// ForgetPerson erases what is kept about somebody, as they asked the designer
// to.
func (s *Store) ForgetPerson(ctx context.Context, actor Actor, personID string, in Forgetting) error {
	person, err := s.Person(ctx, personID)
	if err != nil {
		return err
	}
	if err := in.confirms(person); err != nil {
		return err
	}
	return s.forget(ctx, actor, person.ID)
}

func (in Forgetting) confirms(person *Person) error {
	if strings.EqualFold(strings.TrimSpace(in.Confirm), person.Handle) {
		return nil
	}
	return &Error{Kind: Invalid, Message: "Nothing was erased.", Fields: []FieldProblem{{"confirm", "has to be the handle of whom to forget, letter by letter, because this can't be undone"}}}
}

// ForgetAgain erases those of the given people who are known here: whom a
// database had forgotten before an older copy took its place. It returns how
// many there were.
func (s *Store) ForgetAgain(ctx context.Context, actor Actor, ids []string) (int, error) {
	again := 0
	for _, id := range ids {
		person, err := s.Person(ctx, id)
		switch {
		case KindOf(err) == NotFound || err == nil && person.ForgottenAt != nil:
			continue
		case err != nil:
			return again, err
		}
		if err := s.forget(ctx, actor, id); err != nil {
			return again, err
		}
		again++
	}
	return again, nil
}

// forget erases everything that tells who somebody is: name, handle, address,
// password, sign-ins, body, and every text that they wrote. What they measured
// and when stays, as the work of nobody. The log of changes keeps no name: it
// is the one place where it is rewritten.
func (s *Store) forget(ctx context.Context, actor Actor, id string) error {
	var pictures []PhotoFile
	err := s.change(ctx, actor, func(t *tx) error {
		person, err := personIn(t.DB, id)
		if err != nil {
			return err
		}
		if person.ForgottenAt != nil {
			return failf(Conflict, "This person was forgotten already.")
		}
		after := *person
		after.DisabledAt, after.Roles = &t.now, nil
		if err := t.keepsADesigner(person, &after); err != nil {
			return err
		}
		who := namesOf(person)
		if who.replacement, err = t.freeHandle(); err != nil {
			return err
		}
		own, err := t.ownRows(id)
		if err != nil {
			return err
		}
		if err := t.Where("photo_id IN "+ownPhotos, id).Find(&pictures).Error; err != nil {
			return fmt.Errorf("their pictures: %w", err)
		}
		if err := t.forgetRows(id); err != nil {
			return err
		}
		err = t.bump("person", &Person{}, id, person.Revision, map[string]any{"handle": who.replacement, "name": forgottenName, "email": nil,
			"email_doubtful_at": nil, "password_hash": nil, "disabled_at": t.now, "forgotten_at": t.now})
		if err != nil {
			return err
		}
		if err := t.forgetWords(who); err != nil {
			return err
		}
		if err := t.forgetEvents(id, own, who); err != nil {
			return err
		}
		if t.actor.PersonID == id {
			t.actor.PersonID = ""
		}
		return t.record("", "person", id, "forgotten", nil, nil)
	})
	if err == nil {
		s.removePhotoFiles(ctx, pictures)
	}
	if err == nil && s.dialect == "sqlite" {
		// What was erased still stands in the log of the file until that is
		// written over; where readers hold it, that is later.
		if err := s.writer.WithContext(ctx).Exec("PRAGMA wal_checkpoint(TRUNCATE)").Error; err != nil {
			s.log.WarnContext(ctx, "the file's log was not emptied after somebody was forgotten", "error", err)
		}
	}
	return err
}

// freeHandle returns a handle that says nothing.
func (t *tx) freeHandle() (string, error) {
	var taken []string
	if err := t.Model(&Person{}).Where("lower(handle) LIKE 'forgotten-%'").Pluck("lower(handle)", &taken).Error; err != nil {
		return "", fmt.Errorf("look for a handle: %w", err)
	}
	for n := 1; ; n++ {
		if handle := fmt.Sprintf("forgotten-%d", n); !slices.Contains(taken, handle) {
			return handle, nil
		}
	}
}

// ownQueries find the ids of what is about a person and has events of its own.
var ownQueries = []string{
	`SELECT id FROM applications WHERE person_id = ?`,
	`SELECT id FROM assignments WHERE person_id = ?`,
	`SELECT id FROM invitations WHERE person_id = ?`,
	`SELECT id FROM letters WHERE person_id = ?`,
	`SELECT id FROM check_ins WHERE assignment_id IN ` + ownAssignments,
	`SELECT id FROM extensions WHERE assignment_id IN ` + ownAssignments,
	`SELECT id FROM reports WHERE assignment_id IN ` + ownAssignments,
	`SELECT id FROM measure_requests WHERE assignment_id IN ` + ownAssignments,
	`SELECT id FROM remarks WHERE assignment_id IN ` + ownAssignments,
	`SELECT id FROM photos WHERE id IN ` + ownPhotos,
}

func (t *tx) ownRows(personID string) ([]string, error) {
	own := []string{personID}
	for _, query := range ownQueries {
		var ids []string
		if err := t.Raw(query, personID).Scan(&ids).Error; err != nil {
			return nil, fmt.Errorf("what is about them: %w", err)
		}
		own = append(own, ids...)
	}
	return own, nil
}
