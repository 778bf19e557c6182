package models

import (
	"sync"
	"time"

	"gorm.io/gorm"
)

// recordCache keeps what boards need of testers' records in other calls. Those
// are slow statistics over years, and reading them costs with every test that a
// tester ever made; a board is looked at all the time. What happens in the
// board's own call is never kept here, and the proposal on the Testing page
// reads the records anew.
type recordCache struct {
	mu   sync.Mutex
	kept map[recordsOfCall]keptRecords
}

// recordsOfCall is a call with so many testers: another one is a miss.
type recordsOfCall struct {
	callID  string
	testers int
}

type keptRecords struct {
	at      time.Time
	records map[string]*TesterRecord
}

const (
	recordsFresh = 10 * time.Minute // chosen
	mostRecords  = 5000             // calls; a full cache starts over
)

func newRecordCache() *recordCache { return &recordCache{kept: map[recordsOfCall]keptRecords{}} }

// recordsLately returns the records of a call's testers as they were at most
// ten minutes ago.
func (s *Store) recordsLately(db *gorm.DB, of recordsOfCall, today Date, zone *time.Location) (map[string]*TesterRecord, error) {
	now := s.Now()
	s.records.mu.Lock()
	kept, known := s.records.kept[of]
	s.records.mu.Unlock()
	if age := now.Sub(kept.at); known && age >= 0 && age < recordsFresh {
		return kept.records, nil
	}
	records, err := recordsIn(db, of.callID, today, zone)
	if err != nil {
		return nil, err
	}
	s.records.mu.Lock()
	defer s.records.mu.Unlock()
	if len(s.records.kept) >= mostRecords {
		clear(s.records.kept)
	}
	s.records.kept[of] = keptRecords{now, records}
	return records, nil
}
