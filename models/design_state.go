package models

import (
	"context"
	"fmt"
	"math"

	"gorm.io/gorm"
)

// DesignState is a point of the text that a sample is worked to: the end of an
// installment, or a point within one that will be shown. Its making is counted
// from the state before it, as stitches by the count sheet or as hours.
//
// The end of an installment is there as soon as the installment is, and has its
// id; points within are added by hand. The designer and the filmers write them.
type DesignState struct {
	ID            string `gorm:"primaryKey"`
	DesignID      string
	InstallmentID string
	Position      int // within the installment, from 1; 0 for its end
	Name          string
	Stitches      string   // expression over counts; "" not known
	Hours         *float64 // of making, where the stitches don't tell

	within string // the name without its installment's title, set by statesOf
}

const (
	mostStatesWithin  = 30      // points within one installment (chosen)
	mostStretchHours  = 2_000.0 // of making from one state to the next (chosen)
	mostStretchStitch = 5e6     // stitches of one stretch (chosen)
)

// IsEnd tells whether the state is the end of its installment.
func (d DesignState) IsEnd() bool { return d.Position == 0 }

// States are a design's states in the order of making. Before the first of
// them nothing is made: that is rank 0, and the first state is rank 1.
type States []DesignState

// statesOf puts the states that a run of installments carries into order. An
// installment that carries none has its end all the same.
func statesOf(run []Installment) States {
	var all States
	for _, in := range run {
		end := DesignState{ID: in.ID, DesignID: in.DesignID, InstallmentID: in.ID}
		for _, d := range in.States {
			if d.IsEnd() {
				end = d
				continue
			}
			d.within, d.Name = d.Name, in.Title+": "+d.Name
			all = append(all, d)
		}
		end.Name = "the end of " + in.Title
		all = append(all, end)
	}
	return all
}

// Rank is the place of a state, nil for the beginning. ok is false when it is
// none of these.
func (s States) Rank(id *string) (rank int, ok bool) {
	if id == nil {
		return 0, true
	}
	for i, d := range s {
		if d.ID == *id {
			return i + 1, true
		}
	}
	return 0, false
}

// Name says in words where a rank is.
func (s States) Name(rank int) string {
	if rank < 1 || rank > len(s) {
		return "the beginning"
	}
	return s[rank-1].Name
}

// at returns the state of a rank, nil for the beginning.
func (s States) at(rank int) *string {
	if rank < 1 {
		return nil
	}
	return &s[rank-1].ID
}

// of returns the rank of a sample.
func (s States) of(sample Sample) int {
	at := sample.StateID
	if at == nil {
		at = sample.WorkedThrough
	}
	rank, _ := s.Rank(at)
	return rank
}

// placed returns how a state is written into a sample: the last installment
// that is worked through whole, and the point beyond it, if any.
func (s States) placed(rank int) (workedThrough, stateID *string) {
	if rank < 1 {
		return nil, nil
	}
	if d := s[rank-1]; !d.IsEnd() {
		stateID = &d.ID
	}
	for i := rank - 1; i >= 0; i-- {
		if s[i].IsEnd() {
			return &s[i].ID, stateID
		}
	}
	return nil, stateID
}

// withStates fills the states of installments in one query.
func withStates(db *gorm.DB, run []Installment) error {
	if len(run) == 0 {
		return nil
	}
	at := make(map[string]*Installment, len(run))
	designs := map[string]bool{}
	for i := range run {
		at[run[i].ID] = &run[i]
		run[i].States = nil
		designs[run[i].DesignID] = true
	}
	var rows []DesignState
	if err := db.Where("design_id IN ?", keysOf(designs)).Order("installment_id, position, id").Find(&rows).Error; err != nil {
		return fmt.Errorf("states: %w", err)
	}
	for _, d := range rows {
		if in := at[d.InstallmentID]; in != nil {
			in.States = append(in.States, d)
		}
	}
	return nil
}

func keysOf[T any](m map[string]T) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	return out
}

// addEnd gives a new installment its end.
func (t *tx) addEnd(in *Installment) error {
	if err := t.Create(&DesignState{ID: in.ID, DesignID: in.DesignID, InstallmentID: in.ID}).Error; err != nil {
		return fmt.Errorf("end of installment: %w", err)
	}
	return nil
}

// PutStates replaces a design's states. Those within an installment stand in
// the order given; one that is left out must not be in use. The ends are
// always there: one that is left out loses what was said of its making.
func (s *Store) PutStates(ctx context.Context, actor Actor, idOrSlug string, revision *int, states []DesignState) (States, int, error) {
	var (
		out   States
		after int
	)
	err := s.change(ctx, actor, func(t *tx) error {
		design, err := designIn(t.DB, idOrSlug)
		if err != nil {
			return err
		}
		if err := checkRevision("design", design.Revision, revision); err != nil {
			return err
		}
		run, err := t.lockInstallments(design.ID)
		if err != nil {
			return err
		}
		before := statesOf(run)
		next, err := t.arrange(design, run, states)
		if err != nil {
			return err
		}
		if err := t.replaceStates(before, next); err != nil {
			return err
		}
		touched := *design
		if err := t.saveDesign(design, &touched); err != nil {
			return err
		}
		if err := withStates(t.DB, run); err != nil {
			return err
		}
		out, after = statesOf(run), touched.Revision
		return t.record(design.ID, "states", design.ID, "changed", before, out)
	})
	return out, after, err
}

// arrange checks the states and gives them their places.
func (t *tx) arrange(design *Design, run []Installment, states []DesignState) ([]DesignState, error) {
	var p problems
	known := map[string]DesignState{}
	for _, d := range statesOf(run) {
		known[d.ID] = d
	}
	stretch, err := t.stretchCheck(design)
	if err != nil {
		return nil, err
	}
	within := map[string]int{}
	seen := map[string]bool{}
	next := make([]DesignState, 0, len(states)+len(run))
	for i, d := range states {
		at := fmt.Sprintf("states[%d]", i)
		in, err := installmentOf(run, d.InstallmentID, at+".installment_id")
		if err != nil {
			return nil, err
		}
		isEnd := d.ID == in.ID
		was, old := known[d.ID]
		switch {
		case d.ID != "" && !old:
			p.addf(at+".id", "is not a state of this design; leave it out for a new one")
		case seen[d.ID] && d.ID != "":
			p.addf(at+".id", "is given twice")
		case old && was.InstallmentID != in.ID:
			p.addf(at+".installment_id", "is not the installment that this state belongs to; add a new state there")
		}
		seen[d.ID] = true
		d.DesignID, d.Position = design.ID, 0
		if isEnd {
			d.Name = ""
		} else {
			within[in.ID]++
			d.Position = within[in.ID]
			p.text(at+".name", d.Name, true, shortText)
			if d.Position > mostStatesWithin {
				p.addf("states", "has more than %d points within one installment", mostStatesWithin)
			}
		}
		stretch(&p, at, d)
		next = append(next, d)
	}
	for _, in := range run {
		if !seen[in.ID] {
			next = append(next, DesignState{ID: in.ID, DesignID: design.ID, InstallmentID: in.ID})
		}
	}
	return next, p.err()
}

// stretchCheck returns a check of what is said about the making of a state.
func (t *tx) stretchCheck(design *Design) (func(p *problems, at string, d DesignState), error) {
	latest, err := latestVersion(t.DB, design.ID)
	if err != nil {
		return nil, err
	}
	sheet, err := sheetIn(t.DB, *latest)
	if err != nil {
		return nil, err
	}
	return func(p *problems, at string, d DesignState) {
		if d.Hours != nil && !(*d.Hours > 0 && *d.Hours <= mostStretchHours) {
			p.addf(at+".hours", "has to be more than 0 and at most %g; leave it out when it is not known", mostStretchHours)
		}
		if len(d.Stitches) > longestExpression {
			p.addf(at+".stitches", "has %d characters; keep it to %d", len(d.Stitches), longestExpression)
			return
		}
		if d.Stitches == "" {
			return
		}
		for _, z := range sheet.Sizes {
			_, _, err := t.store.stretchStitches(sheet, z.ID, d.Stitches)
			if err != nil {
				p.addf(at+".stitches", "%s", calculationProblem(err))
				return
			}
		}
	}, nil
}

// stretchStitches evaluates the stitches of a stretch for a size by a count
// sheet. ok is false where the size skips one of the counts.
func (s *Store) stretchStitches(sheet *Sheet, sizeID, source string) (stitches float64, ok bool, err error) {
	names := ""
	for i, n := range sheet.Names() {
		if i > 0 {
			names += " "
		}
		names += n
	}
	expr, err := s.expressions.compile(source, names)
	if err != nil {
		return 0, false, err
	}
	if expr.IsStatement() {
		return 0, false, fmt.Errorf("is a statement; write a number of stitches, like body * rows")
	}
	values := sheet.ValuesFor(sizeID)
	for _, name := range expr.Names() {
		if _, there := values[name]; !there {
			return 0, false, nil
		}
	}
	stitches, err = expr.Eval(values)
	if err == nil && (math.IsNaN(stitches) || stitches < 0 || stitches > mostStretchStitch) {
		return 0, false, fmt.Errorf("comes to %g stitches; a stretch has 0 to %g", stitches, mostStretchStitch)
	}
	return stitches, err == nil, err
}

// replaceStates writes the new states over the old ones.
func (t *tx) replaceStates(before States, next []DesignState) error {
	kept := map[string]bool{}
	for _, d := range next {
		kept[d.ID] = true
	}
	for _, d := range before {
		if kept[d.ID] {
			continue
		}
		if err := t.stateUnused(d); err != nil {
			return err
		}
		if err := t.Where("id = ?", d.ID).Delete(&DesignState{}).Error; err != nil {
			return fmt.Errorf("remove state: %w", err)
		}
	}
	there := map[string]bool{}
	var ids []string
	for _, d := range next {
		if d.ID != "" {
			ids = append(ids, d.ID)
		}
	}
	if len(ids) > 0 {
		var rows []string
		if err := t.Model(&DesignState{}).Where("id IN ?", ids).Pluck("id", &rows).Error; err != nil {
			return fmt.Errorf("states: %w", err)
		}
		for _, id := range rows {
			there[id] = true
		}
	}
	for i := range next {
		d := &next[i]
		if !there[d.ID] {
			d.ID = orElse(d.ID, NewID())
			if err := t.Create(d).Error; err != nil {
				return fmt.Errorf("add state: %w", err)
			}
			continue
		}
		err := t.Model(&DesignState{}).Where("id = ?", d.ID).Updates(map[string]any{"position": d.Position, "name": d.Name, "stitches": d.Stitches, "hours": d.Hours}).Error
		if err != nil {
			return fmt.Errorf("change state: %w", err)
		}
	}
	return nil
}

// stateUnused refuses to take a state away that a shot or a sample stands on.
func (t *tx) stateUnused(d DesignState) error {
	var shots, samples int64
	err := t.Raw(`SELECT (SELECT count(*) FROM shots WHERE from_state = @id OR to_state = @id),
		(SELECT count(*) FROM samples WHERE state_id = @id) + (SELECT count(*) FROM sample_moves WHERE state_id = @id)`,
		map[string]any{"id": d.ID}).Row().Scan(&shots, &samples)
	switch {
	case err != nil:
		return fmt.Errorf("look for uses of state: %w", err)
	case shots > 0:
		return failf(Conflict, "“%s” can't be taken away: %s it. Change those first.", d.Name, countedVerb(int(shots), "shot", "needs", "need"))
	case samples > 0:
		return failf(Conflict, "“%s” can't be taken away: samples are or were worked to it. Change its name instead.", d.Name)
	}
	return nil
}

func countedVerb(n int, noun, one, more string) string {
	if n == 1 {
		return "1 " + noun + " " + one
	}
	return fmt.Sprintf("%d %ss %s", n, noun, more)
}

// DesignStates returns a design's states in the order of making.
func (s *Store) DesignStates(ctx context.Context, designID string) (States, error) {
	run, err := installmentRows(s.read(ctx), designID)
	if err != nil {
		return nil, err
	}
	return statesOf(run), nil
}

// Within is the name of a state within its installment, as statesOf has put
// the installment's title before it.
func (d DesignState) Within() string { return d.within }
