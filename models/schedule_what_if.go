package models

import (
	"context"
	"fmt"
	"slices"
)

// ScheduleWish is a change that is tried on a schedule and not saved.
type ScheduleWish struct {
	Air        []AirWish    // announced days moved
	ReleasedOn *Date        // the text's day moved
	Samples    []SampleWish // camera samples added
	People     []HoursWish  // hours changed
}

// AirWish moves an installment's announced day; "" takes it away.
type AirWish struct {
	InstallmentID string
	AirOn         Date
}

// SampleWish adds a camera sample in a state, nil for the beginning.
type SampleWish struct{ StateID *string }

// HoursWish changes how much somebody works.
type HoursWish struct {
	PersonID    string
	HoursPerDay float64
	Days        []string // nil leaves them
}

// Tried is a schedule before and after a change, and what it changes.
type Tried struct {
	Before, After *Schedule
	Changes       []string
}

const mostWishes = 100

// TrySchedule reckons what a change would do.
func (s *Store) TrySchedule(ctx context.Context, idOrSlug string, w ScheduleWish) (*Tried, error) {
	design, err := s.Design(ctx, idOrSlug)
	if err != nil {
		return nil, err
	}
	all, err := s.readSchedules(ctx, design)
	if err != nil {
		return nil, err
	}
	out := &Tried{}
	if out.Before, err = s.reckon(ctx, all, design.ID); err != nil {
		return nil, err
	}
	for _, r := range all.designs {
		if r.design.ID == design.ID {
			err = w.apply(r)
		}
	}
	if err != nil {
		return nil, err
	}
	if out.After, err = s.reckon(ctx, all, design.ID); err != nil {
		return nil, err
	}
	out.Changes = differences(out.Before, out.After)
	return out, nil
}

// apply changes the rows, which were read for this alone.
func (w ScheduleWish) apply(r *scheduleRows) error {
	var p problems
	if len(w.Air)+len(w.Samples)+len(w.People) > mostWishes {
		p.addf("air_on", "asks for more than %d changes at once", mostWishes)
		return p.err()
	}
	for i, a := range w.Air {
		at := fmt.Sprintf("air_on[%d]", i)
		p.date(at+".air_on", a.AirOn, false)
		k := slices.IndexFunc(r.run, func(n InstallmentNow) bool { return n.ID == a.InstallmentID })
		if k < 0 {
			p.addf(at+".installment_id", "is not an installment of this design; choose one of its installments")
			continue
		}
		n := &r.run[k]
		n.AirOn = a.AirOn
		if n.RecordBy == "" || n.RecordBy > a.AirOn && a.AirOn != "" {
			n.RecordBy = ""
		}
		if p.err() == nil {
			n.setDays(r.today, r.studio.zone.LeadDays)
		}
	}
	if w.ReleasedOn != nil {
		p.date("released_on", *w.ReleasedOn, false)
		design := *r.design
		design.ReleasedOn = *w.ReleasedOn
		r.design = &design
	}
	w.addSamples(&p, r)
	for i, x := range w.People {
		at := fmt.Sprintf("people[%d]", i)
		work, known := r.studio.hours[x.PersonID]
		if !known {
			p.addf(at+".person_id", "is nobody of the studio who takes part; choose a person")
			continue
		}
		work.HoursPerDay = x.HoursPerDay
		if x.Days != nil {
			work.Days = ""
			for _, d := range WeekDays() {
				if slices.Contains(x.Days, d) {
					work.Days += "," + d
				}
			}
			if work.Days != "" {
				work.Days = work.Days[1:]
			}
		}
		if err := work.validate(); err != nil {
			for _, f := range err.(*Error).Fields { //nolint:errorlint // validate returns nothing else
				p.addf(at+"."+f.Field, "%s", f.Problem)
			}
		}
		r.studio.hours[x.PersonID] = work
		delete(r.studio.unsaid, x.PersonID)
		r.work[x.PersonID] = work // one map, of all designs
	}
	return p.err()
}

func (w ScheduleWish) addSamples(p *problems, r *scheduleRows) {
	rows := make([]Installment, len(r.run))
	for i := range r.run {
		rows[i] = r.run[i].Installment
	}
	states := statesOf(rows)
	for i, x := range w.Samples {
		rank, known := states.Rank(x.StateID)
		if !known {
			p.addf(fmt.Sprintf("samples[%d].state", i), "is not a state of this design; choose one of its states, or null for the beginning")
			continue
		}
		sample := Sample{ID: fmt.Sprintf("another-%d", i+1), DesignID: r.design.ID, Label: "another sample", Purpose: "camera"}
		if z := filmedSize(r.sheet.Sizes); z != nil {
			sample.SizeID = z.ID
		}
		sample.WorkedThrough, sample.StateID = states.placed(rank)
		r.samples = append(r.samples, sample)
	}
}
