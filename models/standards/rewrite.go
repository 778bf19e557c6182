package standards

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"tenter/models/gauge"
)

// Rewriting is a text in the reader's terms.
type Rewriting struct {
	Text    string `json:"text"`
	From    Terms  `json:"from"`
	To      Terms  `json:"to"`
	Changed int    `json:"changed" doc:"Words that were exchanged or marked."`
	Left    []Left `json:"left" doc:"Words that look like stitches, are not known here, and stand as they were written; the first 200."`
}

// Left is a word that was left as it was written, marked with the terms of the
// text that it stands in.
type Left struct {
	Word string `json:"word"`
	Line int    `json:"line" doc:"Counted from 1."`
}

// MostText is the longest text, in bytes, that Rewrite takes: several times the
// text of a long pattern; chosen.
const MostText = 200_000

const mostLeft = 200 // that are listed; chosen

// Rewrite puts a text that is written in from into the terms to: "5 dc" in US
// terms becomes "5 UK tr". A word that means different stitches in the two
// terms never stands without its terms in the result, also when from and to
// are the same; a word that says its own terms, "UK dc" or "dc (UK)", is read
// so. Words that only one set of terms has (sc, htr) need no mark. What looks
// like a stitch and is not known stays, marked with the terms of the text, and
// is listed.
//
// Rewriting twice is the same as once, and rewriting there and back gives the
// marked text that it began with, but for spelling: "half-double crochet" comes
// back as "half double crochet", "BO" as "bind off". Where words run into each
// other without meaning ("double crochet crochet") that is not promised; that no
// word of two meanings stands bare is.
//
// craft is "crochet" or "knit". An error names the field: "text" when it holds
// a word that belongs to the other terms only, since then every other stitch in
// it is in doubt, or names both sets of terms before one word.
func Rewrite(text, craft string, from, to Terms) (Rewriting, error) {
	if err := checkRewriting(text, craft, from, to); err != nil {
		return Rewriting{}, err
	}
	w := writer{text: text, runs: runsOf(text), craft: craft, from: from, to: to}
	for w.next < len(w.runs) {
		if err := w.step(); err != nil {
			return Rewriting{}, err
		}
	}
	w.out.WriteString(text[w.copied:])
	return Rewriting{Text: w.out.String(), From: from, To: to, Changed: w.changed, Left: append([]Left{}, w.left...)}, nil
}

func checkRewriting(text, craft string, from, to Terms) error {
	if err := from.check("from"); err != nil {
		return err
	}
	if err := to.check("to"); err != nil {
		return err
	}
	if craft != "crochet" && craft != "knit" {
		return gauge.Wrongf("craft", "is not one of crochet, knit")
	}
	if len(text) > MostText {
		return gauge.Wrongf("text", "is longer than %d bytes; send it in parts", MostText)
	}
	if !utf8.ValidString(text) {
		return gauge.Wrongf("text", "is not UTF-8")
	}
	return nil
}

// writer walks the words of a text and writes it anew.
type writer struct {
	text     string
	runs     []run
	craft    string
	from, to Terms

	next    int // the run to look at
	copied  int // the text up to here is written
	out     strings.Builder
	changed int
	left    []Left

	counted, lines int // line breaks before counted
}

// step deals with the word at next and moves past it.
func (w *writer) step() error {
	said, marks := w.markBefore(w.next)
	at := w.next + marks
	if _, more := w.markBefore(at); marks > 0 && more > 0 {
		return gauge.Wrongf("text", "has %q before one word; keep the terms that are meant", w.text[w.runs[w.next].start:w.runs[at].end])
	}
	if at < len(w.runs) {
		if found, ok := w.findStitch(at); ok {
			return w.writeStitch(found, said, marks)
		}
		if words := w.lookAlike(at); words > 0 {
			said, _, err := w.marksBehind(w.runs[w.next].start, w.runs[at+words-1].end, said)
			if err == nil {
				w.leave(at, words, said)
			}
			return err
		}
	}
	if marks == 0 {
		if words, with, ok := w.findPlain(w.next); ok {
			w.replace(w.runs[w.next].start, w.runs[w.next+words-1].end, with)
			w.next += words
			return nil
		}
	}
	w.next++
	return nil
}

// markBefore reads "US" or "UK" where it stands at run i before a word with
// nothing but white space between, and tells how many runs it takes. Only one
// may stand there: one of two would be taken for the other's afterwards.
func (w *writer) markBefore(i int) (said Terms, marks int) {
	if i+1 < len(w.runs) && w.runs[i].digits == "" && isSpace(w.between(i)) {
		if t, ok := markOf(w.runs[i].text); ok {
			return t, 1
		}
	}
	return "", 0
}

// isSpace tells white space of any kind and length.
func isSpace(s string) bool { return s != "" && strings.TrimSpace(s) == "" }

func markOf(word string) (Terms, bool) {
	switch word {
	case US.mark():
		return US, true
	case UK.mark():
		return UK, true
	}
	return "", false
}

// writeStitch writes a stitch in the wanted terms.
func (w *writer) writeStitch(f found, said Terms, marks int) error {
	last := w.runs[f.at+f.words-1].end
	said, end, err := w.marksBehind(w.runs[f.at-marks].start, last, said)
	if err != nil {
		return err
	}
	if end > last && runsOn.MatchString(w.text[end:]) {
		return gauge.Wrongf("text", "has %q with its terms inside a name; put them before it", w.text[w.runs[f.at].start:end]+runsOn.FindString(w.text[end:]))
	}
	in := w.from
	if said != "" {
		in = said
	}
	term, ok := f.term(in)
	if !ok {
		if said == "" && !f.tallest() {
			return w.strange(f)
		}
		w.leave(f.at, f.words, said)
		return nil
	}
	start := w.runs[f.at-marks].start
	with := f.digits
	if f.digits != "" {
		with += " "
	}
	if twoFaced(term, w.to) {
		with += w.to.mark() + " "
	}
	with += f.spelled(term, w.to)
	if end > last && beginsWord(w.text[end:]) {
		with += " " // "dc(UK)tr" would otherwise become one word
	}
	w.replace(start, end, with)
	w.next = f.at + f.words
	w.skipTo(end)
	return nil
}

// runsOn is the word that a treble may have behind it, after a mark.
var runsOn = regexp.MustCompile(`^(?i)[\s-]*crochet`)

// strange is the error for a stitch that the text's terms do not have.
func (w *writer) strange(f found) error {
	return gauge.Wrongf("text", "has “%s” in line %d, which is no stitch in %s terms; correct the design's terms or that word, and nothing is mistaken",
		w.text[w.runs[f.at].start:w.runs[f.at+f.words-1].end], w.line(w.runs[f.at].start), w.from.mark())
}

// leave keeps words as they are, marked with their terms.
func (w *writer) leave(at, words int, said Terms) {
	start, end := w.runs[at].start, w.runs[at+words-1].end
	word := w.text[start:end]
	if said == "" {
		w.out.WriteString(w.text[w.copied:start] + w.from.mark() + " ")
		w.copied = start
	}
	if len(w.left) < mostLeft {
		w.left = append(w.left, Left{word, w.line(start)})
	}
	w.next = at + words
}

func (w *writer) replace(start, end int, with string) {
	if w.text[start:end] != with {
		w.changed++
	}
	w.out.WriteString(w.text[w.copied:start] + with)
	w.copied = end
}

// skipTo moves past runs that a mark behind a word took up.
func (w *writer) skipTo(end int) {
	for w.next < len(w.runs) && w.runs[w.next].start < end {
		w.next++
	}
}

// line returns the line of an offset, counted from 1; offsets come in order.
func (w *writer) line(offset int) int {
	w.lines += strings.Count(w.text[w.counted:offset], "\n")
	w.counted = offset
	return 1 + w.lines
}

// between returns what stands between a run and the next one.
func (w *writer) between(i int) string { return w.text[w.runs[i].end:w.runs[i+1].start] }

// marksBehind reads the marks that follow a word, which stands from start to
// end with the terms that were said before it, and returns the terms that it is
// in and where its marks end.
func (w *writer) marksBehind(start, end int, said Terms) (Terms, int, error) {
	for {
		mark, length := markAfter(w.text[end:])
		if length == 0 {
			return said, end, nil
		}
		end += length
		if said != "" && said != mark {
			return "", 0, gauge.Wrongf("text", "has %q, two sets of terms for one word; keep the terms that are meant", w.text[start:end])
		}
		said = mark
	}
}

// markAfter reads "(UK)" or "(US terms)" right behind a word and tells how many
// bytes it takes.
func markAfter(rest string) (Terms, int) {
	for _, t := range []Terms{US, UK} {
		for _, form := range []string{"(%s)", " (%s)", "(%s terms)", " (%s terms)"} {
			if s := fmt.Sprintf(form, t.mark()); strings.HasPrefix(rest, s) {
				return t, len(s)
			}
		}
	}
	return "", 0
}

// oneOf reports whether a lower-case word is in a list.
func oneOf(word string, list ...string) bool { return slices.Contains(list, word) }
