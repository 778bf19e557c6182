package cautions

import (
	"fmt"
	"slices"
	"strings"

	"tenter/models/gauge"
)

// Level says how strongly a caution asks for attention. None is a verdict.
type Level string

// The levels, from the strongest.
const (
	Stop             Level = "stop"               // published rules forbid it at some ages: leave it out, or ask first
	StopUntilChecked Level = "stop until checked" // allowed within limits: check them first
	Warn             Level = "warn"               // known to hurt; design with it in mind
	Note             Level = "note"               // worth knowing
)

// Deferral closes every answer.
const Deferral = "Rules differ by country and change. Check your local rules and ask a qualified product-safety person before you publish or sell. These are the usual cautions; they don't say that a design complies with anything."

// Design is what the cautions depend on.
type Design struct {
	Audience string    `json:"audience" doc:"baby, child, youth, woman, man or unisex."`
	Features []Feature `json:"features"`
	// AgeFrom and AgeTo are the ages of the wearers in months, both ends
	// included; both 0 takes the audience's usual ages.
	AgeFrom int `json:"age_from_months,omitempty"`
	AgeTo   int `json:"age_to_months,omitempty"`
}

// Caution is one thing to watch for.
type Caution struct {
	ID      string       `json:"id"`
	Level   Level        `json:"level" enum:"stop,stop until checked,warn,note"`
	Title   string       `json:"title"`
	Text    string       `json:"text"`
	Because []Feature    `json:"because" doc:"Which of the design's features call for it; empty when its audience alone does."`
	Rules   []SafetyRule `json:"rules"`
}

// CautionAdvice is the answer: cautions, the strongest first.
type CautionAdvice struct {
	Cautions []Caution `json:"cautions"`
	Deferral string    `json:"deferral"`
}

const oldestMonths = 120 * year

// Audiences lists whom a design can be for.
func Audiences() []string { return []string{"baby", "child", "youth", "woman", "man", "unisex"} }

// usualAges are read generously, so that an age at a border is cautioned
// about: the smallest child's size is 2, the largest youth's 16.
func usualAges(audience string) span {
	switch audience {
	case "baby":
		return span{0, 3*year - 1}
	case "child":
		return span{18, 13*year - 1}
	case "youth":
		return span{10 * year, 17*year - 1}
	}
	return span{18 * year, oldestMonths}
}

// Select returns the cautions for a design. A unisex design without ages may
// have children's sizes: what concerns children is then shown as a note that
// begins "If any size is for a child". An error names the field.
func Select(d Design) (CautionAdvice, error) {
	ages, err := d.ages()
	if err != nil {
		return CautionAdvice{}, err
	}
	perhaps := d.Audience == "unisex" && d.AgeFrom == 0 && d.AgeTo == 0
	if perhaps {
		ages = span{0, oldestMonths}
	}
	out := CautionAdvice{Cautions: []Caution{}, Deferral: Deferral}
	for _, e := range entries() {
		because := e.because(d)
		if len(e.features) > 0 && len(because) == 0 || !e.ages.meets(ages) {
			continue
		}
		c := Caution{ID: e.id, Level: e.level, Title: e.title, Text: e.text, Because: because, Rules: []SafetyRule{}}
		for _, r := range named(e.rules...) {
			if r.ages.meets(ages) {
				c.Rules = append(c.Rules, r)
			}
		}
		if perhaps && e.ages != (span{}) {
			c.Level, c.Text = Note, "If any size is for a child: "+strings.ToLower(c.Text[:1])+c.Text[1:]
		}
		out.Cautions = append(out.Cautions, c)
	}
	order := []Level{Stop, StopUntilChecked, Warn, Note}
	slices.SortStableFunc(out.Cautions, func(a, b Caution) int { return slices.Index(order, a.Level) - slices.Index(order, b.Level) })
	return out, nil
}

func (d Design) ages() (span, error) {
	if !slices.Contains(Audiences(), d.Audience) {
		return span{}, gauge.Wrongf("audience", "is not one of %s", strings.Join(Audiences(), ", "))
	}
	for i, f := range d.Features {
		if !known(f) {
			return span{}, gauge.Wrongf(fmt.Sprintf("features[%d]", i), "is not a feature that is known here; see the list of features")
		}
	}
	if d.AgeFrom == 0 && d.AgeTo == 0 {
		return usualAges(d.Audience), nil
	}
	if d.AgeFrom < 0 || d.AgeFrom > oldestMonths {
		return span{}, gauge.Wrongf("age_from_months", "must lie between 0 and %d months", oldestMonths)
	}
	if d.AgeTo < d.AgeFrom || d.AgeTo > oldestMonths {
		return span{}, gauge.Wrongf("age_to_months", "must lie between age_from_months and %d months", oldestMonths)
	}
	return span{d.AgeFrom, d.AgeTo}, nil
}
