package models

import (
	"fmt"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

// knownAs is what somebody is known by, and what stands in its place from now on.
type knownAs struct {
	handle, name, email string
	replacement         string
}

func namesOf(p *Person) knownAs {
	n := knownAs{handle: p.Handle, name: p.Name}
	set(&n.email, p.Email)
	return n
}

// shortestWord is how long a name is before it is looked for in what others
// wrote (chosen): shorter ones are mostly words of the text.
const shortestWord = 3

// words are the names that can be told from other words, the longest first.
func (n knownAs) words() []string {
	var out []string
	for _, w := range []string{n.email, n.name, n.handle} {
		if utf8.RuneCountInString(w) >= shortestWord && strings.IndexFunc(w, unicode.IsLetter) >= 0 {
			out = append(out, w)
		}
	}
	return out
}

// takeOut replaces the names wherever they stand as a word of their own.
func (n knownAs) takeOut(text string) string {
	for _, w := range n.words() {
		text = replaceWord(text, w, n.replacement)
	}
	return text
}

// replaceWord replaces a word, in any case of its letters, where no letter,
// digit or hyphen makes it part of a longer one.
func replaceWord(text, word, with string) string {
	found := regexp.MustCompile(`(?i)`+regexp.QuoteMeta(word)).FindAllStringIndex(text, -1)
	var b strings.Builder
	last := 0
	for _, at := range found {
		before, _ := utf8.DecodeLastRuneInString(text[:at[0]])
		after, _ := utf8.DecodeRuneInString(text[at[1]:])
		if inWord(before) || inWord(after) {
			continue
		}
		b.WriteString(text[last:at[0]])
		b.WriteString(with)
		last = at[1]
	}
	b.WriteString(text[last:])
	return b.String()
}

func inWord(r rune) bool {
	return r != utf8.RuneError && (unicode.IsLetter(r) || unicode.IsDigit(r) || r == '-' || r == '_')
}

// looseTexts are the columns in which people write freely and may name
// somebody else. What a version is made of is left out: it never changes.
var looseTexts = map[string][]string{
	"designs":                  {"note"},
	"versions":                 {"note"},
	"samples":                  {"label", "worked_note", "held_note"},
	"sample_moves":             {"worked_note", "held_note", "note"},
	"takes":                    {"note"},
	"slips":                    {"wrong", "should_be"},
	"shots":                    {"note"},
	"test_calls":               {"thanks"},
	"sign_ups":                 {"introduction"},
	"applications":             {"remarks", "declined_why"},
	"assignments":              {"withdrawn_why", "yarn_sent_note"},
	"check_ins":                {"note"},
	"letters":                  {"subject", "body"},
	"extensions":               {"why"},
	"reports":                  {"note"},
	"remarks":                  {"place", "body", "answer"},
	"photos":                   {"caption"},
	"corrections":              {"place", "was", "is_now", "why", "found_words", "withdrawn_why"},
	"measure_requests":         {"why"},
	"finding_decisions":        {"reason", "message", "numbers"},
	"sign_offs":                {"note", "withdrawn_why"},
	"sign_off_answers":         {"message", "answer"},
	"caution_acknowledgements": {"note"},
	"webhooks":                 {"name"},
	"gate_overrides":           {"reason", "why"},
}

// forgetWords takes the names out of what others wrote.
func (t *tx) forgetWords(who knownAs) error {
	for table, columns := range looseTexts {
		for _, column := range columns {
			if err := t.forgetColumn(table, column, who); err != nil {
				return err
			}
		}
	}
	return nil
}

func (t *tx) forgetColumn(table, column string, who knownAs) error {
	where, args := who.mentioned(column)
	if where == "" {
		return nil
	}
	var texts []string
	if err := t.Table(table).Distinct(column).Where(where, args...).Pluck(column, &texts).Error; err != nil {
		return fmt.Errorf("look for the name in %s: %w", table, err)
	}
	for _, text := range texts {
		without := who.takeOut(text)
		if without == text {
			continue
		}
		if err := t.Table(table).Where(column+" = ?", text).Update(column, without).Error; err != nil {
			return fmt.Errorf("take the name out of %s: %w", table, err)
		}
	}
	return nil
}

// mentioned is a condition for a column that may hold one of the names.
func (n knownAs) mentioned(columns ...string) (string, []any) {
	var parts []string
	var args []any
	for _, column := range columns {
		for _, w := range n.words() {
			parts = append(parts, "lower("+column+") LIKE ? ESCAPE '!'")
			args = append(args, "%"+likeText(lowerASCII(w))+"%")
		}
	}
	return strings.Join(parts, " OR "), args
}

// lowerASCII lowers what both databases lower; any other letter matches any.
func lowerASCII(s string) string {
	return strings.Map(func(r rune) rune {
		if r >= 'A' && r <= 'Z' {
			return r + ('a' - 'A')
		}
		return r
	}, s)
}

// likeText escapes what LIKE would take for a sign, and lets it match any
// letter that the databases lower differently or that JSON may have written
// otherwise.
func likeText(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == '%' || r == '_' || r == '!':
			b.WriteRune('!')
			b.WriteRune(r)
		case r > unicode.MaxASCII || r == '<' || r == '>' || r == '&' || r == '"' || r == '\\':
			b.WriteRune('%')
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}
