package models

import (
	"context"
	"fmt"

	"gorm.io/gorm"
)

// Samples returns a design's samples, in the order in which they were added,
// with their measurements, moves and holders, in a constant number of queries.
func (s *Store) Samples(ctx context.Context, designID string) ([]Sample, error) {
	return samplesWhere(s.read(ctx), "samples.design_id = ?", designID)
}

// Sample returns a sample with its measurements, moves and holder.
func (s *Store) Sample(ctx context.Context, id string) (*Sample, error) {
	return sampleIn(s.read(ctx), id)
}

func sampleIn(db *gorm.DB, id string) (*Sample, error) {
	rows, err := samplesWhere(db, "samples.id = ?", id)
	if err != nil {
		return nil, err
	}
	if len(rows) == 0 {
		return nil, notFound("sample")
	}
	return &rows[0], nil
}

func samplesWhere(db *gorm.DB, where string, arg any) ([]Sample, error) {
	samples, err := heldSamples(db, where, arg)
	if err != nil || len(samples) == 0 {
		return samples, err
	}
	at := make(map[string]*Sample, len(samples))
	for i := range samples {
		at[samples[i].ID] = &samples[i]
	}
	if err := sampleMeasurements(db, at, where, arg); err != nil {
		return nil, err
	}
	return samples, sampleMoves(db, at, where, arg)
}

// heldSamples reads samples with who holds them, in one query.
func heldSamples(db *gorm.DB, where string, args ...any) ([]Sample, error) {
	var rows []struct {
		Sample
		HolderHandle *string
	}
	err := db.Table("samples").Select("samples.*, people.handle AS holder_handle").Joins("LEFT JOIN people ON people.id = samples.held_by").
		Where(where, args...).Order("samples.id").Find(&rows).Error
	if err != nil {
		return nil, fmt.Errorf("samples: %w", err)
	}
	samples := make([]Sample, len(rows))
	for i, r := range rows {
		samples[i] = r.Sample
		set(&samples[i].Holder, r.HolderHandle)
	}
	return samples, nil
}

func sampleMeasurements(db *gorm.DB, at map[string]*Sample, where string, arg any) error {
	var rows []SampleMeasurement
	err := db.Table("sample_measurements").Select("sample_measurements.*").Joins("JOIN samples ON samples.id = sample_measurements.sample_id").
		Joins("JOIN points ON points.id = sample_measurements.point_id").Where(where, arg).Order("sample_id, points.position").Find(&rows).Error
	if err != nil {
		return fmt.Errorf("measurements of samples: %w", err)
	}
	for _, m := range rows {
		if s := at[m.SampleID]; s != nil { // one added between the queries waits for the next reading
			s.Measurements = append(s.Measurements, m)
		}
	}
	return nil
}

func sampleMoves(db *gorm.DB, at map[string]*Sample, where string, arg any) error {
	var rows []struct {
		SampleMove
		MoverHandle, HolderHandle *string
	}
	err := db.Table("sample_moves").Select("sample_moves.*, mover.handle AS mover_handle, holder.handle AS holder_handle").
		Joins("JOIN samples ON samples.id = sample_moves.sample_id").
		Joins("LEFT JOIN people mover ON mover.id = sample_moves.by_person").Joins("LEFT JOIN people holder ON holder.id = sample_moves.held_by").
		Where(where, arg).Order("sample_id, sample_moves.at, sample_moves.id").Find(&rows).Error
	if err != nil {
		return fmt.Errorf("moves of samples: %w", err)
	}
	for _, r := range rows {
		set(&r.Mover, r.MoverHandle)
		set(&r.Holder, r.HolderHandle)
		if s := at[r.SampleID]; s != nil {
			s.Moves = append(s.Moves, r.SampleMove)
		}
	}
	return nil
}
