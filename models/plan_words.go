package models

import (
	"fmt"
	"slices"
	"strings"

	"tenter/models/assign"
)

// lay puts the answer beside how things stand.
func (p *planning) lay(answer assign.Output) (*Plan, error) {
	asked := assign.DefaultProbability
	if p.in.Probability != nil {
		asked = *p.in.Probability
	}
	plan := &Plan{Call: p.call, Probability: asked, Objective: answer.Objective, Shortfalls: []string{}, Warnings: []string{}}
	given := make(map[string]assign.Assignment, len(answer.Assignments))
	for _, a := range answer.Assignments {
		given[a.Applicant] = a
	}
	reasons := make(map[string]string, len(answer.Reasons))
	for _, r := range answer.Reasons {
		reasons[r.Applicant] = r.Message
	}
	sizeID := map[string]string{}
	for id, name := range p.names {
		sizeID[name] = id
	}
	byHandle := map[string]string{}
	for i := range p.people {
		one := &p.people[i]
		byHandle[one.Handle] = one.PersonID
		if a, has := given[one.Handle]; has {
			one.Proposed, one.Place = sizeID[a.Size], a.Place
		}
		one.Change = change(one.Present, one.Proposed)
		one.Reason = p.reason(*one, reasons[one.Handle])
	}
	for i, s := range p.call.Slots {
		size, err := p.size(s.Slot, answer.Sizes[i], asked, byHandle)
		if err != nil {
			return nil, err
		}
		plan.Sizes = append(plan.Sizes, size)
	}
	for _, f := range answer.Shortfalls {
		plan.Shortfalls = append(plan.Shortfalls, f.Message)
	}
	for _, w := range answer.Warnings {
		if w.Applicant == "" || p.fixedBy[byHandle[w.Applicant]] != "" { // who has a size already needs no warning
			plan.Warnings = append(plan.Warnings, w.Message)
		}
	}
	plan.People = p.people
	return plan, nil
}

func change(present, proposed string) string {
	switch {
	case present == proposed && present == "":
		return PlanNone
	case present == proposed:
		return PlanKeep
	case present == "":
		return PlanAsk
	case proposed == "":
		return PlanRelease
	}
	return PlanMove
}

func (p *planning) size(slot Slot, answer assign.SizeResult, asked float64, byHandle map[string]string) (PlanSize, error) {
	out := PlanSize{Slot: slot, Name: answer.Name, Reserve: []string{}}
	var now, then []assign.Tester
	for _, one := range p.people {
		t := assign.Tester{Probability: one.Probability, State: assign.Working} // quietness is in the probability already
		if one.Reported {
			t.State = assign.Reported
		}
		if one.Present == slot.SizeID {
			now = append(now, t)
		}
		if one.Proposed != slot.SizeID {
			continue
		}
		if one.Change == PlanMove { // a quiet start on another size tells nothing of this one
			t.Probability = one.Record.Probability()
		}
		then = append(then, t)
	}
	out.Present, out.Proposed = len(now), len(then)
	var err error
	if out.Now, err = assign.Cover(slot.Fewest, now); err != nil {
		return out, fmt.Errorf("coverage now: %w", err)
	}
	if out.Then, err = assign.Cover(slot.Fewest, then); err != nil {
		return out, fmt.Errorf("coverage then: %w", err)
	}
	chances := make([]float64, len(then))
	for i, t := range then {
		chances[i] = t.Now()
	}
	out.Recruit = assign.Recruits(chances, slot.Fewest, assign.DefaultPrior().Newcomer(), asked)
	for _, handle := range answer.Reserve {
		out.Reserve = append(out.Reserve, byHandle[handle])
	}
	return out, nil
}

// reason says in words why somebody gets what they get.
func (p *planning) reason(one PlanPerson, otherwise string) string {
	chance := fmt.Sprintf("%.0f %% likely to finish", 100*one.Probability)
	instead := ""
	if otherwise != "" {
		instead = "; " + strings.Replace(otherwise, "is filled by fixed pairs", "is full already", 1)
	}
	switch {
	case one.Reported:
		return "has reported on this size"
	case one.Out != "" && one.Proposed == "":
		return one.Out
	case p.fixedBy[one.PersonID] != "":
		return "fixed by you" + p.ofList(one)
	case one.Change == PlanKeep && one.Accepted:
		return "has accepted this size" + quietly(one) + ", " + chance
	case one.Change == PlanKeep && !p.in.MoveAsked:
		return "was asked to make this size" + quietly(one) + ", " + chance
	case one.Proposed == "" && len(one.Sizes) == 0:
		return "listed no size"
	case one.Proposed == "":
		return "in reserve" + instead
	}
	return ordinal(one.Place) + " choice, " + chance + instead
}

func quietly(one PlanPerson) string {
	if one.State == assign.Quiet {
		return " and has gone quiet"
	}
	return ""
}

func (p *planning) ofList(one PlanPerson) string {
	place := slices.Index(one.Sizes, one.Proposed)
	if place < 0 {
		return ", though not on their list"
	}
	return ", their " + ordinal(place+1) + " choice"
}

// ordinal spells a place in a list.
func ordinal(n int) string {
	spelled := []string{"", "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth"}
	if n > 0 && n < len(spelled) {
		return spelled[n]
	}
	return fmt.Sprintf("%dth", n)
}
