package schedule

import "math"

// stretch is when a task is done: from begin to end, days from the start of
// today. A task that takes no time begins and ends at the start of a day.
type stretch struct{ begin, end float64 }

// start is the day on which it is started.
func (s stretch) start() int { return int(math.Floor(s.begin)) }

// finish is its last day.
func (s stretch) finish() int {
	if s.end == s.begin {
		return s.start()
	}
	return int(math.Ceil(s.end)) - 1
}

// ready gives the time from which a task may be started when those before it
// have ended. An announced day is kept from its start on, so everything before
// it must have ended the day before.
func (t *task) ready(endsBefore float64) float64 {
	at := math.Max(endsBefore, float64(t.notBefore))
	if t.on != nil {
		at = math.Max(math.Ceil(at), float64(*t.on))
	}
	return at
}

// from gives the planned stretch of a task that may be started at a time.
func (t *task) from(at float64) stretch {
	if t.work != nil {
		begin, end := t.work.after(at, t.length)
		return stretch{begin, end}
	}
	begin := math.Ceil(at)
	return stretch{begin, begin + t.length}
}

// by gives the latest planned stretch of a task that must have ended at a time.
func (t *task) by(at float64) stretch {
	if t.work != nil {
		begin, end := t.work.before(at, t.length)
		return stretch{begin, end}
	}
	end := math.Floor(at)
	return stretch{end - t.length, end}
}

// endOf gives the time by which a task has to end to be finished on a day.
func (t *task) endOf(day int) float64 {
	if t.length == 0 {
		return float64(day)
	}
	return float64(day + 1)
}

// forwards gives the earliest stretch of each task, people set aside.
func (n *network) forwards() ([]stretch, error) {
	earliest := make([]stretch, len(n.tasks))
	for _, i := range n.order {
		t := &n.tasks[i]
		earliest[i] = t.from(t.ready(lastEnd(t.after, earliest)))
		if earliest[i].end > MaxHorizonDays {
			return nil, n.tooLong(i)
		}
	}
	return earliest, nil
}

func (n *network) tooLong(i int) error {
	return fault("tasks", "with %q the plan is longer than ten years; shorten the estimates or bring dates nearer", clip(n.tasks[i].id))
}

// backwards gives the latest stretch of each task, people set aside.
func (n *network) backwards(earliest []stretch) []stretch {
	planEnd := 0.0
	for _, e := range earliest {
		end := e.end
		if e.end == e.begin {
			end++ // what takes no time is finished on a day that others may fill
		}
		planEnd = math.Max(planEnd, end)
	}
	latest := make([]stretch, len(n.tasks))
	for k := len(n.order) - 1; k >= 0; k-- {
		i := n.order[k]
		t := &n.tasks[i]
		switch {
		case t.dated() || len(t.followers) > 0:
			latest[i] = t.latest(latest)
		case t.work != nil:
			latest[i] = t.by(planEnd) // the moment, so that the last chain of hours has no slack
		default:
			latest[i] = t.by(t.endOf(int(math.Ceil(planEnd)) - 1))
		}
	}
	return latest
}

// latest gives the latest stretch of a task with a day of its own or followers,
// whose latest stretches are known.
func (t *task) latest(others []stretch) stretch {
	end := math.Inf(1)
	if t.due != nil {
		end = t.endOf(*t.due)
	}
	for _, f := range t.followers {
		end = math.Min(end, others[f].begin)
	}
	if t.on == nil {
		return t.by(end)
	}
	announced := float64(*t.on)
	if !math.IsInf(end, 1) {
		if s := t.by(end); s.begin < announced {
			return s
		}
	}
	s := t.from(announced)
	s.begin = announced // also when its person does not work on that day
	return s
}

// lastEnd gives when the last of some tasks ends; 0, the start of today, for none.
func lastEnd(tasks []int, done []stretch) (end float64) {
	for _, i := range tasks {
		end = math.Max(end, done[i].end)
	}
	return end
}

// slack is in days, from the earliest start to the latest.
func slack(earliest, latest stretch) int { return latest.start() - earliest.start() }

// lateBy gives the days by which a stretch misses the task's announced day and
// its due day, 0 when it keeps them.
func (t *task) lateBy(s stretch) (on, due int) {
	if t.on != nil {
		on = max(0, s.start()-*t.on)
	}
	if t.due != nil {
		due = max(0, s.finish()-*t.due)
	}
	return on, due
}
