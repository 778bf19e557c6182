package models

import (
	"context"
	"database/sql"
	"fmt"
	"slices"
	"strings"

	"gorm.io/gorm"
)

// StudioBoard is every design of the studio at a glance, a page at a time, in
// a constant number of statements.
type StudioBoard struct {
	Today   Date
	Designs []StudioLine
	Next    string
	Needs   []Need // what needs somebody today or soon, the most pressing first
}

// StudioLine is one design on the studio's page.
type StudioLine struct {
	Design  Design
	Tracks  []Track
	NextAir *InstallmentNow // the next announced day that is not over
	Blocks  *Need           // what holds it back most
}

// Need is something that needs a person, in words, with the screen of the
// design where it is mended.
type Need struct {
	Design   *Design
	Sentence string
	Where    string
	DueOn    Date // "" for no day
}

// soonDays is how far ahead the studio's page looks for what needs doing (chosen).
const soonDays = 7

// StudioBoard reads a page of the studio's designs.
func (s *Store) StudioBoard(ctx context.Context, page Page) (*StudioBoard, error) {
	designs, next, err := s.Designs(ctx, false, page)
	if err != nil {
		return nil, err
	}
	studio, err := s.Studio(ctx)
	if err != nil {
		return nil, err
	}
	out := &StudioBoard{Today: DateOf(s.Now(), studio.Location()), Next: next}
	ids := make([]string, len(designs))
	for i, d := range designs {
		ids[i] = d.ID
	}
	r := studioRows{ids: ids, progress: map[string]*progress{}, runs: map[string][]InstallmentNow{}, awaited: map[string]awaited{}}
	for _, id := range ids {
		r.progress[id] = &progress{}
	}
	for _, read := range []func(*gorm.DB) error{r.readSamples, r.readTesting(out.Today)} {
		if err := read(s.read(ctx)); err != nil {
			return nil, fmt.Errorf("studio: %w", err)
		}
	}
	if err := r.readRuns(s.read(ctx), out.Today, studio.LeadDays); err != nil {
		return nil, fmt.Errorf("studio: %w", err)
	}
	for i := range designs {
		line, needs, err := r.line(&designs[i], out.Today)
		if err != nil {
			return nil, fmt.Errorf("studio: %w", err)
		}
		out.Designs = append(out.Designs, line)
		out.Needs = append(out.Needs, needs...)
	}
	slices.SortStableFunc(out.Needs, func(a, b Need) int {
		return strings.Compare(orElse(string(a.DueOn), "9999"), orElse(string(b.DueOn), "9999"))
	})
	return out, nil
}

// studioRows is what the studio's page is made of, by design.
type studioRows struct {
	ids      []string
	progress map[string]*progress
	runs     map[string][]InstallmentNow
	samples  map[string][]Sample
	awaited  map[string]awaited
}

func (r *studioRows) readSamples(db *gorm.DB) error {
	return query(db, func(rows *sql.Rows) error {
		var (
			id            string
			count, washed int
		)
		if err := rows.Scan(&id, &count, &washed); err != nil {
			return err
		}
		p := r.progress[id]
		p.samples, p.washed = count, washed
		return nil
	}, `SELECT design_id, count(*), count(CASE WHEN after_stitches IS NOT NULL OR after_rows IS NOT NULL THEN 1 END)
		FROM samples WHERE design_id IN ? AND retired_at IS NULL GROUP BY design_id`, r.idsOrNone())
}

// readTesting counts each design's testers, so that sizes which are short of
// approved reports can be told, and the testers whose reports are awaited.
func (r *studioRows) readTesting(today Date) func(*gorm.DB) error {
	return func(db *gorm.DB) error {
		sizes, err := testersBySize(db, r.idsOrNone(), today)
		for _, z := range sizes {
			if !z.called {
				continue
			}
			p := r.progress[z.designID]
			p.called = true
			p.assigned += z.Assigned
			p.reported += z.Reported
			if z.Approved < z.Fewest {
				p.short++
			}
			r.awaited[z.designID] = r.awaited[z.designID].and(awaited{testers: z.Assigned - z.Reported, late: z.late, next: z.next})
		}
		return err
	}
}

func (r *studioRows) readRuns(db *gorm.DB, today Date, leadDays int) error {
	var installments []Installment
	if err := db.Where("design_id IN ?", r.idsOrNone()).Order("design_id, position").Find(&installments).Error; err != nil {
		return err
	}
	if err := withStates(db, installments); err != nil {
		return err
	}
	if err := withShots(db, installments); err != nil {
		return err
	}
	takes, err := takesWhere(db, "installments.design_id IN ?", r.idsOrNone())
	if err != nil {
		return err
	}
	samples, err := heldSamples(db, "samples.design_id IN ? AND samples.retired_at IS NULL", r.idsOrNone())
	if err != nil {
		return err
	}
	r.samples = map[string][]Sample{}
	byDesign, recordings := map[string][]Installment{}, map[string][]Take{}
	of := map[string]string{}
	for _, in := range installments {
		byDesign[in.DesignID] = append(byDesign[in.DesignID], in)
		of[in.ID] = in.DesignID
	}
	for _, s := range samples {
		r.samples[s.DesignID] = append(r.samples[s.DesignID], s)
	}
	for _, k := range takes {
		recordings[of[k.InstallmentID]] = append(recordings[of[k.InstallmentID]], k)
	}
	for id, run := range byDesign {
		r.runs[id] = StandInstallments(today, leadDays, run, recordings[id], r.samples[id])
	}
	return nil
}

// idsOrNone never gives an empty list, which "IN ()" would not take.
func (r *studioRows) idsOrNone() []string {
	if len(r.ids) == 0 {
		return []string{""}
	}
	return r.ids
}
