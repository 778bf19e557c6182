package models

import (
	"fmt"

	"gorm.io/gorm"

	"tenter/models/assign"
)

// BoardCoverage is how likely a size gets enough reports, each tester by their
// own day, given who has reported, told how far they are, or gone quiet.
type BoardCoverage struct {
	Probability float64
	Quiet       int
}

// readCoverage works out the coverage of the running call's sizes, in two
// statements.
func (r *boardRows) readCoverage(s *Store, db *gorm.DB) error {
	r.coverage = map[string]BoardCoverage{}
	if r.call == nil || r.call.Closed {
		return nil // over: what has come has come
	}
	zone := r.studio.Location()
	testers, err := callTestersIn(db, r.call.ID)
	if err != nil {
		return err
	}
	records, err := s.recordsLately(db, recordsOfCall{r.call.ID, len(testers)}, r.today, zone)
	if err != nil {
		return err
	}
	bySize := map[string][]assign.Tester{}
	quiet, here := map[string]int{}, map[string]int{}
	for _, t := range testers {
		one := t.tester(recordOf(records[t.personID], t.told), r.today, zone)
		bySize[t.sizeID] = append(bySize[t.sizeID], one)
		switch one.State {
		case assign.Quiet:
			quiet[t.sizeID]++
		case assign.Reported:
			here[t.sizeID]++
		}
	}
	for size, t := range r.testers {
		if t.Fewest == 0 {
			continue
		}
		elsewhere := t.Reported - here[size] // in other calls
		cover, err := assign.Cover(max(0, t.Fewest-elsewhere), bySize[size])
		if err != nil {
			return fmt.Errorf("coverage: %w", err)
		}
		r.coverage[size] = BoardCoverage{cover.Probability, quiet[size]}
	}
	return nil
}

func (r *boardRows) coverageOf(sizeID string) *BoardCoverage {
	c, has := r.coverage[sizeID]
	if !has {
		return nil
	}
	return &c
}
