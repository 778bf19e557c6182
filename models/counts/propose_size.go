package counts

import (
	"strings"

	"tenter/models/gauge"
)

// Bounds of the search. A step is one value tried for one direction; all steps
// of a proposal together take a second or two.
const (
	maxTied    = 24        // counts that hang together by rules and points
	groupSteps = 400_000   // for each group of such counts
	fewSteps   = 2_000     // what a group gets at least
	allSteps   = 4_000_000 // for all groups and sizes
)

// size finds the counts of size k, or says in result why there are none.
func (p *proposal) size(k int, result *ProposedSize) error {
	t := p.task(k)
	values := map[string]float64{}
	for _, g := range t.groups() {
		if len(g.names) > maxTied {
			return fieldf("rules", "tie %d counts together (%s …); a proposal can be made for %d at once: keep some of them",
				len(g.names), strings.Join(g.names[:3], ", "), maxTied)
		}
		best, problem := g.solve(max(fewSteps, min(groupSteps, p.steps)))
		p.steps -= best.steps
		if problem != "" {
			*result = ProposedSize{Size: result.Size, Problem: problem}
			return nil
		}
		for i, name := range g.names {
			values[name] = best.x[i]
		}
		result.Cost += best.cost
		result.Exact = result.Exact && best.exact
	}
	result.Cost = figure(result.Cost)
	for name := range p.values {
		if v, ok := values[name]; ok {
			p.found[name][k] = pointer(v)
		} else if given := p.values[name][k]; given != nil {
			p.found[name][k] = pointer(*given)
		}
	}
	return nil
}

// task is what has to be so in one size.
type task struct {
	names []string // the counts to find, in the order of the sheet
	start []*float64
	terms []term
}

// task collects the rules and points that apply to size k, and the counts that
// they are about.
func (p *proposal) task(k int) *task {
	used := map[string]bool{}
	applies := func(e *Expression) bool {
		for _, name := range e.names {
			if !p.blank[name] && p.values[name][k] == nil {
				return false
			}
		}
		for _, name := range e.names {
			used[name] = true
		}
		return true
	}
	var rules, points []int
	for i, e := range p.rules {
		if applies(e) {
			rules = append(rules, i)
		}
	}
	for i, e := range p.points {
		if p.in.Points[i].target(k) != nil && applies(e) {
			points = append(points, i)
		}
	}
	t, place, fixed := p.unknowns(k, used)
	for _, i := range rules {
		t.terms = append(t.terms, ruleTerm(p.in.Rules[i], p.rules[i], place, fixed))
	}
	for _, i := range points {
		point := p.in.Points[i]
		swatch, _ := p.gauge.On(gauge.Axis(point.Axis))
		t.terms = append(t.terms, pointTerm(point, p.points[i], *point.target(k), swatch.PerCM(), place, fixed))
	}
	return t
}

// unknowns parts the used counts into those to find, with their places, and
// those that are kept.
func (p *proposal) unknowns(k int, used map[string]bool) (t *task, place map[string]int, fixed map[string]exact) {
	t, place, fixed = &task{}, map[string]int{}, map[string]exact{}
	for _, c := range p.in.Counts {
		switch {
		case !used[c.Name]:
		case p.keep[c.Name]:
			fixed[c.Name] = p.exacts[c.Name][k]
		default:
			place[c.Name] = len(t.names)
			t.names = append(t.names, c.Name)
			t.start = append(t.start, p.values[c.Name][k])
		}
	}
	return t, place, fixed
}
