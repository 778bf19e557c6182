package standards

import (
	"regexp"
	"slices"
	"strings"
	"sync"
)

// found is a stitch as it stands in the text, not yet read in any terms.
type found struct {
	at, words     int    // runs
	digits        string // that the first word begins with
	name          string // canonical name, or abbreviation, in lower case
	short         bool   // name is an abbreviation
	before, after string // what a compound word adds: FP, 2tog
	like          string // the stitch's part as it was written, for its case
}

// compound is an abbreviation with what usually stands around it: worked round
// the front or back post (fp, bp), foundation (f), extended (e, ex), reverse (r,
// rev); plural, 2tog, inc, dec, one loop only (blo, flo, bl, fl), cluster (cl).
// Common practice.
var compound = regexp.MustCompile(`^(?i)(fp|bp|f|ex|e|rev|r)?(sc|hdc|dc|tr|dtr|trtr|qtr|htr|quintr)(s|\d*tog|\d+|inc|dec|blo|flo|bl|fl|cl)?$`)

// findStitch looks for a stitch that begins at run i.
func (w *writer) findStitch(i int) (found, bool) {
	if f, ok := w.findName(i); ok {
		return f, true
	}
	r := w.runs[i]
	m := compound.FindStringSubmatch(r.text)
	if m == nil {
		return found{}, false
	}
	return found{at: i, words: 1, digits: r.digits, name: strings.ToLower(m[2]), short: true, before: m[1], after: m[3], like: m[2]}, true
}

// findName looks for the longest stitch name in full.
func (w *writer) findName(i int) (found, bool) {
	for _, n := range stitchNames() {
		if ending, ok := w.phrase(i, n.words, "s"); ok {
			first, last := w.runs[i], w.runs[i+len(n.words)-1]
			return found{at: i, words: len(n.words), digits: first.digits, name: n.name, after: ending,
				like: w.text[first.start+len(first.digits) : last.end]}, true
		}
	}
	return found{}, false
}

// spelling is a stitch's name as its words.
type spelling struct {
	name  string
	words []string
}

// stitchNames returns every name that either set of terms has, the longest
// first, the trebles with and without "crochet" behind them.
var stitchNames = sync.OnceValue(func() []spelling {
	var out []spelling
	for _, t := range stitches() {
		for _, name := range []string{t.US, t.UK} {
			out = append(out, spelling{name, strings.Fields(name)})
			if strings.HasSuffix(name, "treble") {
				out = append(out, spelling{name, strings.Fields(name + " crochet")})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b spelling) int { return len(b.words) - len(a.words) })
	return out
})

// tallest reports whether the stitch is the table's last name, which only one
// set of terms has here and both have in use.
func (f found) tallest() bool {
	all := stitches()
	last := all[len(all)-1]
	return f.name == last.UK || f.name == last.UKAbbr
}

// term reads the stitch in the given terms.
func (f found) term(in Terms) (Term, bool) {
	for _, t := range stitches() {
		if f.short && t.abbr(in) == f.name || !f.short && t.name(in) == f.name {
			return t, true
		}
	}
	return Term{}, false
}

// spelled writes the stitch in the given terms in the way it was written.
func (f found) spelled(t Term, in Terms) string {
	if f.short {
		return f.before + likeCase(t.abbr(in), f.like) + f.after
	}
	return likeCase(t.name(in)+f.after, f.like)
}

// lookAlike returns how many runs at i look like a stitch that differs between
// the terms and is not known: "trc", "triple crochet", "double crocheted".
func (w *writer) lookAlike(i int) int {
	word := w.runs[i].lower
	if len(word) > 2 && len(word) <= 8 && !strings.ContainsAny(word, "aeiouy") &&
		slices.ContainsFunc([]string{"dc", "tr"}, func(s string) bool { return strings.HasPrefix(word, s) || strings.HasSuffix(word, s) }) {
		return 1
	}
	for _, form := range [][]string{{"half", "double", "crochet"}, {"single", "crochet"}, {"double", "crochet"}, {"triple", "crochet"}, {"treble", "crochet"}} {
		if _, ok := w.phrase(i, form, "s", "ed", "ing"); ok {
			return len(form)
		}
	}
	if _, ok := w.phrase(i, []string{"trebl"}, "ed", "ing"); ok {
		return 1
	}
	return 0
}
