package handlers

import (
	"context"
	"net/http"
	"time"

	"tenter/models"
)

// Installment is one dated part of the make-along, as it stands today. The
// marks are those that still hold.
type Installment struct {
	ID          string          `json:"id"`
	DesignID    string          `json:"design_id"`
	Position    int             `json:"position"`
	Title       string          `json:"title"`
	Covers      string          `json:"covers"`
	AirOn       *models.Date    `json:"air_on"`
	RecordBy    *models.Date    `json:"record_by" doc:"As set, or the air date less the studio's lead days."`
	RecordBySet bool            `json:"record_by_set"`
	ShootOn     *models.Date    `json:"shoot_on" doc:"On which it is to be recorded; null: by record_by."`
	DaysLeft    *int            `json:"days_left" doc:"To the air date; null without one and when it has aired."`
	State       string          `json:"state" enum:"unrecorded,recorded,edited,captioned,scheduled,aired" doc:"Recorded: each shot, or without shots one take, is accepted without a slip that waits to be recorded again."`
	Late        bool            `json:"late"`
	EditedAt    *time.Time      `json:"edited_at"`
	CaptionedAt *time.Time      `json:"captioned_at"`
	ScheduledAt *time.Time      `json:"scheduled_at"`
	AiredAt     *time.Time      `json:"aired_at"`
	Link        string          `json:"link"`
	Revision    int             `json:"revision"`
	Takes       []Take          `json:"takes"`
	Shots       []ShotLine      `json:"shots" doc:"In order; without shots one accepted take is enough."`
	OpenSlips   int             `json:"open_slips" doc:"In the takes that will be used: the accepted ones or, while none is, those not set aside."`
	Sample      *SampleToRecord `json:"sample" doc:"The camera sample with which it can be recorded as it is; null when there is none, and once it is recorded."`
	Needs       string          `json:"needs" doc:"What it needs next, and by when."`
}

// ShotLine is a shot as the run lists it.
type ShotLine struct {
	ID       string `json:"id"`
	Title    string `json:"title"`
	Recorded bool   `json:"recorded" doc:"It has an accepted take."`
}

func shotLines(n models.InstallmentNow) []ShotLine {
	open := map[string]bool{}
	for _, s := range n.Open {
		open[s.ID] = true
	}
	return each(n.Shots, func(s models.Shot) ShotLine { return ShotLine{s.ID, s.Title, !open[s.ID]} })
}

// SampleToRecord is a sample that is ready to be filmed.
type SampleToRecord struct {
	ID     string  `json:"id"`
	Label  string  `json:"label"`
	HeldBy *Holder `json:"held_by"`
}

func installmentView(n models.InstallmentNow) Installment {
	out := Installment{ID: n.ID, DesignID: n.DesignID, Position: n.Position, Title: n.Title, Covers: n.Covers,
		AirOn: dateView(n.AirOn), RecordBy: dateView(n.RecordDue), RecordBySet: n.RecordBy != "", ShootOn: dateView(n.ShootOn), Shots: shotLines(n), DaysLeft: n.DaysLeft, State: string(n.State), Late: n.Late,
		EditedAt: n.EditedAt, CaptionedAt: n.CaptionedAt, ScheduledAt: n.ScheduledAt, AiredAt: n.AiredAt,
		Link: n.Link, Revision: n.Revision, Takes: each(n.Takes, takeView), OpenSlips: n.OpenSlips, Needs: n.Needs}
	if s := n.Sample; s != nil {
		out.Sample = &SampleToRecord{s.ID, s.Label, holderView(s.HeldBy, s.Holder)}
	}
	return out
}

// dateView turns no date into null.
func dateView(d models.Date) *models.Date {
	if d == "" {
		return nil
	}
	return &d
}

// dateChange turns null into no date.
func dateChange(o Optional[models.Date]) *models.Date {
	if !o.Sent {
		return nil
	}
	return &o.Value // the zero date when null was sent
}

type InstallmentPath struct {
	Installment string `path:"installment" maxLength:"36"`
}

type installmentsQuery struct {
	DesignPath
	Paged
}

type newInstallmentInput struct {
	DesignPath
	Body struct {
		Position int         `json:"position,omitempty" minimum:"1" doc:"Its place in the run; the end when absent."`
		Title    string      `json:"title"`
		Covers   string      `json:"covers,omitempty"`
		AirOn    models.Date `json:"air_on,omitempty"`
		RecordBy models.Date `json:"record_by,omitempty"`
		ShootOn  models.Date `json:"shoot_on,omitempty"`
		Link     string      `json:"link,omitempty"`
	}
}

type changeInstallmentInput struct {
	InstallmentPath
	Precondition
	Body struct {
		Position  *int                  `json:"position,omitempty"`
		Title     *string               `json:"title,omitempty"`
		Covers    *string               `json:"covers,omitempty"`
		AirOn     Optional[models.Date] `json:"air_on,omitempty"`
		RecordBy  Optional[models.Date] `json:"record_by,omitempty" doc:"null goes back to the air date less the studio's lead days."`
		ShootOn   Optional[models.Date] `json:"shoot_on,omitempty"`
		Link      *string               `json:"link,omitempty"`
		Edited    *bool                 `json:"edited,omitempty" doc:"Steps can be marked only in their order, and taken away only together with the later ones."`
		Captioned *bool                 `json:"captioned,omitempty"`
		Scheduled *bool                 `json:"scheduled,omitempty"`
		Aired     *bool                 `json:"aired,omitempty"`

		BeforeItsDay bool `json:"before_its_day,omitempty" doc:"It is meant to be marked as aired before its air date; needed then."`
	}
}

type removeInstallmentInput struct {
	InstallmentPath
	Precondition
}

func (a *api) installments() {
	add(a, operation("list-installments", http.MethodGet, "/designs/{design}/installments", "A design's installments, as they stand today", "Filming"), a.getInstallments)
	add(a, created(operation("add-installment", http.MethodPost, "/designs/{design}/installments", "Add an installment", "Filming")), a.postInstallment)
	add(a, operation("get-installment", http.MethodGet, "/installments/{installment}", "An installment with its takes and slips", "Filming"), a.getInstallment)
	add(a, operation("change-installment", http.MethodPatch, "/installments/{installment}", "Change or move an installment, or mark its steps", "Filming"), a.patchInstallment)
	add(a, operation("remove-installment", http.MethodDelete, "/installments/{installment}", "Take an installment without takes and samples out of the run", "Filming"), a.deleteInstallment)
}

func (a *api) getInstallments(ctx context.Context, _ models.Actor, in *installmentsQuery) (*listOf[Installment], error) {
	design, err := a.Store.Design(ctx, in.Design)
	if err != nil {
		return nil, err
	}
	today, err := a.Store.Today(ctx)
	if err != nil {
		return nil, err
	}
	rows, err := a.Store.Installments(ctx, design.ID, today)
	if err != nil {
		return nil, err
	}
	rows, next := pageOf(rows, in.page(), func(n models.InstallmentNow) string { return n.ID })
	return list(rows, next, installmentView), nil
}

func (a *api) postInstallment(ctx context.Context, actor models.Actor, in *newInstallmentInput) (*made[Installment], error) {
	b := in.Body
	n, err := a.Store.AddInstallment(ctx, actor, in.Design, models.Installment{Position: b.Position, Title: b.Title, Covers: b.Covers,
		AirOn: b.AirOn, RecordBy: b.RecordBy, ShootOn: b.ShootOn, Link: b.Link})
	if err != nil {
		return nil, err
	}
	return &made[Installment]{etag(n.Revision), Prefix + "/installments/" + n.ID, installmentView(*n)}, nil
}

func (a *api) getInstallment(ctx context.Context, _ models.Actor, in *InstallmentPath) (*one[Installment], error) {
	n, err := a.Store.Installment(ctx, in.Installment)
	if err != nil {
		return nil, err
	}
	return &one[Installment]{etag(n.Revision), installmentView(*n)}, nil
}

func (a *api) installmentRevision(ctx context.Context, id string) func() (int, error) {
	return func() (int, error) {
		n, err := a.Store.Installment(ctx, id)
		if err != nil {
			return 0, err
		}
		return n.Revision, nil
	}
}

func (a *api) patchInstallment(ctx context.Context, actor models.Actor, in *changeInstallmentInput) (*one[Installment], error) {
	revision, err := in.revision(a.installmentRevision(ctx, in.Installment))
	if err != nil {
		return nil, err
	}
	b := in.Body
	n, err := a.Store.ChangeInstallment(ctx, actor, in.Installment, revision, models.InstallmentChange{Position: b.Position, Title: b.Title, Covers: b.Covers,
		Link: b.Link, AirOn: dateChange(b.AirOn), RecordBy: dateChange(b.RecordBy), ShootOn: dateChange(b.ShootOn), Edited: b.Edited, Captioned: b.Captioned, Scheduled: b.Scheduled, Aired: b.Aired, BeforeItsDay: b.BeforeItsDay})
	if err != nil {
		return nil, err
	}
	return &one[Installment]{etag(n.Revision), installmentView(*n)}, nil
}

func (a *api) deleteInstallment(ctx context.Context, actor models.Actor, in *removeInstallmentInput) (*struct{}, error) {
	revision, err := in.revision(a.installmentRevision(ctx, in.Installment))
	if err != nil {
		return nil, err
	}
	return nil, a.Store.RemoveInstallment(ctx, actor, in.Installment, revision)
}
