package handlers

import (
	"context"
	"math"
	"net/http"

	"tenter/models"
	"tenter/models/assign"
)

// Plan is the best way to fill a call's sizes, beside how they are filled now.
type Plan struct {
	Probability float64      `json:"probability" doc:"Asked of each size."`
	Objective   PlanReach    `json:"objective"`
	Sizes       []PlanSize   `json:"sizes"`
	People      []PlanPerson `json:"people" doc:"By handle."`
	Shortfalls  []string     `json:"shortfalls" doc:"Why sizes stay short, in words."`
	Warnings    []string     `json:"warnings"`
}

// PlanReach is what the plan reaches, in the order in which it counts.
type PlanReach struct {
	Short       int     `json:"short"`
	BelowWanted int     `json:"below_wanted"`
	Preference  int     `json:"preference" doc:"Places down their lists, summed."`
	Expected    float64 `json:"expected" doc:"Reports to expect by the records alone."`
}

// PlanSize is one size in a plan.
type PlanSize struct {
	SizeID   string       `json:"size_id"`
	Name     string       `json:"name"`
	Fewest   int          `json:"fewest"`
	Wanted   int          `json:"wanted"`
	Most     int          `json:"most"`
	Present  int          `json:"present" doc:"Testers now."`
	Proposed int          `json:"proposed"`
	Now      SizeCoverage `json:"now"`
	Then     SizeCoverage `json:"then" doc:"With the testers of the plan."`
	Recruit  int          `json:"recruit" doc:"Newcomers who would lift it to the asked probability."`
	Reserve  []string     `json:"reserve" doc:"Ids of people without a size who listed it, best first."`
}

// SizeCoverage says how many reports a size will get.
type SizeCoverage struct {
	Reports     []float64 `json:"reports" doc:"Probability of no report, of one, ... of all."`
	Probability float64   `json:"probability" doc:"That at least the fewest come."`
	Lowered     float64   `json:"probability_lowered" doc:"The same, every tester's own lowered by 0.1."`
	Message     string    `json:"message"`
}

// PlanPerson is one applicant or tester in a plan.
type PlanPerson struct {
	PersonID     string       `json:"person_id"`
	Handle       string       `json:"handle"`
	Sizes        []string     `json:"sizes" doc:"Listed, the best first."`
	Record       TesterRecord `json:"record"`
	Probability  float64      `json:"probability" doc:"That they finish, as things stand."`
	State        assign.State `json:"state" enum:"working,quiet,reported,withdrawn"`
	AssignmentID string       `json:"assignment_id,omitempty"`
	Revision     int          `json:"revision,omitempty" doc:"Of the assignment."`
	Accepted     bool         `json:"accepted"`
	Present      string       `json:"present,omitempty" doc:"The size that they have."`
	Proposed     string       `json:"proposed,omitempty" doc:"The size that they should have."`
	Place        int          `json:"place" doc:"Of the proposed size in their list; 0 when it isn't listed."`
	Change       string       `json:"change" enum:"keep,ask,move,release,none"`
	Reason       string       `json:"reason"`
	Out          string       `json:"out,omitempty" doc:"Why the plan leaves them out."`
}

// TesterRecord is what the studio knows of a tester and what they told.
type TesterRecord struct {
	Taken          int      `json:"taken" doc:"Tests in other calls that are settled."`
	InTime         int      `json:"in_time"`
	Late           int      `json:"late"`
	Dropped        int      `json:"dropped"`
	Running        int      `json:"running"`
	MedianDaysLate *float64 `json:"median_days_late" doc:"Below zero is early."`
	Completeness   *float64 `json:"completeness" doc:"Mean share of the points measured."`
	ToldTaken      int      `json:"told_taken"`
	ToldFinished   int      `json:"told_finished"`
	CountedTaken   int      `json:"counted_taken" doc:"What planning goes by."`
	CountedInTime  int      `json:"counted_in_time"`
	Sentence       string   `json:"sentence"`
}

func recordView(r models.TesterRecord) TesterRecord {
	taken, finished := r.Counted()
	return TesterRecord{Taken: r.Taken, InTime: r.InTime, Late: r.Late, Dropped: r.Dropped, Running: r.Running, MedianDaysLate: r.MedianDaysLate,
		Completeness: r.Completeness, ToldTaken: r.ToldTaken, ToldFinished: r.ToldFinished, CountedTaken: taken, CountedInTime: finished, Sentence: r.Sentence()}
}

// thousandth rounds a probability for show.
func thousandth(p float64) float64 { return math.Round(p*1000) / 1000 }

func coverageView(c assign.Coverage) SizeCoverage {
	return SizeCoverage{Reports: each(c.Reports, thousandth), Probability: thousandth(c.Probability), Lowered: thousandth(c.Lowered), Message: c.Message}
}

func planView(p *models.Plan) Plan {
	o := p.Objective
	return Plan{Probability: p.Probability, Objective: PlanReach{o.Short, o.BelowWanted, o.Preference, thousandth(o.Probability)},
		Shortfalls: p.Shortfalls, Warnings: p.Warnings,
		Sizes: each(p.Sizes, func(z models.PlanSize) PlanSize {
			return PlanSize{z.Slot.SizeID, z.Name, z.Slot.Fewest, z.Slot.Wanted, z.Slot.Most, z.Present, z.Proposed, coverageView(z.Now), coverageView(z.Then), z.Recruit, z.Reserve}
		}),
		People: each(p.People, func(o models.PlanPerson) PlanPerson {
			return PlanPerson{PersonID: o.PersonID, Handle: o.Handle, Sizes: o.Sizes, Record: recordView(o.Record), Probability: thousandth(o.Probability), State: o.State,
				AssignmentID: o.AssignmentID, Revision: o.Revision, Accepted: o.Accepted, Present: o.Present, Proposed: o.Proposed, Place: o.Place,
				Change: o.Change, Reason: o.Reason, Out: o.Out}
		})}
}

// PlanPairIn is a person and a size.
type PlanPairIn struct {
	PersonID string `json:"person_id" maxLength:"36"`
	SizeID   string `json:"size_id" maxLength:"36"`
}

func (in PlanPairIn) pair() models.PlanPair { return models.PlanPair(in) }

type planInput struct {
	CallPath
	Body struct {
		Fixed       []PlanPairIn `json:"fixed,omitempty" maxItems:"500"`
		Forbidden   []PlanPairIn `json:"forbidden,omitempty" maxItems:"500"`
		MoveAsked   bool         `json:"move_asked,omitempty" doc:"May those be moved who were asked and have not answered?"`
		Probability *float64     `json:"probability,omitempty" doc:"Asked of each size; 0.9 when absent."`
	}
}

type takePlanInput struct {
	CallPath
	Body struct {
		Changes []PlanChangeIn `json:"changes" maxItems:"500"`
		DueOn   models.Date    `json:"due_on,omitempty" doc:"Of those who are asked; the call's own last day when absent."`
	}
}

// PlanChangeIn is one line of a plan to be carried out.
type PlanChangeIn struct {
	PersonID     string `json:"person_id" maxLength:"36"`
	SizeID       string `json:"size_id,omitempty" maxLength:"36" doc:"Absent: release them."`
	AssignmentID string `json:"assignment_id,omitempty" maxLength:"36" doc:"Of who has a size."`
	Revision     *int   `json:"revision,omitempty" doc:"Of that assignment, as the plan gave it."`
}

func (in PlanChangeIn) change() models.PlanChange { return models.PlanChange(in) }

func (a *api) plans() {
	add(a, operation("plan-call", http.MethodPost, "/calls/{call}/plan", "Propose who makes which size; writes nothing", "Testing"), a.postPlan)
	add(a, operation("take-plan", http.MethodPost, "/calls/{call}/plan/take", "Carry out a plan, whole or in part, all of it or nothing", "Testing"), a.postTakePlan)
}

func (a *api) postPlan(ctx context.Context, _ models.Actor, in *planInput) (*plain[Plan], error) {
	b := in.Body
	p, err := a.Store.Plan(ctx, in.Call, models.WhatIf{Fixed: each(b.Fixed, PlanPairIn.pair), Forbidden: each(b.Forbidden, PlanPairIn.pair),
		MoveAsked: b.MoveAsked, Probability: b.Probability})
	if err != nil {
		return nil, err
	}
	return &plain[Plan]{planView(p)}, nil
}

func (a *api) postTakePlan(ctx context.Context, actor models.Actor, in *takePlanInput) (*listOf[Assignment], error) {
	rows, err := a.Store.TakePlan(ctx, actor, in.Call, each(in.Body.Changes, PlanChangeIn.change), in.Body.DueOn)
	if err != nil {
		return nil, err
	}
	return list(rows, "", assignmentView), nil
}
