package handlers

import (
	"context"
	"time"

	"tenter/models"
	"tenter/models/gauge"
)

// Sample is a piece made in the studio.
type Sample struct {
	ID            string              `json:"id"`
	DesignID      string              `json:"design_id"`
	SizeID        string              `json:"size_id"`
	VersionID     *string             `json:"version_id" doc:"The counts it was made from; null when not known."`
	Label         string              `json:"label"`
	Purpose       string              `json:"purpose" enum:"swatch,fit,camera,photography"`
	WorkedThrough *string             `json:"worked_through" doc:"The last installment that it is worked through whole; null before the first."`
	StateID       *string             `json:"state_id" doc:"A point within the next installment that it is worked to; null: exactly at the end of worked_through."`
	WorkedNote    string              `json:"worked_note" doc:"What was worked beyond that."`
	HeldBy        *Holder             `json:"held_by"`
	HeldNote      string              `json:"held_note"`
	Before        *SwatchGauge        `json:"before" doc:"Gauge before washing."`
	After         *SwatchGauge        `json:"after" doc:"Gauge after washing."`
	Yarn          *Amount             `json:"yarn"`
	Retired       bool                `json:"retired"`
	Revision      int                 `json:"revision"`
	Measurements  []SampleMeasurement `json:"measurements"`
	Moves         []SampleMove        `json:"moves" doc:"The first one first."`
	Photos        []Photo             `json:"photos" doc:"The first one first."`
	Comparison    SampleComparison    `json:"comparison"`
}

// Holder is who has or moved a sample.
type Holder struct {
	ID     string `json:"id"`
	Handle string `json:"handle"`
}

func holderView(id *string, handle string) *Holder {
	if id == nil {
		return nil
	}
	return &Holder{*id, handle}
}

// SampleMeasurement is what a sample measures at a point.
type SampleMeasurement struct {
	PointID string `json:"point_id"`
	Length  Length `json:"length"`
}

// SampleMove is one line of a sample's history.
type SampleMove struct {
	ID            string    `json:"id"`
	At            time.Time `json:"at"`
	By            *Holder   `json:"by"`
	WorkedThrough *string   `json:"worked_through"`
	StateID       *string   `json:"state_id"`
	Hours         *float64  `json:"hours" doc:"Of making, as logged."`
	WorkedNote    string    `json:"worked_note"`
	HeldBy        *Holder   `json:"held_by"`
	HeldNote      string    `json:"held_note"`
	RippedBack    bool      `json:"ripped_back"`
	Note          string    `json:"note"`
}

// SampleComparison is a sample held against its design. Percentages of the
// gauge are of the stitches and rows over the same length; those of washing are
// of the fabric, negative where it shrank.
type SampleComparison struct {
	StitchPercent       *float64     `json:"stitch_percent" doc:"Washed gauge against the stated one; null when not counted."`
	RowPercent          *float64     `json:"row_percent"`
	BeforeStitchPercent *float64     `json:"before_stitch_percent" doc:"Gauge before washing against the stated one."`
	BeforeRowPercent    *float64     `json:"before_row_percent"`
	WashStitchPercent   *float64     `json:"wash_stitch_percent" doc:"How washing changed the fabric's width."`
	WashRowPercent      *float64     `json:"wash_row_percent" doc:"How washing changed the fabric's length."`
	Sentence            string       `json:"sentence"`
	Points              []Comparison `json:"points" doc:"The measured points against what their counts promise."`
}

func sampleView(s models.Sample, c models.SampleComparison) Sample {
	return Sample{ID: s.ID, DesignID: s.DesignID, SizeID: s.SizeID, VersionID: s.VersionID, Label: s.Label, Purpose: s.Purpose,
		WorkedThrough: s.WorkedThrough, StateID: s.StateID, WorkedNote: s.WorkedNote, HeldBy: holderView(s.HeldBy, s.Holder), HeldNote: s.HeldNote,
		Before: swatchView(s.Before), After: swatchView(s.After), Yarn: amountView(s.Yarn), Retired: s.RetiredAt != nil, Revision: s.Revision,
		Measurements: each(s.Measurements, func(m models.SampleMeasurement) SampleMeasurement {
			return SampleMeasurement{m.PointID, lengthView(m.Length)}
		}),
		Moves: each(s.Moves, moveView), Comparison: sampleComparisonView(c)}
}

func moveView(m models.SampleMove) SampleMove {
	return SampleMove{ID: m.ID, At: m.At, By: holderView(m.ByPerson, m.Mover), WorkedThrough: m.WorkedThrough, StateID: m.StateID, Hours: m.Hours, WorkedNote: m.WorkedNote,
		HeldBy: holderView(m.HeldBy, m.Holder), HeldNote: m.HeldNote, RippedBack: m.RippedBack, Note: m.Note}
}

func sampleComparisonView(c models.SampleComparison) SampleComparison {
	out := SampleComparison{Sentence: c.Sentence, Points: each(c.Points, comparisonView)}
	out.StitchPercent, out.RowPercent = percents(c.After)
	out.BeforeStitchPercent, out.BeforeRowPercent = percents(c.Before)
	for _, w := range c.Washing {
		switch {
		case !w.Known:
		case w.Axis == gauge.Stitch:
			out.WashStitchPercent = &w.Percent
		default:
			out.WashRowPercent = &w.Percent
		}
	}
	return out
}

// percents returns how far each axis is from the stated gauge, nil where it
// was not counted.
func percents(differences []gauge.Difference) (stitch, row *float64) {
	for _, d := range differences {
		switch {
		case d.Verdict == gauge.NotCounted:
		case d.Axis == gauge.Stitch:
			stitch = &d.Percent
		default:
			row = &d.Percent
		}
	}
	return stitch, row
}

// viewSamples adds to samples of one design what they come to.
func (a *api) viewSamples(ctx context.Context, designID string, samples []models.Sample) ([]Sample, error) {
	compared, err := a.Store.CompareSamples(ctx, designID, samples)
	if err != nil {
		return nil, err
	}
	photos, err := a.Store.SamplePhotos(ctx, designID)
	if err != nil {
		return nil, err
	}
	actor, _ := models.ActorFrom(ctx)
	return each(samples, func(s models.Sample) Sample {
		view := sampleView(s, compared[s.ID])
		view.Photos = each(photos[s.ID], photoView(actor))
		return view
	}), nil
}

func (a *api) viewSample(ctx context.Context, s *models.Sample) (Sample, error) {
	views, err := a.viewSamples(ctx, s.DesignID, []models.Sample{*s})
	if err != nil {
		return Sample{}, err
	}
	return views[0], nil
}
