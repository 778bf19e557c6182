package models

import (
	"context"
	"sync"

	"gorm.io/gorm"
)

// diagnosisCache keeps the diagnosis of each design, so that boards stay quick:
// reports come in now and then, and boards are looked at all the time. One that
// was computed from another state of the data is never handed out.
//
// It has two shelves: a few whole diagnoses, for the pages that show them, and
// many glances, which are what a board needs and small.
type diagnosisCache struct {
	mu      sync.Mutex
	whole   map[string]keptDiagnosis // by design
	glances map[string]keptDiagnosis
}

type keptDiagnosis struct {
	key  revisionKey
	said *Diagnosis
}

// The bounds of the two shelves (chosen): some hundred kilobytes for a whole
// diagnosis of a large test, a few for a glance. A full shelf starts over.
const (
	mostDiagnoses = 100
	mostGlances   = 5000
)

func newDiagnosisCache() *diagnosisCache {
	return &diagnosisCache{whole: map[string]keptDiagnosis{}, glances: map[string]keptDiagnosis{}}
}

// get returns what is kept of a design's state, nil for nothing; whole asks
// for all of it.
func (c *diagnosisCache) get(designID string, key revisionKey, whole bool) *Diagnosis {
	c.mu.Lock()
	defer c.mu.Unlock()
	if k, ok := c.whole[designID]; ok && k.key == key {
		return k.said
	}
	if k, ok := c.glances[designID]; ok && k.key == key && !whole {
		return k.said
	}
	return nil
}

func (c *diagnosisCache) keep(designID string, key revisionKey, said *Diagnosis, whole bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	put(c.glances, mostGlances, designID, keptDiagnosis{key, said.glance()})
	if whole {
		put(c.whole, mostDiagnoses, designID, keptDiagnosis{key, said})
	}
}

func put(shelf map[string]keptDiagnosis, most int, designID string, k keptDiagnosis) {
	if _, there := shelf[designID]; !there && len(shelf) >= most {
		clear(shelf)
	}
	shelf[designID] = k
}

// glance is of a diagnosis what a board needs: what somebody has to decide on,
// and what is wrong where. It is a copy, so that the rest can be let go.
func (d *Diagnosis) glance() *Diagnosis {
	g := &Diagnosis{Revision: d.Revision, Problem: d.Problem, Fabric: d.Fabric,
		odd: make(map[mark]*Finding, len(d.odd)), cells: make(map[cell]*Finding, len(d.cells))}
	for _, f := range d.Findings {
		if f.Asks {
			g.Findings = append(g.Findings, f)
		}
	}
	for at, f := range d.odd {
		of := *f
		g.odd[at] = &of
	}
	for at, f := range d.cells {
		of := *f
		g.cells[at] = &of
	}
	return g
}

// diagnosis returns what the state of the data with this key says, whole or as
// a glance. On a miss it reads everything anew, in one snapshot, which may be
// of a later state.
func (s *Store) diagnosis(ctx context.Context, designID string, key revisionKey, whole bool) (*Diagnosis, error) {
	if said := s.diagnoses.get(designID, key, whole); said != nil {
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
	s.diagnoses.keep(designID, rows.revision(), said, whole)
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
	decisions, err := decisionsIn(db, design.ID)
	if err != nil {
		return nil, err
	}
	rows := fitRows{design: design, latest: *latest, reports: reports, decisions: decisions}
	return s.diagnosis(ctx, design.ID, rows.revision(), true)
}
