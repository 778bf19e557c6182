package models

import (
	"context"
	"fmt"
	"time"
)

// SampleMove is one line of a sample's history: how far it was worked and who
// had it from then on.
type SampleMove struct {
	ID            string `gorm:"primaryKey"`
	SampleID      string
	At            time.Time
	ByPerson      *string
	WorkedThrough *string
	StateID       *string
	WorkedNote    string
	HeldBy        *string
	HeldNote      string
	RippedBack    bool     // worked back to an earlier point, on purpose
	Hours         *float64 // of making, as logged
	Stitches      *float64 // made in them, by the counts of that day
	Note          string

	Mover  string `gorm:"-"` // handle of ByPerson
	Holder string `gorm:"-"` // handle of HeldBy
}

const mostMoves = 500 // of one sample; chosen

// Move says what is different from now on; nil leaves it as it is. A note
// belongs to what it stands beside: a new WorkedThrough without a WorkedNote
// empties the note, and so does a new HeldBy without a HeldNote.
type Move struct {
	WorkedThrough **string
	WorkedNote    *string
	HeldBy        **string
	HeldNote      *string
	RippedBack    bool
	Note          string
	State         **string // a state within or at the end of an installment; in place of WorkedThrough
	Hours         *float64 // that the work took
}

const mostLoggedHours = 1_000.0 // in one move (chosen)

func (m Move) apply(s *Sample) {
	if m.WorkedThrough != nil {
		s.WorkedThrough, s.StateID, s.WorkedNote = *m.WorkedThrough, nil, ""
	}
	if m.State != nil {
		s.WorkedThrough, s.StateID, s.WorkedNote = nil, *m.State, ""
	}
	set(&s.WorkedNote, m.WorkedNote)
	if m.HeldBy != nil {
		s.HeldBy, s.HeldNote = *m.HeldBy, ""
	}
	set(&s.HeldNote, m.HeldNote)
}

func (m Move) saysNothing() bool {
	return m.WorkedThrough == nil && m.WorkedNote == nil && m.HeldBy == nil && m.HeldNote == nil && !m.RippedBack && m.Note == "" && m.State == nil && m.Hours == nil
}

// MoveSample records that a sample was worked further, ripped back or handed
// on. The second result warns, and refuses nothing: an installment that was
// not recorded yet can no longer be shown.
func (s *Store) MoveSample(ctx context.Context, actor Actor, id string, revision *int, m Move) (*Sample, []string, error) {
	var (
		out      *Sample
		warnings []string
	)
	err := s.change(ctx, actor, func(t *tx) error {
		before, err := first[Sample](t.DB, "sample", "id = ?", id)
		if err != nil {
			return err
		}
		if err := checkRevision("sample", before.Revision, revision); err != nil {
			return err
		}
		run, err := t.lockInstallments(before.DesignID)
		if err != nil {
			return err
		}
		after := *before
		m.apply(&after)
		if err := m.check(before, &after, run); err != nil {
			return err
		}
		if m.HeldBy != nil {
			if err := t.holderThere(after.HeldBy); err != nil {
				return err
			}
		}
		if err := t.saveSample(before, &after, m.action()); err != nil {
			return err
		}
		stitches, err := t.stitchesMade(before, &after, run)
		if err != nil {
			return err
		}
		if err := t.addMove(&after, m, stitches); err != nil {
			return err
		}
		if warnings, err = t.warnings(before, &after, run); err != nil {
			return err
		}
		out, err = sampleIn(t.DB, id)
		return err
	})
	return out, warnings, err
}

func (m Move) action() string {
	switch {
	case m.RippedBack:
		return "ripped back"
	case m.WorkedThrough != nil || m.WorkedNote != nil || m.State != nil || m.Hours != nil:
		return "worked on"
	}
	return "handed on"
}

func (m Move) check(before, after *Sample, run []Installment) error {
	var p problems
	if m.saysNothing() {
		p.addf("worked_through", "is missing, and everything else too; say how far it is worked now, or who has it")
	}
	p.text("note", m.Note, false, longText)
	if err := p.err(); err != nil {
		return err
	}
	if m.WorkedThrough != nil && m.State != nil {
		p.addf("state", "is given beside worked_through; give one of them")
		return p.err()
	}
	if err := after.standsIn(run); err != nil {
		return err
	}
	if m.Hours != nil && !(*m.Hours > 0 && *m.Hours <= mostLoggedHours) {
		p.addf("hours", "has to be more than 0 and at most %g; leave it out when nothing was made", mostLoggedHours)
	}
	states := statesOf(run)
	switch from, to := states.of(*before), states.of(*after); {
	case to < from && !m.RippedBack:
		p.addf("ripped_back", "is not set, and the sample is worked further than that already; set it if the work was ripped back")
	case to > from && m.RippedBack:
		p.addf("ripped_back", "is set, but the sample wasn't worked as far as that; leave it out")
	}
	if err := p.err(); err != nil {
		return err
	}
	return after.validate()
}

// addMove writes the sample's history as it stands from now on.
func (t *tx) addMove(s *Sample, m Move, stitches *float64) error {
	var n int64
	if err := t.Model(&SampleMove{}).Where("sample_id = ?", s.ID).Count(&n).Error; err != nil {
		return fmt.Errorf("count moves: %w", err)
	}
	if n >= mostMoves {
		return failf(Conflict, "This sample has been moved %d times, which is the most that is kept; add a new sample for what follows.", mostMoves)
	}
	move := SampleMove{ID: NewID(), SampleID: s.ID, At: t.now, WorkedThrough: s.WorkedThrough, StateID: s.StateID, WorkedNote: s.WorkedNote,
		HeldBy: s.HeldBy, HeldNote: s.HeldNote, RippedBack: m.RippedBack, Hours: m.Hours, Note: m.Note}
	if m.Hours != nil {
		move.Stitches = stitches
	}
	if t.actor.PersonID != "" {
		move.ByPerson = &t.actor.PersonID
	}
	if err := t.Create(&move).Error; err != nil {
		return fmt.Errorf("add move: %w", err)
	}
	return nil
}

// warnings names the installments that a move has put out of reach.
func (t *tx) warnings(before, after *Sample, run []Installment) ([]string, error) {
	states := statesOf(run)
	if !after.onCamera() || states.of(*after) <= states.of(*before) {
		return nil, nil
	}
	takes, err := takesWhere(t.DB, "installments.design_id = ?", before.DesignID)
	if err != nil {
		return nil, err
	}
	var others []Sample
	if err := t.Where("design_id = ? AND id <> ?", before.DesignID, before.ID).Find(&others).Error; err != nil {
		return nil, fmt.Errorf("other samples: %w", err)
	}
	return OutOfReach(*before, *after, run, takes, others), nil
}

// OutOfReach returns a sentence for each installment that has no accepted take
// that counts, which a camera sample is now worked past, and which no other
// camera sample in use can still show. takes are those of the run, others the
// design's other samples.
func OutOfReach(before, after Sample, run []Installment, takes []Take, others []Sample) []string {
	return outOfReach("is now", before, after, run, takes, others)
}

func outOfReach(is string, before, after Sample, run []Installment, takes []Take, others []Sample) []string {
	if !after.onCamera() {
		return nil
	}
	states := statesOf(run)
	at := positions(run)
	of := map[string][]Take{}
	for _, k := range takes {
		of[k.InstallmentID] = append(of[k.InstallmentID], k)
	}
	var out []string
	for _, in := range run {
		if in.AiredAt == nil && len(in.Shots) > 0 {
			out = append(out, passedShots(is, before, after, in, of[in.ID], others, states)...)
			continue
		}
		if in.Position <= before.workedTo(at) || in.Position > after.workedTo(at) || in.AiredAt != nil || in.recordedAt(of[in.ID]) != nil {
			continue
		}
		if show := samplesFor(in.Position, others, at); show.ready != nil || show.behind != nil {
			continue
		}
		out = append(out, fmt.Sprintf("“%s” %s worked past “%s”, which is not recorded yet, and no other camera sample can still show it: rip it back or make another one before the recording.", after.Label, is, in.Title))
	}
	return out
}
