package models

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"gorm.io/gorm"
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
	Revision   int
	CreatedAt  time.Time
	UpdatedAt  time.Time

	Sizes []string `gorm:"-"` // ids, the one they would like best first
}

// ApplicationSize is one size of an application. Place 1 is liked best.
type ApplicationSize struct {
	ApplicationID string `gorm:"primaryKey"`
	Place         int    `gorm:"primaryKey"`
	SizeID        string
}

// ApplicationLine is an application with who made it and what came of it.
type ApplicationLine struct {
	Application
	Handle string
	Name   string
	Email  *string
	Unit   string
	Terms  string

	Assignment *AssignmentLine `gorm:"-"` // the one that was not withdrawn, or nil
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
		var p problems
		after.check(&p, sizes)
		if err := p.err(); err != nil {
			return err
		}
		if err := t.saveApplication(before, &after); err != nil {
			return err
		}
		if err := t.record(call.DesignID, "application", id, "changed", before, after); err != nil {
			return err
		}
		out, err = applicationLineIn(t.DB, t.now, "applications.id = ?", id)
		return err
	})
	return out, err
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
}

func (t *tx) saveApplication(before, after *Application) error {
	err := t.bump("application", &Application{}, before.ID, before.Revision, map[string]any{"applied_at": after.AppliedAt,
		"accepted": after.Accepted, "finished": after.Finished, "remarks": after.Remarks})
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
		a.Remarks == b.Remarks && slices.Equal(a.Sizes, b.Sizes)
}

// Application returns an application with who made it.
func (s *Store) Application(ctx context.Context, id string) (*ApplicationLine, error) {
	return applicationLineIn(s.read(ctx), s.Now(), "applications.id = ?", id)
}

// Applications lists a call's applications in the order in which they were
// entered, with the assignment that came of each.
func (s *Store) Applications(ctx context.Context, callID string, page Page) ([]ApplicationLine, string, error) {
	db := s.read(ctx)
	q := db.Where("applications.test_call_id = ?", callID)
	if page.After != "" {
		q = q.Where("applications.id > ?", page.After)
	}
	rows, err := applicationLines(db, s.Now(), q.Limit(page.limit()+1))
	if err != nil {
		return nil, "", err
	}
	rows, next := cut(rows, page, func(l ApplicationLine) string { return l.ID })
	return rows, next, nil
}

func applicationLineIn(db *gorm.DB, now time.Time, query string, args ...any) (*ApplicationLine, error) {
	rows, err := applicationLines(db, now, db.Where(query, args...))
	if err != nil {
		return nil, err
	}
	if len(rows) == 0 {
		return nil, notFound("application")
	}
	return &rows[0], nil
}

// applicationLines reads the applications that q narrows down to, in a
// constant number of queries.
func applicationLines(db *gorm.DB, now time.Time, q *gorm.DB) ([]ApplicationLine, error) {
	var rows []ApplicationLine
	err := q.Table("applications").Select("applications.*, people.handle, people.name, people.email, people.unit, people.terms").
		Joins("JOIN people ON people.id = applications.person_id").Order("applications.id").Scan(&rows).Error
	if err != nil {
		return nil, fmt.Errorf("applications: %w", err)
	}
	if len(rows) == 0 {
		return rows, nil
	}
	all := make([]*Application, len(rows))
	people := make([]string, len(rows))
	for i := range rows {
		all[i], people[i] = &rows[i].Application, rows[i].PersonID
	}
	if err := withApplicationSizes(db, all); err != nil {
		return nil, err
	}
	given, err := assignmentLines(db, now, db.Where("assignments.test_call_id = ? AND assignments.withdrawn_at IS NULL AND assignments.person_id IN ?",
		rows[0].TestCallID, people))
	if err != nil {
		return nil, err
	}
	byPerson := make(map[string]*AssignmentLine, len(given))
	for i := range given {
		byPerson[given[i].PersonID] = &given[i]
	}
	for i := range rows {
		rows[i].Assignment = byPerson[rows[i].PersonID]
	}
	return rows, nil
}

func applicationIn(db *gorm.DB, id string) (*Application, error) {
	a, err := first[Application](db, "application", "id = ?", id)
	if err != nil {
		return nil, err
	}
	return a, withApplicationSizes(db, []*Application{a})
}

// withApplicationSizes fills the sizes of applications of one call in one
// query.
func withApplicationSizes(db *gorm.DB, rows []*Application) error {
	if len(rows) == 0 {
		return nil
	}
	byID := make(map[string]*Application, len(rows))
	first, last := rows[0].ID, rows[0].ID
	for _, a := range rows {
		byID[a.ID] = a
		first, last = min(first, a.ID), max(last, a.ID)
	}
	// A span of ids instead of a list of them: an import may look at more
	// applications than a statement takes parameters.
	var sizes []ApplicationSize
	err := db.Table("application_sizes").Select("application_sizes.*").Joins("JOIN applications ON applications.id = application_sizes.application_id").
		Where("applications.test_call_id = ? AND applications.id BETWEEN ? AND ?", rows[0].TestCallID, first, last).
		Order("application_id, place").Scan(&sizes).Error
	if err != nil {
		return fmt.Errorf("sizes of applications: %w", err)
	}
	for _, z := range sizes {
		if a := byID[z.ApplicationID]; a != nil {
			a.Sizes = append(a.Sizes, z.SizeID)
		}
	}
	return nil
}

// raced turns a clash with a row that somebody else wrote in this very moment
// into words; every other error stays what it is.
func raced(err error) error {
	if errors.Is(err, gorm.ErrDuplicatedKey) {
		return failf(Conflict, "Somebody else has added one of these people in this very moment; nothing was changed. Look again and repeat.")
	}
	return err
}
