package handlers

import (
	"context"
	"net/http"
	"time"

	"tenter/models"
)

// Take is one recording of an installment.
type Take struct {
	ID            string      `json:"id"`
	InstallmentID string      `json:"installment_id"`
	Number        int         `json:"number"`
	RecordedOn    models.Date `json:"recorded_on"`
	Seconds       *int        `json:"seconds"`
	Sample        *TakeSample `json:"sample"`
	VersionID     *string     `json:"version_id" doc:"The text that was read from."`
	Note          string      `json:"note"`
	AcceptedAt    *time.Time  `json:"accepted_at"`
	SetAsideAt    *time.Time  `json:"set_aside_at"`
	Revision      int         `json:"revision"`
	Slips         []Slip      `json:"slips" doc:"By time code."`
	Shots         []TakeShot  `json:"shots" doc:"By place in the take."`
}

// TakeSample is the sample that a take shows.
type TakeSample struct {
	ID    string `json:"id"`
	Label string `json:"label"`
}

func takeView(k models.Take) Take {
	out := Take{ID: k.ID, InstallmentID: k.InstallmentID, Number: k.Number, RecordedOn: k.RecordedOn, Seconds: k.Seconds, VersionID: k.VersionID,
		Note: k.Note, AcceptedAt: k.AcceptedAt, SetAsideAt: k.SetAsideAt, Revision: k.Revision, Slips: each(k.Slips, slipView), Shots: each(k.Shots, takeShotView)}
	if k.SampleID != nil {
		out.Sample = &TakeSample{*k.SampleID, k.SampleLabel}
	}
	return out
}

type TakePath struct {
	Take string `path:"take" maxLength:"36"`
}

type newTakeInput struct {
	InstallmentPath
	Body struct {
		RecordedOn models.Date `json:"recorded_on,omitempty" doc:"Today when absent."`
		Seconds    *int        `json:"seconds,omitempty"`
		SampleID   *string     `json:"sample_id,omitempty" maxLength:"36"`
		VersionID  *string     `json:"version_id,omitempty" maxLength:"36" doc:"The latest version when absent."`
		Note       string      `json:"note,omitempty"`
	}
}

type changeTakeInput struct {
	TakePath
	Precondition
	Body struct {
		RecordedOn *models.Date     `json:"recorded_on,omitempty"`
		Seconds    Optional[int]    `json:"seconds,omitempty"`
		SampleID   Optional[string] `json:"sample_id,omitempty"`
		Note       *string          `json:"note,omitempty"`
		Accepted   *bool            `json:"accepted,omitempty" doc:"Accepting brings a take back that was set aside."`
		SetAside   *bool            `json:"set_aside,omitempty" doc:"Setting aside takes an acceptance back."`
	}
}

func (a *api) takes() {
	add(a, created(operation("add-take", http.MethodPost, "/installments/{installment}/takes", "Add a take, the next number of its installment", "Filming")), a.postTake)
	add(a, operation("get-take", http.MethodGet, "/takes/{take}", "A take with its slips", "Filming"), a.getTake)
	add(a, operation("change-take", http.MethodPatch, "/takes/{take}", "Change a take, accept it or set it aside", "Filming"), a.patchTake)
}

func (a *api) postTake(ctx context.Context, actor models.Actor, in *newTakeInput) (*made[Take], error) {
	b := in.Body
	k, err := a.Store.AddTake(ctx, actor, in.Installment, models.Take{RecordedOn: b.RecordedOn, Seconds: b.Seconds, SampleID: b.SampleID, VersionID: b.VersionID, Note: b.Note})
	if err != nil {
		return nil, err
	}
	return &made[Take]{etag(k.Revision), Prefix + "/takes/" + k.ID, takeView(*k)}, nil
}

func (a *api) getTake(ctx context.Context, _ models.Actor, in *TakePath) (*one[Take], error) {
	k, err := a.Store.Take(ctx, in.Take)
	if err != nil {
		return nil, err
	}
	return &one[Take]{etag(k.Revision), takeView(*k)}, nil
}

func (a *api) patchTake(ctx context.Context, actor models.Actor, in *changeTakeInput) (*one[Take], error) {
	revision, err := in.revision(func() (int, error) {
		k, err := a.Store.Take(ctx, in.Take)
		if err != nil {
			return 0, err
		}
		return k.Revision, nil
	})
	if err != nil {
		return nil, err
	}
	b := in.Body
	k, err := a.Store.ChangeTake(ctx, actor, in.Take, revision, models.TakeChange{RecordedOn: b.RecordedOn, Seconds: b.Seconds.change(),
		SampleID: b.SampleID.change(), Note: b.Note, Accepted: b.Accepted, SetAside: b.SetAside})
	if err != nil {
		return nil, err
	}
	return &one[Take]{etag(k.Revision), takeView(*k)}, nil
}
