package handlers

import (
	"context"
	"net/http"

	"tenter/models"
)

type SamplePath struct {
	Sample string `path:"sample" maxLength:"36"`
}

type samplesQuery struct {
	DesignPath
	Paged
}

type newSampleInput struct {
	DesignPath
	Body struct {
		SizeID        string       `json:"size_id" maxLength:"36"`
		VersionID     *string      `json:"version_id,omitempty" maxLength:"36"`
		Label         string       `json:"label"`
		Purpose       string       `json:"purpose" enum:"swatch,fit,camera,photography"`
		WorkedThrough *string      `json:"worked_through,omitempty" maxLength:"36"`
		State         *string      `json:"state,omitempty" maxLength:"36" doc:"A state of the design, in place of worked_through."`
		WorkedNote    string       `json:"worked_note,omitempty"`
		HeldBy        *string      `json:"held_by,omitempty" maxLength:"36" doc:"A person's id."`
		HeldNote      string       `json:"held_note,omitempty"`
		Before        *SwatchGauge `json:"before,omitempty"`
		After         *SwatchGauge `json:"after,omitempty"`
		Yarn          *Amount      `json:"yarn,omitempty"`
	}
}

type changeSampleInput struct {
	SamplePath
	Precondition
	Body struct {
		Label     *string               `json:"label,omitempty"`
		Purpose   *string               `json:"purpose,omitempty" enum:"swatch,fit,camera,photography"`
		SizeID    *string               `json:"size_id,omitempty" maxLength:"36"`
		VersionID Optional[string]      `json:"version_id,omitempty"`
		Before    Optional[SwatchGauge] `json:"before,omitempty"`
		After     Optional[SwatchGauge] `json:"after,omitempty"`
		Yarn      Optional[Amount]      `json:"yarn,omitempty"`
		Retired   *bool                 `json:"retired,omitempty"`
	}
}

type putSampleMeasurementsInput struct {
	SamplePath
	Precondition
	Body struct {
		Measurements []SampleMeasurementIn `json:"measurements" maxItems:"60"`
	}
}

// SampleMeasurementIn is a measurement as it is set.
type SampleMeasurementIn struct {
	PointID string  `json:"point_id" maxLength:"36"`
	Value   float64 `json:"value"`
	Unit    string  `json:"unit" enum:"cm,in"`
}

func (a *api) samples() {
	add(a, operation("list-samples", http.MethodGet, "/designs/{design}/samples", "A design's samples", "Samples"), a.getSamples)
	add(a, created(operation("add-sample", http.MethodPost, "/designs/{design}/samples", "Add a sample", "Samples")), a.postSample)
	add(a, operation("get-design-gauge", http.MethodGet, "/designs/{design}/gauge", "Whether the samples bear out the stated gauge", "Samples"), a.getDesignGauge)
	add(a, operation("get-sample", http.MethodGet, "/samples/{sample}", "A sample", "Samples"), a.getSample)
	add(a, operation("change-sample", http.MethodPatch, "/samples/{sample}", "Change a sample", "Samples"), a.patchSample)
	add(a, operation("put-sample-measurements", http.MethodPut, "/samples/{sample}/measurements", "Replace what a sample measures", "Samples"), a.putSampleMeasurements)
	add(a, created(operation("move-sample", http.MethodPost, "/samples/{sample}/moves", "Record that a sample was worked further, ripped back or handed on", "Samples")), a.postMove)
}

func (a *api) getSamples(ctx context.Context, _ models.Actor, in *samplesQuery) (*listOf[Sample], error) {
	design, err := a.Store.Design(ctx, in.Design)
	if err != nil {
		return nil, err
	}
	rows, err := a.Store.Samples(ctx, design.ID)
	if err != nil {
		return nil, err
	}
	rows, next := pageOf(rows, in.page(), func(s models.Sample) string { return s.ID })
	views, err := a.viewSamples(ctx, design.ID, rows)
	if err != nil {
		return nil, err
	}
	return list(views, next, func(s Sample) Sample { return s }), nil
}

func (a *api) postSample(ctx context.Context, actor models.Actor, in *newSampleInput) (*made[Sample], error) {
	b := in.Body
	s, err := a.Store.AddSample(ctx, actor, in.Design, models.Sample{SizeID: b.SizeID, VersionID: b.VersionID, Label: b.Label, Purpose: b.Purpose,
		WorkedThrough: b.WorkedThrough, StateID: b.State, WorkedNote: b.WorkedNote, HeldBy: b.HeldBy, HeldNote: b.HeldNote,
		Before: b.Before.gauge(), After: b.After.gauge(), Yarn: b.Yarn.amount()})
	if err != nil {
		return nil, err
	}
	view, err := a.viewSample(ctx, s)
	if err != nil {
		return nil, err
	}
	return &made[Sample]{etag(s.Revision), Prefix + "/samples/" + s.ID, view}, nil
}

func (a *api) getSample(ctx context.Context, _ models.Actor, in *SamplePath) (*one[Sample], error) {
	s, err := a.Store.Sample(ctx, in.Sample)
	if err != nil {
		return nil, err
	}
	return a.oneSample(ctx, s)
}

func (a *api) oneSample(ctx context.Context, s *models.Sample) (*one[Sample], error) {
	view, err := a.viewSample(ctx, s)
	if err != nil {
		return nil, err
	}
	return &one[Sample]{etag(s.Revision), view}, nil
}

func (a *api) sampleRevision(ctx context.Context, id string) func() (int, error) {
	return func() (int, error) {
		s, err := a.Store.Sample(ctx, id)
		if err != nil {
			return 0, err
		}
		return s.Revision, nil
	}
}

func (a *api) patchSample(ctx context.Context, actor models.Actor, in *changeSampleInput) (*one[Sample], error) {
	revision, err := in.revision(a.sampleRevision(ctx, in.Sample))
	if err != nil {
		return nil, err
	}
	b := in.Body
	change := models.SampleChange{Label: b.Label, Purpose: b.Purpose, SizeID: b.SizeID, VersionID: b.VersionID.change(), Retired: b.Retired}
	change.Before = swatchChange(b.Before)
	change.After = swatchChange(b.After)
	if yarn := b.Yarn.change(); yarn != nil {
		amount := (*yarn).amount()
		change.Yarn = &amount
	}
	s, err := a.Store.ChangeSample(ctx, actor, in.Sample, revision, change)
	if err != nil {
		return nil, err
	}
	return a.oneSample(ctx, s)
}

// swatchChange turns null into a gauge that was not counted.
func swatchChange(o Optional[SwatchGauge]) *models.SwatchGauge {
	given := o.change()
	if given == nil {
		return nil
	}
	g := (*given).gauge()
	return &g
}

func (a *api) putSampleMeasurements(ctx context.Context, actor models.Actor, in *putSampleMeasurementsInput) (*one[Sample], error) {
	revision, err := in.revision(a.sampleRevision(ctx, in.Sample))
	if err != nil {
		return nil, err
	}
	s, err := a.Store.PutSampleMeasurements(ctx, actor, in.Sample, revision, each(in.Body.Measurements, func(m SampleMeasurementIn) models.SampleMeasurement {
		return models.SampleMeasurement{PointID: m.PointID, Length: models.NewLength(m.Value, m.Unit)}
	}))
	if err != nil {
		return nil, err
	}
	return a.oneSample(ctx, s)
}
