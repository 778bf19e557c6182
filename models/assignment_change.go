package models

import (
	"context"
	"fmt"
	"strings"
)

// AssignmentChange says what to change; nil leaves a field as it is.
type AssignmentChange struct {
	SizeID       *string
	DueOn        *Date
	YarnSentOn   *Date // points to "": none was sent after all
	YarnSentNote *string
}

// ChangeAssignment moves a tester to another size, as long as no report is in,
// or to another day. A tester who had accepted the old size is asked anew for
// the new one.
func (s *Store) ChangeAssignment(ctx context.Context, actor Actor, id string, revision *int, c AssignmentChange) (*AssignmentLine, error) {
	return s.changeAssignment(ctx, actor, id, func(t *tx, before *Assignment) error {
		if err := checkRevision("assignment", before.Revision, revision); err != nil {
			return err
		}
		if before.WithdrawnAt != nil {
			return failf(Conflict, "This assignment was withdrawn; ask the tester again with a new one.")
		}
		call, err := t.lockCall(before.TestCallID)
		if err != nil {
			return err
		}
		after := *before
		set(&after.SizeID, c.SizeID)
		set(&after.DueOn, c.DueOn)
		set(&after.YarnSentOn, c.YarnSentOn)
		set(&after.YarnSentNote, c.YarnSentNote)
		var p problems
		p.date("yarn_sent_on", after.YarnSentOn, false)
		p.text("yarn_sent_note", after.YarnSentNote, false, shortText)
		if err := p.err(); err != nil {
			return err
		}
		if err := t.checkAssignment(call, after); err != nil {
			return err
		}
		if after.SizeID != before.SizeID {
			if err := t.hasNoReport(id, "the size stays what was made and measured"); err != nil {
				return err
			}
			if err := t.roomFor(call, after.SizeID); err != nil {
				return err
			}
			after.AcceptedAt = nil
			if after.AnswerBy, err = t.answerBy(call); err != nil {
				return err
			}
		}
		if unchanged(before, &after) {
			return nil
		}
		return t.saveAssignment(before, &after, "changed")
	})
}

func (t *tx) hasNoReport(id, why string) error {
	var n int64
	if err := t.Table("reports").Where("assignment_id = ?", id).Count(&n).Error; err != nil {
		return fmt.Errorf("look for reports: %w", err)
	}
	if n > 0 {
		return failf(Conflict, "The tester has sent a report: %s.", why)
	}
	return nil
}

// AcceptAssignment is the tester's own yes, to the size and to what testers
// agree to until release. Saying it again changes nothing.
// revision may be nil; given, it has to be the current one, so that nobody
// accepts another size than the one on their screen.
func (s *Store) AcceptAssignment(ctx context.Context, actor Actor, id string, revision *int) (*AssignmentLine, error) {
	return s.changeAssignment(ctx, actor, id, func(t *tx, before *Assignment) error {
		switch {
		case before.PersonID != actor.PersonID:
			return notFound("assignment")
		case before.WithdrawnAt != nil:
			return failf(Conflict, "This assignment was withdrawn; ask the designer if you would like to make it after all.")
		case before.AcceptedAt != nil:
			return nil
		}
		if revision != nil {
			if err := checkRevision("assignment", before.Revision, revision); err != nil {
				return err
			}
		}
		if err := t.agreeByAccepting(before); err != nil {
			return err
		}
		call, err := t.lockCall(before.TestCallID)
		if err != nil {
			return err
		}
		if err := t.agree(call, actor.PersonID); err != nil {
			return err
		}
		after := *before
		after.AcceptedAt = &t.now
		return t.saveAssignment(before, &after, "accepted")
	})
}

// WithdrawAssignment ends an assignment before a report is in, by its tester
// or by the designer, with a reason. Doing it again changes nothing. revision
// may be nil; given, it has to be the current one.
func (s *Store) WithdrawAssignment(ctx context.Context, actor Actor, id string, revision *int, why string) (*AssignmentLine, error) {
	why = strings.TrimSpace(why)
	var p problems
	p.text("why", why, true, longText)
	if err := p.err(); err != nil {
		return nil, err
	}
	return s.changeAssignment(ctx, actor, id, func(t *tx, before *Assignment) error {
		if before.PersonID != actor.PersonID && !actor.Has(Designer) {
			return notFound("assignment")
		}
		if before.WithdrawnAt != nil {
			return nil
		}
		if revision != nil {
			if err := checkRevision("assignment", before.Revision, revision); err != nil {
				return err
			}
		}
		if err := t.hasNoReport(id, "there is nothing left to withdraw from"); err != nil {
			return err
		}
		after := *before
		after.WithdrawnAt, after.WithdrawnWhy = &t.now, why
		return t.saveAssignment(before, &after, "withdrawn")
	})
}

// changeAssignment runs a change on an assignment that the actor may see and
// returns how it stands after that.
func (s *Store) changeAssignment(ctx context.Context, actor Actor, id string, f func(*tx, *Assignment) error) (*AssignmentLine, error) {
	var out *AssignmentLine
	err := s.change(ctx, actor, func(t *tx) error {
		before, err := assignmentFor(t.DB, actor, id)
		if err != nil {
			return err
		}
		if err := f(t, before); err != nil {
			return err
		}
		out, err = assignmentLineIn(t.DB, t.now, id)
		return err
	})
	return out, err
}

func (t *tx) saveAssignment(before, after *Assignment, action string) error {
	err := t.bump("assignment", &Assignment{}, before.ID, before.Revision, map[string]any{"size_id": after.SizeID, "due_on": after.DueOn,
		"accepted_at": after.AcceptedAt, "withdrawn_at": after.WithdrawnAt, "withdrawn_why": after.WithdrawnWhy,
		"answer_by": after.AnswerBy, "yarn_sent_on": after.YarnSentOn, "yarn_sent_note": after.YarnSentNote})
	if err != nil {
		return err
	}
	after.Revision, after.UpdatedAt = before.Revision+1, t.now
	return t.record(after.DesignID, "assignment", after.ID, action, before, after)
}

// InviteToAssignment makes the link with which the tester gets in, and returns
// its secret, which is not kept anywhere.
func (s *Store) InviteToAssignment(ctx context.Context, actor Actor, id string) (*Invitation, string, error) {
	var (
		row    *Invitation
		secret string
	)
	err := s.change(ctx, actor, func(t *tx) error {
		a, err := assignmentFor(t.DB, actor, id)
		if err != nil {
			return err
		}
		if a.WithdrawnAt != nil {
			return failf(Conflict, "This assignment was withdrawn; ask the tester again with a new one.")
		}
		row, secret, err = t.invite(a.PersonID, &a.ID, a.DesignID)
		return err
	})
	return row, secret, err
}
