package handlers

import (
	"context"
	"net/http"

	"tenter/models"
)

// FilmingPlan is which sample shows which shot and what has to be made for it.
type FilmingPlan struct {
	Today        models.Date       `json:"today"`
	SizeID       *string           `json:"size_id" doc:"The filmed size; null when none is marked."`
	SizeName     string            `json:"size_name"`
	States       []PlanState       `json:"states" doc:"The beginning first; the place in this list is a state's rank."`
	Speed        MakingSpeed       `json:"speed"`
	HoursPerDay  float64           `json:"hours_per_day"`
	SameDayHours float64           `json:"same_day_hours"`
	Shots        []PlannedShot     `json:"shots" doc:"Unrecorded, in the order of filming."`
	Undated      []PlannedShot     `json:"undated" doc:"Unrecorded, without a day."`
	Lines        []SampleLine      `json:"lines" doc:"What becomes of each sample."`
	Installments []InstallmentPlan `json:"installments"`
	NewSamples   int               `json:"new_samples"`
	Hours        float64           `json:"hours" doc:"Of making off camera in all."`
	Warnings     []string          `json:"warnings"`
	Holds        []Hold            `json:"holds" doc:"Samples that must not be worked on."`
	Unlogged     []Unlogged        `json:"unlogged" doc:"Samples whose state is older than their last accepted shot."`
	Unsaid       int               `json:"unsaid" doc:"States whose making nobody has said; it counts as none."`
}

// PlanState is a state with the making from the one before it.
type PlanState struct {
	StateID *string  `json:"state_id"`
	Words   string   `json:"words"`
	Hours   float64  `json:"hours"`
	Known   bool     `json:"known"`
	Trouble string   `json:"trouble,omitempty"`
	End     bool     `json:"end"`
	Stitch  *float64 `json:"stitches"`
}

// PlannedShot is an unrecorded shot with its day and its sample.
type PlannedShot struct {
	ShotID      string      `json:"shot_id,omitempty" doc:"Absent for an installment without shots, which is planned whole."`
	Installment string      `json:"installment_id"`
	Label       string      `json:"label"`
	On          models.Date `json:"on,omitempty"`
	Overdue     bool        `json:"overdue" doc:"It was to be recorded earlier, and is planned for today."`
	From        int         `json:"from"`
	To          int         `json:"to"`
	SampleID    string      `json:"sample_id,omitempty"`
	Sample      string      `json:"sample"`
	HeldBy      string      `json:"held_by"`
	New         bool        `json:"new"`
	Spare       string      `json:"spare,omitempty" doc:"A sample that stands in its state already, although the plan uses another so that fewer are in use."`
	WorkHours   float64     `json:"work_hours"`
	StartBy     models.Date `json:"start_by,omitempty"`
	Message     string      `json:"message,omitempty" doc:"Why nothing can show it."`
}

func plannedShotView(x models.PlannedShot) PlannedShot {
	return PlannedShot{x.Shot.ID, x.Installment, x.Label, x.On, x.Overdue, x.From, x.To, x.SampleID, x.Sample, x.Holder, x.New, x.Spare, x.WorkHours, x.StartBy, x.Message}
}

// SampleLine is a sample moving through states over days.
type SampleLine struct {
	SampleID string       `json:"sample_id,omitempty"`
	Label    string       `json:"label"`
	HeldBy   string       `json:"held_by"`
	New      bool         `json:"new"`
	Steps    []SampleStep `json:"steps"`
}

// SampleStep is where a sample is on a day.
type SampleStep struct {
	On    models.Date `json:"on"`
	Rank  int         `json:"rank"`
	Kind  string      `json:"kind" enum:"here,made,shown"`
	Words string      `json:"words"`
	Hours float64     `json:"hours"`
}

// InstallmentPlan is an unrecorded installment's days.
type InstallmentPlan struct {
	ID          string      `json:"id"`
	Unrecorded  int         `json:"unrecorded"`
	Of          int         `json:"of"`
	RecordBy    models.Date `json:"record_by,omitempty"`
	ShootOn     models.Date `json:"shoot_on,omitempty"`
	StartBy     models.Date `json:"start_by,omitempty"`
	MakingHours float64     `json:"making_hours"`
	DaysLeft    *int        `json:"days_left" doc:"To the day of the recording."`
	Can         bool        `json:"can" doc:"Every unrecorded shot has a sample."`
}

// Hold is a sample that must stay where a shot needs it.
type Hold struct {
	SampleID string      `json:"sample_id"`
	Label    string      `json:"label"`
	StateID  *string     `json:"state_id"`
	AtIt     bool        `json:"at_it"`
	Until    models.Date `json:"until,omitempty"`
	Sentence string      `json:"sentence"`
}

func holdView(h models.Hold) Hold {
	return Hold{h.SampleID, h.Label, h.StateID, h.AtIt, h.Until, h.Sentence}
}

type filmingPlanQuery struct {
	DesignPath
	HoursPerDay float64 `query:"hours_per_day" minimum:"0" maximum:"24" doc:"Of making; the makers' own when absent."`
}

func (a *api) filmingPlans() {
	add(a, operation("plan-filming", http.MethodGet, "/designs/{design}/filming-plan", "Which sample shows which shot, and what has to be made for it", "Filming"), a.getFilmingPlan)
}

func (a *api) getFilmingPlan(ctx context.Context, _ models.Actor, in *filmingPlanQuery) (*plain[FilmingPlan], error) {
	p, err := a.Store.PlanFilming(ctx, in.Design, in.HoursPerDay)
	if err != nil {
		return nil, err
	}
	return &plain[FilmingPlan]{filmingPlanView(p)}, nil
}

func filmingPlanView(p *models.FilmingPlan) FilmingPlan {
	out := FilmingPlan{Today: p.Today, Speed: speedView(p.Speed), HoursPerDay: p.HoursPerDay, SameDayHours: p.SameDayHours,
		States: []PlanState{{Words: p.States.Name(0), Known: true}}, Shots: each(p.Shots, plannedShotView), Undated: each(p.Undated, plannedShotView),
		Lines: each(p.Lines, sampleLineView), NewSamples: p.NewSamples, Hours: p.Hours, Warnings: each(p.Warnings, func(w string) string { return w }),
		Holds: each(p.Holds, holdView), Unlogged: each(p.Unlogged, unloggedView), Unsaid: p.Unsaid,
		Installments: each(p.Installments, func(n models.InstallmentPlan) InstallmentPlan {
			return InstallmentPlan{n.ID, n.Unrecorded, n.Of, n.RecordBy, n.ShootOn, n.StartBy, hundredth(n.MakingHours), n.DaysLeft, n.Can}
		})}
	if p.Size != nil {
		out.SizeID, out.SizeName = &p.Size.ID, p.Size.Name
	}
	for i, x := range p.Making {
		out.States = append(out.States, PlanState{&x.State.ID, p.States.Name(i + 1), x.Hours, x.Known, x.Trouble, x.State.IsEnd(), x.Stitches})
	}
	return out
}

func sampleLineView(l models.SampleLine) SampleLine {
	return SampleLine{l.SampleID, l.Label, l.Holder, l.New, each(l.Steps, func(s models.SampleStep) SampleStep {
		return SampleStep{s.On, s.Rank, s.Kind, s.Words, s.Hours}
	})}
}

// Unlogged is a sample whose state is older than its last accepted shot. That it
// is worked further is logged as a move, by somebody who has it before them.
type Unlogged struct {
	SampleID string  `json:"sample_id"`
	Label    string  `json:"label"`
	StateID  *string `json:"state_id" doc:"Where its last accepted shot left it."`
	State    string  `json:"state"`
	ShotID   string  `json:"shot_id"`
	Sentence string  `json:"sentence"`
}

func unloggedView(u models.Unlogged) Unlogged {
	return Unlogged{u.SampleID, u.Label, u.StateID, u.State, u.ShotID, u.Sentence}
}
