package schedule

import "fmt"

// AtRisk is the probability below which a day that the plan keeps is called at
// risk. Four times in five is this tool's choice, not a published figure.
const AtRisk = 0.8

// findings says what is to know about a task's days.
func (n *network) findings(i int, earliest, planned []stretch, probability *float64) []Finding {
	t := &n.tasks[i]
	var found []Finding
	add := func(kind, format string, args ...any) {
		found = append(found, Finding{Task: t.id, Kind: kind, Message: fmt.Sprintf(format, args...)})
	}
	if t.on != nil && *t.on < 0 {
		add("past", "%s was announced for %s, which is before today.", t.id, n.today.plus(*t.on))
	}
	if t.due != nil && *t.due < 0 {
		add("past", "%s was due on %s, which is before today.", t.id, n.today.plus(*t.due))
	}
	if t.on != nil && t.work != nil && !t.work.works(*t.on) {
		add("day off", "%s is announced for %s, a day on which %s does not work.", t.id, n.today.plus(*t.on), n.people[t.who].id)
	}
	on, due := t.lateBy(earliest[i])
	if on > 0 {
		add("late", "%s is announced for %s, but can start on %s at the earliest, %s late%s.",
			t.id, n.today.plus(*t.on), n.today.plus(earliest[i].start()), inDays(on), n.because(t, earliest))
	}
	if due > 0 {
		add("late", "%s is due on %s, but is finished on %s at the earliest, %s late.",
			t.id, n.today.plus(*t.due), n.today.plus(earliest[i].finish()), inDays(due))
	}
	laterOn, laterDue := t.lateBy(planned[i])
	if laterOn > on {
		add("people", "%s is announced for %s; with one task at a time for each person it starts on %s, %s late.",
			t.id, n.today.plus(*t.on), n.today.plus(planned[i].start()), inDays(laterOn))
	}
	if laterDue > due {
		add("people", "%s is due on %s; with one task at a time for each person it is finished on %s, %s late.",
			t.id, n.today.plus(*t.due), n.today.plus(planned[i].finish()), inDays(laterDue))
	}
	if len(found) == 0 && probability != nil && *probability < AtRisk {
		add("at risk", "%s fits the plan, but is kept in only %.0f %% of the draws.", t.id, 100**probability)
	}
	return found
}

// because names what an announced day has to wait for.
func (n *network) because(t *task, earliest []stretch) string {
	last := -1
	for _, k := range t.after {
		if last < 0 || earliest[k].end > earliest[last].end ||
			earliest[k].end == earliest[last].end && n.tasks[k].id < n.tasks[last].id {
			last = k
		}
	}
	if last < 0 || earliest[last].end <= float64(max(*t.on, t.notBefore)) {
		if t.notBefore > max(0, *t.on) {
			return ", because it may not start before that"
		}
		return ""
	}
	return fmt.Sprintf(", because %s ends on %s", n.tasks[last].id, n.today.plus(earliest[last].finish()))
}

func inDays(n int) string {
	if n == 1 {
		return "1 day"
	}
	return fmt.Sprintf("%d days", n)
}
