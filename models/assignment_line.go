package models

import (
	"context"
	"fmt"
	"time"

	"gorm.io/gorm"

	"tenter/models/assign"
)

// AssignmentState is how far an assignment is. It is computed from what
// happened, never typed in.
type AssignmentState string

// The states of an assignment, in the order in which they follow.
const (
	Asked     AssignmentState = "asked"
	Accepted  AssignmentState = "accepted"
	Reported  AssignmentState = "reported"
	Approved  AssignmentState = "approved"
	Withdrawn AssignmentState = "withdrawn"
)

// AssignmentLine is an assignment with the names that people read and what its
// state follows from.
type AssignmentLine struct {
	Assignment
	Handle           string
	DesignSlug       string
	DesignName       string
	SizeName         string
	VersionNumber    int
	ReportID         *string // the current report
	ReportedAt       *time.Time
	ApprovedAt       *time.Time
	InvitedAt        *time.Time // of the newest link that was not replaced
	InvitationEndsAt *time.Time
	InvitationUsedAt *time.Time
	FirstReportAt    *time.Time
	CheckedInAt      *time.Time // the latest check-in
	SectionsDone     int
	SectionsOf       int
	Section          string // the last one finished
	CheckInNote      string
	ExtensionID      *string // a wish for more time that waits
	ExtensionAskedAt *time.Time
	WantedOn         Date
	WantedWhy        string

	Today Date           `gorm:"-"` // in the studio's zone
	zone  *time.Location `gorm:"-"`
}

// State tells how far the assignment is.
func (l AssignmentLine) State() AssignmentState {
	switch {
	case l.WithdrawnAt != nil:
		return Withdrawn
	case l.ApprovedAt != nil:
		return Approved
	case l.ReportID != nil:
		return Reported
	case l.AcceptedAt != nil:
		return Accepted
	}
	return Asked
}

// DaysLeft returns the days from today to the last day; below zero after it.
func (l AssignmentLine) DaysLeft() int { return l.Today.DaysUntil(l.DueOn) }

// Late tells whether the last day is over and the report still awaited.
func (l AssignmentLine) Late() bool {
	s := l.State()
	return (s == Asked || s == Accepted) && l.DaysLeft() < 0
}

// DaysLate returns by how many days the first report came after the last day,
// or how far that is over while it is awaited; below zero is early. ok is
// false while there is nothing to say.
func (l AssignmentLine) DaysLate() (days int, ok bool) {
	switch {
	case l.WithdrawnAt != nil:
		return 0, false
	case l.FirstReportAt != nil:
		return l.DueOn.DaysUntil(DateOf(*l.FirstReportAt, l.zone)), true
	case l.DaysLeft() < 0:
		return -l.DaysLeft(), true
	}
	return 0, false
}

// Quiet tells whether no sign of life came when one was due.
func (l AssignmentLine) Quiet() bool {
	if l.WithdrawnAt != nil {
		return false
	}
	t := callTester{due: l.DueOn, answerBy: l.AnswerBy, assignedAt: l.AssignedAt, acceptedAt: l.AcceptedAt, checkedIn: l.CheckedInAt, reported: l.ReportID != nil}
	return t.state(l.Today, l.zone) == assign.Quiet
}

// Assignment returns an assignment to the studio's own people and its tester.
func (s *Store) Assignment(ctx context.Context, actor Actor, id string) (*AssignmentLine, error) {
	db := s.read(ctx)
	if _, err := assignmentFor(db, actor, id); err != nil {
		return nil, err
	}
	return assignmentLineIn(db, s.Now(), id)
}

// Assignments lists a call's assignments, the withdrawn ones among them.
func (s *Store) Assignments(ctx context.Context, callID string, page Page) ([]AssignmentLine, string, error) {
	return s.assignmentPage(ctx, page, "assignments.test_call_id = ?", callID)
}

// MyAssignments lists the actor's own assignments.
func (s *Store) MyAssignments(ctx context.Context, actor Actor, page Page) ([]AssignmentLine, string, error) {
	return s.assignmentPage(ctx, page, "assignments.person_id = ?", actor.PersonID)
}

func (s *Store) assignmentPage(ctx context.Context, page Page, query string, args ...any) ([]AssignmentLine, string, error) {
	q := s.read(ctx).Where(query, args...)
	if page.After != "" {
		q = q.Where("assignments.id > ?", page.After)
	}
	rows, err := assignmentLines(s.read(ctx), s.Now(), q.Limit(page.limit()+1))
	if err != nil {
		return nil, "", err
	}
	rows, next := cut(rows, page, func(l AssignmentLine) string { return l.ID })
	return rows, next, nil
}

func assignmentLineIn(db *gorm.DB, now time.Time, id string) (*AssignmentLine, error) {
	rows, err := assignmentLines(db, now, db.Where("assignments.id = ?", id))
	if err != nil {
		return nil, err
	}
	if len(rows) == 0 {
		return nil, notFound("assignment")
	}
	return &rows[0], nil
}

// assignmentLines reads the assignments that q narrows down to, the first one
// first, in two queries.
func assignmentLines(db *gorm.DB, now time.Time, q *gorm.DB) ([]AssignmentLine, error) {
	studio, err := studioIn(db)
	if err != nil {
		return nil, err
	}
	var rows []AssignmentLine
	err = q.Table("assignments").Select(`assignments.*, people.handle, designs.slug AS design_slug, designs.name AS design_name, sizes.name AS size_name,
			versions.number AS version_number, reports.id AS report_id, reports.sent_at AS reported_at, reports.approved_at,
			invitations.created_at AS invited_at, invitations.expires_at AS invitation_ends_at, invitations.used_at AS invitation_used_at,
			firsts.sent_at AS first_report_at, check_ins.at AS checked_in_at, coalesce(check_ins.done, 0) AS sections_done,
			coalesce(check_ins.of, 0) AS sections_of, coalesce(check_ins.section, '') AS section, coalesce(check_ins.note, '') AS check_in_note,
			extensions.id AS extension_id, extensions.asked_at AS extension_asked_at, extensions.wanted_on, coalesce(extensions.why, '') AS wanted_why`).
		Joins("JOIN people ON people.id = assignments.person_id").
		Joins("JOIN designs ON designs.id = assignments.design_id").
		Joins("JOIN sizes ON sizes.id = assignments.size_id").
		Joins("JOIN versions ON versions.id = assignments.version_id").
		Joins("LEFT JOIN reports ON reports.assignment_id = assignments.id AND reports.superseded_at IS NULL").
		Joins(`LEFT JOIN invitations ON invitations.id = (SELECT max(i.id) FROM invitations i
			WHERE i.assignment_id = assignments.id AND i.revoked_at IS NULL)`).
		Joins("LEFT JOIN reports firsts ON firsts.assignment_id = assignments.id AND firsts.number = 1").
		Joins("LEFT JOIN check_ins ON check_ins.id = (SELECT max(c.id) FROM check_ins c WHERE c.assignment_id = assignments.id)").
		Joins("LEFT JOIN extensions ON extensions.assignment_id = assignments.id AND extensions.answered_at IS NULL").
		Order("assignments.id").Find(&rows).Error
	if err != nil {
		return nil, fmt.Errorf("assignments: %w", err)
	}
	today := DateOf(now, studio.Location())
	for i := range rows {
		rows[i].Today, rows[i].zone = today, studio.Location()
	}
	return rows, nil
}
