package models

import (
	"context"
	"database/sql"
	"fmt"
	"math"
	"slices"
	"sort"

	"gorm.io/gorm"
)

// Estimate is how long a kind of work takes: at best, usually, at worst.
type Estimate struct {
	DesignID          string `gorm:"primaryKey" json:"-"`
	Kind              string `gorm:"primaryKey"`
	Low, Likely, High float64

	Unit   string `gorm:"-"` // "hours" of a person, or calendar "days"
	Source string `gorm:"-"` // "chosen", "learned" or "stated"
	From   int    `gorm:"-"` // how many it was learned from
}

// The kinds of work of which estimates are kept.
const (
	workMake    = "make"    // times the hours that the stitches give
	workFilm    = "film"    // hours for each shot, and as much again to set up
	workEdit    = "edit"    // an installment
	workCaption = "caption" // an installment
	workPublish = "publish" // an installment
	workReports = "reports" // days after a test call's last day until the last report is there
	workCorrect = "correct" // a version, after its test
	workReview  = "review"  // a version, by the tech editor
)

// chosenEstimates are where a studio starts. They are chosen, not published
// figures; the studio's own past replaces them as soon as it has one.
func chosenEstimates() []Estimate {
	return []Estimate{
		{Kind: workMake, Low: 0.8, Likely: 1, High: 1.6, Unit: "times"},
		{Kind: workFilm, Low: 0.3, Likely: 0.6, High: 1.5, Unit: "hours"},
		{Kind: workEdit, Low: 1.5, Likely: 3, High: 7, Unit: "hours"},
		{Kind: workCaption, Low: 0.5, Likely: 1, High: 2.5, Unit: "hours"},
		{Kind: workPublish, Low: 0.25, Likely: 0.5, High: 1, Unit: "hours"},
		{Kind: workReports, Low: 0, Likely: 2, High: 10, Unit: "days"},
		{Kind: workCorrect, Low: 1, Likely: 4, High: 12, Unit: "hours"},
		{Kind: workReview, Low: 1.5, Likely: 3, High: 8, Unit: "hours"},
	}
}

// fewestLearned is how many past pieces of work an estimate is learned from at
// least (chosen).
const fewestLearned = 4

// narrowest is the least spread of a learned estimate: its low and high are at
// least this part of the middle away from it (chosen).
const narrowest = 0.25

func hundredths(v float64) float64 { return math.Round(v*100) / 100 }

// estimatesIn returns a design's estimates by kind: as stated for it, else
// learned from the studio's other designs, else chosen.
func estimatesIn(db *gorm.DB, designID string) (map[string]Estimate, error) {
	all, err := estimatesOf(db, []string{designID})
	return all[designID], err
}

// estimatesOf is estimatesIn of several designs, in the same statements.
func estimatesOf(db *gorm.DB, designIDs []string) (map[string]map[string]Estimate, error) {
	past, err := pastDays(db)
	if err != nil {
		return nil, err
	}
	out := make(map[string]map[string]Estimate, len(designIDs))
	for _, id := range designIDs {
		out[id] = map[string]Estimate{}
		for _, e := range chosenEstimates() {
			e.Source = "chosen"
			out[id][e.Kind] = e
		}
		for kind, all := range past {
			if e, ok := learned(kind, elsewhere(all, id)); ok {
				out[id][kind] = e
			}
		}
	}
	var stated []Estimate
	if err := db.Where("design_id IN ?", designIDs).Find(&stated).Error; err != nil {
		return nil, fmt.Errorf("estimates: %w", err)
	}
	for _, e := range stated {
		e.Source, e.Unit = "stated", unitOf(e.Kind)
		out[e.DesignID][e.Kind] = e
	}
	return out, nil
}

// learned makes an estimate of enough past pieces of work.
func learned(kind string, days []float64) (Estimate, bool) {
	if len(days) < fewestLearned {
		return Estimate{}, false
	}
	low, likely, high := spread(days)
	// A past that was always the same does not make the future certain.
	low, high = min(low, hundredths((1-narrowest)*likely)), max(high, hundredths((1+narrowest)*likely))
	return Estimate{Kind: kind, Low: low, Likely: likely, High: high, Unit: "days", Source: "learned", From: len(days)}, true
}

func unitOf(kind string) string {
	for _, e := range chosenEstimates() {
		if e.Kind == kind {
			return e.Unit
		}
	}
	return ""
}

// spread gives the tenth, the middle and the ninetieth of a hundred, between
// neighbours in proportion.
func spread(days []float64) (low, likely, high float64) {
	sorted := slices.Clone(days)
	sort.Float64s(sorted)
	at := func(p float64) float64 {
		place := p * float64(len(sorted)-1)
		i := int(place)
		if i+1 >= len(sorted) {
			return sorted[len(sorted)-1]
		}
		v := sorted[i] + (place-float64(i))*(sorted[i+1]-sorted[i])
		return math.Round(v*100) / 100
	}
	return at(0.1), at(0.5), at(0.9)
}

// pastPiece is how many days a piece of a design's work took.
type pastPiece struct {
	design string
	days   float64
}

// mostPast is how many past pieces are read; mostLearned of those of other
// designs, the newest first, are learned from (both chosen).
const (
	mostPast    = 400
	mostLearned = 200
)

// elsewhere are the newest days of designs other than one.
func elsewhere(all []pastPiece, designID string) []float64 {
	var out []float64
	for _, p := range all {
		if p.design != designID && len(out) < mostLearned {
			out = append(out, p.days)
		}
	}
	return out
}

// pastDays gathers, by kind and the newest first, how many calendar days the
// edit and the captions took in the studio's designs, and how long after its
// last day a call's last report came. How long something waited for its air
// date is no work, so scheduling is not learned.
func pastDays(db *gorm.DB) (map[string][]pastPiece, error) {
	out := map[string][]pastPiece{}
	err := query(db, func(rows *sql.Rows) error {
		var design string
		var recorded, edited, captioned nullableTime
		if err := rows.Scan(&design, &recorded, &edited, &captioned); err != nil {
			return err
		}
		for _, step := range []struct {
			kind     string
			from, to nullableTime
		}{{workEdit, recorded, edited}, {workCaption, edited, captioned}} {
			if days, ok := step.from.daysTo(step.to); ok {
				out[step.kind] = append(out[step.kind], pastPiece{design, days})
			}
		}
		return nil
	}, `SELECT i.design_id, max(k.accepted_at) AS recorded, i.edited_at AS edited, i.captioned_at AS captioned
		FROM installments i JOIN takes k ON k.installment_id = i.id AND k.accepted_at IS NOT NULL
		WHERE i.edited_at IS NOT NULL GROUP BY i.id, i.design_id, i.edited_at, i.captioned_at ORDER BY i.id DESC LIMIT ?`, mostPast)
	if err != nil {
		return nil, fmt.Errorf("past steps: %w", err)
	}
	err = query(db, func(rows *sql.Rows) error {
		var (
			design string
			due    Date
			last   nullableTime
		)
		if err := rows.Scan(&design, &due, &last); err != nil {
			return err
		}
		if last.at != nil && due.Valid() {
			days := math.Max(0, float64(due.DaysUntil(Date(last.at.Format(dateLayout)))))
			out[workReports] = append(out[workReports], pastPiece{design, days})
		}
		return nil
	}, `SELECT c.design_id, c.due_on, max(p.sent_at) AS last FROM test_calls c JOIN assignments a ON a.test_call_id = c.id JOIN reports p ON p.assignment_id = a.id AND p.number = 1
		WHERE c.closed_at IS NOT NULL GROUP BY c.id, c.design_id, c.due_on ORDER BY c.id DESC LIMIT ?`, mostPast)
	if err != nil {
		return nil, fmt.Errorf("past calls: %w", err)
	}
	return out, nil
}

// PutEstimates says what kinds of work take in a design; a kind that is left
// out goes back to what the studio has learned. Only the designer says so.
func (s *Store) PutEstimates(ctx context.Context, actor Actor, idOrSlug string, revision *int, stated []Estimate) (map[string]Estimate, int, error) {
	var p problems
	seen := map[string]bool{}
	for i, e := range stated {
		at := fmt.Sprintf("estimates[%d]", i)
		most := 400.0
		switch {
		case unitOf(e.Kind) == "":
			p.addf(at+".kind", "is not a kind of work; choose one of make, film, edit, caption, publish, reports, correct, review")
		case seen[e.Kind]:
			p.addf(at+".kind", "is there twice")
		case e.Kind == workMake:
			most = 20
		}
		seen[e.Kind] = true
		if !(e.Low >= 0 && e.Low <= e.Likely && e.Likely <= e.High && e.High <= most) {
			p.addf(at+".low", "has to rise from low over likely to high, between 0 and %g", most)
		}
		if e.High == 0 {
			p.addf(at+".high", "is zero; work that takes no time is no work")
		}
	}
	if err := p.err(); err != nil {
		return nil, 0, err
	}
	after := 0
	err := s.change(ctx, actor, func(t *tx) error {
		design, err := designIn(t.DB, idOrSlug)
		if err != nil {
			return err
		}
		if err := checkRevision("design", design.Revision, revision); err != nil {
			return err
		}
		var before []Estimate
		if err := t.Where("design_id = ?", design.ID).Order("kind").Find(&before).Error; err != nil {
			return fmt.Errorf("estimates: %w", err)
		}
		if err := t.Where("design_id = ?", design.ID).Delete(&Estimate{}).Error; err != nil {
			return fmt.Errorf("clear estimates: %w", err)
		}
		for i := range stated {
			stated[i].DesignID = design.ID
		}
		if err := createAll(t.DB, stated); err != nil {
			return fmt.Errorf("estimates: %w", err)
		}
		touched := *design
		if err := t.saveDesign(design, &touched); err != nil {
			return err
		}
		after = touched.Revision
		return t.record(design.ID, "estimates", design.ID, "changed", before, stated)
	})
	if err != nil {
		return nil, 0, err
	}
	design, err := s.Design(ctx, idOrSlug)
	if err != nil {
		return nil, 0, err
	}
	all, err := estimatesIn(s.read(ctx), design.ID)
	return all, after, err
}
