package table

import (
	"bytes"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/unicode"
)

// The byte order marks of the Unicode Standard, section 23.8.
const (
	markUTF8    = "\xEF\xBB\xBF"
	markUTF16LE = "\xFF\xFE"
	markUTF16BE = "\xFE\xFF"
)

// decode returns the file's text in UTF-8, without its byte order mark, every
// line break outside quotes being a line feed. Another encoding is refused
// rather than guessed: a guess would spoil names without a word.
func decode(data []byte) (string, error) {
	var text string
	if bytes.HasPrefix(data, []byte(markUTF16LE)) || bytes.HasPrefix(data, []byte(markUTF16BE)) {
		decoded, err := unicode.UTF16(unicode.LittleEndian, unicode.ExpectBOM).NewDecoder().Bytes(data)
		if err != nil {
			return "", faultf(0, "The file begins like UTF-16 and is not; save it as CSV in UTF-8.")
		}
		text = string(decoded)
		if i := strings.IndexRune(text, utf8.RuneError); i >= 0 {
			return "", faultf(lineOf(text[:i]), "A character here is broken; save the file again as CSV in UTF-8.")
		}
	} else {
		text = strings.TrimPrefix(string(data), markUTF8)
		if i := firstInvalid(text); i >= 0 {
			return "", faultf(lineOf(text[:i]), "A character here is not UTF-8; save the file as CSV in UTF-8.")
		}
	}
	if i := strings.IndexByte(text, 0); i >= 0 {
		return "", faultf(lineOf(text[:i]), "There is a NUL character here, so this is not a text file in UTF-8; save it as CSV in UTF-8.")
	}
	return withLineFeeds(text), nil
}

// firstInvalid returns where the first byte stands that is no UTF-8, or -1.
func firstInvalid(s string) int {
	if utf8.ValidString(s) {
		return -1
	}
	for i, r := range s {
		if _, n := utf8.DecodeRuneInString(s[i:]); r == utf8.RuneError && n == 1 {
			return i
		}
	}
	return -1
}

// lineOf returns the number of the line that follows text.
func lineOf(before string) int {
	return 1 + strings.Count(withLineFeeds(before), "\n")
}

// withLineFeeds writes CR LF and a lone CR outside quotes as a line feed.
// Some spreadsheets end rows with CR and break lines inside a cell with LF, so
// the breaks inside quotes are not touched.
func withLineFeeds(s string) string {
	if !strings.Contains(s, "\r") {
		return s
	}
	var b strings.Builder
	b.Grow(len(s))
	quoted := false
	for i := 0; i < len(s); i++ {
		switch c := s[i]; {
		case c == '"':
			quoted = !quoted // a doubled quote turns it twice
			b.WriteByte(c)
		case c == '\r' && !quoted:
			if i+1 < len(s) && s[i+1] == '\n' {
				continue
			}
			b.WriteByte('\n')
		default:
			b.WriteByte(c)
		}
	}
	return b.String()
}
