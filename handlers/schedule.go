package handlers

import (
	"context"
	"net/http"
	"slices"

	"tenter/models"
)

// Schedule is when everything that a design still needs can be done.
type Schedule struct {
	Today     models.Date     `json:"today"`
	Revision  int             `json:"revision" doc:"The design's, for a change of the estimates."`
	Tasks     []ScheduledTask `json:"tasks"`
	Chain     []string        `json:"critical_chain"`
	Words     string          `json:"words" doc:"The critical chain as a sentence, and on lines of their own what of other designs holds it up."`
	Week      []PersonWeek    `json:"week"`
	Findings  []string        `json:"findings"`
	Lacks     []string        `json:"lacks" doc:"What the schedule can't know."`
	Estimates []Estimate      `json:"estimates"`
	People    []WorkingPerson `json:"people" doc:"Those who have something to do."`
	Draws     int             `json:"draws"`
	Together  []DesignLink    `json:"together" doc:"The other designs in work that the same people work on."`
	Rule      string          `json:"rule" doc:"How they are planned together, in a sentence; empty when there are none."`
}

// DesignLink is a design with the path of its schedule.
type DesignLink struct {
	Name  string `json:"name"`
	Where string `json:"where"`
}

// ScheduledTask is a piece of work with its dates.
type ScheduledTask struct {
	Name           string      `json:"name"`
	Kind           string      `json:"kind" enum:"make,film,edit,caption,publish,air,reports,correct,review,release"`
	InstallmentID  string      `json:"installment_id,omitempty"`
	Who            string      `json:"who"`
	Expected       float64     `json:"expected"`
	Unit           string      `json:"unit" enum:"hours,days"`
	On             models.Date `json:"on,omitempty" doc:"Announced for this day."`
	Due            models.Date `json:"due,omitempty"`
	After          []string    `json:"after"`
	EarliestStart  string      `json:"earliest_start"`
	EarliestFinish string      `json:"earliest_finish"`
	LatestStart    string      `json:"latest_start"`
	LatestFinish   string      `json:"latest_finish"`
	PlannedStart   string      `json:"planned_start"`
	PlannedFinish  string      `json:"planned_finish"`
	SlackDays      int         `json:"slack_days"`
	Critical       bool        `json:"critical"`
	LateByDays     int         `json:"late_by_days"`
	Probability    *float64    `json:"probability" doc:"That its day is kept; null without a day."`
	StandardError  *float64    `json:"standard_error"`
	LaterDays      int         `json:"later_days" doc:"By which other designs' work pushes the planned days back."`
	Waits          string      `json:"waits" doc:"What of another design its person is at when it could be started, in a sentence; empty when nothing."`
	WaitsFrom      models.Date `json:"waits_from,omitempty" doc:"The day on which it could be started but for that."`
	WaitsFor       []WeekTask  `json:"waits_for" doc:"What its person is at until then."`
	Through        string      `json:"through" doc:"The task that waits, where this one is later only because of it."`
}

func scheduledTaskView(t models.ScheduledTask) ScheduledTask {
	p := t.Plan
	return ScheduledTask{t.Name, t.Kind, t.Installment, t.Who, t.Expected, t.Unit, t.On, t.Due, texts(t.After), p.EarliestStart, p.EarliestFinish,
		p.LatestStart, p.LatestFinish, p.PlannedStart, p.PlannedFinish, p.SlackDays, p.Critical, p.LateByDays, p.Probability, p.StandardError,
		t.LaterDays, t.Waits, t.WaitsFrom, each(t.WaitsFor, weekTaskView), t.Through}
}

// PersonWeek is what somebody begins within a week.
type PersonWeek struct {
	Who   string     `json:"who"`
	Tasks []WeekTask `json:"tasks"`
}

// WeekTask is a piece of work with its planned days.
type WeekTask struct {
	Design string      `json:"design"`
	Where  string      `json:"where" doc:"Path of the design's schedule."`
	Name   string      `json:"name"`
	From   models.Date `json:"from"`
	Until  models.Date `json:"until"`
	Due    models.Date `json:"due,omitempty"`
}

func weekView(w models.PersonWeek) PersonWeek {
	return PersonWeek{w.Who, each(w.Tasks, weekTaskView)}
}

func weekTaskView(t models.WeekTask) WeekTask {
	return WeekTask{t.Design.Name, screen(t.Design.Slug, "schedule"), t.Name, t.From, t.Until, t.Due}
}

// Estimate is how long a kind of work takes.
type Estimate struct {
	Kind   string  `json:"kind" enum:"make,film,edit,caption,publish,reports,correct,review"`
	Low    float64 `json:"low"`
	Likely float64 `json:"likely"`
	High   float64 `json:"high"`
	Unit   string  `json:"unit" enum:"hours,days,times"`
	Source string  `json:"source" enum:"chosen,learned,stated"`
	From   int     `json:"from" doc:"How many it was learned from."`
}

func estimatesView(all map[string]models.Estimate) []Estimate {
	out := []Estimate{}
	for _, kind := range []string{"make", "film", "edit", "caption", "publish", "reports", "correct", "review"} {
		e := all[kind]
		out = append(out, Estimate{kind, e.Low, e.Likely, e.High, e.Unit, e.Source, e.From})
	}
	return out
}

// WorkingPerson is when somebody works.
type WorkingPerson struct {
	Handle      string   `json:"handle"`
	PersonID    string   `json:"person_id"`
	Days        []string `json:"days"`
	HoursPerDay float64  `json:"hours_per_day"`
}

func scheduleView(s *models.Schedule) Schedule {
	out := Schedule{Today: s.Today, Revision: s.Design.Revision, Tasks: each(s.Tasks, scheduledTaskView), Chain: texts(s.Chain), Words: s.Words, Week: each(s.Week, weekView),
		Findings: texts(s.Findings), Lacks: texts(s.Lacks), Estimates: estimatesView(s.Estimates), People: []WorkingPerson{}, Draws: s.Draws, Rule: s.Rule,
		Together: each(s.Together, func(d *models.Design) DesignLink { return DesignLink{d.Name, screen(d.Slug, "schedule")} })}
	for handle, w := range s.People {
		out.People = append(out.People, WorkingPerson{handle, w.PersonID, texts(w.DayList()), w.HoursPerDay})
	}
	slices.SortFunc(out.People, func(a, b WorkingPerson) int {
		if a.Handle < b.Handle {
			return -1
		}
		return 1
	})
	return out
}

// MovedDay is an installment's announced day as it is tried.
type MovedDay struct {
	InstallmentID string                `json:"installment_id" maxLength:"36"`
	AirOn         Optional[models.Date] `json:"air_on" doc:"null takes the day away."`
}

// AddedSample is a camera sample as it is tried.
type AddedSample struct {
	State Optional[string] `json:"state,omitempty" doc:"Worked to this state; absent or null: the beginning."`
}

// ChangedHours is how much somebody works as it is tried.
type ChangedHours struct {
	PersonID    string   `json:"person_id" maxLength:"36"`
	HoursPerDay float64  `json:"hours_per_day"`
	Days        []string `json:"days,omitempty" maxItems:"7"`
}

type tryScheduleInput struct {
	DesignPath
	Body struct {
		AirOn      []MovedDay            `json:"air_on,omitempty" maxItems:"100"`
		ReleasedOn Optional[models.Date] `json:"released_on,omitempty"`
		Samples    []AddedSample         `json:"samples,omitempty" maxItems:"20"`
		People     []ChangedHours        `json:"people,omitempty" maxItems:"50"`
	}
}

// TriedSchedule is a schedule before and after a change that is not saved.
type TriedSchedule struct {
	Before  Schedule `json:"before"`
	After   Schedule `json:"after"`
	Changes []string `json:"changes"`
}

type putEstimatesInput struct {
	DesignPath
	Precondition
	Body struct {
		Estimates []EstimateIn `json:"estimates" maxItems:"8"`
	}
}

// EstimateIn is an estimate as the designer states it.
type EstimateIn struct {
	Kind   string  `json:"kind" maxLength:"20"`
	Low    float64 `json:"low"`
	Likely float64 `json:"likely"`
	High   float64 `json:"high"`
}

// Estimates are a design's estimates.
type Estimates struct {
	Estimates []Estimate `json:"estimates"`
	Revision  int        `json:"revision" doc:"The design's."`
}

// StudioWeek is what each person does this week over all designs.
type StudioWeek struct {
	Today models.Date  `json:"today"`
	Week  []PersonWeek `json:"week"`
	Holds []StudioHold `json:"holds" doc:"Samples that must not be worked on before a shot is recorded."`
	Left  []string     `json:"left" doc:"Designs that were left out, and why."`
}

// StudioHold is a sample of a design that must stay where a shot needs it.
type StudioHold struct {
	Hold
	HeldBy string `json:"held_by"`
	Design string `json:"design"`
	Where  string `json:"where" doc:"Path of the design's filming page."`
}

func (a *api) schedules() {
	add(a, operation("get-schedule", http.MethodGet, "/designs/{design}/schedule", "When everything that a design needs can be done, and how likely its days are kept", "Schedule"), a.getSchedule)
	add(a, operation("try-schedule", http.MethodPost, "/designs/{design}/schedule/try", "What a change would do to the schedule; nothing is saved", "Schedule"), a.postTrySchedule)
	add(a, operation("put-estimates", http.MethodPut, "/designs/{design}/estimates", "Say how long kinds of work take in a design", "Schedule"), a.putEstimates)
	add(a, operation("get-studio-week", http.MethodGet, "/studio/week", "This week for each person, over all designs", "Schedule"), a.getStudioWeek)
}

func (a *api) getSchedule(ctx context.Context, _ models.Actor, in *DesignPath) (*plain[Schedule], error) {
	s, err := a.Store.Schedule(ctx, in.Design)
	if err != nil {
		return nil, err
	}
	return &plain[Schedule]{scheduleView(s)}, nil
}

func (a *api) postTrySchedule(ctx context.Context, _ models.Actor, in *tryScheduleInput) (*plain[TriedSchedule], error) {
	b := in.Body
	wish := models.ScheduleWish{ReleasedOn: dateChange(b.ReleasedOn)}
	for _, x := range b.AirOn {
		wish.Air = append(wish.Air, models.AirWish{InstallmentID: x.InstallmentID, AirOn: x.AirOn.Value})
	}
	for _, x := range b.Samples {
		w := models.SampleWish{}
		if state := x.State.change(); state != nil {
			w.StateID = *state
		}
		wish.Samples = append(wish.Samples, w)
	}
	for _, x := range b.People {
		wish.People = append(wish.People, models.HoursWish{PersonID: x.PersonID, HoursPerDay: x.HoursPerDay, Days: x.Days})
	}
	t, err := a.Store.TrySchedule(ctx, in.Design, wish)
	if err != nil {
		return nil, err
	}
	return &plain[TriedSchedule]{TriedSchedule{scheduleView(t.Before), scheduleView(t.After), texts(t.Changes)}}, nil
}

func (a *api) putEstimates(ctx context.Context, actor models.Actor, in *putEstimatesInput) (*one[Estimates], error) {
	revision, err := in.revision(a.designRevision(ctx, in.Design))
	if err != nil {
		return nil, err
	}
	all, after, err := a.Store.PutEstimates(ctx, actor, in.Design, revision, each(in.Body.Estimates, func(e EstimateIn) models.Estimate {
		return models.Estimate{Kind: e.Kind, Low: e.Low, Likely: e.Likely, High: e.High}
	}))
	if err != nil {
		return nil, err
	}
	return &one[Estimates]{etag(after), Estimates{estimatesView(all), after}}, nil
}

func (a *api) getStudioWeek(ctx context.Context, _ models.Actor, _ *struct{}) (*plain[StudioWeek], error) {
	w, err := a.Store.StudioWeek(ctx)
	if err != nil {
		return nil, err
	}
	return &plain[StudioWeek]{StudioWeek{w.Today, each(w.Week, weekView), each(w.Holds, func(h models.StudioHold) StudioHold {
		return StudioHold{holdView(h.Hold), h.Holder, h.Design.Name, screen(h.Design.Slug, "filming")}
	}), texts(w.Left)}}, nil
}
