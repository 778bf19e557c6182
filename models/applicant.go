package models

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"gorm.io/gorm"
)

// Applicant is somebody's offer as it comes in, by hand or in a row of a
// table. What was not told is nil or empty: it leaves an earlier offer of the
// same person as it is.
type Applicant struct {
	Handle             string
	Name               string
	Email              *string
	Unit               string // "cm", "in" or ""
	Terms              string // "us", "uk" or ""
	Sizes              []string
	Accepted, Finished *int
	Remarks            *string
	AppliedAt          *time.Time
}

// applicantBook is what an offer is held against: the call's design, who is on
// file, and who has applied already. People are compared in Go, because
// databases disagree about capitals beyond ASCII.
type applicantBook struct {
	call     *TestCall
	sizes    []Size
	byHandle map[string]*Person
	byEmail  map[string]*Person
	applied  map[string]*Application // by person id
}

func applicantBookIn(db *gorm.DB, call *TestCall) (*applicantBook, error) {
	b := &applicantBook{call: call, byHandle: map[string]*Person{}, byEmail: map[string]*Person{}, applied: map[string]*Application{}}
	var err error
	if b.sizes, err = sizesIn(db, []string{call.DesignID}); err != nil {
		return nil, err
	}
	var people []*Person
	if err := db.Omit("password_hash").Find(&people).Error; err != nil {
		return nil, fmt.Errorf("people: %w", err)
	}
	var testers []string
	if err := db.Model(&PersonRole{}).Where("role = ?", Tester).Pluck("person_id", &testers).Error; err != nil {
		return nil, fmt.Errorf("testers: %w", err)
	}
	byID := make(map[string]*Person, len(people))
	for _, p := range people {
		byID[p.ID] = p
		b.enter(p)
	}
	for _, id := range testers {
		byID[id].Roles = []Role{Tester}
	}
	var applications []*Application
	if err := db.Where("test_call_id = ?", call.ID).Find(&applications).Error; err != nil {
		return nil, fmt.Errorf("applications: %w", err)
	}
	for _, a := range applications {
		b.applied[a.PersonID] = a
	}
	return b, withApplicationSizes(db, applications)
}

// enter makes a person known by handle and e-mail address.
func (b *applicantBook) enter(p *Person) {
	b.byHandle[strings.ToLower(p.Handle)] = p
	if p.Email != nil {
		b.byEmail[strings.ToLower(*p.Email)] = p
	}
}

// plannedApplication is what an offer comes to: the person, new or not, and
// the application before and after.
type plannedApplication struct {
	person    *Person
	newPerson bool
	before    *Application // nil: the first offer of this person
	after     Application
}

func (a plannedApplication) state() string {
	switch {
	case a.before == nil:
		return "new"
	case a.before.sameAs(a.after):
		return "same"
	}
	return "changed"
}

// plan works out what an offer comes to and names everything wrong with it.
func (b *applicantBook) plan(p *problems, in Applicant) plannedApplication {
	var out plannedApplication
	out.person, out.newPerson = b.person(p, in)
	out.before = b.applied[out.person.ID]
	if out.before != nil {
		out.after = *out.before
	} else {
		out.after = Application{ID: NewID(), TestCallID: b.call.ID, PersonID: out.person.ID, Revision: 1}
	}
	out.after.Sizes = in.Sizes
	set(&out.after.Accepted, in.Accepted)
	set(&out.after.Finished, in.Finished)
	set(&out.after.Remarks, in.Remarks)
	if at := in.AppliedAt; at != nil {
		out.after.AppliedAt = at.UTC().Truncate(time.Microsecond) // as the databases keep it
		if y := out.after.AppliedAt.Year(); y < firstYear || y > lastYear {
			p.addf("applied_at", "lies outside the years %d to %d; check the date", firstYear, lastYear)
		}
	}
	out.after.check(p, b.sizes)
	return out
}

// person finds the applicant by handle or makes a new tester. Who is on file
// keeps their own address, unit and terms: an offer is not the place to change
// them, and another address may well be another person with the same handle.
func (b *applicantBook) person(p *problems, in Applicant) (person *Person, isNew bool) {
	handle := strings.TrimPrefix(strings.TrimSpace(in.Handle), "@")
	if known := b.byHandle[strings.ToLower(handle)]; known != nil {
		switch {
		case known.DisabledAt != nil:
			p.addf("handle", "is %s, who can't sign in any more; let them in again first", known.Handle)
		case len(known.Roles) == 0:
			p.addf("handle", "is %s, who is not a tester; give them that role first", known.Handle)
		}
		if in.Email != nil && known.Email != nil && !strings.EqualFold(*in.Email, *known.Email) {
			p.addf("email", "is not the address of the %s on file; ask whether it is the same person, then change one of the two", known.Handle)
		}
		return known, false
	}
	name := orElse(strings.TrimSpace(in.Name), orElse(handle, "?")) // a missing handle is complaint enough
	person = &Person{ID: NewID(), Handle: handle, Name: name, Email: in.Email, Unit: orElse(in.Unit, "cm"),
		Terms: orElse(in.Terms, "us"), Roles: []Role{Tester}, Revision: 1}
	var wrong *Error
	if errors.As(person.validate(), &wrong) {
		p.fields = append(p.fields, wrong.Fields...)
	}
	if in.Email != nil {
		if other := b.byEmail[strings.ToLower(*in.Email)]; other != nil {
			p.addf("email", "is the address of %s, who is on file; use that handle or another address", other.Handle)
		}
	}
	return person, true
}
