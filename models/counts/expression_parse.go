package counts

import (
	"errors"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/conf"
	"github.com/expr-lang/expr/file"
	"github.com/expr-lang/expr/parser"
)

// tradeSigns turns the signs that people type or paste into those of the
// expression library.
var tradeSigns = strings.NewReplacer(
	"×", "*", "·", "*", "÷", "/", "−", "-", "–", "-",
	"≤", "<=", "≥", ">=", "≠", "!=", "\u00a0", " ")

// parse reads source into the expression library's tree. The sandbox has two
// fences: only the characters of arithmetic get as far as the parser, and only
// the nodes of arithmetic pass treeBuilder. The library's own machine is not
// used: its numbers are binary fractions and wrapping integers, and a rule of a
// count sheet has to be decided exactly.
func parse(source string) (ast.Node, error) {
	if len(source) > MaxExpressionBytes {
		return nil, fmt.Errorf("is longer than %d bytes", MaxExpressionBytes)
	}
	if strings.TrimSpace(source) == "" {
		return nil, errors.New("is empty")
	}
	plain, err := plainSource(source)
	if err != nil {
		return nil, err
	}
	tree, err := parser.ParseWithConfig(plain, &conf.Config{MaxNodes: MaxExpressionNodes, DisableIfOperator: true})
	if err != nil {
		return nil, readingError(err)
	}
	return tree.Node, nil
}

// IsName reports whether a count of that name can be used in expressions: a
// word of letters, digits and _, which does not begin with a digit and is none
// of the words of an expression (and, or, not and a few more).
func IsName(name string) bool {
	if strings.ContainsFunc(name, func(r rune) bool {
		return r != '_' && !unicode.IsLetter(r) && !unicode.IsDigit(r)
	}) {
		return false
	}
	e, err := Compile(name, []string{name})
	return err == nil && len(e.names) == 1
}

// plainSource replaces the trade's signs and refuses every character that has
// no place in arithmetic over names.
func plainSource(source string) (string, error) {
	if !utf8.ValidString(source) {
		return "", errors.New("is not valid text (UTF-8)")
	}
	plain := doubleEquals(tradeSigns.Replace(source))
	for _, r := range plain {
		switch {
		case unicode.IsLetter(r), unicode.IsDigit(r), unicode.IsSpace(r):
		case strings.ContainsRune("_.+-*/(),<>=!&|", r):
		default:
			return "", fmt.Errorf("%q has no place in an expression", r)
		}
	}
	if strings.Contains(plain, "//") || strings.Contains(plain, "/*") {
		return "", errors.New("write one / for a division")
	}
	if strings.Contains(strings.ReplaceAll(plain, "||", ""), "|") {
		return "", errors.New("\"|\" has no place in an expression")
	}
	return plain, nil
}

// doubleEquals writes a lone = as ==, since people state a balance as
// left + right = body.
func doubleEquals(s string) string {
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		b.WriteByte(s[i])
		if s[i] != '=' {
			continue
		}
		if i+1 < len(s) && s[i+1] == '=' {
			i++
			b.WriteByte('=')
			continue
		}
		if i == 0 || !strings.ContainsRune("<>!", rune(s[i-1])) {
			b.WriteByte('=')
		}
	}
	return b.String()
}

// readingError keeps what and where of the library's error and drops its
// drawing of the source.
func readingError(err error) error {
	var at *file.Error
	if !errors.As(err, &at) {
		return errors.New("cannot be read as an expression")
	}
	if strings.Contains(at.Message, "maximum allowed nodes") {
		return fmt.Errorf("has more than %d names, numbers and operations", MaxExpressionNodes)
	}
	return fmt.Errorf("cannot be read at character %d: %s", at.From+1, at.Message)
}
