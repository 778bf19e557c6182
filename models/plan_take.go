package models

import (
	"context"
	"fmt"
)

// PlanChange is one line of a plan to be carried out: ask somebody, move them
// to another size, or release them. An empty SizeID releases.
type PlanChange struct {
	PersonID string
	SizeID   string
	// AssignmentID and Revision are of the assignment that the plan was made
	// on, for who has one: it is refused when that was changed since.
	AssignmentID string
	Revision     *int
}

// mostPlanChanges bounds one taking of a plan.
const mostPlanChanges = 500

// TakePlan carries out a plan, whole or in part: all of the given changes in
// one transaction or none. Those who are asked get due as their last day, the
// call's own when it is empty. It answers those who were asked or moved.
func (s *Store) TakePlan(ctx context.Context, actor Actor, callID string, changes []PlanChange, due Date) ([]AssignmentLine, error) {
	var out []AssignmentLine
	err := s.change(ctx, actor, func(t *tx) error {
		call, err := t.openCall(callID)
		if err != nil {
			return err
		}
		take := &planTaking{tx: t, call: call, changes: changes, due: due, before: map[int]*Assignment{}}
		if err := take.check(); err != nil {
			return err
		}
		if err := take.write(); err != nil {
			return err
		}
		people := make([]string, 0, len(changes))
		for _, c := range changes {
			people = append(people, c.PersonID)
		}
		out, err = assignmentLines(t.DB, t.now, t.Where("assignments.test_call_id = ? AND assignments.withdrawn_at IS NULL AND assignments.person_id IN ?", call.ID, people))
		return err
	})
	return out, err
}

// planTaking is a plan being carried out.
type planTaking struct {
	*tx
	call    *TestCall
	changes []PlanChange
	due     Date                // of those who are asked; "": the call's own
	before  map[int]*Assignment // by place in changes: who has a size now
}

// check refuses a change that no longer fits, and a size that would be
// overfilled when all of them were made.
func (k *planTaking) check() error {
	var p problems
	if len(k.changes) == 0 || len(k.changes) > mostPlanChanges {
		p.addf("changes", "has to hold 1 to %d changes", mostPlanChanges)
		return p.err()
	}
	p.date("due_on", k.due, false)
	if k.due.Valid() && k.due < k.call.OpensOn {
		p.addf("due_on", "lies before the day on which the call opens, %s; choose a later day", k.call.OpensOn)
	}
	filled := map[string]int{}
	for _, s := range k.call.Slots {
		filled[s.SizeID] = s.Assigned
	}
	seen := map[string]bool{}
	for i, c := range k.changes {
		at := fmt.Sprintf("changes[%d]", i)
		if seen[c.PersonID] {
			p.addf(at+".person_id", "is given twice; keep one")
			continue
		}
		seen[c.PersonID] = true
		if err := k.checkOne(&p, at, i, c); err != nil {
			return err
		}
		if was := k.before[i]; was != nil {
			filled[was.SizeID]--
		}
		if c.SizeID != "" {
			filled[c.SizeID]++
		}
	}
	if err := p.err(); err != nil {
		return err
	}
	for i, c := range k.changes {
		if c.SizeID == "" {
			continue
		}
		if err := k.fits(&p, fmt.Sprintf("changes[%d].size_id", i), c.SizeID, filled[c.SizeID]); err != nil {
			return err
		}
	}
	return p.err()
}

func (k *planTaking) checkOne(p *problems, at string, i int, c PlanChange) error {
	if c.AssignmentID == "" {
		if c.SizeID == "" {
			p.addf(at+".size_id", "is missing: who has no size can only be asked")
			return nil
		}
		err := k.checkTester(Assignment{TestCallID: k.call.ID, PersonID: c.PersonID})
		return p.within(at, err)
	}
	was, err := first[Assignment](k.DB, "assignment", "id = ? AND test_call_id = ? AND person_id = ?", c.AssignmentID, k.call.ID, c.PersonID)
	if KindOf(err) == NotFound {
		p.addf(at+".assignment_id", "is no assignment of this person in this call")
		return nil
	}
	if err != nil {
		return err
	}
	if err := checkRevision("assignment", was.Revision, c.Revision); err != nil {
		return err
	}
	if was.WithdrawnAt != nil {
		p.addf(at+".assignment_id", "was withdrawn; plan again")
		return nil
	}
	k.before[i] = was
	return k.hasNoReport(was.ID, "the size stays what was made and measured")
}

// within gathers a refusal's fields below a place in a list; anything else
// goes on as it is.
func (p *problems) within(at string, err error) error {
	own, ok := err.(*Error)
	if !ok || len(own.Fields) == 0 {
		return err
	}
	for _, f := range own.Fields {
		p.fields = append(p.fields, FieldProblem{at + "." + f.Field, f.Problem})
	}
	return nil
}

func (k *planTaking) fits(p *problems, at, sizeID string, filled int) error {
	for _, s := range k.call.Slots {
		if s.SizeID != sizeID {
			continue
		}
		if filled > s.Most {
			p.addf(at, "would have %d testers with this; it takes at most %d", filled, s.Most)
			return nil
		}
		z, err := first[Size](k.DB, "size", "id = ?", sizeID)
		if err != nil {
			return err
		}
		return k.hasCounts(k.call, z)
	}
	p.addf(at, "has no places in this call")
	return nil
}

// write makes the changes: those who are released first, so that the history
// reads as it went.
func (k *planTaking) write() error {
	for i, c := range k.changes {
		was := k.before[i]
		if was == nil || c.SizeID == was.SizeID {
			continue
		}
		after := *was
		action := "changed"
		if c.SizeID == "" {
			after.WithdrawnAt, after.WithdrawnWhy, action = &k.now, "released by a new plan", "withdrawn"
		} else {
			after.SizeID, after.AcceptedAt = c.SizeID, nil
			var err error
			if after.AnswerBy, err = k.answerBy(k.call); err != nil {
				return err
			}
		}
		if err := k.saveAssignment(was, &after, action); err != nil {
			return err
		}
	}
	return k.ask()
}

func (k *planTaking) ask() error {
	var (
		added  []Assignment
		events []recorded
	)
	for i, c := range k.changes {
		if k.before[i] != nil {
			continue
		}
		a, err := k.newAssignment(k.call, NewAssignment{PersonID: c.PersonID, SizeID: c.SizeID, DueOn: k.due})
		if err != nil {
			return err
		}
		added = append(added, a)
		events = append(events, recorded{a.ID, "added", nil, a})
	}
	if len(added) == 0 {
		return nil
	}
	if err := createAll(k.DB, added); err != nil {
		return raced(fmt.Errorf("take plan: %w", err))
	}
	if err := k.giveOut(k.call.VersionID); err != nil {
		return err
	}
	return k.recordAll(k.call.DesignID, "assignment", events)
}
