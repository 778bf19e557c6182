package film

// chain is one sample's shots, by their place in time order.
type chain struct {
	sample int // place among the samples, or -1 for a new one
	shots  []int
}

// plan is the network of a problem with its arcs found by their ends.
type plan struct {
	*problem
	net         *network
	into        []map[int]int // for each shot, the arc that comes from each node
	anyNew      int           // the node that new samples leave
	firstSample int           // the first sample's node
	firstShot   int           // the first shot's node; each shot has two, in and out
}

func (p *plan) in(shot int) int  { return p.firstShot + 2*shot }
func (p *plan) out(shot int) int { return p.firstShot + 2*shot + 1 }

// assign gives the chains of the best plan: those of samples by id, then the
// new ones in order of first use.
func assign(p *problem) []chain {
	pl := newPlan(p)
	pl.net.minimise()
	return pl.settle()
}

func newPlan(p *problem) *plan {
	pl := &plan{problem: p, firstSample: 1, anyNew: 1 + len(p.samples), firstShot: 2 + len(p.samples)}
	sink := pl.in(len(p.shots))
	pl.net = newNetwork(sink + 1)
	pl.into = make([]map[int]int, len(p.shots))
	for i := range p.samples {
		pl.net.join(0, pl.firstSample+i, 1, cost{inUse: 1})
	}
	pl.net.join(0, pl.anyNew, len(p.shots), cost{newSamples: 1, inUse: 1})
	for j := range p.shots {
		pl.into[j] = make(map[int]int)
		pl.net.join(pl.in(j), pl.out(j), 1, cost{served: -1})
		pl.net.join(pl.out(j), sink, 1, cost{})
		for i, s := range p.samples {
			pl.allow(pl.firstSample+i, s.state, s.free, j)
		}
		pl.allow(pl.anyNew, 0, p.today, j)
		for i := range j {
			pl.allow(pl.out(i), p.shots[i].to, p.shots[i].on, j)
		}
	}
	return pl
}

// allow draws the arc from a node to shot j if a piece that is there, in a
// state since a day, can be ready for it.
func (p *plan) allow(node, state int, since day, j int) {
	s := p.shots[j]
	if p.canReach(state, since, s) {
		p.into[j][node] = p.net.join(node, p.in(j), 1, cost{making: int64(p.made[s.from] - p.made[state])})
	}
}

// settle takes the shots in time order and gives each to the first chain, in
// the order of the tie-breaks, with which the plan stays best. All earlier
// shots are settled by then, so each chain has one last shot, and giving it
// shot j means fixing the one arc from there to j.
func (p *plan) settle() []chain {
	chains := make([]chain, len(p.samples))
	for i := range chains {
		chains[i].sample = i
	}
	for j := range p.shots {
		last := p.net.ways(p.in(j))
		c := 0
		for c < len(chains) && !p.take(p.tail(chains[c]), j, last) {
			c++
		}
		if c == len(chains) {
			if !p.take(p.anyNew, j, last) {
				continue
			}
			chains = append(chains, chain{sample: -1})
		}
		chains[c].shots = append(chains[c].shots, j)
	}
	return chains
}

// tail is the node that a chain would leave for its next shot.
func (p *plan) tail(c chain) int {
	if n := len(c.shots); n > 0 {
		return p.out(c.shots[n-1])
	}
	return p.firstSample + c.sample
}

// take sends the flow from a node to shot j and fixes it, if some best flow
// does so.
func (p *plan) take(node, j int, last []int) bool {
	k, drawn := p.into[j][node]
	if !drawn {
		return false
	}
	if p.net.flow(k) == 0 {
		if last[node] < 0 || p.net.reduced(k) != (cost{}) {
			return false
		}
		p.net.turn(k, last)
	}
	p.net.fix(k)
	return true
}
