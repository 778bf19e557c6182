package models

import (
	"context"
	"sync"

	"gorm.io/gorm"
)

// diagnosisCache keeps the diagnosis of each design, so that boards stay quick:
// reports come in now and then, and boards are looked at all the time. One that
// was computed from another state of the data is never handed out.
type diagnosisCache struct {
	mu   sync.Mutex
	kept map[string]keptDiagnosis // by design
}

type keptDiagnosis struct {
	key  revisionKey
	said *Diagnosis
}

// mostDiagnoses bounds the cache, at some hundred kilobytes for a large test
// (chosen); a full one starts over.
const mostDiagnoses = 200

func newDiagnosisCache() *diagnosisCache {
	return &diagnosisCache{kept: map[string]keptDiagnosis{}}
}

func (c *diagnosisCache) get(designID string, key revisionKey) *Diagnosis {
	c.mu.Lock()
	defer c.mu.Unlock()
	if k, ok := c.kept[designID]; ok && k.key == key {
		return k.said
	}
	return nil
}

func (c *diagnosisCache) keep(designID string, key revisionKey, said *Diagnosis) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if _, there := c.kept[designID]; !there && len(c.kept) >= mostDiagnoses {
		clear(c.kept)
	}
	c.kept[designID] = keptDiagnosis{key, said}
}

// diagnosis returns what the state of the data with this key says. On a miss
// it reads everything anew, in one snapshot, which may be of a later state.
func (s *Store) diagnosis(ctx context.Context, designID string, key revisionKey) (*Diagnosis, error) {
	if said := s.diagnoses.get(designID, key); said != nil {
		return said, nil
	}
	var rows *fitRows
	err := s.snapshot(ctx, func(db *gorm.DB) (err error) {
		rows, err = s.fitRowsIn(db, designID)
		return err
	})
	if err != nil {
		return nil, err
	}
	said := diagnose(rows)
	s.diagnoses.keep(designID, rows.revision(), said)
	return said, nil
}

// Diagnosis returns what a design's current reports say together.
func (s *Store) Diagnosis(ctx context.Context, idOrSlug string) (*Diagnosis, error) {
	db := s.read(ctx)
	design, err := designIn(db, idOrSlug)
	if err != nil {
		return nil, err
	}
	return s.diagnosisOf(ctx, db, design)
}

func (s *Store) diagnosisOf(ctx context.Context, db *gorm.DB, design *Design) (*Diagnosis, error) {
	latest, err := latestVersion(db, design.ID)
	if err != nil {
		return nil, err
	}
	reports, err := fitReportsIn(db, design.ID)
	if err != nil {
		return nil, err
	}
	rows := fitRows{design: design, latest: *latest, reports: reports}
	return s.diagnosis(ctx, design.ID, rows.revision())
}
