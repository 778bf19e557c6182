package film

// ways searches from a node over arcs that some best flow may use and that are
// not fixed. It gives, for each node reached, the arc by which it was reached,
// and -1 for the others. A unit sent round a closed way of such arcs turns one
// best flow into another, and every best flow can be had so, since all of them
// have as many units: the number of samples in use is a level of the cost.
func (n *network) ways(from int) (last []int) {
	last = make([]int, len(n.leaving))
	for v := range last {
		last[v] = -1
	}
	queue := []int{from}
	for len(queue) > 0 {
		v := queue[0]
		queue = queue[1:]
		for _, k := range n.leaving[v] {
			a := n.arcs[k]
			if a.left == 0 || a.fixed || a.to == from || last[a.to] >= 0 || n.reduced(k) != (cost{}) {
				continue
			}
			last[a.to] = k
			queue = append(queue, a.to)
		}
	}
	return last
}

// turn sends a unit over arc k and back from its end to its start by ways that
// were searched from its end.
func (n *network) turn(k int, last []int) {
	for v := n.arcs[k].from; v != n.arcs[k].to; v = n.arcs[last[v]].from {
		n.push(last[v])
	}
	n.push(k)
}

// fix settles an arc at the flow that it has.
func (n *network) fix(k int) { n.arcs[k].fixed, n.arcs[k^1].fixed = true, true }
