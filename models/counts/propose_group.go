package counts

import (
	"fmt"
	"math"
	"math/big"
	"strings"
)

// group is a part of a task whose counts hang together.
type group struct {
	names []string
	start []*float64
	terms []term // slots by place in names
}

// groups splits a task into parts that can be solved one by one. Terms about
// nothing but kept counts make a group without counts.
func (t *task) groups() []group {
	parent := make([]int, len(t.names)+1)
	none := len(t.names)
	for i := range parent {
		parent[i] = i
	}
	var root func(i int) int
	root = func(i int) int {
		if parent[i] != i {
			parent[i] = root(parent[i])
		}
		return parent[i]
	}
	for _, m := range t.terms {
		for _, s := range m.slots {
			parent[root(s)] = root(m.slots[0])
		}
	}
	byRoot := map[int]int{}
	local := make([]int, len(t.names))
	groups := []group{}
	at := func(r int) *group {
		if _, ok := byRoot[r]; !ok {
			byRoot[r] = len(groups)
			groups = append(groups, group{})
		}
		return &groups[byRoot[r]]
	}
	for i, name := range t.names {
		g := at(root(i))
		local[i] = len(g.names)
		g.names, g.start = append(g.names, name), append(g.start, t.start[i])
	}
	for _, m := range t.terms {
		r := none
		if len(m.slots) > 0 {
			r = root(m.slots[0])
		}
		slots := make([]int, len(m.slots))
		for i, s := range m.slots {
			slots[i] = local[s]
		}
		m.slots = slots
		g := at(r)
		g.terms = append(g.terms, m)
	}
	return groups
}

// solve finds the group's counts in at most about the given number of steps, or
// says why there are none.
func (g group) solve(steps int) (found outcome, problem string) {
	l, problem := g.lattice()
	if problem != "" {
		return outcome{}, problem
	}
	found = l.nearest(g.legal, steps)
	switch {
	case !found.pinned:
		return found, "nothing says how large " + g.unpulled() + " should be; measure it by a point, or give it values to start from"
	case found.x == nil && found.exact:
		return found, "no counts keep all rules" + g.ruleNames()
	case found.x == nil:
		return found, "no counts that keep all rules were found near the intended measurements" + g.ruleNames()
	}
	return found, ""
}

// legal checks every rule on found counts, also those that guided the search: a
// multiple must not come to less than nothing.
func (g group) legal(x []float64) bool {
	found := make(map[string]exact, len(x))
	for i, name := range g.names {
		found[name] = exactOf(x[i])
	}
	for _, t := range g.terms {
		if t.rule != nil && !t.holds(found) {
			return false
		}
	}
	return true
}

// lattice solves the balances and multiples of the group over whole numbers. A
// multiple adds one unknown, how many times it is repeated.
func (g group) lattice() (*lattice, string) {
	n := len(g.names)
	unknowns := n
	for _, t := range g.terms {
		if t.repeat > 0 {
			unknowns++
		}
	}
	var equations []equation
	repeats := n
	for _, t := range g.terms {
		for _, l := range t.equals {
			times := make([]exact, unknowns)
			for i, slot := range t.slots {
				times[slot] = times[slot].add(l.times[i])
			}
			if t.repeat > 0 {
				times[repeats] = wholeNumber(-int64(t.repeat))
				repeats++
			}
			e, ok := wholeEquation(times, l.plus.negated())
			if !ok {
				return nil, fmt.Sprintf("no whole counts keep the rule %q", t.name)
			}
			equations = append(equations, e)
		}
	}
	point, free, ok := solveWhole(equations, unknowns)
	if !ok {
		return nil, "no whole counts keep all rules" + g.ruleNames()
	}
	out := &lattice{pulls: g.pulls()}
	out.point, ok = floats(point[:n])
	for _, column := range free {
		b, fits := floats(column[:n])
		out.basis, ok = append(out.basis, b), ok && fits
	}
	if !ok {
		return nil, "the rules hold numbers that are too large to search" + g.ruleNames()
	}
	return out, ""
}

// floats converts whole numbers, false when one would lose digits.
func floats(whole []*big.Int) ([]float64, bool) {
	out := make([]float64, len(whole))
	for i, w := range whole {
		f, _ := new(big.Float).SetInt(w).Float64()
		if math.Abs(f) > MaxResult {
			return nil, false
		}
		out[i] = f
	}
	return out, true
}

// pulls lists what draws the counts: the points, and the starting values.
func (g group) pulls() []pull {
	var pulls []pull
	for _, t := range g.terms {
		if t.pull == nil {
			continue
		}
		p := pull{times: make([]float64, len(g.names)), target: t.pull.target}
		for i, slot := range t.slots {
			p.times[slot] += t.pull.times[i]
		}
		pulls = append(pulls, p)
	}
	for i, start := range g.start {
		if start != nil {
			p := pull{times: make([]float64, len(g.names)), target: *start * math.Sqrt(stillness)}
			p.times[i] = math.Sqrt(stillness)
			pulls = append(pulls, p)
		}
	}
	return pulls
}

// unpulled names the counts that no point and no starting value draws.
func (g group) unpulled() string {
	pulls := g.pulls()
	var names []string
	for i, name := range g.names {
		felt := false
		for _, p := range pulls {
			felt = felt || p.times[i] != 0
		}
		if !felt {
			names = append(names, name)
		}
	}
	if len(names) == 0 {
		names = g.names // each is drawn, but only in sums
	}
	return strings.Join(names, ", ")
}

func (g group) ruleNames() string {
	var names []string
	for _, t := range g.terms {
		if t.rule != nil {
			names = append(names, t.name)
		}
	}
	return " (" + strings.Join(names, ", ") + ")"
}
