package schedule

import (
	"container/heap"
	"fmt"
	"slices"
	"strings"
)

// sort finds an order in which every task comes after those it waits for, and
// otherwise by id, so that nothing that follows depends on the order of the
// input. Tasks that wait for each other in a circle are an error.
func (n *network) sort() error {
	waiting := make([]int, len(n.tasks))
	ready := &byID{tasks: n.tasks}
	for i, t := range n.tasks {
		if waiting[i] = len(t.after); waiting[i] == 0 {
			ready.places = append(ready.places, i)
		}
	}
	heap.Init(ready)
	for ready.Len() > 0 {
		i := heap.Pop(ready).(int)
		n.order = append(n.order, i)
		for _, f := range n.tasks[i].followers {
			if waiting[f]--; waiting[f] == 0 {
				heap.Push(ready, f)
			}
		}
	}
	if len(n.order) < len(n.tasks) {
		return n.cycle(waiting)
	}
	return nil
}

// cycle shows one circle among the tasks that never became ready. Each of them
// waits for another such task, so going from task to task backwards must come
// round.
func (n *network) cycle(waiting []int) error {
	at := slices.IndexFunc(waiting, func(left int) bool { return left > 0 })
	met := make(map[int]int)
	var back []int
	for {
		if start, again := met[at]; again {
			back = back[start:]
			break
		}
		met[at] = len(back)
		back = append(back, at)
		for _, k := range n.tasks[at].after {
			if waiting[k] > 0 {
				at = k
				break
			}
		}
	}
	slices.Reverse(back)
	first := slices.Min(back)
	turn := slices.Index(back, first)
	round := append(slices.Clone(back[turn:]), back[:turn]...)
	names := make([]string, 0, len(round)+1)
	for _, i := range append(round, first) {
		names = append(names, n.tasks[i].id)
	}
	return fault(fmt.Sprintf("tasks[%d].after", first), "these tasks wait for each other in a circle: %s; take one step out", strings.Join(names, " → "))
}

// byID is a heap of places, the least id on top.
type byID struct {
	tasks  []task
	places []int
}

func (h *byID) Len() int           { return len(h.places) }
func (h *byID) Less(i, j int) bool { return h.tasks[h.places[i]].id < h.tasks[h.places[j]].id }
func (h *byID) Swap(i, j int)      { h.places[i], h.places[j] = h.places[j], h.places[i] }
func (h *byID) Push(x any)         { h.places = append(h.places, x.(int)) }

func (h *byID) Pop() any {
	last := len(h.places) - 1
	x := h.places[last]
	h.places = h.places[:last]
	return x
}
