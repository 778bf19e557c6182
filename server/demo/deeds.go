package demo

import (
	"context"

	"tenter/models"
)

// What people do with the Store again and again.

// handleID returns somebody's id, for a sample to be held by.
func handleID(ctx context.Context, store *models.Store, handle string) (*string, error) {
	person, err := store.PersonByLogin(ctx, handle)
	if err != nil {
		return nil, err
	}
	return &person.ID, nil
}

func text(s string) *string { return &s }

// move moves a sample as it stands now.
func move(ctx context.Context, store *models.Store, as models.Actor, sampleID string, m models.Move) error {
	s, err := store.Sample(ctx, sampleID)
	if err != nil {
		return err
	}
	_, _, err = store.MoveSample(ctx, as, sampleID, &s.Revision, m)
	return err
}

// swatch is a gauge over 10 cm.
func swatch(stitches, rows float64) models.SwatchGauge {
	span, unit := 10.0, "cm"
	return models.SwatchGauge{Stitches: &stitches, Rows: &rows, Span: &span, Unit: &unit}
}

// washed is a sample's gauge before and after washing.
type washed struct{ before, after models.SwatchGauge }

// countSample records a sample's gauge and the yarn in it, 0 for not weighed.
func countSample(ctx context.Context, store *models.Store, as models.Actor, sampleID string, w washed, metres float64) error {
	s, err := store.Sample(ctx, sampleID)
	if err != nil {
		return err
	}
	c := models.SampleChange{Before: &w.before, After: &w.after}
	if unit := "m"; metres > 0 {
		c.Yarn = &models.Amount{Value: &metres, Unit: &unit}
	}
	_, err = store.ChangeSample(ctx, as, sampleID, &s.Revision, c)
	return err
}

// measureSample records a finished sample's gauge, yarn and what it measures at
// each point in turn.
func measureSample(ctx context.Context, store *models.Store, as models.Actor, sampleID string, w washed, metres float64, g *garment, cm []float64) error {
	if err := countSample(ctx, store, as, sampleID, w, metres); err != nil {
		return err
	}
	s, err := store.Sample(ctx, sampleID)
	if err != nil {
		return err
	}
	rows := make([]models.SampleMeasurement, len(g.spots))
	for i, spot := range g.spots {
		rows[i] = models.SampleMeasurement{PointID: g.pointIDs[spot.name], Length: models.NewLength(cm[i], "cm")}
	}
	_, err = store.PutSampleMeasurements(ctx, as, sampleID, &s.Revision, rows)
	return err
}

// settle answers a remark and settles it.
func settle(ctx context.Context, store *models.Store, as models.Actor, m *models.Remark, answer string) error {
	yes := true
	_, err := store.AnswerRemark(ctx, as, m.ID, &m.Revision, &answer, &yes)
	return err
}
