package models

import (
	"context"
	"errors"
	"fmt"

	"tenter/models/schedule"
)

// StudioWeek is what each person begins within the week, over all designs in
// work: somebody who works on two of them does one thing at a time.
type StudioWeek struct {
	Today Date
	Week  []PersonWeek
	Holds []StudioHold
	Left  []string // what was left out, and why
}

// StudioHold is a sample of a design that must stay where a shot needs it.
type StudioHold struct {
	Hold
	Design *Design
}

// StudioWeek plans the designs together, in the same calculations as the
// schedule of each.
func (s *Store) StudioWeek(ctx context.Context) (*StudioWeek, error) {
	all, err := s.readSchedules(ctx, nil)
	if err != nil {
		return nil, err
	}
	in, lists, left, err := s.tasksOf(all, "")
	if err != nil {
		return nil, err
	}
	out := &StudioWeek{Today: all.today}
	for _, b := range lists {
		for _, h := range b.holds {
			out.Holds = append(out.Holds, StudioHold{h, b.r.design})
		}
	}
	if len(left) > 0 {
		out.Left = append(out.Left, withoutRoom(left))
	}
	everybody, failed, err := in.Everybody()
	if err != nil {
		return nil, err
	}
	for _, turns := range everybody {
		if len(turns.Turns) > 0 {
			out.Week = append(out.Week, weekOf(lists, turns, all.today))
		}
	}
	for _, f := range failed {
		var fault *schedule.FieldError
		if !errors.As(f.Why, &fault) {
			return nil, f.Why
		}
		for _, place := range f.Designs {
			out.Left = append(out.Left, fmt.Sprintf("%s is not planned: %s %s.", lists[place].r.design.Name, fault.Field, fault.Problem))
		}
	}
	return out, nil
}
