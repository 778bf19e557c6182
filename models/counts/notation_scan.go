package counts

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

type tokenKind int

const (
	tokNumber tokenKind = iota
	tokSkip             // a dash, x or n/a
	tokWord
	tokOpen
	tokClose
	tokSeparator // , ; : /
	tokOther
)

// token is a piece of a pattern line. start and end are byte offsets; spaced
// says whether a space (or the start of the text) stands before it.
type token struct {
	kind       tokenKind
	start, end int
	spaced     bool
	text       string
	value      float64 // of a number
}

func lower(s string) string { return strings.ToLower(s) }

// scanner cuts a text into tokens. fractions says how 15 1/2 is read: as
// fifteen and a half, or as three values of which two are parted by a slash.
type scanner struct {
	text      string
	fractions bool
	at        int
	tokens    []token
}

func scan(text string, fractions bool) []token {
	s := &scanner{text: text, fractions: fractions}
	spaced := true
	for s.at < len(text) {
		r, width := utf8.DecodeRuneInString(text[s.at:])
		if unicode.IsSpace(r) {
			spaced = true
			s.at += width
			continue
		}
		t := token{start: s.at, spaced: spaced}
		t.kind, t.value = s.piece(r, width)
		t.end, t.text = s.at, text[t.start:s.at]
		s.tokens = append(s.tokens, t)
		spaced = false
	}
	return s.tokens
}

// piece reads the token that starts with r and moves past it.
func (s *scanner) piece(r rune, width int) (tokenKind, float64) {
	if v, length := s.number(s.at); length > 0 {
		s.at += length
		return tokNumber, v
	}
	start := s.at
	s.at += width
	switch {
	case isDash(r):
		for s.at < len(s.text) {
			next, w := utf8.DecodeRuneInString(s.text[s.at:])
			if !isDash(next) {
				break
			}
			s.at += w
		}
		return tokSkip, 0
	case r == '(' || r == '[':
		return tokOpen, 0
	case r == ')' || r == ']':
		return tokClose, 0
	case strings.ContainsRune(",;:/", r):
		return tokSeparator, 0
	case unicode.IsLetter(r) || r == '_':
		return s.word(start), 0
	}
	return tokOther, 0
}

// word moves past the letters of a word and tells x and n/a, which skip a size,
// from the rest.
func (s *scanner) word(start int) tokenKind {
	rest := s.text[start:]
	if len(rest) >= 3 && lower(rest[:3]) == "n/a" && !startsWord(rest[3:]) {
		s.at = start + 3
		return tokSkip
	}
	for s.at < len(s.text) {
		r, w := utf8.DecodeRuneInString(s.text[s.at:])
		if !unicode.IsLetter(r) && r != '_' && r != '\'' && r != '’' {
			break
		}
		s.at += w
	}
	joined := start > 0 && endsWord(s.text[:start]) || startsWord(s.text[s.at:])
	if lower(s.text[start:s.at]) == "x" && !joined {
		return tokSkip
	}
	return tokWord
}

func startsWord(s string) bool {
	r, _ := utf8.DecodeRuneInString(s)
	return unicode.IsLetter(r) || unicode.IsDigit(r)
}

func endsWord(s string) bool {
	r, _ := utf8.DecodeLastRuneInString(s)
	return unicode.IsLetter(r) || unicode.IsDigit(r)
}

// isDash knows the hyphen, the figure, en and em dash and the minus sign.
func isDash(r rune) bool { return strings.ContainsRune("-‒–—−", r) }

// glyphFractions are the fractions that have a character of their own.
var glyphFractions = []struct {
	glyph string
	value float64
}{
	{"½", 1.0 / 2}, {"¼", 1.0 / 4}, {"¾", 3.0 / 4}, {"⅓", 1.0 / 3}, {"⅔", 2.0 / 3},
	{"⅛", 1.0 / 8}, {"⅜", 3.0 / 8}, {"⅝", 5.0 / 8}, {"⅞", 7.0 / 8},
}

// number reads 146, 14.5, .5, ½, 14½ or (with fractions) 14 1/2 at offset at
// and returns its value and length in bytes, 0 when no number starts there.
// More digits than a count can have make it no number.
func (s *scanner) number(at int) (float64, int) {
	rest := s.text[at:]
	length := digits(rest)
	if length < len(rest) && rest[length] == '.' {
		if d := digits(rest[length+1:]); d > 0 {
			return decimal(rest[:length+1+d])
		}
	}
	if glyph, w := glyphFraction(rest[length:]); w > 0 {
		whole, _ := decimal("0" + rest[:length])
		return whole + glyph, length + w
	}
	if length == 0 {
		return 0, 0
	}
	value, _ := decimal(rest[:length])
	if s.fractions {
		if part, w := typedFraction(rest[length:]); w > 0 {
			return value + part, length + w
		}
	}
	return value, length
}

func digits(s string) int {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return n
}

// decimal reads digits with or without a point; a number of hundreds of digits
// comes back as infinite and is refused by whoever checks the value.
func decimal(s string) (float64, int) {
	v, _ := strconv.ParseFloat(s, 64)
	return v, len(s)
}

func glyphFraction(s string) (float64, int) {
	for _, f := range glyphFractions {
		if strings.HasPrefix(s, f.glyph) {
			return f.value, len(f.glyph)
		}
	}
	return 0, 0
}

// typedFraction reads the " 1/2" of 14 1/2: a space, then a proper fraction in
// lowest terms with one of the denominators of a tape measure.
func typedFraction(s string) (float64, int) {
	above, rest, found := cutDigits(strings.TrimPrefix(s, " "))
	if !found || s[0] != ' ' || rest == "" || rest[0] != '/' {
		return 0, 0
	}
	below, rest, found := cutDigits(rest[1:])
	if !found || strings.HasPrefix(rest, "/") {
		return 0, 0
	}
	switch {
	case above < 1 || above >= below:
		return 0, 0
	case below == 3, above%2 == 1 && (below == 2 || below == 4 || below == 8 || below == 16):
		return float64(above) / float64(below), len(s) - len(rest)
	}
	return 0, 0
}

// cutDigits cuts a number of one or two digits off the front of s.
func cutDigits(s string) (n int, rest string, found bool) {
	d := digits(s)
	if d == 0 || d > 2 {
		return 0, s, false
	}
	n, _ = strconv.Atoi(s[:d])
	return n, s[d:], true
}
