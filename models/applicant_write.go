package models

import (
	"errors"
	"fmt"

	"gorm.io/gorm"
)

// applicationRows gathers what offers come to, to be written in a handful of
// statements however many there are.
type applicationRows struct {
	people          []*Person
	roles           []PersonRole
	added           []Application
	places          []ApplicationSize
	persons, events []recorded
}

func (t *tx) carryOutApplications(call *TestCall, plans []plannedApplication) error {
	var rows applicationRows
	for i := range plans {
		a := &plans[i]
		if a.newPerson {
			a.person.CreatedAt, a.person.UpdatedAt = t.now, t.now
			rows.person(a.person)
		}
		switch a.state() {
		case "new":
			a.after.CreatedAt, a.after.UpdatedAt = t.now, t.now
			if a.after.AppliedAt.IsZero() {
				a.after.AppliedAt = t.now
			}
			rows.application(a.after)
		case "changed":
			if err := t.saveApplication(a.before, &a.after); err != nil {
				return err
			}
			rows.events = append(rows.events, recorded{a.after.ID, "changed", a.before, a.after})
		}
	}
	return t.writeApplications(call, rows)
}

func (r *applicationRows) person(p *Person) {
	r.people = append(r.people, p)
	r.roles = append(r.roles, PersonRole{p.ID, Tester})
	r.persons = append(r.persons, recorded{p.ID, "added", nil, p})
}

func (r *applicationRows) application(a Application) {
	r.added = append(r.added, a)
	r.places = append(r.places, a.places()...)
	r.events = append(r.events, recorded{a.ID, "added", nil, a})
}

func (t *tx) writeApplications(call *TestCall, r applicationRows) error {
	if err := createAll(t.DB, r.people); err != nil {
		return raced(fmt.Errorf("add testers: %w", err))
	}
	if err := createAll(t.DB, r.roles); err != nil {
		return fmt.Errorf("roles: %w", err)
	}
	if err := createAll(t.DB, r.added); err != nil {
		return raced(fmt.Errorf("add applications: %w", err))
	}
	if err := createAll(t.DB, r.places); err != nil {
		return fmt.Errorf("sizes of applications: %w", err)
	}
	if err := t.recordAll("", "person", r.persons); err != nil {
		return err
	}
	return t.recordAll(call.DesignID, "application", r.events)
}

// raced turns a clash with a row that somebody else wrote in this very moment
// into words; every other error stays what it is.
func raced(err error) error {
	if errors.Is(err, gorm.ErrDuplicatedKey) {
		return failf(Conflict, "Somebody else has added one of these people in this very moment; nothing was changed. Look again and repeat.")
	}
	return err
}
