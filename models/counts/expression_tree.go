package counts

import (
	"errors"
	"fmt"
	"math"
	"strconv"

	"github.com/expr-lang/expr/ast"
)

// node is one number, name or operation of a compiled expression.
type node struct {
	op    operation
	value exact // of a number
	slot  int   // of a name
	args  []*node
	text  string // how the source put it, for messages
}

// operation is what a node does. The truth operations come last.
type operation int

const (
	opNumber operation = iota
	opName
	opAdd
	opSubtract
	opMultiply
	opDivide
	opNegate
	opMin
	opMax
	opFloor
	opCeil
	opRound
	opEqual
	opUnequal
	opLess
	opAtMost
	opGreater
	opAtLeast
	opAnd
	opOr
	opNot
)

func (o operation) isTruth() bool { return o >= opEqual }

// A literal is kept to sizes that make sense beside counts, so that products of
// literals cannot grow without bound.
const (
	largestLiteral  = 1e12
	smallestLiteral = 1e-12
)

// binaryOperation returns the operation of an infix sign.
func binaryOperation(sign string) (operation, bool) {
	switch sign {
	case "+":
		return opAdd, true
	case "-":
		return opSubtract, true
	case "*":
		return opMultiply, true
	case "/":
		return opDivide, true
	case "==":
		return opEqual, true
	case "!=":
		return opUnequal, true
	case "<":
		return opLess, true
	case "<=":
		return opAtMost, true
	case ">":
		return opGreater, true
	case ">=":
		return opAtLeast, true
	case "and", "&&":
		return opAnd, true
	case "or", "||":
		return opOr, true
	}
	return 0, false
}

// function returns the operation of a function and the most arguments it takes.
func function(name string) (op operation, most int, ok bool) {
	switch name {
	case "min":
		return opMin, MaxExpressionNodes, true
	case "max":
		return opMax, MaxExpressionNodes, true
	case "floor":
		return opFloor, 1, true
	case "ceil":
		return opCeil, 1, true
	case "round":
		return opRound, 1, true
	}
	return 0, 0, false
}

// treeBuilder turns the library's tree into nodes and refuses whatever is not
// arithmetic over known names.
type treeBuilder struct {
	known func(name string) bool
	slots map[string]int
	used  []string
}

func (b *treeBuilder) build(n ast.Node) (*node, error) {
	switch n := n.(type) {
	case *ast.IntegerNode:
		return literal(float64(n.Value))
	case *ast.FloatNode:
		return literal(n.Value)
	case *ast.IdentifierNode:
		return b.name(n.Value)
	case *ast.UnaryNode:
		return b.unary(n)
	case *ast.BinaryNode:
		return b.binary(n)
	case *ast.CallNode:
		return nil, unknownFunction(n.Callee.String())
	case *ast.BuiltinNode:
		return b.call(n)
	case *ast.BoolNode, *ast.NilNode:
		return nil, fmt.Errorf("%s has no place in an expression", n.String())
	}
	return nil, errors.New("only arithmetic, comparisons and the functions min, max, floor, ceil and round can be used")
}

func literal(v float64) (*node, error) {
	size := math.Abs(v)
	if size > largestLiteral || (size != 0 && size < smallestLiteral) {
		return nil, fmt.Errorf("the number %g is out of bounds", v)
	}
	return &node{op: opNumber, value: exactOf(v), text: strconv.FormatFloat(v, 'f', -1, 64)}, nil
}

func (b *treeBuilder) name(name string) (*node, error) {
	if !b.known(name) {
		return nil, fmt.Errorf("there is no count named %q", name)
	}
	slot, ok := b.slots[name]
	if !ok {
		slot = len(b.used)
		b.slots[name] = slot
		b.used = append(b.used, name)
	}
	return &node{op: opName, slot: slot, text: name}, nil
}

func (b *treeBuilder) unary(n *ast.UnaryNode) (*node, error) {
	arg, err := b.build(n.Node)
	if err != nil {
		return nil, err
	}
	switch n.Operator {
	case "+":
		return arg, wantNumber(n.Operator, arg)
	case "-":
		return &node{op: opNegate, args: []*node{arg}, text: "-" + arg.text}, wantNumber(n.Operator, arg)
	case "not", "!":
		return &node{op: opNot, args: []*node{arg}, text: "not " + arg.text}, wantTruth(n.Operator, arg)
	}
	return nil, unknownOperation(n.Operator)
}

func (b *treeBuilder) binary(n *ast.BinaryNode) (*node, error) {
	op, ok := binaryOperation(n.Operator)
	if !ok {
		return nil, unknownOperation(n.Operator)
	}
	left, err := b.build(n.Left)
	if err != nil {
		return nil, err
	}
	right, err := b.build(n.Right)
	if err != nil {
		return nil, err
	}
	check := wantNumber
	if op == opAnd || op == opOr {
		check = wantTruth
	}
	if err := check(n.Operator, left, right); err != nil {
		return nil, err
	}
	text := n.String()
	return &node{op: op, args: []*node{left, right}, text: text}, nil
}

// call reads one of our functions. All of them are known to the library too, so
// that its parser makes them BuiltinNodes.
func (b *treeBuilder) call(n *ast.BuiltinNode) (*node, error) {
	op, most, ok := function(n.Name)
	if !ok {
		return nil, unknownFunction(n.Name)
	}
	if len(n.Arguments) == 0 || len(n.Arguments) > most {
		return nil, fmt.Errorf("%s does not take %d values", n.Name, len(n.Arguments))
	}
	out := &node{op: op, text: n.String()}
	for _, a := range n.Arguments {
		arg, err := b.build(a)
		if err != nil {
			return nil, err
		}
		out.args = append(out.args, arg)
	}
	return out, wantNumber(n.Name, out.args...)
}

func unknownFunction(name string) error {
	return fmt.Errorf("%q is not a function here; there are min, max, floor, ceil and round", name)
}

func unknownOperation(sign string) error {
	return fmt.Errorf("%q is not an operation here; there are + - * / and comparisons", sign)
}

func wantNumber(user string, args ...*node) error {
	for _, a := range args {
		if a.op.isTruth() {
			return fmt.Errorf("%s needs numbers, and %s is a statement", user, a.text)
		}
	}
	return nil
}

func wantTruth(user string, args ...*node) error {
	for _, a := range args {
		if !a.op.isTruth() {
			return fmt.Errorf("%s needs statements, and %s is a number", user, a.text)
		}
	}
	return nil
}
