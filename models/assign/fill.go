package assign

import (
	"cmp"
	"slices"
)

// filling is a plan while people are being added one at a time.
type filling struct {
	*plan
	queue   [][]int // size -> people who listed it and are still out, cheapest first
	members [][]int // size -> people assigned to it, held ones aside
	shift   [][]shift
	dist    []cost // size -> cheapest path that adds one to it
	before  []int  // size -> the size before it on that path; see entry, unreached
}

// shift is the cheapest move of one of a size's testers to another size.
type shift struct {
	who   int // nobody when no tester can
	place int64
}

const (
	nobody    = -1
	entry     = -1 // the path begins here with the head of the queue
	unreached = -2
)

// fill assigns people until no size that has room can be given another. After
// k people the plan is a cheapest one of k people.
func (p *plan) fill() {
	f := newFilling(p)
	for {
		f.search()
		end, found := f.cheapestEnd()
		if !found {
			return
		}
		f.augment(end)
	}
}

func newFilling(p *plan) *filling {
	n := len(p.sizes)
	f := &filling{
		plan:    p,
		queue:   queues(n, p.people),
		members: make([][]int, n),
		shift:   make([][]shift, n),
		dist:    make([]cost, n),
		before:  make([]int, n),
	}
	for s := range f.shift {
		f.shift[s] = make([]shift, n)
		f.findShifts(s)
	}
	return f
}

// queues lists for each size those who may make it: place, then likeliest to
// finish, then id.
func queues(sizes int, people []person) [][]int {
	type waiting struct {
		who   int
		place int64
	}
	lists := make([][]waiting, sizes)
	for who, one := range people {
		for _, c := range one.choices {
			lists[c.size] = append(lists[c.size], waiting{who, c.place})
		}
	}
	queue := make([][]int, sizes)
	for s, list := range lists {
		slices.SortFunc(list, func(a, b waiting) int {
			return cmp.Or(
				cmp.Compare(a.place, b.place),
				cmp.Compare(people[b.who].score, people[a.who].score),
				cmp.Compare(a.who, b.who),
			)
		})
		for _, w := range list {
			queue[s] = append(queue[s], w.who)
		}
	}
	return queue
}

// search finds the cheapest path to each size, by relaxing until nothing
// changes. That ends because a cheapest plan leaves no negative cycle.
func (f *filling) search() {
	for s := range f.sizes {
		f.before[s] = unreached
		for len(f.queue[s]) > 0 && f.at[f.queue[s][0]] != f.out() {
			f.queue[s] = f.queue[s][1:] // once assigned, a person stays assigned
		}
		if len(f.queue[s]) > 0 {
			head := f.queue[s][0]
			f.before[s] = entry
			f.dist[s] = f.price(head, s, f.paidFor(head, s))
		}
	}
	for changed := true; changed; {
		changed = false
		for from := range f.sizes {
			if f.before[from] != unreached && f.relax(from) {
				changed = true
			}
		}
	}
}

func (f *filling) relax(from int) (changed bool) {
	for to, s := range f.shift[from] {
		if s.who == nobody {
			continue
		}
		d := f.dist[from].plus(cost{place: s.place})
		if f.before[to] == unreached || d.less(f.dist[to]) {
			f.dist[to], f.before[to], changed = d, from, true
		}
	}
	return changed
}

// cheapestEnd picks the size with room whose path costs least, with what one
// more tester is worth there.
func (f *filling) cheapestEnd() (end int, found bool) {
	var least cost
	for s := range f.sizes {
		if f.before[s] == unreached || !f.hasRoom(s) {
			continue
		}
		if c := f.dist[s].plus(f.gain(s, f.count[s])); !found || c.less(least) {
			end, least, found = s, c, true
		}
	}
	return end, found
}

// augment moves a tester along each step of the path that ends at a size, and
// brings in the person at its beginning.
func (f *filling) augment(end int) {
	for to := end; ; to = f.before[to] {
		from := f.before[to]
		if from == entry {
			f.join(f.queue[to][0], to)
			return
		}
		who := f.shift[from][to].who
		f.leave(who, from)
		f.join(who, to)
	}
}

// join puts a person at a size and offers their moves from there.
func (f *filling) join(who, size int) {
	f.move(who, size, f.paidFor(who, size))
	f.members[size] = append(f.members[size], who)
	f.offer(who, size)
}

// leave takes a tester off a size, whose moves are then found anew.
func (f *filling) leave(who, size int) {
	f.members[size] = slices.DeleteFunc(f.members[size], func(m int) bool { return m == who })
	f.findShifts(size)
}

// findShifts finds the cheapest move from a size to each other one.
func (f *filling) findShifts(from int) {
	row := f.shift[from]
	for to := range row {
		row[to] = shift{who: nobody}
	}
	for _, who := range f.members[from] {
		f.offer(who, from)
	}
}

// offer keeps those of a tester's moves that are the cheapest yet.
func (f *filling) offer(who, from int) {
	row := f.shift[from]
	for _, c := range f.people[who].choices {
		place := c.place - f.paid[who]
		if c.size != from && (row[c.size].who == nobody || place < row[c.size].place) {
			row[c.size] = shift{who, place}
		}
	}
}
