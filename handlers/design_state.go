package handlers

import (
	"context"
	"net/http"

	"tenter/models"
)

// DesignState is a point of the text that a sample is worked to.
type DesignState struct {
	ID            string   `json:"id" doc:"The end of an installment has the installment's id."`
	InstallmentID string   `json:"installment_id"`
	Name          string   `json:"name" doc:"Within its installment; empty for the end of one."`
	Words         string   `json:"words" doc:"As sentences name it."`
	End           bool     `json:"end"`
	Stitches      string   `json:"stitches" doc:"Made since the state before: an expression over counts."`
	Hours         *float64 `json:"hours" doc:"Of making since the state before, where the stitches don't tell."`
}

// DesignStates are a design's states in the order of making.
type DesignStates struct {
	States   []DesignState `json:"states"`
	Revision int           `json:"revision" doc:"The design's."`
}

func statesView(states models.States) []DesignState {
	return each(states, func(d models.DesignState) DesignState { return stateView(d, d.Name) })
}

func stateView(d models.DesignState, words string) DesignState {
	out := DesignState{ID: d.ID, InstallmentID: d.InstallmentID, Words: words, End: d.IsEnd(), Stitches: d.Stitches, Hours: d.Hours}
	if !out.End {
		out.Name = d.Within()
	}
	return out
}

// DesignStateIn is a state as it is set.
type DesignStateIn struct {
	ID            string   `json:"id,omitempty" maxLength:"36" doc:"Of a state that is there; the installment's id for its end."`
	InstallmentID string   `json:"installment_id" maxLength:"36"`
	Name          string   `json:"name,omitempty"`
	Stitches      string   `json:"stitches,omitempty"`
	Hours         *float64 `json:"hours,omitempty"`
}

type putStatesInput struct {
	DesignPath
	Precondition
	Body struct {
		States []DesignStateIn `json:"states" maxItems:"400"`
	}
}

type makingQuery struct {
	DesignPath
	Person string `query:"person" maxLength:"36" doc:"At whose speed; the studio's when absent."`
}

// Making is how long each stretch takes in each size.
type Making struct {
	Speed  MakingSpeed     `json:"speed"`
	States []DesignState   `json:"states"`
	Sizes  []MakingForSize `json:"sizes"`
}

// MakingSpeed is how fast somebody makes.
type MakingSpeed struct {
	StitchesPerHour float64 `json:"stitches_per_hour"`
	LoggedHours     float64 `json:"logged_hours"`
	Source          string  `json:"source" enum:"stated,logged,studio,usual"`
}

func speedView(s models.MakingSpeed) MakingSpeed {
	return MakingSpeed{hundredth(s.StitchesPerHour), s.Hours, s.Source}
}

// MakingForSize is a size's stretches, in the order of the states.
type MakingForSize struct {
	SizeID    string          `json:"size_id"`
	Name      string          `json:"name"`
	Stretches []MakingStretch `json:"stretches"`
}

// MakingStretch is the making of one state from the one before it.
type MakingStretch struct {
	Stitches *float64 `json:"stitches"`
	Hours    float64  `json:"hours"`
	Known    bool     `json:"known" doc:"False: nobody has said what is made here."`
	Trouble  string   `json:"trouble,omitempty"`
}

func stretchView(x models.Stretch) MakingStretch {
	return MakingStretch{x.Stitches, x.Hours, x.Known, x.Trouble}
}

// SampleAhead is what working a sample to a state would mean.
type SampleAhead struct {
	StateID  *string  `json:"state_id" doc:"null for the beginning."`
	Words    string   `json:"words"`
	Here     bool     `json:"here"`
	Back     bool     `json:"back" doc:"The sample would have to be ripped back."`
	Hours    float64  `json:"hours" doc:"Of making to get there, or that ripping back would lose."`
	Warnings []string `json:"warnings" doc:"What no sample could show any more."`
}

func (a *api) designStates() {
	add(a, operation("get-states", http.MethodGet, "/designs/{design}/states", "The points of a design's text that samples are worked to", "Filming"), a.getStates)
	add(a, operation("put-states", http.MethodPut, "/designs/{design}/states", "Set the states and what is made in each", "Filming"), a.putStates)
	add(a, operation("get-making", http.MethodGet, "/designs/{design}/making", "How long each stretch takes, for each size", "Filming"), a.getMaking)
	add(a, operation("look-ahead", http.MethodGet, "/samples/{sample}/ahead", "What working a sample to each state would mean", "Samples"), a.getAhead)
}

func (a *api) getStates(ctx context.Context, _ models.Actor, in *DesignPath) (*one[DesignStates], error) {
	design, err := a.Store.Design(ctx, in.Design)
	if err != nil {
		return nil, err
	}
	states, err := a.Store.DesignStates(ctx, design.ID)
	if err != nil {
		return nil, err
	}
	return &one[DesignStates]{etag(design.Revision), DesignStates{statesView(states), design.Revision}}, nil
}

func (a *api) putStates(ctx context.Context, actor models.Actor, in *putStatesInput) (*one[DesignStates], error) {
	revision, err := in.revision(a.designRevision(ctx, in.Design))
	if err != nil {
		return nil, err
	}
	states, after, err := a.Store.PutStates(ctx, actor, in.Design, revision, each(in.Body.States, func(d DesignStateIn) models.DesignState {
		return models.DesignState{ID: d.ID, InstallmentID: d.InstallmentID, Name: d.Name, Stitches: d.Stitches, Hours: d.Hours}
	}))
	if err != nil {
		return nil, err
	}
	return &one[DesignStates]{etag(after), DesignStates{statesView(states), after}}, nil
}

func (a *api) getMaking(ctx context.Context, _ models.Actor, in *makingQuery) (*plain[Making], error) {
	var person *string
	if in.Person != "" {
		person = &in.Person
	}
	m, err := a.Store.Making(ctx, in.Design, person)
	if err != nil {
		return nil, err
	}
	out := Making{Speed: speedView(m.Speed), States: statesView(m.States), Sizes: []MakingForSize{}}
	for i, z := range m.Sizes {
		out.Sizes = append(out.Sizes, MakingForSize{z.ID, z.Name, each(m.BySize[i], stretchView)})
	}
	return &plain[Making]{out}, nil
}

func (a *api) getAhead(ctx context.Context, _ models.Actor, in *SamplePath) (*listOf[SampleAhead], error) {
	rows, err := a.Store.Ahead(ctx, in.Sample)
	if err != nil {
		return nil, err
	}
	return list(rows, "", func(x models.Ahead) SampleAhead {
		out := SampleAhead{Words: x.Name, Here: x.Here, Back: x.Back, Hours: x.Hours, Warnings: each(x.Warnings, func(w string) string { return w })}
		if x.State.ID != "" {
			out.StateID = &x.State.ID
		}
		return out
	}), nil
}
