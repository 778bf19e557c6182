package models

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"tenter/models/schedule"
	"tenter/models/together"
)

// telling puts a plan into a schedule and into words.
type telling struct {
	out   *Schedule
	plan  together.Plan
	lists []*taskList // of all designs, by place
}

// tasks gives each task its days and what it waits for.
func (t telling) tasks() {
	for i := range t.out.Tasks {
		task, plan := &t.out.Tasks[i], t.plan.Tasks[i]
		task.Plan, task.LaterDays = plan.TaskPlan, plan.LaterDays
		if plan.Through != task.Name {
			task.Through = plan.Through
		}
		if w := plan.Waits; w != nil {
			task.Waits, task.WaitsFrom = t.waiting(w)+"; this waits.", Date(w.From)
			for _, turn := range w.Turns {
				task.WaitsFor = append(task.WaitsFor, t.weekTask(turn))
			}
		}
	}
}

// together names the designs that are planned with this one.
func (t telling) together(left []string) {
	for _, place := range t.plan.With {
		b := t.lists[place]
		t.out.Together = append(t.out.Together, b.r.design)
		for i, plan := range t.plan.Group[place] {
			if plan.Probability != nil {
				t.out.others = append(t.out.others, otherDay{b.r.design, plan.ID, b.tasks[i].day(), plan})
			}
		}
	}
	if len(t.out.Together) > 0 {
		t.out.Rule = "Everybody does one thing at a time over all the designs that they work on and finishes what is begun; of what can be begun, what has to be finished first goes first; and no chance is put higher than this design would have alone."
	}
	var fault *schedule.FieldError
	if errors.As(t.plan.Apart, &fault) {
		t.out.Lacks = append(t.out.Lacks, fmt.Sprintf("What other designs ask of the same people is not counted: %s %s.", fault.Field, fault.Problem))
	}
	if n := len(left); n > 0 {
		t.out.Lacks = append(t.out.Lacks, withoutRoom(left))
	}
}

// withoutRoom tells of designs for which there was no room.
func withoutRoom(names []string) string {
	words := names[0]
	if len(names) > 1 {
		words += fmt.Sprintf(" and %d more", len(names)-1)
	}
	return fmt.Sprintf("Not counted: %s, whose days come last. No more than %d designs and %d tasks are planned together.", words, mostDesignsTogether, schedule.MaxTasks)
}

// day is the task's announced or due day.
func (t ScheduledTask) day() Date { return Date(orElse(string(t.On), string(t.Due))) }

// waiting says what somebody is at: "odile is at Moss pullover (record 3 Sleeves)
// until 12 March".
func (t telling) waiting(w *together.Wait) string {
	var parts []string
	for from := 0; from < len(w.Turns); {
		design, until := w.Turns[from].Design, from+1
		for until < len(w.Turns) && w.Turns[until].Design == design {
			until++
		}
		what := w.Turns[from].Task
		if n := until - from; n > 2 {
			what += fmt.Sprintf(" and %d more", n-1)
		} else if n == 2 {
			what += ", then " + w.Turns[from+1].Task
		}
		parts = append(parts, fmt.Sprintf("%s (%s)", t.lists[design].r.design.Name, what))
		from = until
	}
	return fmt.Sprintf("%s is at %s until %s", w.Who, strings.Join(parts, ", then "), Date(w.Until).words(t.out.Today))
}

// because says what of other designs holds a task up, itself or what comes
// before it; "" when nothing does.
func (t telling) because(i int) string {
	seen := map[int]bool{}
	for next := []int{i}; len(next) > 0; next = next[1:] {
		at := next[0]
		if seen[at] {
			continue
		}
		seen[at] = true
		if through := t.plan.Tasks[at].Through; through != "" {
			at = t.named(through)
		}
		if x := t.plan.Tasks[at]; x.Waits != nil {
			if at == i {
				return ": " + t.waiting(x.Waits)
			}
			return fmt.Sprintf(": %s waits, %s", x.ID, t.waiting(x.Waits))
		}
		for _, name := range t.out.Tasks[at].After {
			next = append(next, t.named(name))
		}
	}
	return ""
}

// findings tells of each announced day that is missed, or at risk, in one
// sentence: by how much as planned, and what it is for.
func (t telling) findings() {
	for i, task := range t.plan.Tasks {
		own := t.out.Tasks[i]
		spare, dated := t.spare(i)
		switch {
		case dated && spare < 0:
			t.find(t.late(i, -spare))
		case task.Probability != nil && *task.Probability < schedule.AtRisk:
			words := fmt.Sprintf("%s fits the plan, but is kept in only %s of the draws", own.Name, percent(100**task.Probability))
			if t.clearlyLess(i) {
				words += fmt.Sprintf(", %s without other designs%s", percent(100**t.plan.Alone.Tasks[i].Probability), t.because(i))
			}
			t.find(words + ".")
		}
	}
}

// late tells by how much a day is missed. The earliest dates set people aside,
// so what is late by them is late whoever does it.
func (t telling) late(i, days int) string {
	own, plan := t.out.Tasks[i], t.plan.Tasks[i]
	is := "is"
	if own.day() < t.out.Today {
		is = "was"
	}
	words := fmt.Sprintf("%s %s due on %s and is planned until %s, %s late", own.Name, is, own.Due, plan.PlannedFinish, counted(days, "day"))
	if own.On != "" {
		words = fmt.Sprintf("%s %s announced for %s and is planned for %s, %s late", own.Name, is, own.On, plan.PlannedStart, counted(days, "day"))
	}
	if own.On != "" && len(own.After) == 0 {
		return fmt.Sprintf("%s was announced for %s, and nobody has marked it as out.", own.Name, own.On)
	}
	because := ""
	if plan.LaterDays > 0 {
		because = t.because(i)
	}
	switch {
	case because != "" && plan.LaterDays < days:
		return fmt.Sprintf("%s, %d of them for other designs%s.", words, plan.LaterDays, because)
	case because != "":
		return words + " for other designs" + because + "."
	case days > plan.LateByDays:
		return words + ": its people do one thing at a time."
	}
	return words + ": the work before it takes that long, whoever does it."
}

// clearlyLess tells whether other designs take more from a chance than the
// draws' own error.
func (t telling) clearlyLess(i int) bool {
	alone, with := t.plan.Alone.Tasks[i], t.plan.Tasks[i].TaskPlan
	by, told := changed(alone, with)
	return told && by < 0
}

func (t telling) find(message string) {
	t.out.Findings = append(t.out.Findings, datesInWords(message, t.out.Today))
}

// chain tells the critical chain as a sentence: what presses most by the
// design's own work, how much room it has, and what of other designs is in its
// way.
func (t telling) chain() string {
	chain := t.plan.Alone.CriticalChain
	if len(chain) == 0 {
		return "Nothing presses."
	}
	words := "What presses most: " + strings.Join(chain, ", then ")
	first, last := t.named(chain[0]), t.dayOf(t.named(chain[len(chain)-1]))
	slack := t.plan.Tasks[first].SlackDays
	spare, dated := t.spare(last)
	switch {
	case !slices.ContainsFunc(t.out.Tasks, func(x ScheduledTask) bool { return x.Expected > 0 }):
		return "All the work is done; what is left goes out on its day."
	case !t.anyDay():
		words = fmt.Sprintf("No day is announced. What takes longest: %s, planned until %s.", strings.Join(chain, ", then "), Date(t.plan.Tasks[last].PlannedFinish).words(t.out.Today))
	case slack < 0 && dated && spare < slack:
		words += fmt.Sprintf("; it is %s too long for its day, and %s late as people's time is planned.", counted(-slack, "day"), counted(-spare, "day"))
	case slack < 0:
		words += fmt.Sprintf("; it is %s too long for its day.", counted(-slack, "day"))
	case dated && spare < 0:
		words += fmt.Sprintf("; its own work would leave %s, but as people's time is planned it is %s late.", toSpare(slack), counted(-spare, "day"))
	case dated && spare < slack:
		words += fmt.Sprintf("; its own work would leave %s, people's time leaves %s.", toSpare(slack), toSpare(spare))
	case slack == 0:
		words += "; there is no day to spare."
	default:
		words += fmt.Sprintf("; there %s %s to spare.", isAre(slack), counted(slack, "day"))
	}
	return words + t.inTheWay(chain)
}

// dayOf is the announced day that a chain leads to, where the chain stops short
// of it.
func (t telling) dayOf(last int) int {
	if t.out.Tasks[last].day() != "" {
		return last
	}
	for i, x := range t.out.Tasks {
		if x.On != "" && slices.Contains(x.After, t.out.Tasks[last].Name) {
			return i
		}
	}
	return last
}

// anyDay tells whether the design has a day to keep.
func (t telling) anyDay() bool {
	return slices.ContainsFunc(t.out.Tasks, func(x ScheduledTask) bool { return x.day() != "" })
}

func toSpare(days int) string {
	if days == 0 {
		return "no day to spare"
	}
	return counted(days, "day") + " to spare"
}

// inTheWay names what of other designs the chain's tasks wait for.
func (t telling) inTheWay(chain []string) string {
	words := ""
	for _, name := range chain {
		task := t.plan.Tasks[t.named(name)]
		if task.Waits != nil {
			words += t.heldUp(task)
		}
	}
	last := t.plan.Tasks[t.named(chain[len(chain)-1])]
	if words == "" && last.Through != "" {
		words = t.heldUp(t.plan.Tasks[t.named(last.Through)])
	}
	return words
}

func (t telling) heldUp(task together.Task) string {
	return fmt.Sprintf("\nHeld up: %s, while %s.", task.ID, t.waiting(task.Waits))
}

// spare is how many days the plan leaves before a task's day; negative: it
// comes so late.
func (t telling) spare(i int) (days int, dated bool) {
	own, plan := t.out.Tasks[i], t.plan.Tasks[i]
	switch {
	case own.On != "" && plan.PlannedStart > string(own.On):
		return -own.On.DaysUntil(Date(plan.PlannedStart)), true
	case own.On != "":
		days = t.out.Today.DaysUntil(own.On)
		for _, name := range own.After {
			days = min(days, Date(t.plan.Tasks[t.named(name)].PlannedFinish).DaysUntil(own.On)-1)
		}
		return max(0, days), true
	case own.Due != "":
		return Date(plan.PlannedFinish).DaysUntil(own.Due), true
	}
	return 0, false
}

// named is the place of a task of this design.
func (t telling) named(name string) int {
	return slices.IndexFunc(t.out.Tasks, func(x ScheduledTask) bool { return x.Name == name })
}

// weekTask is a turn with its design and its day.
func (t telling) weekTask(turn together.Turn) WeekTask { return weekTaskOf(t.lists, turn) }

func weekTaskOf(lists []*taskList, turn together.Turn) WeekTask {
	b := lists[turn.Design]
	out := WeekTask{Design: b.r.design, Name: turn.Task, From: Date(turn.Start), Until: Date(turn.Until)}
	if i := slices.IndexFunc(b.tasks, func(x ScheduledTask) bool { return x.Name == turn.Task }); i >= 0 {
		out.Due = b.tasks[i].day()
	}
	return out
}

// week is what those who have something to do in a design begin within the
// week, of all their designs.
func (t telling) week(b *taskList) []PersonWeek {
	var out []PersonWeek
	for _, p := range b.people() {
		for _, turns := range t.plan.Order {
			if turns.Who == p.Handle {
				out = append(out, weekOf(t.lists, turns, t.out.Today))
			}
		}
	}
	return out
}

// weekOf is what somebody begins from today to the same day next week.
func weekOf(lists []*taskList, turns together.Turns, today Date) PersonWeek {
	out := PersonWeek{Who: turns.Who}
	for _, turn := range turns.Turns {
		if today.DaysUntil(Date(turn.Start)) <= 7 {
			out.Tasks = append(out.Tasks, weekTaskOf(lists, turn))
		}
	}
	return out
}
