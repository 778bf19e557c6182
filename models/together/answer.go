package together

import (
	"slices"
	"strings"

	"tenter/models/schedule"
)

// answer puts one design's two plans side by side.
func (in Input) answer(group []int, place int, alone, all schedule.Output) Plan {
	p := Plan{Alone: named(alone), Group: map[int][]schedule.TaskPlan{}, Order: in.turns(group, all)}
	for _, t := range all.Tasks {
		design, name := taken(t.ID)
		t.ID = name
		p.Group[design] = append(p.Group[design], t)
	}
	p.With = slices.DeleteFunc(slices.Clone(group), func(g int) bool { return g == place })
	for i, own := range p.Alone.Tasks {
		with := p.Group[place][i]
		t := Task{TaskPlan: own}
		t.PlannedStart, t.PlannedFinish = with.PlannedStart, with.PlannedFinish
		if own.Probability != nil && *with.Probability < *own.Probability {
			t.Probability, t.StandardError = with.Probability, with.StandardError
		}
		t.LaterDays = max(0, daysBetween(own.PlannedStart, t.PlannedStart), daysBetween(own.PlannedFinish, t.PlannedFinish))
		p.Tasks = append(p.Tasks, t)
	}
	if len(p.With) > 0 {
		newTracing(in, place, &p).traceAll()
	}
	return p
}

// named gives a calculation of one design its own names back, in a copy.
func named(out schedule.Output) schedule.Output {
	own := func(id string) string { _, name := taken(id); return name }
	out.Tasks, out.CriticalChain, out.Findings = slices.Clone(out.Tasks), slices.Clone(out.CriticalChain), slices.Clone(out.Findings)
	for i := range out.Tasks {
		out.Tasks[i].ID = own(out.Tasks[i].ID)
	}
	for i := range out.CriticalChain {
		out.CriticalChain[i] = own(out.CriticalChain[i])
	}
	for i := range out.Findings {
		f := &out.Findings[i]
		f.Message = strings.ReplaceAll(f.Message, f.Task[:3], "")
		f.Task = own(f.Task)
	}
	out.Week, out.Order = namedLists(out.Week), namedLists(out.Order)
	return out
}

func namedLists(lists []schedule.PersonList) []schedule.PersonList {
	out := make([]schedule.PersonList, len(lists))
	for i, l := range lists {
		out[i].Who = l.Who
		for _, id := range l.Tasks {
			_, name := taken(id)
			out[i].Tasks = append(out[i].Tasks, name)
		}
	}
	return out
}

// turns lists what each person does in a calculation, in order.
func (in Input) turns(group []int, all schedule.Output) []Turns {
	plan := make(map[string]schedule.TaskPlan, len(all.Tasks))
	for _, t := range all.Tasks {
		plan[t.ID] = t
	}
	var out []Turns
	for _, list := range all.Order {
		if len(list.Tasks) == 0 {
			continue
		}
		turns := Turns{Who: list.Who}
		for _, id := range list.Tasks {
			place, name := taken(id)
			turns.Turns = append(turns.Turns, Turn{place, name, plan[id].PlannedStart, plan[id].PlannedFinish})
		}
		out = append(out, turns)
	}
	return out
}
