package handlers

import (
	"context"

	"tenter/models"
)

// Yarn is how much yarn to state for each size, beside what is stated.
type Yarn struct {
	Design       DesignLine  `json:"design"`
	Ball         *Ball       `json:"ball"`
	Share        float64     `json:"share" doc:"Of makers for whom the amounts last."`
	Stitches     string      `json:"stitches" doc:"All stitches of a size, over the names of counts; empty takes them from two points."`
	StitchesFrom string      `json:"stitches_from" doc:"What they are taken from, in words."`
	Problem      string      `json:"problem,omitempty"`
	Message      string      `json:"message"`
	Used         int         `json:"used" doc:"Pieces that the amounts rest on, testers' and samples."`
	SizeMatters  bool        `json:"size_matters"`
	Sizes        []YarnSize  `json:"sizes"`
	Pieces       []YarnPiece `json:"pieces" doc:"Whose yarn was told."`
	Revision     int         `json:"revision"`
}

// Ball is a ball, skein or cone as it is sold.
type Ball struct {
	Length *Amount `json:"length,omitempty" doc:"m or yd"`
	Weight *Amount `json:"weight,omitempty" doc:"g or oz"`
}

// YarnSize is the yarn of one size at the design's gauge.
type YarnSize struct {
	SizeID        string        `json:"size_id"`
	Size          string        `json:"size"`
	Stitches      float64       `json:"stitches" doc:"As far as they matter here: how sizes compare. 0: not known."`
	Basis         string        `json:"basis" enum:"testers,swatch_weight,none"`
	Made          int           `json:"made" doc:"Pieces of this size among those used."`
	TypicalMetres *float64      `json:"typical_metres"`
	UpperMetres   *float64      `json:"upper_metres" doc:"Enough for the share of makers."`
	PublishMetres *float64      `json:"publish_metres" doc:"That in whole balls, or whole metres."`
	Balls         *int          `json:"balls"`
	Grams         *float64      `json:"grams"`
	Message       string        `json:"message"`
	Stated        *StatedAmount `json:"stated"`
	StatedBalls   int           `json:"stated_balls,omitempty"`
	Short         bool          `json:"short" doc:"Less is stated than the bound."`
}

// StatedAmount is what the text states.
type StatedAmount struct {
	Value  float64 `json:"value"`
	Unit   string  `json:"unit" enum:"m,yd"`
	Metres float64 `json:"metres"`
}

// YarnPiece is one piece whose yarn was told.
type YarnPiece struct {
	Who            string  `json:"who"`
	Kind           string  `json:"kind" enum:"report,sample"`
	ID             string  `json:"id" doc:"Of the report or sample."`
	SizeID         string  `json:"size_id"`
	Told           *Amount `json:"told"`
	Metres         float64 `json:"metres" doc:"0: can't be told in metres."`
	AtDesignMetres float64 `json:"at_design_metres" doc:"What it would have taken at the design's gauge."`
	Outlier        string  `json:"outlier,omitempty" doc:"Why it was left out."`
	Unused         string  `json:"unused,omitempty" doc:"Why it says nothing."`
}

func yarnView(y *models.Yarn) Yarn {
	out := Yarn{Design: designLine(*y.Design), Share: y.Plan.Share, Stitches: y.Plan.Stitches, StitchesFrom: y.StitchesFrom, Problem: y.Problem, Message: y.Message,
		Used: y.Used, SizeMatters: y.SizeMatters, Revision: y.Plan.Revision, Sizes: each(y.Sizes, yarnSize)}
	if length := amountView(y.Plan.BallLength); length != nil {
		out.Ball = &Ball{length, amountView(y.Plan.BallWeight)}
	}
	out.Pieces = each(y.Pieces, func(p models.YarnPiece) YarnPiece {
		return YarnPiece{p.Who, p.Kind, p.ID, p.SizeID, amountView(p.Entered), hundredth(p.Metres), hundredth(p.AtDesignMetres), p.Outlier, p.Unused}
	})
	return out
}

func yarnSize(z models.YarnSize) YarnSize {
	a := z.Amount
	out := YarnSize{SizeID: z.Size.ID, Size: z.Size.Name, Stitches: z.Stitches, Basis: orNone(string(a.Basis)), Made: a.Reports, TypicalMetres: a.TypicalMetres,
		UpperMetres: a.UpperMetres, PublishMetres: a.PublishMetres, Balls: a.Balls, Grams: a.Grams, Message: a.Message, StatedBalls: z.StatedBalls, Short: z.Short}
	if z.Stated != nil {
		out.Stated = &StatedAmount{z.Stated.Value, z.Stated.Unit, hundredth(z.Stated.Metres)}
	}
	return out
}

func orNone(basis string) string {
	if basis == "" {
		return "none"
	}
	return basis
}

type putYarnInput struct {
	DesignPath
	Precondition
	Body struct {
		Ball     *Ball   `json:"ball,omitempty"`
		Share    float64 `json:"share,omitempty" default:"0.9"`
		Stitches string  `json:"stitches,omitempty"`
		Sizes    []struct {
			SizeID string  `json:"size_id" maxLength:"36"`
			Value  float64 `json:"value"`
			Unit   string  `json:"unit" enum:"m,yd"`
		} `json:"sizes,omitempty" maxItems:"40" doc:"Sizes that are left out have no amount stated."`
	}
}

func (in *putYarnInput) plan() models.YarnPlan {
	plan := models.YarnPlan{Share: in.Body.Share, Stitches: in.Body.Stitches}
	if in.Body.Ball != nil {
		plan.BallLength, plan.BallWeight = in.Body.Ball.Length.amount(), in.Body.Ball.Weight.amount()
	}
	for _, z := range in.Body.Sizes {
		plan.Stated = append(plan.Stated, models.StatedYarn{SizeID: z.SizeID, Value: z.Value, Unit: z.Unit})
	}
	return plan
}

func (a *api) oneYarn(ctx context.Context, design string) (*one[Yarn], error) {
	y, err := a.Store.Yarn(ctx, design)
	if err != nil {
		return nil, err
	}
	return &one[Yarn]{etag(y.Plan.Revision), yarnView(y)}, nil
}

func (a *api) getYarn(ctx context.Context, _ models.Actor, in *DesignPath) (*one[Yarn], error) {
	return a.oneYarn(ctx, in.Design)
}

func (a *api) putYarn(ctx context.Context, actor models.Actor, in *putYarnInput) (*one[Yarn], error) {
	revision, err := in.revision(func() (int, error) { return a.Store.YarnRevision(ctx, in.Design) })
	if err != nil {
		return nil, err
	}
	if err := a.Store.PutYarnPlan(ctx, actor, in.Design, revision, in.plan()); err != nil {
		return nil, err
	}
	return a.oneYarn(ctx, in.Design)
}
