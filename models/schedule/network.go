package schedule

// network is the checked input. Times and dates are days from today.
type network struct {
	today  date
	draws  int
	seed   int64
	people []person
	tasks  []task
	order  []int // every task after those it waits for, ids rising where that leaves a choice
}

type person struct {
	id       string
	calendar *calendar // nil for a person without tasks in hours
}

type task struct {
	id        string
	who       int // place among people, or -1
	estimate  estimate
	length    float64   // planned days, or hours for work
	work      *calendar // when the task is done, for one in hours that takes any
	after     []int
	followers []int
	on, due   *int
	notBefore int // never before today
}

// estimate is a three-point estimate, low <= likely <= high.
type estimate struct{ low, likely, high float64 }

// expected is the mean that three points stand for: (low + 4 likely + high) / 6.
func (e estimate) expected() float64 { return (e.low + 4*e.likely + e.high) / 6 }

// dated tells whether the task has a day to keep.
func (t *task) dated() bool { return t.on != nil || t.due != nil }

func newNetwork(in Input) (*network, error) {
	n := &network{draws: in.Draws, seed: in.Seed}
	var err error
	if n.today, err = parseDate("today", in.Today); err != nil {
		return nil, err
	}
	if len(in.People) > MaxPeople {
		return nil, fault("people", "has %d entries; at most %d are allowed", len(in.People), MaxPeople)
	}
	if len(in.Tasks) > MaxTasks {
		return nil, fault("tasks", "has %d entries; at most %d are allowed", len(in.Tasks), MaxTasks)
	}
	if err := n.readPeople(in.People, in.Tasks); err != nil {
		return nil, err
	}
	if err := n.readTasks(in.Tasks); err != nil {
		return nil, err
	}
	if err := n.sort(); err != nil {
		return nil, err
	}
	return n, n.checkDraws()
}

func (n *network) checkDraws() error {
	if n.draws == 0 {
		n.draws = DefaultDraws
	}
	if n.draws < 0 || n.draws > MaxDraws {
		return fault("draws", "is %d; give a number from 1 to %d, or leave it out for %d", n.draws, MaxDraws, DefaultDraws)
	}
	steps := len(n.tasks)
	for _, t := range n.tasks {
		steps += len(t.after)
	}
	if steps > 0 && n.draws > MaxSteps/steps {
		return fault("draws", "%d draws are too many for %d tasks that wait for each other %d times; give at most %d",
			n.draws, len(n.tasks), steps-len(n.tasks), MaxSteps/steps)
	}
	return nil
}
