package models

import (
	"context"
	"fmt"

	"gorm.io/gorm"
)

// Installments returns how a design's installments stand on a day, with their
// takes and slips and with the sample that the plan gives them, in a constant
// number of queries.
func (s *Store) Installments(ctx context.Context, designID string, today Date) ([]InstallmentNow, error) {
	r, err := s.filmingRows(ctx, designID)
	if err != nil {
		return nil, err
	}
	_, err = s.planFilming(r, 0)
	return r.run, err
}

// InstallmentsWith is Installments for a caller that has the design's samples
// already.
func (s *Store) InstallmentsWith(ctx context.Context, designID string, today Date, samples []Sample) ([]InstallmentNow, error) {
	db := s.read(ctx)
	studio, err := studioIn(db)
	if err != nil {
		return nil, err
	}
	rows, err := installmentRows(db, designID)
	if err != nil {
		return nil, err
	}
	takes, err := takesWhere(db, "installments.design_id = ?", designID)
	if err != nil {
		return nil, err
	}
	return StandInstallments(today, studio.LeadDays, rows, takes, samples), nil
}

// runsOf returns how the installments of several designs stand on a day, by
// design, in a constant number of queries. ids is not empty.
func runsOf(db *gorm.DB, today Date, leadDays int, ids []string, samples map[string][]Sample) (map[string][]InstallmentNow, error) {
	var rows []Installment
	if err := db.Where("design_id IN ?", ids).Order("design_id, position").Find(&rows).Error; err != nil {
		return nil, fmt.Errorf("installments: %w", err)
	}
	if err := withStates(db, rows); err != nil {
		return nil, err
	}
	if err := withShots(db, rows); err != nil {
		return nil, err
	}
	takes, err := takesWhere(db, "installments.design_id IN ?", ids)
	if err != nil {
		return nil, err
	}
	of, byDesign, recordings := map[string]string{}, map[string][]Installment{}, map[string][]Take{}
	for _, in := range rows {
		byDesign[in.DesignID] = append(byDesign[in.DesignID], in)
		of[in.ID] = in.DesignID
	}
	for _, k := range takes {
		recordings[of[k.InstallmentID]] = append(recordings[of[k.InstallmentID]], k)
	}
	out := make(map[string][]InstallmentNow, len(byDesign))
	for id, run := range byDesign {
		out[id] = StandInstallments(today, leadDays, run, recordings[id], samples[id])
	}
	return out, nil
}

// Installment returns how one installment stands today.
func (s *Store) Installment(ctx context.Context, id string) (*InstallmentNow, error) {
	row, err := first[Installment](s.read(ctx), "installment", "id = ?", id)
	if err != nil {
		return nil, err
	}
	today, err := s.Today(ctx)
	if err != nil {
		return nil, err
	}
	all, err := s.Installments(ctx, row.DesignID, today)
	if err != nil {
		return nil, err
	}
	for i := range all {
		if all[i].ID == id {
			return &all[i], nil
		}
	}
	return nil, notFound("installment")
}
