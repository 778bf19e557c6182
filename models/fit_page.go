package models

import (
	"context"
	"slices"
	"strings"
)

// Fit is a design's diagnosis with what was decided on it and what testers
// were asked to measure again.
type Fit struct {
	Today     Date
	Design    *Design
	Version   Version // the latest
	Said      *Diagnosis
	Findings  []DecidedFinding // the most serious first
	Gone      []*Decision      // on what is not found any more, the newest first
	Requests  []MeasureRequest // the oldest first
	Undecided int              // findings that wait for a decision
}

// DecidedFinding is a finding with the latest decision on it.
type DecidedFinding struct {
	*Finding
	Decision *Decision // nil: none
	Reopened string    // why the decision does not count any more, "" while it does
	Waits    bool      // for a decision
}

// Fit reads a design's Fit page.
func (s *Store) Fit(ctx context.Context, idOrSlug string) (*Fit, error) {
	db := s.read(ctx)
	design, err := designIn(db, idOrSlug)
	if err != nil {
		return nil, err
	}
	studio, err := studioIn(db)
	if err != nil {
		return nil, err
	}
	latest, err := latestVersion(db, design.ID)
	if err != nil {
		return nil, err
	}
	out := &Fit{Today: DateOf(s.Now(), studio.Location()), Design: design, Version: *latest}
	if out.Said, err = s.diagnosisOf(ctx, db, design); err != nil {
		return nil, err
	}
	decisions, err := decisionsIn(db, design.ID)
	if err != nil {
		return nil, err
	}
	out.decide(decisions)
	out.Requests, err = measureRequestsIn(db, "r.design_id = ?", design.ID)
	return out, err
}

func (f *Fit) decide(decisions map[string]*Decision) {
	for i := range f.Said.Findings {
		finding := &f.Said.Findings[i]
		d := DecidedFinding{Finding: finding, Decision: decisions[finding.Key]}
		decided, why := finding.standing(d.Decision)
		d.Reopened, d.Waits = why, finding.Asks && !decided
		if d.Waits {
			f.Undecided++
		}
		f.Findings = append(f.Findings, d)
		delete(decisions, finding.Key)
	}
	for _, d := range decisions {
		f.Gone = append(f.Gone, d)
	}
	slices.SortFunc(f.Gone, func(a, b *Decision) int {
		if c := b.DecidedAt.Compare(a.DecidedAt); c != 0 {
			return c
		}
		return strings.Compare(a.ID, b.ID)
	})
}
