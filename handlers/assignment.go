package handlers

import (
	"context"
	"net/http"
	"time"

	"tenter/models"
)

// Assignment is one tester, one size, one version. State, late and days_left
// are computed.
type Assignment struct {
	ID           string                 `json:"id"`
	CallID       string                 `json:"call_id"`
	Design       AssignedDesign         `json:"design"`
	Person       AssignedPerson         `json:"person"`
	Size         SheetSize              `json:"size"`
	Version      AssignedVersion        `json:"version"`
	DueOn        models.Date            `json:"due_on"`
	DaysLeft     int                    `json:"days_left" doc:"Below zero after the last day."`
	State        models.AssignmentState `json:"state" enum:"asked,accepted,reported,approved,withdrawn"`
	Late         bool                   `json:"late"`
	AssignedAt   time.Time              `json:"assigned_at"`
	AcceptedAt   *time.Time             `json:"accepted_at"`
	WithdrawnAt  *time.Time             `json:"withdrawn_at"`
	WithdrawnWhy string                 `json:"withdrawn_why"`
	Invited      *Invited               `json:"invited" doc:"The newest link for this assignment; null when there is none, or a newer link to something else replaced it."`
	ReportID     *string                `json:"report_id"`
	AnswerBy     models.Date            `json:"answer_by,omitempty" doc:"By when they are to say yes or no."`
	YarnSentOn   models.Date            `json:"yarn_sent_on,omitempty"`
	YarnSentNote string                 `json:"yarn_sent_note,omitempty"`
	DaysLate     *int                   `json:"days_late" doc:"Of the first report, or so far; below zero is early; null while there is nothing to say."`
	Quiet        bool                   `json:"quiet" doc:"No sign of life when one was due."`
	Progress     *Progress              `json:"progress" doc:"The latest check-in."`
	MoreTime     *MoreTime              `json:"more_time" doc:"A wish that waits for an answer."`
	Revision     int                    `json:"revision"`
}

// AssignedDesign names the design.
type AssignedDesign struct {
	ID   string `json:"id"`
	Slug string `json:"slug"`
	Name string `json:"name"`
}

// AssignedPerson names the tester.
type AssignedPerson struct {
	ID     string `json:"id"`
	Handle string `json:"handle"`
}

// AssignedVersion names the version.
type AssignedVersion struct {
	ID     string `json:"id"`
	Number int    `json:"number"`
}

// Invited tells of the link that was made for an assignment.
type Invited struct {
	At        time.Time  `json:"at"`
	ExpiresAt time.Time  `json:"expires_at"`
	UsedAt    *time.Time `json:"used_at"`
}

func assignmentView(l models.AssignmentLine) Assignment {
	view := Assignment{ID: l.ID, CallID: l.TestCallID, Design: AssignedDesign{l.DesignID, l.DesignSlug, l.DesignName},
		Person: AssignedPerson{l.PersonID, l.Handle}, Size: SheetSize{l.SizeID, l.SizeName}, Version: AssignedVersion{l.VersionID, l.VersionNumber},
		DueOn: l.DueOn, DaysLeft: l.DaysLeft(), State: l.State(), Late: l.Late(), AssignedAt: l.AssignedAt, AcceptedAt: l.AcceptedAt,
		WithdrawnAt: l.WithdrawnAt, WithdrawnWhy: l.WithdrawnWhy, ReportID: l.ReportID, Revision: l.Revision,
		AnswerBy: l.AnswerBy, YarnSentOn: l.YarnSentOn, YarnSentNote: l.YarnSentNote, DaysLate: daysLateView(l), Quiet: l.Quiet(),
		Progress: progressView(l), MoreTime: moreTimeView(l)}
	if l.InvitedAt != nil && l.InvitationEndsAt != nil {
		view.Invited = &Invited{*l.InvitedAt, *l.InvitationEndsAt, l.InvitationUsedAt}
	}
	return view
}

func oneAssignment(l *models.AssignmentLine, err error) (*one[Assignment], error) {
	if err != nil {
		return nil, err
	}
	return &one[Assignment]{etag(l.Revision), assignmentView(*l)}, nil
}

// AssignmentPath names an assignment.
type AssignmentPath struct {
	Assignment string `path:"assignment" maxLength:"36"`
}

type callListQuery struct {
	CallPath
	Paged
}

type newAssignmentInput struct {
	CallPath
	Body struct {
		PersonID string      `json:"person_id" maxLength:"36"`
		SizeID   string      `json:"size_id" maxLength:"36"`
		DueOn    models.Date `json:"due_on,omitempty" doc:"The call's own last day when absent."`
	}
}

type changeAssignmentInput struct {
	AssignmentPath
	Precondition
	Body struct {
		SizeID       *string      `json:"size_id,omitempty" maxLength:"36" doc:"Only before a report is in."`
		DueOn        *models.Date `json:"due_on,omitempty"`
		YarnSentOn   *models.Date `json:"yarn_sent_on,omitempty" doc:"Empty: none was sent after all."`
		YarnSentNote *string      `json:"yarn_sent_note,omitempty"`
	}
}

type acceptAssignmentInput struct {
	AssignmentPath
	Precondition // may be left out
}

type withdrawInput struct {
	AssignmentPath
	Precondition // may be left out
	Body         struct {
		Why string `json:"why"`
	}
}

type inviteTesterInput struct {
	AssignmentPath
	Origin
}

func (a *api) assignments() {
	add(a, operation("list-assignments", http.MethodGet, "/calls/{call}/assignments", "Who makes which size", "Testing"), a.getAssignments)
	add(a, created(operation("add-assignment", http.MethodPost, "/calls/{call}/assignments", "Ask a tester to make a size; the version never changes after that", "Testing")), a.postAssignment)
	add(a, operation("list-my-assignments", http.MethodGet, "/me/assignments", "What I make", "Testing"), a.getMyAssignments)
	add(a, operation("get-assignment", http.MethodGet, "/assignments/{assignment}", "What a tester works from", "Testing"), a.getAssignment)
	add(a, operation("change-assignment", http.MethodPatch, "/assignments/{assignment}", "Move a tester to another size or day", "Testing"), a.patchAssignment)
	add(a, created(operation("invite-tester", http.MethodPost, "/assignments/{assignment}/invitation", "Make the link with which a tester gets in", "Testing")), a.postTesterInvitation)
	add(a, operation("accept-assignment", http.MethodPost, "/assignments/{assignment}/accept", "Accept what I was asked to make", "Testing"), a.postAccepted)
	add(a, operation("withdraw-assignment", http.MethodPost, "/assignments/{assignment}/withdraw", "Withdraw, with a reason", "Testing"), a.postWithdrawn)
}

func (a *api) getAssignments(ctx context.Context, _ models.Actor, in *callListQuery) (*listOf[Assignment], error) {
	if _, err := a.Store.TestCall(ctx, in.Call); err != nil {
		return nil, err
	}
	rows, next, err := a.Store.Assignments(ctx, in.Call, in.page())
	if err != nil {
		return nil, err
	}
	return list(rows, next, assignmentView), nil
}

func (a *api) getMyAssignments(ctx context.Context, actor models.Actor, in *Paged) (*listOf[Assignment], error) {
	rows, next, err := a.Store.MyAssignments(ctx, actor, in.page())
	if err != nil {
		return nil, err
	}
	return list(rows, next, assignmentView), nil
}

func (a *api) postAssignment(ctx context.Context, actor models.Actor, in *newAssignmentInput) (*made[Assignment], error) {
	l, err := a.Store.Assign(ctx, actor, in.Call, models.NewAssignment{PersonID: in.Body.PersonID, SizeID: in.Body.SizeID, DueOn: in.Body.DueOn})
	if err != nil {
		return nil, err
	}
	return &made[Assignment]{etag(l.Revision), Prefix + "/assignments/" + l.ID, assignmentView(*l)}, nil
}

func (a *api) assignmentRevision(ctx context.Context, actor models.Actor, id string) func() (int, error) {
	return func() (int, error) {
		l, err := a.Store.Assignment(ctx, actor, id)
		if err != nil {
			return 0, err
		}
		return l.Revision, nil
	}
}

func (a *api) patchAssignment(ctx context.Context, actor models.Actor, in *changeAssignmentInput) (*one[Assignment], error) {
	revision, err := in.revision(a.assignmentRevision(ctx, actor, in.Assignment))
	if err != nil {
		return nil, err
	}
	return oneAssignment(a.Store.ChangeAssignment(ctx, actor, in.Assignment, revision, models.AssignmentChange{SizeID: in.Body.SizeID, DueOn: in.Body.DueOn,
		YarnSentOn: in.Body.YarnSentOn, YarnSentNote: in.Body.YarnSentNote}))
}

func (a *api) postTesterInvitation(ctx context.Context, actor models.Actor, in *inviteTesterInput) (*invitationAnswer, error) {
	row, secret, err := a.Store.InviteToAssignment(ctx, actor, in.Assignment)
	if err != nil {
		return nil, err
	}
	return a.invitationView(row, secret, in.Origin)
}

func (a *api) postAccepted(ctx context.Context, actor models.Actor, in *acceptAssignmentInput) (*one[Assignment], error) {
	revision, err := in.revision(a.assignmentRevision(ctx, actor, in.Assignment))
	if err != nil {
		return nil, err
	}
	return oneAssignment(a.Store.AcceptAssignment(ctx, actor, in.Assignment, revision))
}

func (a *api) postWithdrawn(ctx context.Context, actor models.Actor, in *withdrawInput) (*one[Assignment], error) {
	revision, err := in.revision(a.assignmentRevision(ctx, actor, in.Assignment))
	if err != nil {
		return nil, err
	}
	return oneAssignment(a.Store.WithdrawAssignment(ctx, actor, in.Assignment, revision, in.Body.Why))
}
