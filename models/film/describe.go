package film

import (
	"fmt"
	"slices"
)

// describe turns the chains into the answer.
func describe(p *problem, chains []chain) Output {
	out := Output{Chains: []Chain{}, Unserved: []Unserved{}, Warnings: []Warning{}}
	servedBy := make([]string, len(p.shots))
	var hours microhours
	for _, c := range chains {
		if len(c.shots) == 0 {
			continue
		}
		named := Chain{New: c.sample < 0, Work: []Work{}}
		state := 0
		if named.New {
			out.NewSamples++
			named.Sample = p.newName(out.NewSamples)
		} else {
			named.Sample, state = p.samples[c.sample].id, p.samples[c.sample].state
		}
		for _, j := range c.shots {
			s := p.shots[j]
			servedBy[j] = named.Sample
			named.Shots = append(named.Shots, s.id)
			if s.from != state {
				named.Work = append(named.Work, p.work(state, s))
				hours += p.made[s.from] - p.made[state]
			}
			state = s.to
		}
		out.Chains = append(out.Chains, named)
		out.Warnings = append(out.Warnings, p.holds(named.Sample, c)...)
	}
	out.Samples = len(out.Chains)
	out.Hours = hours.hours()
	out.Unserved = append(out.Unserved, p.unserved(servedBy)...)
	out.Warnings = append(p.tooFar(servedBy), out.Warnings...)
	return out
}

func (p *problem) work(state int, s shot) Work {
	return Work{
		From: p.states[state], To: p.states[s.from], Hours: (p.made[s.from] - p.made[state]).hours(),
		By: s.on.String(), Shot: s.id,
	}
}

// newName names the nth new sample, clear of the ids that are in use.
func (p *problem) newName(n int) string {
	for k := 1; ; k++ {
		name := fmt.Sprintf("new %d", k)
		if !slices.ContainsFunc(p.samples, func(s sample) bool { return s.id == name }) {
			if n--; n == 0 {
				return name
			}
		}
	}
}

// tooFar warns of each sample that is past the state an unserved shot needs.
// No plan brings it back; only ripping back would.
func (p *problem) tooFar(servedBy []string) []Warning {
	warnings := []Warning{}
	for _, s := range p.samples {
		var shots, needs []string
		for j, sh := range p.shots {
			if servedBy[j] == "" && s.state > sh.from {
				shots = append(shots, sh.id)
				needs = append(needs, fmt.Sprintf("%s needs %s", sh.id, p.states[sh.from]))
			}
		}
		if len(shots) > 0 {
			warnings = append(warnings, Warning{Sample: s.id, Shots: shots, Message: fmt.Sprintf(
				"%s is worked to %s, which is past what is still to be filmed: %s.",
				s.id, p.states[s.state], joinSome(needs))})
		}
	}
	return warnings
}

// holds warns, for each state in which the plan films the sample, until when it
// must not be worked past it. Nothing lies past the last state.
func (p *problem) holds(sample string, c chain) []Warning {
	var warnings []Warning
	for i := 0; i < len(c.shots); {
		state := p.shots[c.shots[i]].from
		var shots []string
		var until day
		for ; i < len(c.shots) && p.shots[c.shots[i]].from == state; i++ {
			shots = append(shots, p.shots[c.shots[i]].id)
			until = p.shots[c.shots[i]].on
		}
		if state == len(p.states)-1 {
			continue
		}
		warnings = append(warnings, Warning{Sample: sample, Shots: shots, Message: fmt.Sprintf(
			"Do not work %s past %s before %s: it is needed there for %s %s.",
			sample, p.states[state], until, plural(len(shots), "shot"), joinSome(shots))})
	}
	return warnings
}
