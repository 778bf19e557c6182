package models

import (
	"context"
	"fmt"
)

// SampleMeasurement is what a sample measures at a point.
type SampleMeasurement struct {
	SampleID string `gorm:"primaryKey"`
	PointID  string `gorm:"primaryKey"`
	Length   Length `gorm:"embedded"`
}

// PutSampleMeasurements replaces what a sample measures.
func (s *Store) PutSampleMeasurements(ctx context.Context, actor Actor, id string, revision *int, measurements []SampleMeasurement) (*Sample, error) {
	var out *Sample
	err := s.change(ctx, actor, func(t *tx) error {
		before, err := sampleIn(t.DB, id)
		if err != nil {
			return err
		}
		if err := checkRevision("sample", before.Revision, revision); err != nil {
			return err
		}
		if err := t.checkMeasurements(before.DesignID, measurements); err != nil {
			return err
		}
		if err := t.bump("sample", &Sample{}, id, before.Revision, map[string]any{}); err != nil {
			return err
		}
		if err := t.Where("sample_id = ?", id).Delete(&SampleMeasurement{}).Error; err != nil {
			return fmt.Errorf("clear measurements: %w", err)
		}
		for i := range measurements {
			measurements[i].SampleID = id
		}
		if err := createAll(t.DB, measurements); err != nil {
			return fmt.Errorf("write measurements: %w", err)
		}
		if out, err = sampleIn(t.DB, id); err != nil {
			return err
		}
		return t.record(before.DesignID, "sample", id, "measured", before.Measurements, out.Measurements)
	})
	return out, err
}

func (t *tx) checkMeasurements(designID string, measurements []SampleMeasurement) error {
	var ids []string
	if err := t.Model(&Point{}).Where("design_id = ?", designID).Pluck("id", &ids).Error; err != nil {
		return fmt.Errorf("points: %w", err)
	}
	open := make(map[string]bool, len(ids)) // not measured yet
	for _, id := range ids {
		open[id] = true
	}
	var p problems
	for i, m := range measurements {
		at := fmt.Sprintf("measurements[%d]", i)
		if !open[m.PointID] {
			p.addf(at+".point_id", "is not a point of this design, or is given twice")
		}
		open[m.PointID] = false
		p.length(at, m.Length)
	}
	return p.err()
}
