package assign

// ordering is an optimal plan while it is turned into the first optimal plan
// in dictionary order.
type ordering struct {
	*plan
	u       []cost    // potentials
	ready   [][][]int // from, to -> people who may move at no cost; may be out of date
	settled []bool    // person -> place is final
	next    []int     // place -> the next one on a free path to the goal; see below
}

const (
	noPath = -1 // the goal cannot be reached at no cost
	goal   = -2
)

// order makes an optimal plan the first among its equals.
func (p *plan) order() {
	n := len(p.sizes) + 1
	o := &ordering{
		plan:    p,
		u:       potentials(p.residual()),
		ready:   make([][][]int, n),
		settled: make([]bool, len(p.people)),
		next:    make([]int, n),
	}
	for i := range o.ready {
		o.ready[i] = make([][]int, n)
	}
	for who := range p.people {
		o.enlist(who)
	}
	for who := range p.people {
		o.settled[who] = true
		o.settle(who)
	}
}

// free tells whether a link of this cost can be used in an optimal plan.
func (o *ordering) free(from, to int, c cost) bool {
	return c.plus(o.u[from]).minus(o.u[to]) == cost{}
}

// enlist notes the moves at no cost that a person has from where they are.
func (o *ordering) enlist(who int) {
	from, now := o.at[who], o.here(who)
	o.eachOption(who, func(to int, c cost) {
		if to != from && o.free(from, to, c.minus(now)) {
			o.ready[from][to] = append(o.ready[from][to], who)
		}
	})
}

// settle gives a person the first place that some optimal plan gives them,
// those before them being settled.
func (o *ordering) settle(who int) {
	from, now := o.at[who], o.here(who)
	searched := false
	best := from
	o.eachOption(who, func(to int, c cost) {
		if to >= best || !o.free(from, to, c.minus(now)) {
			return
		}
		if !searched {
			o.searchBack(from)
			searched = true
		}
		if o.next[to] != noPath {
			best = to
		}
	})
	if best == from {
		return
	}
	o.move(who, best, o.paidFor(who, best))
	for i := best; o.next[i] != goal; i = o.next[i] {
		o.pass(i, o.next[i])
	}
}

// searchBack finds from which places one can be passed on to `to` at no cost,
// nearest first.
func (o *ordering) searchBack(to int) {
	for i := range o.next {
		o.next[i] = noPath
	}
	o.next[to] = goal
	for reached := []int{to}; len(reached) > 0; reached = reached[1:] {
		j := reached[0]
		for i := range o.next {
			if o.next[i] == noPath && o.linked(i, j) {
				o.next[i] = j
				reached = append(reached, i)
			}
		}
	}
}

// linked tells whether one can be passed on from i to j at no cost.
func (o *ordering) linked(i, j int) bool {
	return o.mover(i, j) != nobody || o.counted(i, j)
}

// mover finds someone who can move from i to j at no cost.
func (o *ordering) mover(i, j int) int {
	list := o.ready[i][j]
	for len(list) > 0 {
		who := list[len(list)-1]
		if o.at[who] == i && !o.settled[who] {
			break
		}
		list = list[:len(list)-1] // enlisted anew if they ever come back
	}
	o.ready[i][j] = list
	if len(list) == 0 {
		return nobody
	}
	return list[len(list)-1]
}

// counted tells whether size i may keep one more, or size j make do with one
// less, at no cost.
func (o *ordering) counted(i, j int) bool {
	switch o.out() {
	case j:
		return o.hasRoom(i) && o.free(i, j, o.gain(i, o.count[i]))
	case i:
		return o.canGiveUp(j) && o.free(i, j, cost{}.minus(o.gain(j, o.count[j]-1)))
	}
	return false
}

// pass moves one person from i to j; where only the count changes nobody
// moves.
func (o *ordering) pass(i, j int) {
	who := o.mover(i, j)
	if who == nobody {
		return
	}
	o.move(who, j, o.paidFor(who, j))
	o.enlist(who)
}
