package counts

import "strings"

// reading says how the doubtful places of a text are read. ReadFor tries the
// next reading when the first does not give one value for each size.
type reading struct {
	fractions  bool // 15 1/2 is fifteen and a half
	unitGroups bool // a bracket with one value and a unit, [42 sts], goes on with the list before it
}

var readings = []reading{{fractions: true}, {}, {fractions: true, unitGroups: true}}

// located is a list in a text: tokens first to last.
type located struct {
	list        List
	first, last int
	unit        string
	label       string // the word before the list, lower case
	headless    bool   // all in brackets: (146, 158, 170)
	dashHead    bool   // starts with a dash, which may be punctuation
	weak        bool   // 3 (1 dc): more likely a number and a note
	problem     string
}

// locate finds all lists of two or more values in the tokens, in order.
func locate(tokens []token, how reading) []located {
	var out []located
	for i := 0; i < len(tokens); i++ {
		l, ok := headed(tokens, i, how)
		if !ok {
			l, ok = bracketed(tokens, i, how)
		}
		if !ok {
			continue
		}
		if i > 0 && tokens[i-1].kind == tokWord {
			l.label = lower(tokens[i-1].text)
		}
		if u := unitAt(tokens, l.last+1); u != "" && l.unit == "" {
			l.unit = u
		}
		out = append(out, l)
		i = l.last
	}
	return out
}

// headed reads a list whose first value stands bare at tokens[i].
func headed(tokens []token, i int, how reading) (located, bool) {
	head := tokens[i]
	if head.kind != tokNumber && head.kind != tokSkip {
		return located{}, false
	}
	if head.kind == tokSkip && !head.spaced && tokens[i-1].kind != tokOpen && tokens[i-1].kind != tokSeparator {
		return located{}, false
	}
	l := located{first: i, dashHead: head.kind == tokSkip}
	next := i + 1
	if head.kind == tokNumber {
		if l.unit = unitAt(tokens, next); l.unit != "" {
			next++
		}
		if next < len(tokens) && tokens[next].text == "," {
			next++ // ch 101, (111, 121)
		}
	}
	l.list.Values = []*float64{head.entry()}
	headUnit := l.unit
	if !l.takeGroups(tokens, next, how) {
		return located{}, false
	}
	first := l.list.Layout.Groups
	if headUnit == unitOrdinal && l.unit != unitOrdinal {
		return located{}, false
	}
	l.weak = len(first) == 1 && first[0].Sizes == 1 && l.unit != headUnit
	return l, true
}

// bracketed reads a list that stands wholly in brackets at tokens[i].
func bracketed(tokens []token, i int, how reading) (located, bool) {
	if tokens[i].kind != tokOpen {
		return located{}, false
	}
	e, end := readGroup(tokens, i)
	if e.note || e.problem != "" || len(e.values) < 2 || !e.hard {
		return located{}, false
	}
	l := located{first: i, headless: true, unit: e.unit}
	if !l.takeGroups(tokens, i, how) {
		return located{}, false
	}
	l.list.Layout = onePair(len(l.list.Values))
	l.last = max(l.last, end)
	return l, true
}

// takeGroups adds the bracketed groups from tokens[next] on; false when there
// is none. A group that was meant as one and is written wrongly ends the list
// with a problem.
func (l *located) takeGroups(tokens []token, next int, how reading) bool {
	taken := false
	for next < len(tokens) && tokens[next].kind == tokOpen {
		e, end := readGroup(tokens, next)
		if e.problem != "" {
			l.problem, l.last = e.problem, end
			return true
		}
		loneGloss := len(e.values) == 1 && e.units == 1 && !how.unitGroups
		if e.note || (e.unit != "" && l.unit != "" && e.unit != l.unit) || (taken && loneGloss && l.unit == "") {
			break
		}
		if l.unit == "" {
			l.unit = e.unit
		}
		l.list.Values = append(l.list.Values, e.values...)
		l.list.Layout.Groups = append(l.list.Layout.Groups,
			Group{Sizes: len(e.values), Square: tokens[next].text == "["})
		l.last, taken, next = end, true, end+1
		if next+1 < len(tokens) && tokens[next].text == "," && tokens[next+1].kind == tokOpen {
			next++
		}
	}
	return taken
}

// readGroup reads the bracket that opens at tokens[open] and returns the index
// of its last token. A bracket with another inside is a note.
func readGroup(tokens []token, open int) (e entries, end int) {
	for end = open + 1; end < len(tokens); end++ {
		switch tokens[end].kind {
		case tokOpen:
			return entries{note: true}, end
		case tokClose:
			e = readEntries(tokens[open+1 : end])
			if !e.note && e.problem == "" && !strings.Contains("()[]", tokens[open].text+tokens[end].text) {
				e.problem = "the bracket " + tokens[open].text + " is closed by " + tokens[end].text
			}
			return e, end
		}
	}
	e = readEntries(tokens[open+1:])
	if !e.note {
		e.problem = "the bracket " + tokens[open].text + " is not closed"
	}
	return e, len(tokens) - 1
}
