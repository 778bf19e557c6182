package models

import (
	"context"
	"fmt"

	"gorm.io/gorm"
)

// Release is what holds a design and each installment of it back, and what goes
// out on which day.
type Release struct {
	Today      Date
	Design     *Design
	ReleasedBy string    // handle
	Versions   []Version // the first one first
	Out        Version   // the one that goes out
	Signed     bool      // it is signed off
	Gates      ReleaseGates
	Run        []InstallmentNow
	Days       []ReleaseDay   // what is still to do by day, then what has no day, then what is done
	Before     []GateOverride // taken back, the latest first
}

// Release reads the release page of a design in a constant number of statements.
func (s *Store) Release(ctx context.Context, idOrSlug string) (*Release, error) {
	db := s.read(ctx)
	design, err := designIn(db, idOrSlug)
	if err != nil {
		return nil, err
	}
	rows, err := s.gateRowsIn(ctx, db, design)
	if err != nil {
		return nil, fmt.Errorf("release: %w", err)
	}
	out := &Release{Today: rows.today, Design: design, Versions: rows.versions, Out: rows.out, Signed: rows.isSigned(), Gates: rows.gates(), Run: rows.run}
	list := releaseList{gateRows: rows, gates: out.Gates}
	if list.ticks, err = ticksIn(db, design.ID); err != nil {
		return nil, err
	}
	if list.handles, err = rows.markedBy(db); err != nil {
		return nil, err
	}
	if out.Before, err = overridesWhere(db, "gate_overrides.taken_back_at IS NOT NULL AND gate_overrides.design_id = ?", design.ID); err != nil {
		return nil, err
	}
	if design.ReleasedBy != nil {
		out.ReleasedBy = list.handles[*design.ReleasedBy]
	}
	out.Days = list.days()
	return out, nil
}

// ShutFor are the gates that hold an installment back; none once it has aired.
func (r *Release) ShutFor(n InstallmentNow) []Gate {
	if n.State == Aired {
		return nil
	}
	return shutOnes(r.Gates.Installments[n.ID])
}

// markedBy reads the handles of those who marked what is out.
func (r *gateRows) markedBy(db *gorm.DB) (map[string]string, error) {
	ids := []string{""}
	for _, id := range append([]*string{r.design.ReleasedBy}, airedBy(r.run)...) {
		if id != nil {
			ids = append(ids, *id)
		}
	}
	var people []Person
	if err := db.Select("id", "handle").Where("id IN ?", ids).Find(&people).Error; err != nil {
		return nil, fmt.Errorf("who marked it: %w", err)
	}
	out := make(map[string]string, len(people))
	for _, p := range people {
		out[p.ID] = p.Handle
	}
	return out, nil
}

func airedBy(run []InstallmentNow) []*string {
	out := make([]*string, len(run))
	for i, n := range run {
		out[i] = n.AiredBy
	}
	return out
}
