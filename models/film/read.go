package film

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// newProblem checks the input.
func newProblem(in Input) (*problem, error) {
	p := &problem{hoursPerDay: in.HoursPerDay, sameDayHours: in.SameDayHours}
	var err error
	if p.today, err = parseDay("today", in.Today); err != nil {
		return nil, err
	}
	if err := checkHours("hours_per_day", in.HoursPerDay, MaxHoursPerDay); err != nil {
		return nil, err
	}
	if err := checkHours("same_day_hours", in.SameDayHours, MaxHoursPerDay); err != nil {
		return nil, err
	}
	place, err := p.readStates(in.States)
	if err != nil {
		return nil, err
	}
	if err := p.readSamples(in.Samples, place); err != nil {
		return nil, err
	}
	if err := p.readShots(in.Shots, place); err != nil {
		return nil, err
	}
	return p, nil
}

func (p *problem) readStates(states []State) (place map[string]int, err error) {
	if len(states) == 0 {
		return nil, fault("states", "is empty; name at least the state in which a new sample starts")
	}
	if len(states) > MaxStates {
		return nil, fault("states", "has %d entries; at most %d are allowed", len(states), MaxStates)
	}
	place = make(map[string]int, len(states))
	var hours float64
	for i, s := range states {
		field := fmt.Sprintf("states[%d]", i)
		if err := checkName(field+".name", s.Name, place); err != nil {
			return nil, err
		}
		if err := checkHours(field+".hours", s.Hours, MaxStateHours); err != nil {
			return nil, err
		}
		if i > 0 {
			hours += s.Hours
		}
		place[s.Name] = i
		p.states = append(p.states, s.Name)
		p.reach = append(p.reach, hours)
		p.made = append(p.made, microhours(math.Round(hours*perHour)))
	}
	return place, nil
}

func (p *problem) readSamples(samples []Sample, place map[string]int) error {
	if len(samples) > MaxSamples {
		return fault("samples", "has %d entries; at most %d are allowed", len(samples), MaxSamples)
	}
	seen := make(map[string]int, len(samples))
	for i, s := range samples {
		field := fmt.Sprintf("samples[%d]", i)
		if err := checkName(field+".id", s.ID, seen); err != nil {
			return err
		}
		seen[s.ID] = i
		state, err := p.findState(field+".state", s.State, place)
		if err != nil {
			return err
		}
		free := p.today
		if s.FreeFrom != "" {
			if free, err = parseDay(field+".free_from", s.FreeFrom); err != nil {
				return err
			}
		}
		p.samples = append(p.samples, sample{id: s.ID, state: state, free: max(free, p.today)})
	}
	slices.SortFunc(p.samples, func(a, b sample) int { return strings.Compare(a.id, b.id) })
	return nil
}

func (p *problem) readShots(shots []Shot, place map[string]int) error {
	if len(shots) > MaxShots {
		return fault("shots", "has %d entries; at most %d are allowed", len(shots), MaxShots)
	}
	seen := make(map[string]int, len(shots))
	for i, s := range shots {
		field := fmt.Sprintf("shots[%d]", i)
		if err := checkName(field+".id", s.ID, seen); err != nil {
			return err
		}
		seen[s.ID] = i
		on, err := parseDay(field+".on", s.On)
		if err != nil {
			return err
		}
		from, err := p.findState(field+".from", s.From, place)
		if err != nil {
			return err
		}
		to, err := p.findState(field+".to", s.To, place)
		if err != nil {
			return err
		}
		if to < from {
			return fault(field+".to", "%q comes before %q, but a sample only moves forwards; change from or to", s.To, s.From)
		}
		p.shots = append(p.shots, shot{id: s.ID, on: on, from: from, to: to, given: i})
	}
	slices.SortStableFunc(p.shots, func(a, b shot) int { return int(a.on - b.on) })
	return nil
}

func (p *problem) findState(field, name string, place map[string]int) (int, error) {
	i, ok := place[name]
	if !ok {
		return 0, fault(field, "there is no state %q; the states are %s", clip(name), joinSome(p.states))
	}
	return i, nil
}

func checkName(field, name string, seen map[string]int) error {
	switch _, twice := seen[name]; {
	case strings.TrimSpace(name) == "":
		return fault(field, "is empty; give a name")
	case len(name) > MaxNameLength:
		return fault(field, "is longer than %d bytes; shorten it", MaxNameLength)
	case twice:
		return fault(field, "%q is used twice; each must have its own", clip(name))
	}
	return nil
}

func checkHours(field string, hours, most float64) error {
	if !(hours >= 0 && hours <= most) { // written so that NaN fails too
		return fault(field, "is %v; give hours from 0 to %v", hours, most)
	}
	return nil
}
