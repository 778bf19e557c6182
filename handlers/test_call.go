package handlers

import (
	"context"
	"net/http"
	"strings"
	"time"

	"tenter/models"
)

// TestCall is the period in which testers make one version.
type TestCall struct {
	ID              string      `json:"id"`
	DesignID        string      `json:"design_id"`
	VersionID       string      `json:"version_id"`
	Title           string      `json:"title"`
	OpensOn         models.Date `json:"opens_on"`
	DueOn           models.Date `json:"due_on"`
	Confidentiality string      `json:"confidentiality" doc:"What testers agree to until release."`
	ClosedAt        *time.Time  `json:"closed_at"`
	Sections        []string    `json:"sections" doc:"Of the work, in order, for check-ins."`
	AnswerDays      int         `json:"answer_days" doc:"In which somebody who was asked answers."`
	Thanks          string      `json:"thanks" doc:"What testers are told when the call closes."`
	Revision        int         `json:"revision" doc:"Of the call and its slots."`
	Slots           []Slot      `json:"slots"`
}

// Slot is how many testers a call wants for a size and how far they are. Each
// of the last four numbers contains the next.
type Slot struct {
	SizeID   string `json:"size_id"`
	Fewest   int    `json:"fewest"`
	Wanted   int    `json:"wanted"`
	Most     int    `json:"most"`
	Applied  int    `json:"applied" doc:"Would make this size, in whatever place of their list."`
	Assigned int    `json:"assigned"`
	Accepted int    `json:"accepted"`
	Reported int    `json:"reported"`
	Approved int    `json:"approved"`
}

func testCallView(c *models.TestCall) TestCall {
	return TestCall{ID: c.ID, DesignID: c.DesignID, VersionID: c.VersionID, Title: c.Title, OpensOn: c.OpensOn, DueOn: c.DueOn,
		Confidentiality: c.Confidentiality, ClosedAt: c.ClosedAt, Sections: c.SectionNames(), AnswerDays: c.AnswerDays, Thanks: c.Thanks, Revision: c.Revision, Slots: each(c.Slots, slotView)}
}

func slotView(s models.SlotCount) Slot {
	return Slot{s.SizeID, s.Fewest, s.Wanted, s.Most, s.Applied, s.Assigned, s.Accepted, s.Reported, s.Approved}
}

// CallPath names a test call.
type CallPath struct {
	Call string `path:"call" maxLength:"36"`
}

// SlotIn is a slot as it is set.
type SlotIn struct {
	SizeID string `json:"size_id" maxLength:"36"`
	Fewest int    `json:"fewest"`
	Wanted int    `json:"wanted"`
	Most   int    `json:"most"`
}

func (in SlotIn) slot() models.Slot {
	return models.Slot{SizeID: in.SizeID, Fewest: in.Fewest, Wanted: in.Wanted, Most: in.Most}
}

type callsQuery struct {
	DesignPath
	Paged
}

type newCallInput struct {
	DesignPath
	Body struct {
		VersionID       string      `json:"version_id,omitempty" maxLength:"36" doc:"The latest version when absent."`
		Title           string      `json:"title"`
		OpensOn         models.Date `json:"opens_on"`
		DueOn           models.Date `json:"due_on"`
		Confidentiality string      `json:"confidentiality,omitempty"`
		Sections        []string    `json:"sections,omitempty" maxItems:"20" doc:"Of the work, in order; the usual ones when absent."`
		AnswerDays      int         `json:"answer_days,omitempty" doc:"5 when absent."`
		Slots           []SlotIn    `json:"slots" maxItems:"40"`
	}
}

type changeCallInput struct {
	CallPath
	Precondition
	Body struct {
		Title           *string      `json:"title,omitempty"`
		OpensOn         *models.Date `json:"opens_on,omitempty"`
		DueOn           *models.Date `json:"due_on,omitempty"`
		Confidentiality *string      `json:"confidentiality,omitempty"`
		Sections        *[]string    `json:"sections,omitempty" maxItems:"20" doc:"All of them; empty for the usual ones."`
		AnswerDays      *int         `json:"answer_days,omitempty"`
		Thanks          *string      `json:"thanks,omitempty"`
		Closed          *bool        `json:"closed,omitempty"`
		Slots           *[]SlotIn    `json:"slots,omitempty" maxItems:"40" doc:"All of them."`
	}
}

func (a *api) testCalls() {
	add(a, operation("list-calls", http.MethodGet, "/designs/{design}/calls", "A design's test calls", "Testing"), a.getCalls)
	add(a, created(operation("add-call", http.MethodPost, "/designs/{design}/calls", "Call for testers", "Testing")), a.postCall)
	add(a, operation("get-call", http.MethodGet, "/calls/{call}", "A test call with its slots", "Testing"), a.getCall)
	add(a, operation("change-call", http.MethodPatch, "/calls/{call}", "Change a test call; close it or open it again", "Testing"), a.patchCall)
}

func (a *api) getCalls(ctx context.Context, _ models.Actor, in *callsQuery) (*listOf[TestCall], error) {
	d, err := a.Store.Design(ctx, in.Design)
	if err != nil {
		return nil, err
	}
	rows, next, err := a.Store.TestCalls(ctx, d.ID, in.page())
	if err != nil {
		return nil, err
	}
	return list(rows, next, testCallView), nil
}

func (a *api) postCall(ctx context.Context, actor models.Actor, in *newCallInput) (*made[TestCall], error) {
	b := in.Body
	c, err := a.Store.AddTestCall(ctx, actor, in.Design, models.NewTestCall{VersionID: b.VersionID, Title: b.Title, OpensOn: b.OpensOn,
		DueOn: b.DueOn, Confidentiality: b.Confidentiality, Sections: strings.Join(b.Sections, "\n"), AnswerDays: b.AnswerDays, Slots: each(b.Slots, SlotIn.slot)})
	if err != nil {
		return nil, err
	}
	return &made[TestCall]{etag(c.Revision), Prefix + "/calls/" + c.ID, testCallView(c)}, nil
}

func oneCall(c *models.TestCall, err error) (*one[TestCall], error) {
	if err != nil {
		return nil, err
	}
	return &one[TestCall]{etag(c.Revision), testCallView(c)}, nil
}

func (a *api) getCall(ctx context.Context, _ models.Actor, in *CallPath) (*one[TestCall], error) {
	return oneCall(a.Store.TestCall(ctx, in.Call))
}

func (a *api) patchCall(ctx context.Context, actor models.Actor, in *changeCallInput) (*one[TestCall], error) {
	revision, err := in.revision(func() (int, error) {
		c, err := a.Store.TestCall(ctx, in.Call)
		if err != nil {
			return 0, err
		}
		return c.Revision, nil
	})
	if err != nil {
		return nil, err
	}
	b := in.Body
	change := models.TestCallChange{Title: b.Title, OpensOn: b.OpensOn, DueOn: b.DueOn, Confidentiality: b.Confidentiality, AnswerDays: b.AnswerDays, Thanks: b.Thanks, Closed: b.Closed}
	if b.Sections != nil {
		sections := strings.Join(*b.Sections, "\n")
		change.Sections = &sections
	}
	if b.Slots != nil {
		slots := each(*b.Slots, SlotIn.slot)
		change.Slots = &slots
	}
	return oneCall(a.Store.ChangeTestCall(ctx, actor, in.Call, revision, change))
}
