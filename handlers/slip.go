package handlers

import (
	"context"
	"net/http"
	"time"

	"tenter/models"
)

// Slip is something said or shown wrong in a take.
type Slip struct {
	ID       string     `json:"id"`
	TakeID   string     `json:"take_id"`
	AtMS     int        `json:"at_ms" doc:"Milliseconds from the start of the take."`
	At       string     `json:"at" doc:"The same as a time code: 12:04 or 1:02:03.5."`
	Wrong    string     `json:"wrong" doc:"What was said or shown."`
	ShouldBe string     `json:"should_be"`
	Remedy   string     `json:"remedy" enum:"on_screen_note,cut,record_again" doc:"With record_again the take doesn't count as accepted until the slip is mended."`
	MendedAt *time.Time `json:"mended_at"`
	Revision int        `json:"revision"`
}

func slipView(s models.Slip) Slip {
	return Slip{s.ID, s.TakeID, int(s.AtMS), s.AtMS.String(), s.Wrong, s.ShouldBe, string(s.Remedy), s.MendedAt, s.Revision}
}

type SlipPath struct {
	Slip string `path:"slip" maxLength:"36"`
}

// SlipPlace is where in the take a slip is: as a time code or in milliseconds.
type SlipPlace struct {
	At   *string `json:"at,omitempty" maxLength:"20" doc:"A time code, like 12:04 or 1:02:03.5."`
	AtMS *int    `json:"at_ms,omitempty"`
}

// code reads the place; nil when none is given.
func (p SlipPlace) code() (*models.TimeCode, error) {
	bad := func(field, problem string) error {
		return &models.Error{Kind: models.Invalid, Message: "The slip was not written.", Fields: []models.FieldProblem{{Field: field, Problem: problem}}}
	}
	switch {
	case p.At != nil && p.AtMS != nil:
		return nil, bad("at", "is given beside at_ms; give one of them")
	case p.At != nil:
		c, err := models.ParseTimeCode(*p.At)
		if err != nil {
			return nil, bad("at", err.Error())
		}
		return &c, nil
	case p.AtMS != nil:
		c := models.TimeCode(*p.AtMS)
		return &c, nil
	}
	return nil, nil
}

type newSlipInput struct {
	TakePath
	Body struct {
		SlipPlace
		Wrong    string `json:"wrong"`
		ShouldBe string `json:"should_be,omitempty"`
		Remedy   string `json:"remedy" enum:"on_screen_note,cut,record_again"`
	}
}

type changeSlipInput struct {
	SlipPath
	Precondition
	Body struct {
		SlipPlace
		Wrong    *string        `json:"wrong,omitempty"`
		ShouldBe *string        `json:"should_be,omitempty"`
		Remedy   *models.Remedy `json:"remedy,omitempty" enum:"on_screen_note,cut,record_again"`
		Mended   *bool          `json:"mended,omitempty"`
	}
}

func (a *api) slips() {
	add(a, created(operation("add-slip", http.MethodPost, "/takes/{take}/slips", "Note a slip in a take", "Filming")), a.postSlip)
	add(a, operation("get-slip", http.MethodGet, "/slips/{slip}", "A slip", "Filming"), a.getSlip)
	add(a, operation("change-slip", http.MethodPatch, "/slips/{slip}", "Change a slip or mark it as mended", "Filming"), a.patchSlip)
}

func (a *api) postSlip(ctx context.Context, actor models.Actor, in *newSlipInput) (*made[Slip], error) {
	b := in.Body
	at, err := b.code()
	if err != nil {
		return nil, err
	}
	if at == nil {
		return nil, &models.Error{Kind: models.Invalid, Message: "The slip was not written.",
			Fields: []models.FieldProblem{{Field: "at", Problem: "is missing; give the time code, like 12:04"}}}
	}
	s, err := a.Store.AddSlip(ctx, actor, in.Take, models.Slip{AtMS: *at, Wrong: b.Wrong, ShouldBe: b.ShouldBe, Remedy: models.Remedy(b.Remedy)})
	if err != nil {
		return nil, err
	}
	return &made[Slip]{etag(s.Revision), Prefix + "/slips/" + s.ID, slipView(*s)}, nil
}

func (a *api) getSlip(ctx context.Context, _ models.Actor, in *SlipPath) (*one[Slip], error) {
	s, err := a.Store.Slip(ctx, in.Slip)
	if err != nil {
		return nil, err
	}
	return &one[Slip]{etag(s.Revision), slipView(*s)}, nil
}

func (a *api) patchSlip(ctx context.Context, actor models.Actor, in *changeSlipInput) (*one[Slip], error) {
	revision, err := in.revision(func() (int, error) {
		s, err := a.Store.Slip(ctx, in.Slip)
		if err != nil {
			return 0, err
		}
		return s.Revision, nil
	})
	if err != nil {
		return nil, err
	}
	b := in.Body
	at, err := b.code()
	if err != nil {
		return nil, err
	}
	s, err := a.Store.ChangeSlip(ctx, actor, in.Slip, revision, models.SlipChange{AtMS: at, Wrong: b.Wrong, ShouldBe: b.ShouldBe, Remedy: b.Remedy, Mended: b.Mended})
	if err != nil {
		return nil, err
	}
	return &one[Slip]{etag(s.Revision), slipView(*s)}, nil
}
