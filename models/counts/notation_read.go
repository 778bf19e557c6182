package counts

import (
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"
)

// Read reads a text that holds exactly one list of sizes, with or without words
// around it: 146 (158, 170) sts, or 12 for all sizes. A row's number, a
// measurement and an ordinal are not taken for it. A text in which no single
// list can be told is an error.
//
// The notation is common practice: the first size bare, the others in order in
// round or square brackets, parted by comma, space, slash, colon or semicolon;
// a dash, x or n/a for a size that skips the line.
func Read(text string) (List, error) {
	if err := checkText(text); err != nil {
		return List{}, err
	}
	return read(text, readings[0], 0)
}

// ReadFor reads like Read for a design with the given sizes and returns one
// value for each, the same for all when the text has a single one. A text that
// opens with "Sizes L and XL only:" is for those sizes, and the others skip it.
// A text with another number of values is an error.
func ReadFor(text string, sizes []string) (List, error) {
	if err := checkText(text); err != nil {
		return List{}, err
	}
	rest, only, err := restriction(text, sizes)
	if err != nil {
		return List{}, err
	}
	want := len(sizes)
	if only != nil {
		want = len(only)
	}
	var first error
	for _, how := range readings {
		list, err := read(rest, how, want)
		if err == nil && len(list.Values) != want && len(list.Values) != 1 {
			err = fmt.Errorf("%s for %s", amount(len(list.Values), "value"), amount(want, "size"))
		}
		if err == nil {
			return list.spread(len(sizes), only), nil
		}
		if first == nil {
			first = err
		}
	}
	return List{}, first
}

func checkText(text string) error {
	switch {
	case len(text) > MaxTextBytes:
		return fmt.Errorf("is longer than %d bytes", MaxTextBytes)
	case !utf8.ValidString(text):
		return errors.New("is not valid text (UTF-8)")
	case strings.TrimSpace(text) == "":
		return errors.New("is empty; write it like 146 (158, 170)")
	}
	return nil
}

// read reads the one list of a text; want is the number of sizes, 0 when it is
// not known.
func read(text string, how reading, want int) (List, error) {
	tokens := scan(text, how.fractions)
	list, found, err := wholeText(tokens)
	if err != nil {
		return List{}, err
	}
	if !found {
		if list, found, err = onlyList(text, tokens, how, want); err != nil {
			return List{}, err
		}
	}
	if !found {
		v, err := onlyNumber(tokens)
		if err != nil {
			return List{}, err
		}
		list = List{Values: []*float64{v}}
	}
	for _, v := range list.Values {
		if v != nil && *v > MaxCountValue {
			return List{}, fmt.Errorf("%g is more than a count can be (%g)", *v, float64(MaxCountValue))
		}
	}
	return list, nil
}

// wholeText reads a text that is nothing but values, with no bare first size
// and brackets: 12 sts, or a row of a spreadsheet.
func wholeText(tokens []token) (List, bool, error) {
	for len(tokens) > 0 && tokens[len(tokens)-1].text == "." {
		tokens = tokens[:len(tokens)-1]
	}
	if len(tokens) == 2 && wordUnit(tokens[0].text) == UnitStitch {
		tokens = tokens[1:] // ch 86
	}
	for _, t := range tokens {
		if t.kind == tokOpen {
			return List{}, false, nil
		}
	}
	e := readEntries(tokens)
	if e.note || len(e.values) == 0 || e.unit == unitMeasure || e.unit == unitOrdinal {
		return List{}, false, nil
	}
	if e.problem != "" {
		if len(e.values) < 2 {
			return List{}, false, nil
		}
		return List{}, false, errors.New(e.problem)
	}
	if len(e.values) == 2 && !e.hard && e.values[0] == nil {
		e.values = e.values[1:] // – 85: the dash that ends a row's text
	}
	return List{Values: e.values, Layout: onePair(len(e.values))}, true, nil
}

// onlyList returns the list that stands for all sizes. Lists of a lower rank (a
// row's numbers, measurements, a number with a note) count only when there is
// none of a higher.
func onlyList(text string, tokens []token, how reading, want int) (List, bool, error) {
	var best []located
	bestRank := rankNone
	for _, l := range locate(tokens, how) {
		rank := l.rank()
		if l.problem != "" && rank == rankCount {
			return List{}, false, errors.New(l.problem)
		}
		if l.problem != "" || rank > bestRank || rank == rankNone {
			continue
		}
		if rank < bestRank {
			best, bestRank = nil, rank
		}
		if len(best) == 0 || !sameValues(best[0].list.Values, l.list.Values) {
			best = append(best, l)
		}
	}
	switch len(best) {
	case 0:
		return List{}, false, nil
	case 1:
		return best[0].withoutPunctuation(want), true, nil
	}
	quoted := make([]string, len(best))
	for i, l := range best {
		quoted[i] = text[tokens[l.first].start:tokens[l.last].end]
	}
	return List{}, false, fmt.Errorf("has more than one list (%s); give the text of one",
		strings.Join(quoted, " and "))
}

// withoutPunctuation drops a leading dash that belongs to the sentence, as in
// "across - (85, 93, 101)", when the rest has a value for each size.
func (l located) withoutPunctuation(want int) List {
	if !l.dashHead || len(l.list.Values) != want+1 {
		return l.list
	}
	return List{Values: l.list.Values[1:], Layout: onePair(want)}
}

// Ranks of a list in a text, the most likely to be the count first.
const (
	rankCount    = iota
	rankRows     // the numbers of rows: Row 5 (7, 9)
	rankMeasure  // 14½ (15, 16)"
	rankWeak     // 3 (1 dc)
	rankBrackets // (146, 158)
	rankNone     // the names of the sizes: Sizes 1 (2, 3)
)

func (l located) rank() int {
	switch {
	case l.label == "size" || l.label == "sizes":
		return rankNone
	case l.headless:
		return rankBrackets
	case l.weak:
		return rankWeak
	case l.unit == unitMeasure:
		return rankMeasure
	case wordUnit(l.label) == UnitRow:
		return rankRows
	}
	return rankCount
}

// spread gives each of n sizes its value: one value goes to all of them; only,
// when not nil, lists the sizes that the values are for.
func (l List) spread(n int, only []int) List {
	if only == nil && len(l.Values) == n {
		return l
	}
	if only == nil {
		only = make([]int, n)
		for i := range only {
			only[i] = i
		}
	}
	out := List{Values: make([]*float64, n), Layout: onePair(n)}
	for k, i := range only {
		v := l.Values[0]
		if len(l.Values) > 1 {
			v = l.Values[k]
		}
		if v != nil {
			c := *v
			out.Values[i] = &c
		}
	}
	return out
}

func sameValues(a, b []*float64) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if (a[i] == nil) != (b[i] == nil) || (a[i] != nil && *a[i] != *b[i]) {
			return false
		}
	}
	return true
}

// amount writes 1 value, 2 values.
func amount(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
