package models

import (
	"context"
	"fmt"
	"slices"
	"time"
)

// Application is a person's offer to make one of some sizes in a call. The
// designer enters and changes it; the people in it are testers.
type Application struct {
	ID         string `gorm:"primaryKey"`
	TestCallID string
	PersonID   string
	AppliedAt  time.Time
	Accepted   int // tests taken on so far, as told
	Finished   int // of those
	Remarks    string
	Yarn       string // what they would make it in
	// Elsewhere tells that Accepted and Finished leave out tests for this studio.
	Elsewhere   bool
	DeclinedAt  *time.Time
	DeclinedWhy string
	Revision    int
	CreatedAt   time.Time
	UpdatedAt   time.Time

	Sizes []string `gorm:"-"` // ids, the one they would like best first
}

// ApplicationSize is one size of an application. Place 1 is liked best.
type ApplicationSize struct {
	ApplicationID string `gorm:"primaryKey"`
	Place         int    `gorm:"primaryKey"`
	SizeID        string
}

// AddApplication enters an offer by hand. The person is found by handle or
// added as a tester.
func (s *Store) AddApplication(ctx context.Context, actor Actor, callID string, in Applicant) (*ApplicationLine, error) {
	var out *ApplicationLine
	err := s.change(ctx, actor, func(t *tx) error {
		call, err := t.openCall(callID)
		if err != nil {
			return err
		}
		book, err := applicantBookIn(t.DB, call)
		if err != nil {
			return err
		}
		var p problems
		plan := book.plan(&p, in)
		if err := p.err(); err != nil {
			return err
		}
		if plan.before != nil {
			return &Error{Kind: Conflict, Message: fmt.Sprintf("%s has applied already; change that application instead.", plan.person.Handle),
				Fields: []FieldProblem{{"handle", "has applied already"}}}
		}
		if err := t.carryOutApplications(call, []plannedApplication{plan}); err != nil {
			return err
		}
		out, err = applicationLineIn(t.DB, t.now, "applications.test_call_id = ? AND applications.person_id = ?", call.ID, plan.person.ID)
		return err
	})
	return out, err
}

// ApplicationChange says what to change; nil leaves a field as it is.
type ApplicationChange struct {
	Sizes              *[]string
	Accepted, Finished *int
	Remarks            *string
	Declined           *bool
	DeclinedWhy        *string
}

// ChangeApplication changes an offer, as a tester asks for it.
func (s *Store) ChangeApplication(ctx context.Context, actor Actor, id string, revision *int, c ApplicationChange) (*ApplicationLine, error) {
	var out *ApplicationLine
	err := s.change(ctx, actor, func(t *tx) error {
		before, err := applicationIn(t.DB, id)
		if err != nil {
			return err
		}
		if err := checkRevision("application", before.Revision, revision); err != nil {
			return err
		}
		call, err := t.openCall(before.TestCallID)
		if err != nil {
			return err
		}
		sizes, err := sizesIn(t.DB, []string{call.DesignID})
		if err != nil {
			return err
		}
		after := *before
		set(&after.Sizes, c.Sizes)
		set(&after.Accepted, c.Accepted)
		set(&after.Finished, c.Finished)
		set(&after.Remarks, c.Remarks)
		set(&after.DeclinedWhy, c.DeclinedWhy)
		if c.Declined != nil {
			after.DeclinedAt = stamp(*c.Declined, before.DeclinedAt, t.now)
		}
		if err := t.mayDecline(after); err != nil {
			return err
		}
		var p problems
		after.check(&p, sizes)
		if err := p.err(); err != nil {
			return err
		}
		if !unchanged(before, &after) {
			if err := t.saveApplication(before, &after); err != nil {
				return err
			}
			if err := t.record(call.DesignID, "application", id, "changed", before, after); err != nil {
				return err
			}
		}
		out, err = applicationLineIn(t.DB, t.now, "applications.id = ?", id)
		return err
	})
	return out, err
}

// mayDecline refuses to decline somebody who has a size.
func (t *tx) mayDecline(a Application) error {
	if a.DeclinedAt == nil {
		return nil
	}
	var n int64
	err := t.Model(&Assignment{}).Where("test_call_id = ? AND person_id = ? AND withdrawn_at IS NULL", a.TestCallID, a.PersonID).Count(&n).Error
	if err != nil {
		return fmt.Errorf("look for assignment: %w", err)
	}
	if n > 0 {
		return failf(Conflict, "They have a size in this call; withdraw that first.")
	}
	return nil
}

// mostTests bounds a tester's own count of tests (chosen).
const mostTests = 10_000

func (a Application) check(p *problems, sizes []Size) {
	names := map[string]string{}
	for _, z := range sizes {
		names[z.ID] = z.Name
	}
	if len(a.Sizes) == 0 {
		p.addf("sizes", "is empty; give at least one size")
	}
	given := map[string]bool{}
	for i, id := range a.Sizes {
		switch {
		case names[id] == "":
			p.addf(fmt.Sprintf("sizes[%d]", i), "is not a size of this design; choose one of its sizes")
		case given[id]:
			p.addf(fmt.Sprintf("sizes[%d]", i), "names size %s again; keep the better place", names[id])
		}
		given[id] = true
	}
	if a.Accepted < 0 || a.Accepted > mostTests {
		p.addf("accepted", "has to lie between 0 and %d", mostTests)
	}
	if a.Finished < 0 || a.Finished > a.Accepted {
		p.addf("finished", "is %d of %d tests accepted; it has to lie between 0 and that", a.Finished, a.Accepted)
	}
	p.text("remarks", a.Remarks, false, longText)
	p.text("yarn", a.Yarn, false, shortText)
	p.text("declined_why", a.DeclinedWhy, false, longText)
}

func (t *tx) saveApplication(before, after *Application) error {
	err := t.bump("application", &Application{}, before.ID, before.Revision, map[string]any{"applied_at": after.AppliedAt,
		"accepted": after.Accepted, "finished": after.Finished, "remarks": after.Remarks, "yarn": after.Yarn, "elsewhere": after.Elsewhere,
		"declined_at": after.DeclinedAt, "declined_why": after.DeclinedWhy})
	if err != nil {
		return err
	}
	after.Revision, after.UpdatedAt = before.Revision+1, t.now
	if slices.Equal(before.Sizes, after.Sizes) {
		return nil
	}
	if err := t.Where("application_id = ?", before.ID).Delete(&ApplicationSize{}).Error; err != nil {
		return fmt.Errorf("sizes of application: %w", err)
	}
	if err := createAll(t.DB, after.places()); err != nil {
		return fmt.Errorf("sizes of application: %w", err)
	}
	return nil
}

// places returns the rows of the application's sizes.
func (a Application) places() []ApplicationSize {
	rows := make([]ApplicationSize, len(a.Sizes))
	for i, id := range a.Sizes {
		rows[i] = ApplicationSize{a.ID, i + 1, id}
	}
	return rows
}

// sameAs tells whether two states of an application say the same.
func (a Application) sameAs(b Application) bool {
	return a.AppliedAt.Equal(b.AppliedAt) && a.Accepted == b.Accepted && a.Finished == b.Finished &&
		a.Remarks == b.Remarks && a.Yarn == b.Yarn && a.Elsewhere == b.Elsewhere && slices.Equal(a.Sizes, b.Sizes)
}
