package schedule

import (
	"math"
	"slices"
	"strings"
)

// withPeople lets each person do one task at a time: whoever is free takes, of
// the tasks that can be started, the one with the least latest finish, then the
// one with the least id. Nobody waits for a task while another could be done.
// sequence is the order in which the tasks were placed: every task after those
// it waits for, and each person's tasks in the order of doing.
//
// Tasks that take nobody's time are placed as soon as their predecessors are.
// Of the others, the one that begins first is placed next: whatever becomes
// possible only later begins later, so no person is given a task too soon.
func (n *network) withPeople(latest []stretch) (planned []stretch, sequence []int, err error) {
	planned = make([]stretch, len(n.tasks))
	free := make([]float64, len(n.people))
	waiting := make([]int, len(n.tasks))
	var open []int
	for _, i := range n.order {
		if waiting[i] = len(n.tasks[i].after); waiting[i] == 0 {
			open = append(open, i)
		}
	}
	for len(open) > 0 {
		slices.SortFunc(open, func(i, j int) int { return strings.Compare(n.tasks[i].id, n.tasks[j].id) })
		next, s := n.next(open, planned, free, latest)
		i := open[next]
		open = append(open[:next], open[next+1:]...)
		if s.end > MaxHorizonDays {
			return nil, nil, n.tooLong(i)
		}
		planned[i] = s
		sequence = append(sequence, i)
		if n.tasks[i].work != nil {
			free[n.tasks[i].who] = s.end
		}
		for _, f := range n.tasks[i].followers {
			if waiting[f]--; waiting[f] == 0 {
				open = append(open, f)
			}
		}
	}
	return planned, sequence, nil
}

// next picks the open task to place, and its stretch. The open tasks are in the
// order of their ids, so that the pick does not depend on the input's order.
func (n *network) next(open []int, planned []stretch, free []float64, latest []stretch) (best int, at stretch) {
	best = -1
	for k, i := range open {
		t := &n.tasks[i]
		ready := t.ready(lastEnd(t.after, planned))
		if t.work == nil {
			return k, t.from(ready)
		}
		s := t.from(math.Max(ready, free[t.who]))
		if best < 0 || s.begin < at.begin || s.begin == at.begin && n.before(i, open[best], latest) {
			best, at = k, s
		}
	}
	return best, at
}

// before tells which of two tasks that can be started goes first.
func (n *network) before(i, j int, latest []stretch) bool {
	if a, b := latest[i].finish(), latest[j].finish(); a != b {
		return a < b
	}
	return strings.Compare(n.tasks[i].id, n.tasks[j].id) < 0
}
