package handlers

import (
	"context"
	"net/http"
	"time"

	"tenter/models"
)

// Application is an offer to make one of some sizes in a call.
type Application struct {
	ID          string                 `json:"id"`
	CallID      string                 `json:"call_id"`
	Person      ApplicantPerson        `json:"person"`
	AppliedAt   time.Time              `json:"applied_at"`
	Sizes       []string               `json:"sizes" doc:"Ids, the best first."`
	Accepted    int                    `json:"accepted" doc:"Tests taken on so far, as told."`
	Finished    int                    `json:"finished" doc:"Of those."`
	Remarks     string                 `json:"remarks"`
	Yarn        string                 `json:"yarn" doc:"What it would be made in."`
	Elsewhere   bool                   `json:"elsewhere" doc:"Accepted and finished leave out tests for this studio."`
	DeclinedAt  *time.Time             `json:"declined_at"`
	DeclinedWhy string                 `json:"declined_why"`
	Agreed      *Agreed                `json:"agreed" doc:"To what testers agree to; null: not yet."`
	Assignment  *ApplicationAssignment `json:"assignment" doc:"What came of it; null while nothing has."`
	Revision    int                    `json:"revision"`
}

// Agreed is what somebody agreed to last.
type Agreed struct {
	Version int       `json:"version" doc:"Number of the wording in its call."`
	At      time.Time `json:"at"`
	Present bool      `json:"present" doc:"The call still says the same."`
}

// ApplicantPerson is a tester; name and address are for the designer only.
type ApplicantPerson struct {
	ID     string  `json:"id"`
	Handle string  `json:"handle"`
	Name   string  `json:"name,omitempty"`
	Email  *string `json:"email,omitempty"`
	Unit   string  `json:"unit" enum:"cm,in"`
	Terms  string  `json:"terms" enum:"us,uk"`
}

// ApplicationAssignment is the assignment that came of an application.
type ApplicationAssignment struct {
	ID     string                 `json:"id"`
	SizeID string                 `json:"size_id"`
	DueOn  models.Date            `json:"due_on"`
	State  models.AssignmentState `json:"state" enum:"asked,accepted,reported,approved,withdrawn"`
	Late   bool                   `json:"late"`
}

func applicationView(actor models.Actor, l models.ApplicationLine) Application {
	view := Application{ID: l.ID, CallID: l.TestCallID, Person: ApplicantPerson{ID: l.PersonID, Handle: l.Handle, Unit: l.Unit, Terms: l.Terms},
		AppliedAt: l.AppliedAt, Sizes: l.Sizes, Accepted: l.Accepted, Finished: l.Finished, Remarks: l.Remarks, Revision: l.Revision,
		Yarn: l.Yarn, Elsewhere: l.Elsewhere, DeclinedAt: l.DeclinedAt, DeclinedWhy: l.DeclinedWhy}
	if g := l.Agreed; g != nil {
		view.Agreed = &Agreed{g.Number, g.AgreedAt, g.Present}
	}
	if actor.Has(models.Designer) {
		view.Person.Name, view.Person.Email = l.Name, l.Email
	}
	if g := l.Assignment; g != nil {
		view.Assignment = &ApplicationAssignment{g.ID, g.SizeID, g.DueOn, g.State(), g.Late()}
	}
	return view
}

// ApplicationPath names an application.
type ApplicationPath struct {
	Application string `path:"application" maxLength:"36"`
}

type newApplicationInput struct {
	CallPath
	Body struct {
		Handle   string     `json:"handle" doc:"Of somebody on file, or of a new tester."`
		Name     string     `json:"name,omitempty"`
		Email    *string    `json:"email,omitempty"`
		Sizes    []string   `json:"sizes" maxItems:"40" doc:"Ids, the best first."`
		Accepted *int       `json:"accepted,omitempty"`
		Finished *int       `json:"finished,omitempty"`
		Unit     string     `json:"unit,omitempty" enum:"cm,in" doc:"Of a new tester."`
		Terms    string     `json:"terms,omitempty" enum:"us,uk" doc:"Of a new tester."`
		Remarks  *string    `json:"remarks,omitempty"`
		Applied  *time.Time `json:"applied_at,omitempty" doc:"Now when absent."`
	}
}

type changeApplicationInput struct {
	ApplicationPath
	Precondition
	Body struct {
		Sizes       *[]string `json:"sizes,omitempty" maxItems:"40" doc:"Ids, the best first."`
		Accepted    *int      `json:"accepted,omitempty"`
		Finished    *int      `json:"finished,omitempty"`
		Remarks     *string   `json:"remarks,omitempty"`
		Declined    *bool     `json:"declined,omitempty" doc:"There is no size for them; false takes it back."`
		DeclinedWhy *string   `json:"declined_why,omitempty" doc:"Goes into the words that are due to them."`
	}
}

func (a *api) applications() {
	add(a, operation("list-applications", http.MethodGet, "/calls/{call}/applications", "Who would make which sizes", "Testing"), a.getApplications)
	add(a, created(operation("add-application", http.MethodPost, "/calls/{call}/applications", "Enter an application by hand", "Testing")), a.postApplication)
	add(a, operation("change-application", http.MethodPatch, "/applications/{application}", "Change an application", "Testing"), a.patchApplication)
	a.applicantImports()
}

func (a *api) getApplications(ctx context.Context, actor models.Actor, in *callListQuery) (*listOf[Application], error) {
	if _, err := a.Store.TestCall(ctx, in.Call); err != nil {
		return nil, err
	}
	rows, next, err := a.Store.Applications(ctx, in.Call, in.page())
	if err != nil {
		return nil, err
	}
	return list(rows, next, func(l models.ApplicationLine) Application { return applicationView(actor, l) }), nil
}

func (a *api) postApplication(ctx context.Context, actor models.Actor, in *newApplicationInput) (*made[Application], error) {
	b := in.Body
	l, err := a.Store.AddApplication(ctx, actor, in.Call, models.Applicant{Handle: b.Handle, Name: b.Name, Email: b.Email, Sizes: b.Sizes,
		Accepted: b.Accepted, Finished: b.Finished, Unit: b.Unit, Terms: b.Terms, Remarks: b.Remarks, AppliedAt: b.Applied})
	if err != nil {
		return nil, err
	}
	return &made[Application]{etag(l.Revision), Prefix + "/applications/" + l.ID, applicationView(actor, *l)}, nil
}

func (a *api) patchApplication(ctx context.Context, actor models.Actor, in *changeApplicationInput) (*one[Application], error) {
	revision, err := in.revision(func() (int, error) {
		l, err := a.Store.Application(ctx, in.Application)
		if err != nil {
			return 0, err
		}
		return l.Revision, nil
	})
	if err != nil {
		return nil, err
	}
	l, err := a.Store.ChangeApplication(ctx, actor, in.Application, revision, models.ApplicationChange{
		Sizes: in.Body.Sizes, Accepted: in.Body.Accepted, Finished: in.Body.Finished, Remarks: in.Body.Remarks,
		Declined: in.Body.Declined, DeclinedWhy: in.Body.DeclinedWhy})
	if err != nil {
		return nil, err
	}
	return &one[Application]{etag(l.Revision), applicationView(actor, *l)}, nil
}
