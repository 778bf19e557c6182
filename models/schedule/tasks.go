package schedule

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// readTasks checks the tasks and joins each to those it waits for.
func (n *network) readTasks(tasks []Task) error {
	place := make(map[string]int, len(tasks))
	for i, t := range tasks {
		if err := checkName(fmt.Sprintf("tasks[%d].id", i), t.ID, place); err != nil {
			return err
		}
		place[t.ID] = i
	}
	n.tasks = make([]task, len(tasks))
	for i, t := range tasks {
		field := fmt.Sprintf("tasks[%d]", i)
		if err := n.readLength(&n.tasks[i], field, t); err != nil {
			return err
		}
		if err := n.readDates(&n.tasks[i], field, t); err != nil {
			return err
		}
		if len(t.After) > MaxTasks {
			return fault(field+".after", "has %d entries; at most %d are allowed", len(t.After), MaxTasks)
		}
		for j, name := range t.After {
			k, ok := place[name]
			if !ok {
				return fault(fmt.Sprintf("%s.after[%d]", field, j), "there is no task %q for %q to wait for", clip(name), clip(t.ID))
			}
			if !slices.Contains(n.tasks[i].after, k) {
				n.tasks[i].after = append(n.tasks[i].after, k)
				n.tasks[k].followers = append(n.tasks[k].followers, i)
			}
		}
	}
	return nil
}

// readLength reads who does the task and how long it takes.
func (n *network) readLength(t *task, field string, in Task) (err error) {
	t.id, t.who = in.ID, -1
	if in.Who != "" {
		t.who = slices.IndexFunc(n.people, func(p person) bool { return p.id == in.Who })
		if t.who < 0 {
			return fault(field+".who", "there is no person %q", clip(in.Who))
		}
	}
	switch {
	case in.Days != nil && in.Hours != nil:
		return fault(field, "has both days and hours; give one of them")
	case in.Days != nil:
		t.estimate, err = readEstimate(field+".days", in.Days, MaxDays)
		t.length = math.Ceil(t.estimate.expected() - rounding)
	case in.Hours == nil:
		return fault(field, "takes no time; give days, or who and hours, as low, likely and high")
	case t.who < 0:
		return fault(field+".who", "is missing; hours are somebody's hours, so name the person, or give days")
	default:
		t.estimate, err = readEstimate(field+".hours", in.Hours, MaxHours)
		t.length = math.Ceil(2*t.estimate.expected()-rounding) / 2
		if t.length > 0 {
			t.work = n.people[t.who].calendar
		}
	}
	return err
}

func readEstimate(field string, points []float64, most float64) (estimate, error) {
	if len(points) != 3 {
		return estimate{}, fault(field, "has %d numbers; give three: low, likely and high", len(points))
	}
	low, likely, high := points[0], points[1], points[2]
	if !(0 <= low && high <= most) { // written so that NaN fails too
		return estimate{}, fault(field, "is from %v to %v; give numbers from 0 to %v", low, high, most)
	}
	if !(low <= likely && likely <= high) {
		return estimate{}, fault(field, "is %v, %v, %v; give them rising: low, likely, high", low, likely, high)
	}
	return estimate{low, likely, high}, nil
}

func (n *network) readDates(t *task, field string, in Task) error {
	for _, d := range []struct {
		field, text string
		into        func(days int)
	}{
		{".on", in.On, func(days int) { t.on = &days }},
		{".due", in.Due, func(days int) { t.due = &days }},
		{".not_before", in.NotBefore, func(days int) { t.notBefore = max(days, 0) }},
	} {
		if d.text == "" {
			continue
		}
		days, err := readOffset(field+d.field, d.text, n.today)
		if err != nil {
			return err
		}
		d.into(days)
	}
	return nil
}

func checkName(field, name string, seen map[string]int) error {
	switch _, twice := seen[name]; {
	case strings.TrimSpace(name) == "":
		return fault(field, "is empty; give a name")
	case len(name) > MaxNameLength:
		return fault(field, "is longer than %d bytes; shorten it", MaxNameLength)
	case twice:
		return fault(field, "%q is used twice; each must have its own", clip(name))
	}
	return nil
}

// clip keeps a quoted input short in a message.
func clip(text string) string {
	const most = 40
	if len(text) <= most {
		return text
	}
	return fmt.Sprintf("%.*s…", most, text)
}
