package table

import (
	"strings"
	"unicode"
)

// A spreadsheet takes a cell that begins with one of these for a formula, also
// in what it reads as CSV, and a formula can call programs and send data away:
// https://owasp.org/www-community/attacks/CSV_Injection, which names the first
// seven and, for East Asian settings, the four full-width ones.
const triggers = "=+-@\t\r\n＝＋－＠"

// guard stands before such a text, so that it stays one.
const guard = "'"

// Guard returns a text that no spreadsheet takes for a formula: one that
// begins like a formula, also behind spaces or guards, gets an apostrophe in
// front. Any other text stays as it is. Numbers are not texts and are not
// guarded: -5 stays a number.
//
// Unguard gives back every text that Guard was given.
func Guard(text string) string {
	if begins(text) {
		return guard + text
	}
	return text
}

// Unguard takes away the apostrophe that Guard puts in front, and nothing else.
func Unguard(text string) string {
	if rest, guarded := strings.CutPrefix(text, guard); guarded && begins(rest) {
		return rest
	}
	return text
}

// begins tells whether a formula begins behind any guards and spaces.
func begins(text string) bool {
	for _, r := range text {
		switch {
		case strings.ContainsRune(triggers, r):
			return true
		case r == '\'' || r == '\uFEFF' || unicode.IsSpace(r) || unicode.IsControl(r):
		default:
			return false
		}
	}
	return false
}
