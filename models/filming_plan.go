package models

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"tenter/models/film"
)

// FilmingPlan is which sample shows which shot, in which order, and what has to
// be made for it, as things stand today.
type FilmingPlan struct {
	Today        Date
	Size         *Size // whose samples are filmed; nil: none is marked, so every camera sample counts
	States       States
	Making       []Stretch // in the filmed size, at the makers' speed
	Speed        MakingSpeed
	HoursPerDay  float64 // of making on each day
	SameDayHours float64 // between two shots of one day
	Shots        []PlannedShot
	Undated      []PlannedShot // without any day to be recorded on
	Samples      []Sample      // for the camera, in the filmed size, in use
	Lines        []SampleLine  // what becomes of each sample, the new ones last
	Installments []InstallmentPlan
	NewSamples   int
	Hours        float64 // of making off camera in all
	Warnings     []string
	Holds        []Hold
	Unlogged     []Unlogged // samples that were worked on camera since their state was noted
	Unsaid       int        // states whose making nobody has said: their hours count as none
}

// PlannedShot is an unrecorded shot with its day and the sample that shows it.
// An installment without shots is planned as one, from the end of the one
// before it to its own.
type PlannedShot struct {
	Shot        Shot // the zero shot for a whole installment
	Installment string
	Label       string // "2.1 Round 12"
	On          Date   // "" undated
	Overdue     bool   // it was to be recorded earlier, and is planned for today
	From, To    int    // ranks
	SampleID    string // "" for a new one, or when nothing can show it
	Sample      string // label
	Holder      string
	New         bool
	Spare       string  // label of a sample that stands in its state although the plan uses another
	WorkHours   float64 // of making before it
	StartBy     Date    // by which that has to be begun; "" when nothing has to be made
	Message     string  // why nothing can show it
}

// SampleLine is a sample moving through states over days.
type SampleLine struct {
	SampleID string // "" for a new one
	Label    string
	Holder   string
	New      bool
	Steps    []SampleStep
}

// SampleStep is a place of a sample: where it is on a day, and why.
type SampleStep struct {
	On    Date
	Rank  int
	Kind  string // "here", "made" or "shown"
	Words string
	Hours float64 // of making since the step before
}

// InstallmentPlan is an installment's days.
type InstallmentPlan struct {
	ID          string
	Unrecorded  int // shots, or 1 for a whole installment
	Of          int
	RecordBy    Date
	ShootOn     Date
	StartBy     Date // the earliest day by which making has to be begun; "" when nothing has to be made
	MakingHours float64
	DaysLeft    *int // to the day of the recording
	Can         bool // every unrecorded shot has a sample
}

// usualSameDay is the making that fits between two shots of one day (chosen).
const usualSameDay = 0.5

// PlanFilming plans a design's filming. hoursPerDay 0 takes the makers' own.
func (s *Store) PlanFilming(ctx context.Context, idOrSlug string, hoursPerDay float64) (*FilmingPlan, error) {
	if hoursPerDay != 0 && !(hoursPerDay >= 0.05 && hoursPerDay <= film.MaxHoursPerDay) {
		return nil, &Error{Kind: Invalid, Message: "The plan can't be made.", Fields: []FieldProblem{{"hours_per_day", "has to lie between 0.05 and 24 hours"}}}
	}
	r, err := s.filmingRows(ctx, idOrSlug)
	if err != nil {
		return nil, err
	}
	return s.planFilming(r, hoursPerDay)
}

func (s *Store) planFilming(r *filmingRows, hoursPerDay float64) (*FilmingPlan, error) {
	rows := make([]Installment, len(r.run))
	for i := range r.run {
		rows[i] = r.run[i].Installment
	}
	p := &FilmingPlan{Today: r.today, Size: filmedSize(r.sheet.Sizes), States: statesOf(rows), SameDayHours: usualSameDay}
	for _, z := range r.samples {
		if z.onCamera() && (p.Size == nil || z.SizeID == p.Size.ID) {
			p.Samples = append(p.Samples, z)
		}
	}
	p.Speed, p.HoursPerDay = r.pace(p.Samples)
	if hoursPerDay != 0 {
		p.HoursPerDay = hoursPerDay
	}
	size := ""
	if p.Size != nil {
		size = p.Size.ID
	} else if len(r.sheet.Sizes) > 0 {
		size = r.sheet.Sizes[0].ID
	}
	p.Making = s.stretches(p.States, r.sheet, size, p.Speed)
	for _, x := range p.Making {
		if !x.Known {
			p.Unsaid++
		}
	}
	p.collectShots(r.run)
	p.Holds = HoldsOf(r.run, p.Samples)
	p.Unlogged = UnloggedOf(r.run, r.samples, r.ripped)
	if err := p.solve(); err != nil {
		return nil, err
	}
	p.sumUp(r.run)
	p.spare()
	p.tellRun(r.run)
	return p, nil
}

// collectShots lists what is unrecorded, with its day, in the order of filming.
func (p *FilmingPlan) collectShots(run []InstallmentNow) {
	for i, n := range run {
		if n.State != Unrecorded || n.AiredAt != nil {
			continue
		}
		shots := n.Open
		if len(n.Shots) == 0 {
			var from *string
			if i > 0 {
				from = &run[i-1].ID
			}
			shots = []Shot{{FromState: from, ToState: &n.ID, Title: n.Title}}
		}
		for _, shot := range shots {
			x := PlannedShot{Shot: shot, Installment: n.ID, On: n.shootDue(), Label: fmt.Sprintf("%d.%d %s", n.Position, shot.Position, shot.Title)}
			if shot.ID == "" {
				x.Label = fmt.Sprintf("%d %s", n.Position, n.Title)
			}
			x.From, _ = p.States.Rank(shot.FromState)
			x.To, _ = p.States.Rank(shot.ToState)
			x.To = max(x.From, x.To)
			if x.On == "" {
				p.Undated = append(p.Undated, x)
				continue
			}
			if x.On < p.Today {
				x.On, x.Overdue = p.Today, true
			}
			p.Shots = append(p.Shots, x)
		}
	}
	slices.SortStableFunc(p.Shots, func(a, b PlannedShot) int { return strings.Compare(string(a.On), string(b.On)) })
	if len(p.Shots) > film.MaxShots {
		p.Warnings = append(p.Warnings, fmt.Sprintf("Only the first %d of %d unrecorded shots are planned.", film.MaxShots, len(p.Shots)))
		p.Shots = p.Shots[:film.MaxShots]
	}
}
