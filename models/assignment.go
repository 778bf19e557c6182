package models

import (
	"context"
	"errors"
	"fmt"
	"time"

	"gorm.io/gorm"
)

// Assignment is one tester, one size, one version. The designer gives it,
// which seals the version; the tester accepts it or withdraws. Its size can
// change until a report is in. A person makes one size in a call; after
// withdrawing they may be asked again.
type Assignment struct {
	ID           string `gorm:"primaryKey"`
	TestCallID   string
	DesignID     string
	PersonID     string
	SizeID       string
	VersionID    string
	DueOn        Date
	AssignedAt   time.Time
	AcceptedAt   *time.Time
	WithdrawnAt  *time.Time
	WithdrawnWhy string
	AnswerBy     Date // by when they are to say yes or no; "": no day was set
	YarnSentOn   Date // "": the studio has sent none
	YarnSentNote string
	Revision     int
	CreatedAt    time.Time
	UpdatedAt    time.Time
}

// NewAssignment is what it takes to ask a tester. An empty DueOn means the
// call's own last day.
type NewAssignment struct {
	PersonID string
	SizeID   string
	DueOn    Date
}

// Assign asks a tester to make a size. From now on the version never changes.
func (s *Store) Assign(ctx context.Context, actor Actor, callID string, in NewAssignment) (*AssignmentLine, error) {
	var out *AssignmentLine
	err := s.change(ctx, actor, func(t *tx) error {
		call, err := t.openCall(callID)
		if err != nil {
			return err
		}
		a, err := t.newAssignment(call, in)
		if err != nil {
			return err
		}
		if err := t.checkAssignment(call, a); err != nil {
			return err
		}
		if err := t.checkTester(a); err != nil {
			return err
		}
		if err := t.roomFor(call, a.SizeID); err != nil {
			return err
		}
		if err := t.Create(&a).Error; errors.Is(err, gorm.ErrDuplicatedKey) {
			return errAskedAlready
		} else if err != nil {
			return fmt.Errorf("assign: %w", err)
		}
		if err := t.giveOut(a.VersionID); err != nil {
			return err
		}
		if err := t.record(a.DesignID, "assignment", a.ID, "added", nil, a); err != nil {
			return err
		}
		out, err = assignmentLineIn(t.DB, t.now, a.ID)
		return err
	})
	return out, err
}

// newAssignment is the row of somebody who is asked now.
func (t *tx) newAssignment(call *TestCall, in NewAssignment) (Assignment, error) {
	answerBy, err := t.answerBy(call)
	return Assignment{ID: NewID(), TestCallID: call.ID, DesignID: call.DesignID, PersonID: in.PersonID, SizeID: in.SizeID, VersionID: call.VersionID,
		DueOn: Date(orElse(string(in.DueOn), string(call.DueOn))), AnswerBy: answerBy, AssignedAt: t.now, Revision: 1, CreatedAt: t.now, UpdatedAt: t.now}, err
}

// answerBy is the day by which somebody who is asked now answers.
func (t *tx) answerBy(call *TestCall) (Date, error) {
	studio, err := studioIn(t.DB)
	if err != nil {
		return "", err
	}
	return DateOf(t.now, studio.Location()).Add(call.AnswerDays), nil
}

var errAskedAlready = &Error{Kind: Conflict, Message: "This tester has a size in this call already; change that assignment instead.",
	Fields: []FieldProblem{{"person_id", "has a size in this call already"}}}

// checkAssignment checks the size and the day against the call.
func (t *tx) checkAssignment(call *TestCall, a Assignment) error {
	if _, err := sizeOf(t.DB, call.DesignID, a.SizeID, "size_id"); err != nil {
		return err
	}
	var p problems
	p.date("due_on", a.DueOn, true)
	if a.DueOn.Valid() && a.DueOn < call.OpensOn {
		p.addf("due_on", "lies before the day on which the call opens, %s; choose a later day", call.OpensOn)
	}
	return p.err()
}

func (t *tx) checkTester(a Assignment) error {
	person, err := personIn(t.DB, a.PersonID)
	if KindOf(err) == NotFound {
		return &Error{Kind: Invalid, Message: "There is nobody with this id.", Fields: []FieldProblem{{"person_id", "is nobody on file; choose an applicant, or add the person first"}}}
	}
	if err != nil {
		return err
	}
	var p problems
	if person.DisabledAt != nil {
		p.addf("person_id", "is %s, who can't sign in any more; let them in again first", person.Handle)
	}
	if !(Actor{Roles: person.Roles}).Has(Tester) {
		p.addf("person_id", "is %s, who is not a tester; give them that role first", person.Handle)
	}
	if err := p.err(); err != nil {
		return err
	}
	var n int64
	err = t.Model(&Assignment{}).Where("test_call_id = ? AND person_id = ? AND withdrawn_at IS NULL", a.TestCallID, a.PersonID).Count(&n).Error
	if err != nil {
		return fmt.Errorf("look for assignment: %w", err)
	}
	if n > 0 {
		return errAskedAlready
	}
	return nil
}

// roomFor refuses a size without a slot, a full one, and one that the version
// says nothing about.
func (t *tx) roomFor(call *TestCall, sizeID string) error {
	z, err := first[Size](t.DB, "size", "id = ?", sizeID)
	if err != nil {
		return err
	}
	var slot *SlotCount
	for i := range call.Slots {
		if call.Slots[i].SizeID == sizeID {
			slot = &call.Slots[i]
		}
	}
	if slot == nil {
		return &Error{Kind: Conflict, Message: fmt.Sprintf("This call has no places for size %s; add them to the call first.", z.Name),
			Fields: []FieldProblem{{"size_id", "has no places in this call"}}}
	}
	if slot.Assigned >= slot.Most {
		return &Error{Kind: Conflict, Message: fmt.Sprintf("Size %s has its most, %d testers, already; choose another size or raise the most.", z.Name, slot.Most),
			Fields: []FieldProblem{{"size_id", "has as many testers as it can take"}}}
	}
	return t.hasCounts(call, z)
}

// hasCounts refuses a size that the version says nothing about: the version is
// sealed by the assignment, so an empty count sheet could not be filled any
// more.
func (t *tx) hasCounts(call *TestCall, z *Size) error {
	var n int64
	err := t.Table("count_values").Joins("JOIN counts ON counts.id = count_values.count_id").
		Where("counts.version_id = ? AND count_values.size_id = ?", call.VersionID, z.ID).Count(&n).Error
	if err != nil {
		return fmt.Errorf("look for counts: %w", err)
	}
	if n == 0 {
		return failf(Conflict, "The count sheet of this version has nothing for size %s yet. Fill it first: once a tester has the version, it never changes.", z.Name)
	}
	return nil
}

// assignmentFor returns an assignment to the studio's own people and to its
// tester; for everybody else there is none.
func assignmentFor(db *gorm.DB, actor Actor, id string) (*Assignment, error) {
	a, err := first[Assignment](db, "assignment", "id = ?", id)
	if err != nil {
		return nil, err
	}
	if !actor.IsStaff() && (actor.PersonID == "" || a.PersonID != actor.PersonID) {
		return nil, notFound("assignment")
	}
	return a, nil
}
