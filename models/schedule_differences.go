package models

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"tenter/models/schedule"
)

// fewestPercent is the change of a chance that is worth a sentence (chosen).
const fewestPercent = 2.0

// mostOthers bounds how many days of other designs a change is told of, those
// that change most first (chosen).
const mostOthers = 6

// otherDay is an announced day of another design.
type otherDay struct {
	design *Design
	name   string
	day    Date
	plan   schedule.TaskPlan
}

// percent never promises: draws that all agree do not make a thing certain.
func percent(p float64) string {
	switch {
	case p >= 99.5:
		return "over 99 %"
	case p < 0.5:
		return "under 1 %"
	}
	return fmt.Sprintf("%.0f %%", p)
}

// changed tells whether a chance differs by more than the draws' own error,
// and enough to be worth a sentence, and by how much.
func changed(before, after schedule.TaskPlan) (by float64, told bool) {
	by = 100 * (*after.Probability - *before.Probability)
	err := 100 * math.Hypot(*before.StandardError, *after.StandardError)
	return by, math.Abs(by) >= max(fewestPercent, 4*err)
}

// differences says what a change does to announced days, of this design and of
// those that share its people, and to what presses.
func differences(before, after *Schedule) []string {
	was := map[string]schedule.TaskPlan{}
	for _, t := range before.Tasks {
		was[t.Name] = t.Plan
	}
	var out []string
	for _, t := range after.Tasks {
		old, known := was[t.Name]
		if t.Plan.Probability == nil {
			continue
		}
		day := Date(orElse(string(t.On), string(t.Due)))
		if !known || old.Probability == nil {
			out = append(out, fmt.Sprintf("%s, %s: kept in %s of the draws.", t.Name, day.words(after.Today), percent(100**t.Plan.Probability)))
			continue
		}
		if _, told := changed(old, t.Plan); told {
			out = append(out, fmt.Sprintf("%s, %s: kept in %s of the draws instead of %s.", t.Name, day.words(after.Today), percent(100**t.Plan.Probability), percent(100**old.Probability)))
		}
	}
	others := otherDifferences(before, after)
	out = append(out, others...)
	if len(out) > 0 && len(others) == 0 && len(after.Together) > 0 {
		out = append(out, "No day of another design changes.")
	}
	if before.Words != after.Words {
		out = append(out, after.Words)
	}
	if len(out) == 0 {
		out = append(out, "It changes no announced day.")
	}
	return out
}

// otherDifferences tells what a change does to the days of other designs.
func otherDifferences(before, after *Schedule) []string {
	type key struct{ design, name string }
	was := map[key]schedule.TaskPlan{}
	for _, d := range before.others {
		was[key{d.design.ID, d.name}] = d.plan
	}
	type line struct {
		text string
		by   float64
	}
	var lines []line
	for _, d := range after.others {
		old, known := was[key{d.design.ID, d.name}]
		if !known {
			continue
		}
		if by, told := changed(old, d.plan); told {
			lines = append(lines, line{fmt.Sprintf("%s: %s, %s: kept in %s of the draws instead of %s.", d.design.Name, d.name, d.day.words(after.Today),
				percent(100**d.plan.Probability), percent(100**old.Probability)), math.Abs(by)})
		}
	}
	slices.SortStableFunc(lines, func(a, b line) int { return cmp.Compare(b.by, a.by) })
	var out []string
	for i, l := range lines {
		if i == mostOthers {
			out = append(out, sentence(countedVerb(len(lines)-i, "further day", "changes", "change")+" in other designs"))
			break
		}
		out = append(out, l.text)
	}
	return out
}
