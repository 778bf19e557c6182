package schedule

import (
	"math"
	"slices"
)

// weekDays is how far the week's list looks ahead: to the same day next week.
const weekDays = 7

// describe turns the three plans into the answer.
func (n *network) describe(earliest, latest, planned []stretch, sequence, kept []int) Output {
	out := Output{Tasks: make([]TaskPlan, len(n.tasks)), Findings: []Finding{}}
	least := math.MaxInt
	for i := range n.tasks {
		least = min(least, slack(earliest[i], latest[i]))
	}
	for i := range n.tasks {
		t := &n.tasks[i]
		plan := TaskPlan{
			ID:            t.id,
			EarliestStart: n.today.plus(earliest[i].start()), EarliestFinish: n.today.plus(earliest[i].finish()),
			LatestStart: n.today.plus(latest[i].start()), LatestFinish: n.today.plus(latest[i].finish()),
			PlannedStart: n.today.plus(planned[i].start()), PlannedFinish: n.today.plus(planned[i].finish()),
			SlackDays: slack(earliest[i], latest[i]),
		}
		plan.Critical = plan.SlackDays == least
		lateOn, lateDue := t.lateBy(earliest[i])
		plan.LateByDays = max(lateOn, lateDue)
		if t.dated() {
			p := float64(kept[i]) / float64(n.draws)
			e := math.Sqrt(p * (1 - p) / float64(n.draws))
			plan.Probability, plan.StandardError = &p, &e
		}
		out.Tasks[i] = plan
		out.Findings = append(out.Findings, n.findings(i, earliest, planned, plan.Probability)...)
	}
	out.CriticalChain = n.criticalChain(earliest, latest, least)
	out.Week = n.lists(sequence, func(i int) bool { return planned[i].start() <= weekDays })
	out.Order = n.lists(sequence, func(int) bool { return true })
	return out
}

// lists gives each person's tasks that are wanted, in the order of doing.
func (n *network) lists(sequence []int, wanted func(task int) bool) []PersonList {
	lists := make([]PersonList, len(n.people))
	for who, p := range n.people {
		lists[who] = PersonList{Who: p.id, Tasks: []string{}}
	}
	for _, i := range sequence {
		if t := n.tasks[i]; t.who >= 0 && wanted(i) {
			lists[t.who].Tasks = append(lists[t.who].Tasks, t.id)
		}
	}
	return lists
}

// criticalChain is the run of tasks that leads to the most pressed one, from
// the first that waits for nobody. Several critical tasks may lead to no other:
// an announced day with time to spare before it is critical too, as it can't be
// moved. Of these the one is taken that those before it press most.
func (n *network) criticalChain(earliest, latest []stretch, least int) []string {
	best := []int{}
	bestSlack := math.MaxInt
	for _, i := range n.order {
		leads := func(f int) bool { return slack(earliest[f], latest[f]) == least }
		if slack(earliest[i], latest[i]) > least || slices.ContainsFunc(n.tasks[i].followers, leads) {
			continue
		}
		run := n.runTo(i, earliest, latest)
		pressed := math.MaxInt
		for _, k := range run {
			if n.tasks[k].on == nil {
				pressed = min(pressed, slack(earliest[k], latest[k]))
			}
		}
		if len(best) == 0 || pressed < bestSlack ||
			pressed == bestSlack && earliest[i].end > earliest[best[len(best)-1]].end {
			best, bestSlack = run, pressed
		}
	}
	ids := make([]string, len(best))
	for k, i := range best {
		ids[k] = n.tasks[i].id
	}
	return ids
}

// runTo goes back from a task, each time to the predecessor with the least
// slack, of these to the one that ends last, then to the one with the least id.
func (n *network) runTo(i int, earliest, latest []stretch) []int {
	run := []int{i}
	for len(n.tasks[i].after) > 0 {
		i = slices.MinFunc(n.tasks[i].after, func(a, b int) int {
			if d := slack(earliest[a], latest[a]) - slack(earliest[b], latest[b]); d != 0 {
				return d
			}
			switch {
			case earliest[a].end > earliest[b].end:
				return -1
			case earliest[a].end < earliest[b].end:
				return 1
			case n.tasks[a].id < n.tasks[b].id:
				return -1
			}
			return 1
		})
		run = append(run, i)
	}
	slices.Reverse(run)
	return run
}
