package models

import (
	"context"
)

// Installments returns how a design's installments stand on a day, with their
// takes and slips, in a constant number of queries.
func (s *Store) Installments(ctx context.Context, designID string, today Date) ([]InstallmentNow, error) {
	samples, err := samplesWhere(s.read(ctx), "samples.design_id = ?", designID)
	if err != nil {
		return nil, err
	}
	return s.InstallmentsWith(ctx, designID, today, samples)
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
