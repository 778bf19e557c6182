package counts

import (
	"errors"
	"fmt"
	"math"
)

// Expression is arithmetic or a statement over count names, compiled once and
// evaluated for each size. It is safe for concurrent use.
type Expression struct {
	source string
	names  []string // the names used, in order of first use; a node's slot points here
	root   *node
}

// Compile reads source, which may use + - * / (and × ÷ −), parentheses,
// comparisons (= is ==, and ≤ ≥ ≠ are read), and, or, not, and the functions
// min, max, floor, ceil and round, over the given names. A comparison makes it
// a statement, for Holds; anything else is a number, for Eval. Division is that
// of numbers: 7 / 2 is 3.5.
//
// It refuses a source of more than MaxExpressionBytes or with more than
// MaxExpressionNodes names, numbers and operations, any other function or
// operation, and a name that is not among names; the error says which.
func Compile(source string, names []string) (*Expression, error) {
	known := make(map[string]bool, len(names))
	for _, name := range names {
		known[name] = true
	}
	return compile(source, func(name string) bool { return known[name] })
}

func compile(source string, known func(name string) bool) (*Expression, error) {
	tree, err := parse(source)
	if err != nil {
		return nil, err
	}
	b := treeBuilder{known: known, slots: map[string]int{}}
	root, err := b.build(tree)
	if err != nil {
		return nil, err
	}
	return &Expression{source: source, names: b.used, root: root}, nil
}

// Source returns the text that was compiled.
func (e *Expression) Source() string { return e.source }

// Names returns the names that the expression uses, in order of first use. A
// rule or a point does not apply to a size that skips one of them.
func (e *Expression) Names() []string { return append([]string(nil), e.names...) }

// IsStatement reports whether the expression is true or false rather than a
// number.
func (e *Expression) IsStatement() bool { return e.root.op.isTruth() }

// Eval returns the number that the expression comes to. The arithmetic is
// exact; only the result is rounded to a float64. A name without a value, a
// division by zero and a result beyond MaxResult are errors.
func (e *Expression) Eval(values map[string]float64) (float64, error) {
	x, err := e.bind(values)
	if err != nil {
		return 0, err
	}
	return e.number(x)
}

// Holds decides the statement, exactly.
func (e *Expression) Holds(values map[string]float64) (Verdict, error) {
	x, err := e.bind(values)
	if err != nil {
		return Verdict{}, err
	}
	return e.verdict(x)
}

// bind puts the values of the names in the order of their slots.
func (e *Expression) bind(values map[string]float64) ([]exact, error) {
	x := make([]exact, len(e.names))
	for i, name := range e.names {
		v, ok := values[name]
		switch {
		case !ok:
			return nil, fmt.Errorf("there is no value for %q", name)
		case math.IsNaN(v) || math.Abs(v) > MaxResult:
			return nil, fmt.Errorf("the value of %q is not a number that can be used", name)
		}
		x[i] = exactOf(v)
	}
	return x, nil
}

// number evaluates with the values of the slots.
func (e *Expression) number(x []exact) (float64, error) {
	if e.IsStatement() {
		return 0, errors.New("is a statement; a number is needed here")
	}
	v, err := e.root.number(x)
	if err != nil {
		return 0, err
	}
	return bounded(v)
}

// bounded refuses what a float64 could not show faithfully.
func bounded(v exact) (float64, error) {
	f := v.float()
	if math.Abs(f) > MaxResult {
		return 0, fmt.Errorf("comes to more than %g", MaxResult)
	}
	return f, nil
}
