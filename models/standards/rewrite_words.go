package standards

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// run is an unbroken run of letters and digits in a text, without the digits
// that it begins with: "2dc" is the digits 2 and the word dc.
type run struct {
	start, end int // bytes; start is where the digits begin
	digits     string
	text       string
	lower      string
}

// runsOf returns the words of a text. A run of digits only is a run with an
// empty text, so that it parts the words on either side of it.
func runsOf(text string) []run {
	var runs []run
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRuneInString(text[i:])
		if !inWord(r) {
			i += size
			continue
		}
		start, word := i, -1
		for i < len(text) {
			r, size = utf8.DecodeRuneInString(text[i:])
			if !inWord(r) {
				break
			}
			if word < 0 && unicode.IsLetter(r) {
				word = i
			}
			i += size
		}
		if word < 0 {
			word = i
		}
		runs = append(runs, run{start, i, text[start:word], text[word:i], strings.ToLower(text[word:i])})
	}
	return runs
}

func inWord(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }

// beginsWord reports whether a text begins in the middle of a run.
func beginsWord(text string) bool {
	r, _ := utf8.DecodeRuneInString(text)
	return inWord(r)
}

// joined reports whether a run and the next one are words of one phrase: parted
// by spaces, a hyphen or one line break, and the second begins with no digit.
func (w *writer) joined(i int) bool {
	if i+1 >= len(w.runs) || w.runs[i+1].digits != "" {
		return false
	}
	gap := w.between(i)
	return len(gap) > 0 && len(gap) <= 4 && (gap == "-" || strings.TrimSpace(gap) == "") && strings.Count(gap, "\n") < 2
}

// phrase reports whether the words begin at run i, and returns how many runs
// they take. The last word may carry an ending that is one of endings.
func (w *writer) phrase(i int, words []string, endings ...string) (ending string, ok bool) {
	for k, word := range words {
		if i+k >= len(w.runs) || k > 0 && !w.joined(i+k-1) {
			return "", false
		}
		have := w.runs[i+k].lower
		if k < len(words)-1 {
			if have != word {
				return "", false
			}
			continue
		}
		rest, found := strings.CutPrefix(have, word)
		if !found || rest != "" && !oneOf(rest, endings...) {
			return "", false
		}
		ending = rest
	}
	return ending, true
}

// likeCase writes word in the manner of like: all capitals, a capital first, or
// as it is.
func likeCase(word, like string) string {
	first, size := utf8.DecodeRuneInString(like)
	switch {
	case utf8.RuneCountInString(like) > 1 && like == strings.ToUpper(like) && like != strings.ToLower(like):
		return strings.ToUpper(word)
	case unicode.IsUpper(first) && like[size:] == strings.ToLower(like[size:]):
		return strings.ToUpper(word[:1]) + word[1:]
	}
	return word
}
