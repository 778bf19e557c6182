package models

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"tenter/models/counts"
)

// ShootSheet is all that is at hand when an installment is recorded and edited:
// its shots in order with their samples, the numbers of the version being
// released, and what the takes came to.
type ShootSheet struct {
	Today       Date
	Design      *Design
	Installment InstallmentNow
	Version     Version // the latest, which is the one being released
	Sizes       []Size
	Size        *Size // the filmed one; nil when none is marked
	States      States
	Shots       []SheetShot
	Notes       []EditNote
	Chapters    []SheetChapter
	Trouble     []string // what keeps chapters from being complete
	Unlogged    []Unlogged

	corrected *corrected
}

// SheetShot is a shot with everything that it needs.
type SheetShot struct {
	Shot
	From, To string // states in words
	Plan     *PlannedShot
	Here     string // where its sample is now, in words
	Numbers  []SheetNumber
	Skips    []string // sizes that skip a line that is said
	Tails    []ShotTail
	Takes    []ShotTake // every take that holds it, by number
	Recorded *ShotTake  // the accepted one that is used; nil while there is none
	Flags    []string   // numbers that the text has changed since they were said
}

// SheetNumber is a count as it is said and shown.
type SheetNumber struct {
	Name  string
	Words string
	Unit  string
	Demo  *float64 // nil: the filmed size skips it, or none is marked
	Line  string   // for all sizes; "" when the text no longer has it
}

// ShotTake is a shot in a take.
type ShotTake struct {
	TakeID   string
	Number   int
	At       *TimeCode
	Until    *TimeCode // as stamped, or where the next shot begins or the take ends; nil unknown
	Accepted bool
	SetAside bool
	Again    bool // a slip in it waits to be recorded again
	Said     []SaidNumber
	Flags    []string
	Cards    []string // lines for all sizes that a correction has changed since; of the one that is used
}

// ShootSheet returns the sheet of an installment.
func (s *Store) ShootSheet(ctx context.Context, installmentID string) (*ShootSheet, error) {
	row, err := first[Installment](s.read(ctx), "installment", "id = ?", installmentID)
	if err != nil {
		return nil, err
	}
	r, err := s.filmingRows(ctx, row.DesignID)
	if err != nil {
		return nil, err
	}
	plan, err := s.planFilming(r, 0)
	if err != nil {
		return nil, err
	}
	sheet := &ShootSheet{Today: r.today, Design: r.design, Version: r.sheet.Version, Sizes: r.sheet.Sizes, Size: plan.Size, States: plan.States, Unlogged: plan.Unlogged}
	for _, n := range r.run {
		if n.ID == installmentID {
			sheet.Installment = n
		}
	}
	shots := slices.Clone(sheet.Installment.Shots)
	if err := withShotLists(s.read(ctx), shots, "shot_id IN (SELECT id FROM shots WHERE installment_id = ?)", installmentID); err != nil {
		return nil, err
	}
	takes := make([]*Take, len(sheet.Installment.Takes))
	for i := range takes {
		takes[i] = &sheet.Installment.Takes[i]
	}
	if err := withSaid(s.read(ctx), takes, "take_id IN (SELECT id FROM takes WHERE installment_id = ?)", installmentID); err != nil {
		return nil, err
	}
	if sheet.corrected, err = correctedIn(s.read(ctx), row.DesignID, r.sheet.Sizes); err != nil {
		return nil, err
	}
	for _, shot := range shots {
		sheet.Shots = append(sheet.Shots, sheet.shot(shot, plan, r.sheet))
	}
	sheet.note()
	sheet.chapter()
	return sheet, nil
}

func (s *ShootSheet) shot(shot Shot, plan *FilmingPlan, latest *Sheet) SheetShot {
	from, _ := s.States.Rank(shot.FromState)
	to, _ := s.States.Rank(shot.ToState)
	out := SheetShot{Shot: shot, From: s.States.Name(from), To: s.States.Name(to), Tails: shot.Tails}
	for i := range plan.Shots {
		if plan.Shots[i].Shot.ID == shot.ID {
			out.Plan = &plan.Shots[i]
		}
	}
	if out.Plan != nil {
		for _, piece := range plan.Samples {
			if piece.ID == out.Plan.SampleID {
				out.Here = s.States.Name(s.States.of(piece))
			}
		}
	}
	now := map[string]*float64{}
	for _, n := range shot.Numbers {
		x := s.number(n, latest)
		now[n.CountName] = x.Demo
		out.Numbers = append(out.Numbers, x)
		if skips := s.skips(n.CountName, latest); skips != "" {
			out.Skips = append(out.Skips, skips)
		}
	}
	for i := range s.Installment.Takes {
		if x := shotTake(&s.Installment.Takes[i], shot.ID); x != nil {
			x.Flags = s.flags(x.Said, latest)
			out.Takes = append(out.Takes, *x)
		}
	}
	if k, in := acceptedShot(shot.ID, s.Installment.Takes); in != nil {
		out.Recorded = shotTake(k, shot.ID)
		out.Recorded.Flags = s.flags(in.Said, latest)
		for _, f := range out.Recorded.Flags {
			out.Flags = append(out.Flags, fmt.Sprintf("Take %d %s.", k.Number, f))
		}
		out.Recorded.Cards = s.corrected.cards(out, k.VersionID, s.Size)
		for _, f := range out.Recorded.Cards {
			out.Flags = append(out.Flags, sentence(f))
		}
	}
	return out
}

// number is a count for the filmed size and its line for all.
func (s *ShootSheet) number(n ShotNumber, latest *Sheet) SheetNumber {
	out := SheetNumber{Name: n.CountName, Words: n.Words}
	values := latest.lineOf(n.CountName)
	if values == nil {
		return out
	}
	for _, c := range latest.Counts {
		if c.Name == n.CountName {
			out.Unit = c.Unit
		}
	}
	for i, z := range latest.Sizes {
		if s.Size != nil && z.ID == s.Size.ID {
			out.Demo = values[i]
		}
	}
	out.Line = counts.Print(values, layoutOf(s.Design.GroupLengths()))
	return out
}

// lineOf returns a count for every size in order, nil when there is no such
// count.
func (s Sheet) lineOf(name string) []*float64 {
	for _, c := range s.Counts {
		if c.Name != name {
			continue
		}
		of := map[string]float64{}
		for _, v := range c.Values {
			of[v.SizeID] = v.Value
		}
		out := make([]*float64, len(s.Sizes))
		for i, z := range s.Sizes {
			if v, ok := of[z.ID]; ok {
				out[i] = &v
			}
		}
		return out
	}
	return nil
}

// skips says which sizes skip a line: there the video has to say so.
func (s *ShootSheet) skips(name string, latest *Sheet) string {
	var skip []string
	for i, v := range latest.lineOf(name) {
		if v == nil {
			skip = append(skip, latest.Sizes[i].Name)
		}
	}
	switch len(skip) {
	case 0:
		return ""
	case 1:
		return fmt.Sprintf("Size %s skips %s.", skip[0], name)
	}
	return fmt.Sprintf("Sizes %s and %s skip %s.", strings.Join(skip[:len(skip)-1], ", "), skip[len(skip)-1], name)
}

// flags holds what was said against the latest text.
func (s *ShootSheet) flags(said []SaidNumber, latest *Sheet) []string {
	if s.Size == nil {
		return nil
	}
	now := latest.ValuesFor(s.Size.ID)
	var out []string
	for _, n := range said {
		v, there := now[n.CountName]
		old := counts.Print([]*float64{&n.Said}, counts.Layout{})
		switch {
		case !there:
			out = append(out, fmt.Sprintf("said %s for %s, which the text no longer has for size %s", old, n.CountName, s.Size.Name)+s.corrected.by(n.CountName, s.Size.ID))
		case v != n.Said:
			out = append(out, fmt.Sprintf("said %s for %s, the text now says %s", old, n.CountName, counts.Print([]*float64{&v}, counts.Layout{}))+s.corrected.by(n.CountName, s.Size.ID))
		default:
			if draft := s.corrected.toCome(n.CountName, s.Size.ID); draft != "" {
				out = append(out, fmt.Sprintf("said %s for %s, %s", old, n.CountName, draft))
			}
		}
	}
	return out
}

// shotTake is a shot in a take, nil when the take does not hold it.
func shotTake(k *Take, shotID string) *ShotTake {
	for i := range k.Shots {
		s := &k.Shots[i]
		if s.ShotID != shotID {
			continue
		}
		out := &ShotTake{TakeID: k.ID, Number: k.Number, At: s.AtMS, Until: s.UntilMS, Accepted: s.AcceptedAt != nil,
			SetAside: k.SetAsideAt != nil, Again: k.shotAgain(shotID), Said: s.Said}
		if _, until, stamped := k.within(shotID); stamped && s.UntilMS == nil && until < LongestRecording {
			if k.Seconds != nil {
				until = min(until, TimeCode(*k.Seconds*second))
			}
			if until > *s.AtMS {
				out.Until = &until
			}
		}
		return out
	}
	return nil
}
