package letters

import (
	"errors"
	"fmt"
	"net/mail"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Bounds of what stands in a header (chosen, but for the address: RFC 5321,
// section 4.5.3.1, leaves 254 characters for it between < and >).
const (
	longestSubject = 300 // characters
	longestName    = 200 // characters
	longestAddress = 254 // bytes
	LongestBody    = 64 << 10
)

// Line refuses what would not stay on one line of a header: line ends of every
// kind, other control characters, and what is no text.
func Line(what, s string, most int) error {
	switch {
	case !utf8.ValidString(s):
		return fmt.Errorf("%s is not text in UTF-8", what)
	case strings.IndexFunc(s, breaks) >= 0:
		return fmt.Errorf("%s holds a line break or another control character", what)
	case utf8.RuneCountInString(s) > most:
		return fmt.Errorf("%s has more than %d characters", what, most)
	}
	return nil
}

// breaks tells characters that end a line, or do so for some program, or are
// not seen and turn what is read.
func breaks(r rune) bool {
	return unicode.IsControl(r) || r == '\u2028' || r == '\u2029' || unicode.Is(unicode.Bidi_Control, r)
}

// Subject refuses what can't be a subject.
func Subject(s string) error {
	if strings.TrimSpace(s) == "" {
		return errors.New("the subject is empty")
	}
	return Line("the subject", s, longestSubject)
}

// Name refuses what can't be the name beside an address.
func Name(s string) error { return Line("the name", s, longestName) }

// Address refuses what is not one address alone, without a name, in the form
// local@domain of RFC 5321, section 4.1.2, less quoted local parts, which hold
// anything and which nobody has. Letters beyond ASCII may stand left of the @
// (RFC 6531); right of it a mail server needs the name in its ASCII form.
func Address(s string) error {
	if err := Line("the address", s, longestAddress); err != nil {
		return err
	}
	a, err := mail.ParseAddress(s)
	if err != nil || a.Address != s || a.Name != "" || len(s) > longestAddress || strings.ContainsAny(s, "\"<>()[]\\,;: ") {
		return errors.New("the address is not one e-mail address, written as name@host")
	}
	return nil
}
