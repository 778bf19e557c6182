package handlers

import (
	"context"
	"fmt"

	"tenter/models"
)

// TakeShot is a shot in a take.
type TakeShot struct {
	ShotID   string  `json:"shot_id"`
	At       *string `json:"at" doc:"Where it begins in the take, a time code; null: not stamped."`
	Until    *string `json:"until" doc:"Where it ends; null: where the next begins."`
	Accepted bool    `json:"accepted"`
}

func takeShotView(s models.TakeShot) TakeShot {
	return TakeShot{s.ShotID, codeView(s.AtMS), codeView(s.UntilMS), s.AcceptedAt != nil}
}

// SaidNumber is what was said for a count in the filmed size.
type SaidNumber struct {
	Count string  `json:"count"`
	Said  float64 `json:"said"`
}

func saidView(n models.SaidNumber) SaidNumber { return SaidNumber{n.CountName, n.Said} }

// TakeShotIn is a shot as it is to stand in a take.
type TakeShotIn struct {
	ShotID   string        `json:"shot_id" maxLength:"36"`
	At       *string       `json:"at,omitempty" maxLength:"20"`
	Until    *string       `json:"until,omitempty" maxLength:"20"`
	Accepted bool          `json:"accepted,omitempty"`
	Said     *[]SaidNumber `json:"said,omitempty" maxItems:"30" doc:"Absent: what was noted before, or what the take's version gives."`
}

type putTakeShotsInput struct {
	TakePath
	Precondition
	Body struct {
		Shots []TakeShotIn `json:"shots" maxItems:"60"`
	}
}

func (a *api) putTakeShots(ctx context.Context, actor models.Actor, in *putTakeShotsInput) (*one[Take], error) {
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
	wishes := make([]models.TakeShotWish, len(in.Body.Shots))
	for i, s := range in.Body.Shots {
		w := models.TakeShotWish{ShotID: s.ShotID, Accepted: s.Accepted}
		if w.At, err = readCode(fmt.Sprintf("shots[%d].at", i), s.At); err != nil {
			return nil, err
		}
		if w.Until, err = readCode(fmt.Sprintf("shots[%d].until", i), s.Until); err != nil {
			return nil, err
		}
		if s.Said != nil {
			said := each(*s.Said, func(n SaidNumber) models.SaidNumber { return models.SaidNumber{CountName: n.Count, Said: n.Said} })
			w.Said = &said
		}
		wishes[i] = w
	}
	k, err := a.Store.PutTakeShots(ctx, actor, in.Take, revision, wishes)
	if err != nil {
		return nil, err
	}
	return &one[Take]{etag(k.Revision), takeView(*k)}, nil
}
