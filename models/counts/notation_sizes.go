package counts

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"
)

// ReadSizeNames reads the sizes of a design as a pattern lists them, such as
// XS (S, M, L) (1X, 2X) or 0–3 (3–6, 6–12) months, with the layout they are
// written in. In a bracket the strongest separator present parts the names:
// comma, semicolon, colon, slash, space. Without brackets only the first four
// do, so that 3 months is one size.
func ReadSizeNames(text string) ([]string, Layout, error) {
	if err := checkText(text); err != nil {
		return nil, Layout{}, err
	}
	head, _, _ := strings.Cut(strings.ReplaceAll(text, "[", "("), "(")
	groups := bracketPattern.FindAllStringSubmatch(text, -1)
	var layout Layout
	names := []string{strings.Trim(head, " \t,")}
	if len(groups) == 0 {
		names = splitNames(strings.TrimSpace(text), false)
		layout = onePair(len(names))
	}
	for _, g := range groups {
		inside := splitNames(g[2], true)
		layout.Groups = append(layout.Groups, Group{Sizes: len(inside), Square: g[1] == "["})
		names = append(names, inside...)
	}
	if err := checkSizeNames(names, ""); err != nil {
		var at *FieldError
		if errors.As(err, &at) {
			return nil, Layout{}, errors.New(at.Problem)
		}
		return nil, Layout{}, err
	}
	if strings.ContainsAny(bracketPattern.ReplaceAllString(text, ""), "()[]") {
		return nil, Layout{}, errors.New("a bracket is not closed")
	}
	return names, layout, nil
}

var bracketPattern = regexp.MustCompile(`([(\[])([^()\[\]]*)[)\]]`)

func splitNames(inside string, bySpace bool) []string {
	for _, separator := range []string{",", ";", ":", "/"} {
		if strings.Contains(inside, separator) {
			parts := strings.Split(inside, separator)
			for i, p := range parts {
				parts[i] = strings.TrimSpace(p)
			}
			return parts
		}
	}
	if bySpace {
		return strings.Fields(inside)
	}
	return []string{inside}
}

// checkSizeNames refuses names that are empty, too long or there twice.
func checkSizeNames(names []string, path string) error {
	if len(names) == 0 {
		return fieldf(path, "name at least one size")
	}
	if len(names) > MaxSizes {
		return fieldf(path, "has %d sizes; %d are the most", len(names), MaxSizes)
	}
	seen := map[string]bool{}
	for i, name := range names {
		at := fmt.Sprintf("%s[%d]", path, i)
		if err := checkName(name, at); err != nil {
			return err
		}
		if seen[name] {
			return fieldf(at, "the size %q is there twice", name)
		}
		seen[name] = true
	}
	return nil
}

// checkName refuses a name that is blank, too long or holds a control
// character.
func checkName(name, path string) error {
	switch {
	case strings.TrimSpace(name) == "":
		return fieldf(path, "give a name")
	case !utf8.ValidString(name):
		return fieldf(path, "is not valid text (UTF-8)")
	case utf8.RuneCountInString(name) > MaxNameRunes:
		return fieldf(path, "is longer than %d characters", MaxNameRunes)
	case strings.ContainsFunc(name, func(r rune) bool { return r < ' ' || r == 0x7f }):
		return fieldf(path, "holds a control character")
	}
	return nil
}

var onlyPattern = regexp.MustCompile(`(?i)^\s*(?:for\s+)?sizes?\s+([^:]{1,200}?)\s+only\s*[:,–-]\s*`)

var nameJoint = regexp.MustCompile(`\s*(?:,|&|\s+and\s+|\s+or\s+)\s*(?:and\s+|or\s+)?`)

// namesIn parts "L, XL and 2X" or "L/XL" into names; a slash that belongs to the
// name of a size (2/3 years) parts nothing.
func namesIn(text string, sizes []string) []string {
	if indexOf(sizes, text) >= 0 {
		return []string{text}
	}
	var names []string
	for _, name := range nameJoint.Split(text, -1) {
		if indexOf(sizes, name) >= 0 {
			names = append(names, name)
			continue
		}
		for _, part := range strings.Split(name, "/") {
			names = append(names, strings.TrimSpace(part))
		}
	}
	return names
}

// restriction reads an opening "Sizes L and XL only:" and returns the text after
// it and the sizes meant, nil when the text is for all.
func restriction(text string, sizes []string) (rest string, only []int, err error) {
	m := onlyPattern.FindStringSubmatch(text)
	if m == nil {
		return text, nil, nil
	}
	for _, name := range namesIn(m[1], sizes) {
		i := indexOf(sizes, name)
		if i < 0 {
			return "", nil, fmt.Errorf("is for size %q, and there is no such size", name)
		}
		if len(only) > 0 && i <= only[len(only)-1] {
			return "", nil, errors.New("names its sizes out of order")
		}
		only = append(only, i)
	}
	return text[len(m[0]):], only, nil
}

func indexOf(names []string, name string) int {
	for i, n := range names {
		if strings.EqualFold(n, name) {
			return i
		}
	}
	return -1
}
