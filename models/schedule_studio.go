package models

import (
	"context"
	"fmt"
	"slices"

	"tenter/models/schedule"
)

// StudioWeek is what each person begins within the week, over all designs in
// work: somebody who works on two of them does one thing at a time.
type StudioWeek struct {
	Today Date
	Week  []PersonWeek
	Holds []StudioHold
	Left  []string // designs that were left out, and why
}

// StudioHold is a sample of a design that must stay where a shot needs it.
type StudioHold struct {
	Hold
	Design *Design
}

// mostDesignsInWeek bounds what one look at the week reads (chosen).
const mostDesignsInWeek = 25

// StudioWeek plans the designs together, those with the next announced day
// first.
func (s *Store) StudioWeek(ctx context.Context) (*StudioWeek, error) {
	designs, _, err := s.Designs(ctx, false, Page{Limit: 500})
	if err != nil {
		return nil, err
	}
	out := &StudioWeek{}
	if out.Today, err = s.Today(ctx); err != nil {
		return nil, err
	}
	in := schedule.Input{Today: string(out.Today), Draws: 1, Seed: scheduleSeed} // the week needs no draws
	of := map[string]WeekTask{}
	for i, d := range designs {
		if i >= mostDesignsInWeek {
			out.Left = append(out.Left, fmt.Sprintf("%s and %d more: more than %d designs are in work.", d.Name, len(designs)-i-1, mostDesignsInWeek))
			break
		}
		r, err := s.scheduleRows(ctx, d.ID)
		if err != nil {
			return nil, err
		}
		b := newTaskList(r, d.Name+": ")
		if err := s.listTasks(b, r); err != nil {
			return nil, err
		}
		for _, h := range b.holds {
			out.Holds = append(out.Holds, StudioHold{h, r.design})
		}
		if len(in.Tasks)+len(b.lasts) > schedule.MaxTasks {
			out.Left = append(out.Left, fmt.Sprintf("%s: there are too many tasks to plan together.", d.Name))
			continue
		}
		in.Tasks = append(in.Tasks, b.lasts...)
		for _, t := range b.tasks {
			of[t.Name] = WeekTask{Design: r.design, Name: t.Name[len(d.Name)+2:], Due: Date(orElse(string(t.Due), string(t.On)))}
		}
		for _, p := range b.people() {
			if !slices.ContainsFunc(in.People, func(known schedule.Person) bool { return known.ID == p.Handle }) {
				in.People = append(in.People, r.hours[p.ID].asPerson(p.Handle, out.Today))
			}
		}
	}
	if len(in.Tasks) == 0 {
		return out, nil
	}
	answer, err := s.calculateSchedule(ctx, in)
	if err != nil {
		return nil, err
	}
	out.Week = weekOf(answer, func(name string) WeekTask { return of[name] })
	return out, nil
}
