package standards

import (
	"slices"
	"strings"
	"sync"

	"tenter/models/gauge"
)

// Terms says which set of stitch names a text is written in.
type Terms string

// The sets of terms.
const (
	US Terms = "us"
	UK Terms = "uk"
)

func (t Terms) check(field string) error {
	if t != US && t != UK {
		return gauge.Wrongf(field, "is not one of us, uk")
	}
	return nil
}

// other returns the other set.
func (t Terms) other() Terms {
	if t == US {
		return UK
	}
	return US
}

// mark is how a word says which terms it is in.
func (t Terms) mark() string { return strings.ToUpper(string(t)) }

// Term is one thing as both sets of terms call it.
type Term struct {
	Craft     string `json:"craft" enum:"crochet,knit,both"`
	US        string `json:"us"`
	USAbbr    string `json:"us_abbr"`
	UK        string `json:"uk"`
	UKAbbr    string `json:"uk_abbr"`
	Ambiguous bool   `json:"ambiguous" doc:"One of these words means another stitch in the other terms; never show it without its terms."`
	Rewritten bool   `json:"rewritten" doc:"Exchanged when a text is shown in the other terms."`
	Source    Source `json:"source"`
}

func (t Term) name(in Terms) string {
	if in == US {
		return t.US
	}
	return t.UK
}

func (t Term) abbr(in Terms) string {
	if in == US {
		return t.USAbbr
	}
	return t.UKAbbr
}

// TermList returns the words that differ between US and UK patterns, the
// stitches from the shortest to the tallest.
func TermList() []Term { return slices.Clone(termList()) }

var termList = sync.OnceValue(func() []Term {
	list := readTable("terms.csv", func(r row) Term {
		return Term{Craft: r.text("craft"), US: r.text("us"), USAbbr: r.text("us_abbr"), UK: r.text("uk"), UKAbbr: r.text("uk_abbr"),
			Rewritten: r.text("rewritten") == "yes", Source: r.source("source")}
	})
	for i := range list {
		list[i].Ambiguous = shifts(list, list[i])
	}
	return list
})

// shifts reports whether a word of the term stands for another row's stitch in
// the other terms: double crochet is one stitch in the US and the next shorter
// one in the UK.
func shifts(list []Term, t Term) bool {
	for _, o := range list {
		if o.US != t.US && (o.UK == t.US || o.US == t.UK) {
			return true
		}
	}
	return false
}

// stitches returns the rows whose names move along by one between the terms,
// from the shortest, with half double crochet among them: what the rewriting
// must never get wrong.
var stitches = sync.OnceValue(func() []Term {
	var out []Term
	for _, t := range termList() {
		if t.Craft == "crochet" && (t.Ambiguous || t.US == "half double crochet") {
			out = append(out, t)
		}
	}
	return out
})

// twoFaced reports whether a stitch's word, in the given terms, stands for
// another stitch in the other terms. The tallest row has no neighbour in the
// table, but its names go on shifting.
func twoFaced(t Term, in Terms) bool {
	all := stitches()
	return t.US == all[len(all)-1].US || slices.ContainsFunc(all, func(o Term) bool { return o.name(in.other()) == t.name(in) })
}
