package assign

// link is the cheapest way to take one from a place and give it one at
// another; it is open when there is any.
type link struct {
	cost cost
	open bool
}

// improve keeps the cheaper of a link and another way.
func (l *link) improve(c cost) {
	if !l.open || c.less(l.cost) {
		*l = link{c, true}
	}
}

// residual gives the moves that a plan leaves open, between all sizes and
// out(): links[i][j] adds one at i that then passes on to j. Out() also stands
// for "count it": a size may keep one more (into out()) or make do with one
// less (from out()), which changes what its testers are worth.
func (p *plan) residual() [][]link {
	n := len(p.sizes) + 1
	links := make([][]link, n)
	for i := range links {
		links[i] = make([]link, n)
	}
	for who := range p.people {
		from, now := p.at[who], p.here(who)
		p.eachOption(who, func(to int, c cost) {
			if to != from {
				links[from][to].improve(c.minus(now))
			}
		})
	}
	for s := range p.sizes {
		if p.hasRoom(s) {
			links[s][p.out()].improve(p.gain(s, p.count[s]))
		}
		if p.canGiveUp(s) {
			links[p.out()][s].improve(cost{}.minus(p.gain(s, p.count[s]-1)))
		}
	}
	return links
}

// canGiveUp tells whether a size has a tester who is not held.
func (p *plan) canGiveUp(size int) bool { return p.count[size] > p.sizes[size].held }

// potentials gives each place a cost so that no open link is cheaper than the
// rise along it: links[i][j] + u[i] - u[j] is never negative. They are the
// lengths of the cheapest paths that end at each place, wherever they begin.
// They exist because an optimal plan has no negative cycle, and are settled
// after as many rounds as there are places.
func potentials(links [][]link) []cost {
	u := make([]cost, len(links))
	for range links {
		changed := false
		for i, row := range links {
			for j, l := range row {
				if d := u[i].plus(l.cost); l.open && d.less(u[j]) {
					u[j], changed = d, true
				}
			}
		}
		if !changed {
			break
		}
	}
	return u
}

// shortest closes links under composition: the result's [i][j] is the
// cheapest path from i to j (Floyd and Warshall), [i][i] is free.
func shortest(links [][]link) [][]link {
	d := make([][]link, len(links))
	for i, row := range links {
		d[i] = append([]link(nil), row...)
		d[i][i] = link{open: true}
	}
	for via := range d {
		for i := range d {
			if !d[i][via].open {
				continue
			}
			for j := range d {
				if d[via][j].open {
					d[i][j].improve(d[i][via].cost.plus(d[via][j].cost))
				}
			}
		}
	}
	return d
}
