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
	r := studioRows{ids: ids, progress: map[string]*progress{}, runs: map[string][]InstallmentNow{}, due: map[string]Date{}}
	for _, id := range ids {
		r.progress[id] = &progress{}
	}
	for _, read := range []func(*gorm.DB) error{r.readSamples, r.readTesting} {
		if err := read(s.read(ctx)); err != nil {
			return nil, fmt.Errorf("studio: %w", err)
		}
	}
	if err := r.readRuns(s.read(ctx), out.Today, studio.LeadDays); err != nil {
		return nil, fmt.Errorf("studio: %w", err)
	}
	for i := range designs {
		line, needs := r.line(&designs[i], out.Today)
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
	due      map[string]Date // last day of the running call
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

// readTesting counts the newest call of each design by size, so that sizes
// which are short of approved reports can be told.
func (r *studioRows) readTesting(db *gorm.DB) error {
	return query(db, func(rows *sql.Rows) error {
		var (
			id                                   string
			due                                  Date
			fewest, assigned, reported, approved int
		)
		if err := rows.Scan(&id, &due, &fewest, &assigned, &reported, &approved); err != nil {
			return err
		}
		p := r.progress[id]
		p.called, r.due[id] = true, due
		p.assigned += assigned
		p.reported += reported
		if approved < fewest {
			p.short++
		}
		return nil
	}, `SELECT c.design_id, c.due_on, s.fewest, count(a.id), count(p.id), count(p.approved_at)
		FROM test_calls c JOIN slots s ON s.test_call_id = c.id
		LEFT JOIN assignments a ON a.test_call_id = c.id AND a.size_id = s.size_id AND a.withdrawn_at IS NULL
		LEFT JOIN reports p ON p.assignment_id = a.id AND p.superseded_at IS NULL
		WHERE c.design_id IN ? AND c.id = (SELECT max(n.id) FROM test_calls n WHERE n.design_id = c.design_id)
		GROUP BY c.id, c.design_id, c.due_on, s.size_id, s.fewest ORDER BY c.design_id`, r.idsOrNone())
}

func (r *studioRows) readRuns(db *gorm.DB, today Date, leadDays int) error {
	var installments []Installment
	if err := db.Where("design_id IN ?", r.idsOrNone()).Order("design_id, position").Find(&installments).Error; err != nil {
		return err
	}
	takes, err := takesWhere(db, "installments.design_id IN ?", r.idsOrNone())
	if err != nil {
		return err
	}
	var samples []Sample
	if err := db.Where("design_id IN ? AND retired_at IS NULL", r.idsOrNone()).Order("id").Find(&samples).Error; err != nil {
		return err
	}
	byDesign, pieces, recordings := map[string][]Installment{}, map[string][]Sample{}, map[string][]Take{}
	of := map[string]string{}
	for _, in := range installments {
		byDesign[in.DesignID] = append(byDesign[in.DesignID], in)
		of[in.ID] = in.DesignID
	}
	for _, s := range samples {
		pieces[s.DesignID] = append(pieces[s.DesignID], s)
	}
	for _, k := range takes {
		recordings[of[k.InstallmentID]] = append(recordings[of[k.InstallmentID]], k)
	}
	for id, run := range byDesign {
		r.runs[id] = StandInstallments(today, leadDays, run, recordings[id], pieces[id])
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

// line makes a design's line and what it needs from somebody.
func (r *studioRows) line(d *Design, today Date) (StudioLine, []Need) {
	p, run := r.progress[d.ID], r.runs[d.ID]
	p.installments = len(run)
	p.released = d.ReleasedOn != "" && d.ReleasedOn <= today
	line := StudioLine{Design: *d}
	var needs []Need
	for i := range run {
		in := &run[i]
		if in.State != Unrecorded {
			p.recorded++
		}
		if in.State == Aired {
			p.aired++
			continue
		}
		if line.NextAir == nil && in.AirOn != "" {
			line.NextAir = in
		}
		if due := in.nextDue(); due != "" && due <= today.Add(soonDays) {
			needs = append(needs, Need{Design: d, Sentence: "“" + in.Title + "”: " + in.Needs, Where: "filming", DueOn: due})
		}
	}
	if due := r.due[d.ID]; p.called && p.reported < p.assigned && due != "" && due <= today.Add(soonDays) && !p.released {
		needs = append(needs, Need{Design: d, Sentence: fmt.Sprintf("%s of %d still to report.", counted(p.assigned-p.reported, "tester"), p.assigned), Where: "testing", DueOn: due})
	}
	line.Tracks = p.tracks()
	line.Blocks = p.blocks(d, needs)
	return line, needs
}

// nextDue is the day by which the installment needs somebody next.
func (n InstallmentNow) nextDue() Date {
	if n.State == Unrecorded {
		return n.RecordDue
	}
	return n.AirOn
}

// blocks names the one thing that holds a design back most: what is due first,
// else the first of the four tracks that is not done.
func (p progress) blocks(d *Design, needs []Need) *Need {
	if p.released {
		return nil
	}
	if len(needs) > 0 {
		first := slices.MinFunc(needs, func(a, b Need) int { return strings.Compare(string(a.DueOn), string(b.DueOn)) })
		return &first
	}
	switch {
	case p.samples == 0 || p.washed < p.samples:
		return &Need{Design: d, Sentence: p.sampling().Sentence + ".", Where: "samples"}
	case !p.called || p.short > 0 || p.assigned == 0:
		return &Need{Design: d, Sentence: p.testing().Sentence + ".", Where: "testing"}
	case p.recorded < p.installments || p.installments == 0:
		return &Need{Design: d, Sentence: p.filming().Sentence + ".", Where: "filming"}
	}
	return nil
}
