package counts

import (
	"fmt"

	"tenter/models/gauge"
)

// ProposeInput is a design of which the counts are still to be found. It reads
// like Input, with these differences: a count may have neither values nor text;
// one that has values starts from them, and a size that skips it (null) goes on
// skipping it; the counts named in Keep stay as they are. A point pulls towards
// Intended, or where that is missing towards Body plus the middle of Ease, and
// needs a tolerance above 0.
type ProposeInput struct {
	Sizes  []string     `json:"sizes"`
	Gauge  *gauge.Entry `json:"gauge,omitempty"`
	Counts []Count      `json:"counts"`
	Rules  []Rule       `json:"rules,omitempty"`
	Points []Point      `json:"points,omitempty"`
	Keep   []string     `json:"keep,omitempty"`

	Layout Layout `json:"-"` // as for Input
}

// Proposal is a count sheet that keeps the rules.
type Proposal struct {
	Counts   []ProposedCount `json:"counts"`
	Sizes    []ProposedSize  `json:"sizes"`
	Finished []Finished      `json:"finished"`
}

// ProposedCount is one line of the proposal. Its values are nil in a size that
// skips it, and in one for which nothing can be proposed.
type ProposedCount struct {
	Name   string     `json:"name"`
	Unit   string     `json:"unit"`
	Values []*float64 `json:"values"`
	Text   string     `json:"text"`
}

// ProposedSize says how near one size comes. Cost is what was made small. Exact
// is false when the search was cut short, so that better counts may exist.
// Problem says why nothing is proposed.
type ProposedSize struct {
	Size    string  `json:"size"`
	Cost    float64 `json:"cost"`
	Exact   bool    `json:"exact"`
	Problem string  `json:"problem,omitempty"`
}

// stillness weighs the square of a count's change from its starting value, in
// stitches or rows, against the square of a point's deviation in tolerances
// (chosen: small enough that a point always goes first in practice, large enough
// that a count that no point measures stays where it was).
const stillness = 1e-4

// Propose finds for each size the whole counts, from 0 up, with
//
//	cost = Σ ((expected − target) / tolerance)² + stillness × Σ (count − start)²
//
// the least of all for which every rule holds: the first sum over the points
// that apply, in cm, the second over the counts that have a starting value and
// occur in a rule or a point. Of equal costs the smaller counts win, in the order
// of the sheet. A point must be a sum of multiples of counts; rules may be
// anything, but only balances (==) and multiples of such sums guide the search,
// and others are checked on what it finds.
//
// A size for which the rules contradict one another, or in which nothing says how
// large a count should be, has a Problem and no values.
func Propose(in ProposeInput) (Proposal, error) {
	p, err := openProposal(in)
	if err != nil {
		return Proposal{}, err
	}
	out := Proposal{Counts: []ProposedCount{}, Sizes: []ProposedSize{}, Finished: []Finished{}}
	for k, size := range in.Sizes {
		result := ProposedSize{Size: size, Exact: true}
		if err := p.size(k, &result); err != nil {
			return Proposal{}, err
		}
		out.Sizes = append(out.Sizes, result)
	}
	for _, c := range in.Counts {
		values := p.found[c.Name]
		out.Counts = append(out.Counts, ProposedCount{Name: c.Name, Unit: c.Unit, Values: values, Text: Print(values, in.Layout)})
	}
	return out, p.finished(&out)
}

// proposal is a checked ProposeInput and the counts found so far.
type proposal struct {
	*sheet
	keep  map[string]bool
	found map[string][]*float64
	steps int // of searching that are left
}

func openProposal(in ProposeInput) (*proposal, error) {
	s, err := openWith(Input{Sizes: in.Sizes, Gauge: in.Gauge, Counts: in.Counts, Rules: in.Rules, Points: in.Points},
		func(c Count, sizes []string, path string) ([]*float64, error) {
			if c.Values == nil && c.Text == "" {
				return nil, nil
			}
			return c.read(sizes, path)
		})
	if err != nil {
		return nil, err
	}
	p := &proposal{sheet: s, keep: map[string]bool{}, found: map[string][]*float64{}, steps: allSteps}
	for i, name := range in.Keep {
		if !s.has(name) {
			return nil, fieldf(fmt.Sprintf("keep[%d]", i), "there is no count named %q", name)
		}
		if s.blank[name] {
			return nil, fieldf(fmt.Sprintf("keep[%d]", i), "%q has no values that could be kept", name)
		}
		p.keep[name] = true
	}
	for i, point := range in.Points {
		path := fmt.Sprintf("points[%d]", i)
		if l, ok := s.points[i].root.linear(len(s.points[i].names)); !ok || l.constant() {
			return nil, fieldf(path+".expr", "must be a sum of multiples of counts, so that counts can be proposed")
		}
		if point.Tolerance == nil || *point.Tolerance <= 0 {
			return nil, fieldf(path+".tolerance", "must be above 0, so that the points can be weighed against one another")
		}
	}
	for _, c := range in.Counts {
		p.found[c.Name] = make([]*float64, len(in.Sizes))
	}
	return p, nil
}

// target is the measurement that a point should have in size k, in cm; nil when
// nothing says.
func (p Point) target(k int) *float64 {
	if v := entryAt(p.Intended, k); v != nil {
		return v
	}
	if body := entryAt(p.Body, k); body != nil && len(p.Ease) == 2 {
		return pointer(*body + (p.Ease[0]+p.Ease[1])/2)
	}
	return nil
}

// finished adds what the proposed counts come to.
func (p *proposal) finished(out *Proposal) error {
	checked := p.in
	checked.Rules = nil
	checked.Counts = make([]Count, len(p.in.Counts))
	for i, c := range p.in.Counts {
		checked.Counts[i] = Count{Name: c.Name, Unit: c.Unit, Values: p.found[c.Name]}
	}
	result, err := Calculate(checked)
	out.Finished = result.Finished
	return err
}
