package film

// cost is what one unit of flow over an arc costs, most important level first.
// No sum of costs in a network comes near the limits of int64: at most MaxShots
// units cross any level.
type cost [levels]int64

// The levels of a cost.
const (
	served     = iota // shots served; negative, as serving is wanted
	newSamples        // new samples
	inUse             // samples in use
	making            // off-camera making, in millionths of an hour
	levels
)

func (a cost) plus(b cost) cost {
	return cost{a[0] + b[0], a[1] + b[1], a[2] + b[2], a[3] + b[3]}
}

func (a cost) minus(b cost) cost {
	return cost{a[0] - b[0], a[1] - b[1], a[2] - b[2], a[3] - b[3]}
}

func (a cost) less(b cost) bool {
	for i := range a {
		if a[i] != b[i] {
			return a[i] < b[i]
		}
	}
	return false
}

// arc is one direction of a pair: arcs 2k and 2k+1 are each other's reverse.
type arc struct {
	from, to int
	left     int // how many more units may pass
	cost     cost
	fixed    bool // settled: neither more nor less may pass
}

// network is a flow network whose nodes are numbered so that every arc with
// room goes from a lower to a higher number when it is built, the source is the
// first node and the sink the last.
type network struct {
	arcs      []arc
	leaving   [][]int // arcs that leave each node
	potential []cost
}

func newNetwork(nodes int) *network {
	return &network{leaving: make([][]int, nodes), potential: make([]cost, nodes)}
}

// join adds an arc and its reverse and gives the arc's number.
func (n *network) join(from, to, room int, c cost) int {
	k := len(n.arcs)
	n.arcs = append(n.arcs,
		arc{from: from, to: to, left: room, cost: c},
		arc{from: to, to: from, left: 0, cost: cost{}.minus(c)})
	n.leaving[from] = append(n.leaving[from], k)
	n.leaving[to] = append(n.leaving[to], k+1)
	return k
}

// flow gives the units that pass over an arc made by join.
func (n *network) flow(k int) int { return n.arcs[k^1].left }

func (n *network) push(k int) {
	n.arcs[k].left--
	n.arcs[k^1].left++
}

// reduced gives the arc's cost as seen with the potentials: never negative for
// an arc with room, and 0 for exactly those arcs that some best flow may use.
func (n *network) reduced(k int) cost {
	a := n.arcs[k]
	return a.cost.plus(n.potential[a.from]).minus(n.potential[a.to])
}

// minimise sends units from the source to the sink, cheapest path first, for as
// long as a unit lowers the cost. Each next path costs at least as much as the
// one before, so the first that does not pay ends it at a minimum. It leaves
// potentials that prove the minimum: every arc with room has a reduced cost of
// at least 0.
func (n *network) minimise() {
	n.firstPotentials()
	source, sink := 0, len(n.leaving)-1
	for {
		distance, settled, last := n.shortest()
		// what a path may cost, as seen with the potentials, before it stops paying
		pays := n.potential[source].minus(n.potential[sink])
		if !settled[sink] || !distance[sink].less(pays) {
			return
		}
		n.raise(distance, settled, distance[sink])
		for v := sink; v != source; v = n.arcs[last[v]].from {
			n.push(last[v])
		}
	}
}

// firstPotentials walks the nodes in their order, which no arc with room runs
// against.
func (n *network) firstPotentials() {
	for v := range n.leaving {
		for _, k := range n.leaving[v] {
			a := n.arcs[k]
			if c := n.potential[v].plus(a.cost); a.left > 0 && c.less(n.potential[a.to]) {
				n.potential[a.to] = c
			}
		}
	}
}

// raise adds each node's distance to its potential, but no more than most, and
// most where the search did not get to.
func (n *network) raise(distance []cost, settled []bool, most cost) {
	for v := range n.potential {
		if settled[v] && distance[v].less(most) {
			n.potential[v] = n.potential[v].plus(distance[v])
		} else {
			n.potential[v] = n.potential[v].plus(most)
		}
	}
}

// shortest is Dijkstra's algorithm from the source on reduced costs, ended when
// the sink is settled. The nodes are few and the arcs many, so the nearest node
// is found by looking at all. last is the arc by which each node was reached.
func (n *network) shortest() (distance []cost, settled []bool, last []int) {
	nodes := len(n.leaving)
	distance, settled, last = make([]cost, nodes), make([]bool, nodes), make([]int, nodes)
	seen := make([]bool, nodes)
	seen[0] = true
	for {
		v := -1
		for w := range nodes {
			if seen[w] && !settled[w] && (v < 0 || distance[w].less(distance[v])) {
				v = w
			}
		}
		if v < 0 {
			return distance, settled, last
		}
		settled[v] = true
		if v == nodes-1 {
			return distance, settled, last
		}
		for _, k := range n.leaving[v] {
			a := n.arcs[k]
			if a.left == 0 || settled[a.to] {
				continue
			}
			if d := distance[v].plus(n.reduced(k)); !seen[a.to] || d.less(distance[a.to]) {
				distance[a.to], last[a.to], seen[a.to] = d, k, true
			}
		}
	}
}
