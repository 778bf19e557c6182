package film

import (
	"fmt"
	"slices"
	"strings"
)

// unserved lists the shots that no sample is filmed for, in time order, and why.
func (p *problem) unserved(servedBy []string) []Unserved {
	var list []Unserved
	for j, s := range p.shots {
		if servedBy[j] == "" {
			list = append(list, Unserved{Shot: s.id, Message: p.whyNot(s, servedBy)})
		}
	}
	return list
}

// whyNot goes through all that could have been filmed for the shot: a new
// sample, which is never ready in time when a shot is left unserved, and each
// sample of the studio.
func (p *problem) whyNot(s shot, servedBy []string) string {
	if s.on < p.today {
		return fmt.Sprintf("%s was to be filmed on %s, which is before today.", s.id, s.on)
	}
	var ready, past, away []string
	nearest := -1
	for i, have := range p.samples {
		switch {
		case have.state > s.from:
			past = append(past, have.id)
		case have.free > s.on:
			away = append(away, have.id)
		case p.canReach(have.state, have.free, s):
			ready = append(ready, p.otherwise(have.id, servedBy))
		case nearest < 0 || p.missing(have, s) < p.missing(p.samples[nearest], s):
			nearest = i
		}
	}
	why := []string{fmt.Sprintf("Nothing can be at %s for %s on %s.", p.states[s.from], s.id, s.on)}
	if len(ready) > 0 {
		why[0] = fmt.Sprintf("%s could be at %s for %s on %s, but more shots are served otherwise.",
			joinSome(ready), p.states[s.from], s.id, s.on)
	}
	why = append(why, p.tooSlow("A new sample", sample{free: p.today}, s))
	if nearest >= 0 {
		why = append(why, p.tooSlow(fmt.Sprintf("%s, at %s,", p.samples[nearest].id, p.states[p.samples[nearest].state]), p.samples[nearest], s))
	}
	if len(past) > 0 {
		why = append(why, fmt.Sprintf("Already past it: %s.", joinSome(past)))
	}
	if len(away) > 0 {
		why = append(why, fmt.Sprintf("Not free by then: %s.", joinSome(away)))
	}
	return strings.Join(why, " ")
}

// otherwise names a sample with the shots that it is filmed for.
func (p *problem) otherwise(id string, servedBy []string) string {
	var shots []string
	for j, by := range servedBy {
		if by == id {
			shots = append(shots, p.shots[j].id)
		}
	}
	if len(shots) == 0 {
		return id
	}
	return fmt.Sprintf("%s (filmed for %s)", id, joinSome(shots))
}

// missing gives the hours by which a piece is not ready for a shot.
func (p *problem) missing(have sample, s shot) float64 {
	return p.reach[s.from] - p.reach[have.state] - p.hoursLeft(have.free, s.on)
}

func (p *problem) tooSlow(who string, have sample, s shot) string {
	left := p.hoursLeft(have.free, s.on)
	return fmt.Sprintf("%s needs %s of making and %s left by then.", who,
		inHours(p.reach[s.from]-p.reach[have.state]), are(left))
}

func are(hours float64) string {
	text := inHours(hours)
	if text == "1 hour" {
		return text + " is"
	}
	return text + " are"
}

func inHours(h float64) string {
	text := strings.TrimRight(strings.TrimRight(fmt.Sprintf("%.2f", h), "0"), ".")
	if text == "1" {
		return "1 hour"
	}
	return text + " hours"
}

func plural(n int, word string) string {
	if n == 1 {
		return word
	}
	return word + "s"
}

// joinSome writes a list in words, and shortens a long one.
func joinSome(list []string) string {
	const most = 8
	if len(list) > most {
		list = append(slices.Clone(list[:most]), fmt.Sprintf("%d more", len(list)-most))
	}
	if len(list) < 2 {
		return strings.Join(list, "")
	}
	return strings.Join(list[:len(list)-1], ", ") + " and " + list[len(list)-1]
}
