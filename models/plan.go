package models

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"gorm.io/gorm"

	"tenter/models/assign"
)

// PlanPair is a person and a size.
type PlanPair struct{ PersonID, SizeID string }

// WhatIf is what a plan is asked to go by. It is never stored: a plan writes
// nothing.
type WhatIf struct {
	Fixed     []PlanPair
	Forbidden []PlanPair
	// MoveAsked lets the plan move those who were asked and have not answered.
	MoveAsked   bool
	Probability *float64 // wanted for each size; nil: the usual one
}

// What a plan would do with somebody.
const (
	PlanKeep    = "keep"    // stays with the size that they have
	PlanAsk     = "ask"     // has none yet and is to be asked
	PlanMove    = "move"    // is to make another size
	PlanRelease = "release" // is to make none
	PlanNone    = "none"    // has none and gets none
)

// Plan is the best way to fill a call's sizes, beside how they are filled now.
type Plan struct {
	Call        *TestCall
	Probability float64 // asked of each size
	Objective   assign.Objective
	Sizes       []PlanSize
	People      []PlanPerson // by handle
	Shortfalls  []string     // why sizes stay short, in words
	Warnings    []string
}

// PlanSize is one size in a plan.
type PlanSize struct {
	Slot     Slot
	Name     string
	Present  int // testers now
	Proposed int
	Now      assign.Coverage // with the testers that it has
	Then     assign.Coverage // with those of the plan
	Recruit  int             // newcomers who would lift it to the asked probability
	Reserve  []string        // ids of people without a size who listed it, best first
}

// PlanPerson is one applicant or tester in a plan.
type PlanPerson struct {
	PersonID, Handle string
	Sizes            []string // listed, best first
	Record           TesterRecord
	Probability      float64 // that they finish, as things stand
	State            assign.State
	AssignmentID     string // "" without one
	Revision         int    // of the assignment
	Accepted         bool
	Reported         bool
	Present          string // size id; "" for none
	Proposed         string
	Place            int // of the proposed size in their list; 0 when not listed
	Change           string
	Reason           string
	Out              string // why the plan leaves them out; "" when it doesn't
}

// Plan proposes who makes which size. Whoever has accepted or reported keeps
// their size unless the designer fixes or forbids otherwise.
func (s *Store) Plan(ctx context.Context, callID string, in WhatIf) (*Plan, error) {
	p, err := s.planIn(s.read(ctx), callID, in)
	if err != nil {
		return nil, err
	}
	return p.solve()
}

// planning is a plan being made.
type planning struct {
	in       WhatIf
	call     *TestCall
	today    Date
	zone     *time.Location
	names    map[string]string // sizes of the call, by id
	people   []PlanPerson
	at       map[string]int // person id -> place in people
	testers  map[string]callTester
	doc      assign.Input
	fixedBy  map[string]string // person id -> size, by the designer
	released map[string]bool   // person id: the designer forbids the size that they have
}

// planIn reads everything that a plan stands on, in a constant number of
// statements.
func (s *Store) planIn(db *gorm.DB, callID string, in WhatIf) (*planning, error) {
	call, err := callIn(db, callID)
	if err != nil {
		return nil, err
	}
	studio, err := studioIn(db)
	if err != nil {
		return nil, err
	}
	p := &planning{in: in, call: call, zone: studio.Location(), names: map[string]string{}, at: map[string]int{}, testers: map[string]callTester{}}
	p.today = DateOf(s.Now(), p.zone)
	sizes, err := sizesIn(db, []string{call.DesignID})
	if err != nil {
		return nil, err
	}
	for _, z := range sizes {
		p.names[z.ID] = z.Name
	}
	testers, err := callTestersIn(db, callID)
	if err != nil {
		return nil, err
	}
	records, err := recordsIn(db, callID, p.today, p.zone)
	if err != nil {
		return nil, err
	}
	for _, t := range testers {
		p.testers[t.personID] = t
	}
	if err := p.readApplicants(db, records); err != nil {
		return nil, err
	}
	for _, t := range testers { // asked by hand, without having applied
		if _, known := p.at[t.personID]; !known {
			p.enter(PlanPerson{PersonID: t.personID, Handle: t.handle, Record: recordOf(records[t.personID], t.told)})
		}
	}
	return p, nil
}

func (p *planning) enter(one PlanPerson) {
	if t, has := p.testers[one.PersonID]; has {
		now := t.tester(one.Record, p.today, p.zone)
		one.State, one.Probability, one.Present = now.State, now.Now(), t.sizeID
		one.AssignmentID, one.Revision, one.Accepted, one.Reported = t.assignmentID, t.revision, t.acceptedAt != nil, t.reported
	} else {
		one.State, one.Probability = assign.Working, one.Record.Probability()
	}
	p.at[one.PersonID] = len(p.people)
	p.people = append(p.people, one)
}

// readApplicants reads who has applied, with who has since withdrawn.
func (p *planning) readApplicants(db *gorm.DB, records map[string]*TesterRecord) error {
	var rows []struct {
		Application
		Handle    string
		Disabled  bool
		Withdrawn bool
	}
	err := db.Table("applications").Select(`applications.*, people.handle, people.disabled_at IS NOT NULL AS disabled,
			EXISTS (SELECT 1 FROM assignments w WHERE w.test_call_id = applications.test_call_id AND w.person_id = applications.person_id
				AND w.withdrawn_at IS NOT NULL) AS withdrawn`).
		Joins("JOIN people ON people.id = applications.person_id").
		Where("applications.test_call_id = ?", p.call.ID).Order("lower(people.handle)").Find(&rows).Error
	if err != nil {
		return fmt.Errorf("applicants: %w", err)
	}
	all := make([]*Application, len(rows))
	for i := range rows {
		all[i] = &rows[i].Application
	}
	if err := withApplicationSizes(db, all); err != nil {
		return err
	}
	for _, a := range rows {
		one := PlanPerson{PersonID: a.PersonID, Handle: a.Handle, Sizes: a.Sizes,
			Record: recordOf(records[a.PersonID], TesterRecord{ToldTaken: a.Accepted, ToldFinished: a.Finished, Elsewhere: a.Elsewhere})}
		if _, has := p.testers[a.PersonID]; !has {
			switch {
			case a.Disabled:
				one.Out = "can't sign in any more"
			case a.DeclinedAt != nil:
				one.Out = "was declined"
			case a.Withdrawn:
				one.Out = "has withdrawn from this call"
			}
		}
		p.enter(one)
	}
	return nil
}

// solve turns what was read into the question, and its answer into a plan.
func (p *planning) solve() (*Plan, error) {
	if err := p.pairs(); err != nil {
		return nil, err
	}
	for _, s := range p.call.Slots {
		p.doc.Sizes = append(p.doc.Sizes, assign.Size{Name: p.names[s.SizeID], Fewest: s.Fewest, Wanted: s.Wanted, Most: s.Most})
	}
	for _, one := range p.people {
		if one.Out != "" && p.fixedBy[one.PersonID] == "" {
			continue
		}
		taken, finished := one.Record.Counted()
		a := assign.Applicant{ID: one.Handle, Accepted: taken, Finished: finished}
		for _, id := range one.Sizes {
			if p.open(id) {
				a.Sizes = append(a.Sizes, p.names[id])
			}
		}
		p.doc.Applicants = append(p.doc.Applicants, a)
	}
	p.doc.Probability = p.in.Probability
	answer, err := assign.Calculate(p.doc)
	if err != nil {
		return nil, planProblem(err)
	}
	return p.lay(answer)
}

// planProblem speaks of a field of the request; what the request didn't say is
// our own mistake.
func planProblem(err error) error {
	var field *assign.FieldError
	if errors.As(err, &field) && (strings.HasPrefix(field.Field, "fixed") || strings.HasPrefix(field.Field, "forbidden") || field.Field == "probability") {
		return &Error{Kind: Invalid, Message: "This can't be planned as it is.", Fields: []FieldProblem{{field.Field, field.Problem}}}
	}
	return fmt.Errorf("plan: %w", err)
}

func (p *planning) open(sizeID string) bool {
	for _, s := range p.call.Slots {
		if s.SizeID == sizeID {
			return true
		}
	}
	return false
}

// pairs checks the designer's pairs and adds those that hold by themselves:
// whoever has accepted or reported, and, unless they may be moved, whoever was
// asked.
func (p *planning) pairs() error {
	var bad problems
	p.fixedBy, p.released = map[string]string{}, map[string]bool{}
	for i, f := range p.in.Fixed {
		at := fmt.Sprintf("fixed[%d]", i)
		one := p.checkPair(&bad, at, f)
		if one == nil {
			continue
		}
		if one.Reported && one.Present != f.SizeID {
			bad.addf(at+".size_id", "is not the size that %s has reported on; that one stays", one.Handle)
		}
		p.fixedBy[f.PersonID] = f.SizeID
		p.doc.Fixed = append(p.doc.Fixed, assign.Pair{Applicant: one.Handle, Size: p.names[f.SizeID]})
	}
	for i, f := range p.in.Forbidden {
		at := fmt.Sprintf("forbidden[%d]", i)
		one := p.checkPair(&bad, at, f)
		if one == nil || (one.Out != "" && p.fixedBy[f.PersonID] == "") {
			continue
		}
		if one.Reported && one.Present == f.SizeID {
			bad.addf(at+".size_id", "is the size that %s has reported on; that can't be undone", one.Handle)
		}
		p.released[f.PersonID] = p.released[f.PersonID] || one.Present == f.SizeID
		p.doc.Forbidden = append(p.doc.Forbidden, assign.Pair{Applicant: one.Handle, Size: p.names[f.SizeID]})
	}
	for _, one := range p.people {
		held := one.Present != "" && (one.Accepted || one.Reported || !p.in.MoveAsked)
		if held && p.fixedBy[one.PersonID] == "" && !p.released[one.PersonID] {
			p.doc.Fixed = append(p.doc.Fixed, assign.Pair{Applicant: one.Handle, Size: p.names[one.Present]})
		}
	}
	return bad.err()
}

func (p *planning) checkPair(bad *problems, at string, f PlanPair) *PlanPerson {
	i, known := p.at[f.PersonID]
	if !known {
		bad.addf(at+".person_id", "is nobody who applied or makes a size in this call")
		return nil
	}
	if !p.open(f.SizeID) {
		bad.addf(at+".size_id", "has no places in this call")
		return nil
	}
	return &p.people[i]
}
