package assign

// demand is what one size asks for.
type demand struct {
	fewest, wanted int
	held           int // testers that fixed pairs have put there
}

// choice is a size that a person may make and its cost in places.
type choice struct {
	size  int
	place int64
}

// person is someone who is free to be assigned.
type person struct {
	choices []choice // best first
	score   int64    // completion probability in units of the scale
}

// plan is an assignment of people, in order of id, to sizes.
type plan struct {
	sizes  []demand
	people []person
	at     []int   // person -> size, or out()
	paid   []int64 // person -> place cost of where they are
	count  []int   // size -> people assigned, held ones too
}

// newPlan starts a plan in which only the held testers are assigned.
func newPlan(sizes []demand, people []person) *plan {
	p := &plan{
		sizes:  sizes,
		people: people,
		at:     make([]int, len(people)),
		paid:   make([]int64, len(people)),
		count:  make([]int, len(sizes)),
	}
	for who := range people {
		p.at[who] = p.out()
	}
	for s, d := range sizes {
		p.count[s] = d.held
	}
	return p
}

// solve gives the plan that the package documentation defines.
func solve(sizes []demand, people []person) *plan {
	p := newPlan(sizes, people)
	p.fill()
	p.order()
	return p
}

// out is the place of those who make no size, after all sizes.
func (p *plan) out() int { return len(p.sizes) }

// move puts a person at a place for which they pay `paid`, 0 at out().
func (p *plan) move(who, to int, paid int64) {
	if from := p.at[who]; from != p.out() {
		p.count[from]--
	}
	if to != p.out() {
		p.count[to]++
	}
	p.at[who], p.paid[who] = to, paid
}

// hasRoom tells whether one more may be assigned to a size.
func (p *plan) hasRoom(size int) bool { return p.count[size] < p.sizes[size].wanted }

// gain is the cost of a size's nth tester, counted from 0 and held ones
// included: never positive, and it does not fall with n.
func (p *plan) gain(size, n int) cost {
	switch d := p.sizes[size]; {
	case n < d.fewest:
		return cost{short: -1, below: -1}
	case n < d.wanted:
		return cost{below: -1}
	}
	return cost{}
}

// price is what a person costs at a place for which they pay `paid`.
func (p *plan) price(who, place int, paid int64) cost {
	if place == p.out() {
		return cost{}
	}
	return cost{place: paid, doubt: -p.people[who].score}
}

// here is what a person costs where they are.
func (p *plan) here(who int) cost { return p.price(who, p.at[who], p.paid[who]) }

// eachOption calls f for every place that a person may take, with the cost of
// taking it.
func (p *plan) eachOption(who int, f func(place int, c cost)) {
	for _, c := range p.people[who].choices {
		f(c.size, p.price(who, c.size, c.place))
	}
	f(p.out(), cost{})
}

// paidFor gives the place cost of one of a person's options.
func (p *plan) paidFor(who, place int) int64 {
	for _, c := range p.people[who].choices {
		if c.size == place {
			return c.place
		}
	}
	return 0
}
