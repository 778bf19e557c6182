package cautions

import "slices"

// SafetyRule is a published rule or recommendation, summarised. It says what the rule
// is about, not whether a design meets it.
type SafetyRule struct {
	ID           string       `json:"id"`
	Jurisdiction string       `json:"jurisdiction"`
	Instrument   string       `json:"instrument" doc:"The text itself; empty for practice and advice."`
	Covers       string       `json:"covers" doc:"What it applies to."`
	Ages         string       `json:"ages" doc:"Ages, heights or sizes that it names; empty when it names none."`
	Says         string       `json:"says" doc:"In this project's own words."`
	Exempt       string       `json:"exempt" doc:"What it leaves out."`
	Figures      []RuleFigure `json:"figures"`
	Source       string       `json:"source"`
	FromMemory   bool         `json:"from_memory" doc:"The whole summary is from memory: look it up before relying on it."`

	ages span // which ages it can reach; the zero span is every age
}

// RuleFigure is a number that a rule names.
type RuleFigure struct {
	What  string  `json:"what"`
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`
}

// span is an age range in months, both ends included.
type span struct{ from, to int }

func (s span) meets(o span) bool { return s == span{} || s.from <= o.to && o.from <= s.to }

// Rules returns every rule, by subject.
func Rules() []SafetyRule {
	rules := slices.Concat(cordRules(), partRules(), sleepRules(), otherRules())
	for i := range rules {
		if rules[i].Figures == nil {
			rules[i].Figures = []RuleFigure{}
		}
	}
	return rules
}

// named returns the rules of those ids, in that order.
func named(ids ...string) []SafetyRule {
	all := Rules()
	out := make([]SafetyRule, 0, len(ids))
	for _, id := range ids {
		at := slices.IndexFunc(all, func(r SafetyRule) bool { return r.ID == id })
		out = append(out, all[at])
	}
	return out
}
