package handlers

import (
	"context"

	"tenter/models"
)

type moveSampleInput struct {
	SamplePath
	Precondition
	Body struct {
		WorkedThrough Optional[string] `json:"worked_through,omitempty" doc:"An installment's id; null for before the first."`
		State         Optional[string] `json:"state,omitempty" doc:"A state's id, in place of worked_through; null for the beginning."`
		Hours         *float64         `json:"hours,omitempty" doc:"Of making that it took."`
		WorkedNote    *string          `json:"worked_note,omitempty" doc:"Emptied by a new worked_through that comes without one."`
		HeldBy        Optional[string] `json:"held_by,omitempty" doc:"A person's id; null for nobody on file."`
		HeldNote      *string          `json:"held_note,omitempty" doc:"Emptied by a new held_by that comes without one."`
		RippedBack    bool             `json:"ripped_back,omitempty" doc:"The work was taken back on purpose; needed to move back."`
		Note          string           `json:"note,omitempty"`
	}
}

// MovedSample is a sample after a move, with what the move has cost.
type MovedSample struct {
	Sample
	Warnings []string `json:"warnings" doc:"Installments that no sample can show any more although they are not recorded."`
}

func (a *api) postMove(ctx context.Context, actor models.Actor, in *moveSampleInput) (*made[MovedSample], error) {
	revision, err := in.revision(a.sampleRevision(ctx, in.Sample))
	if err != nil {
		return nil, err
	}
	b := in.Body
	s, warnings, err := a.Store.MoveSample(ctx, actor, in.Sample, revision, models.Move{WorkedThrough: b.WorkedThrough.change(), WorkedNote: b.WorkedNote,
		HeldBy: b.HeldBy.change(), HeldNote: b.HeldNote, RippedBack: b.RippedBack, Note: b.Note, State: b.State.change(), Hours: b.Hours})
	if err != nil {
		return nil, err
	}
	view, err := a.viewSample(ctx, s)
	if err != nil {
		return nil, err
	}
	return &made[MovedSample]{etag(s.Revision), Prefix + "/samples/" + s.ID,
		MovedSample{view, each(warnings, func(w string) string { return w })}}, nil
}
