package models

import (
	"context"
	"fmt"
	"time"

	"gorm.io/gorm"
)

// ApplicationLine is an application with who made it and what came of it.
type ApplicationLine struct {
	Application
	Handle string
	Name   string
	Email  *string
	Unit   string
	Terms  string

	Assignment *AssignmentLine `gorm:"-"` // the one that was not withdrawn, or nil
	Agreed     *Agreed         `gorm:"-"` // to what testers agree to; nil: not yet
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

// bareApplications reads applications with who made them, and nothing else.
func bareApplications(q *gorm.DB) ([]ApplicationLine, error) {
	var rows []ApplicationLine
	err := q.Table("applications").Select("applications.*, people.handle, people.name, people.email, people.unit, people.terms").
		Joins("JOIN people ON people.id = applications.person_id").Order("applications.id").Find(&rows).Error
	if err != nil {
		return nil, fmt.Errorf("applications: %w", err)
	}
	return rows, nil
}

// applicationLines reads the applications that q narrows down to, in a
// constant number of queries.
func applicationLines(db *gorm.DB, now time.Time, q *gorm.DB) ([]ApplicationLine, error) {
	rows, err := bareApplications(q)
	if err != nil || len(rows) == 0 {
		return rows, err
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
	agreed, err := agreedIn(db, rows[0].TestCallID)
	if err != nil {
		return nil, err
	}
	byPerson := make(map[string]*AssignmentLine, len(given))
	for i := range given {
		byPerson[given[i].PersonID] = &given[i]
	}
	for i := range rows {
		rows[i].Assignment = byPerson[rows[i].PersonID]
		rows[i].Agreed = agreed[rows[i].PersonID]
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
		Order("application_id, place").Find(&sizes).Error
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
