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
// a glance. On a miss it reads everything anew, which may be of a later state.
func (s *Store) diagnosis(ctx context.Context, db *gorm.DB, designID string, key revisionKey, whole bool) (*Diagnosis, error) {
	if said := s.diagnoses.get(designID, key, whole); said != nil {
		return said, nil
	}
	rows, err := s.oneStateOf(ctx, db, designID)
	if err != nil {
		return nil, err
	}
	said := diagnose(rows)
	s.diagnoses.keep(designID, rows.revision(), said, whole)
	return said, nil
}

// steadyTries is how often a test is read whose state goes on changing (chosen).
const steadyTries = 5

// oneStateOf reads everything of a design's test as it was at one moment. db is
// where its caller reads: inside a transaction it is read there, for a second
// connection may be held by another that waits for this one. There, on
// PostgreSQL, each statement sees what was committed before it; so the state is
// asked for once more at the end, and all of it read again when it is another.
func (s *Store) oneStateOf(ctx context.Context, db *gorm.DB, designID string) (rows *fitRows, err error) {
	if _, inside := db.Statement.ConnPool.(gorm.TxCommitter); !inside {
		err = s.snapshot(ctx, func(db *gorm.DB) error {
			rows, err = s.fitRowsIn(db, designID)
			return err
		})
		return rows, err
	}
	for range steadyTries {
		if rows, err = s.fitRowsIn(db, designID); err != nil {
			return nil, err
		}
		now, err := testRevisionIn(db, designID)
		if err != nil || now == rows.revision() {
			return rows, err
		}
	}
	return nil, failf(Unavailable, "The reports of this design keep coming in at this very moment; nothing was changed. Try again.")
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
	key, err := testRevisionOf(db, design)
	if err != nil {
		return nil, err
	}
	return s.diagnosis(ctx, db, design.ID, key, true)
}

// testRevisionIn reads the key of the state that a design's test is in.
func testRevisionIn(db *gorm.DB, designID string) (revisionKey, error) {
	design, err := designIn(db, designID)
	if err != nil {
		return revisionKey{}, err
	}
	return testRevisionOf(db, design)
}

func testRevisionOf(db *gorm.DB, design *Design) (revisionKey, error) {
	latest, err := latestVersion(db, design.ID)
	if err != nil {
		return revisionKey{}, err
	}
	reports, err := fitReportsIn(db, design.ID)
	if err != nil {
		return revisionKey{}, err
	}
	decisions, err := decisionsIn(db, design.ID)
	if err != nil {
		return revisionKey{}, err
	}
	rows := fitRows{design: design, latest: *latest, reports: reports, decisions: decisions}
	return rows.revision(), nil
}
