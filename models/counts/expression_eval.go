package counts

import "fmt"

// number evaluates a node that is not a statement; x holds the values of the
// slots.
func (n *node) number(x []exact) (exact, error) {
	switch n.op {
	case opNumber:
		return n.value, nil
	case opName:
		return x[n.slot], nil
	}
	first, err := n.args[0].number(x)
	if err != nil {
		return exact{}, err
	}
	switch n.op {
	case opNegate:
		return first.negated(), nil
	case opFloor:
		return first.floor(), nil
	case opCeil:
		return first.ceil(), nil
	case opRound:
		return first.rounded(), nil
	}
	for _, arg := range n.args[1:] {
		next, err := arg.number(x)
		if err != nil {
			return exact{}, err
		}
		if n.op == opDivide && next.sign() == 0 {
			return exact{}, fmt.Errorf("divides by zero: %s is 0", arg.text)
		}
		first = n.op.combine(first, next)
	}
	return first, nil
}

// combine applies an operation of two numbers; a divisor has been checked.
func (o operation) combine(a, b exact) exact {
	switch o {
	case opAdd:
		return a.add(b)
	case opSubtract:
		return a.minus(b)
	case opMultiply:
		return a.times(b)
	case opDivide:
		return a.over(b)
	case opMin:
		if b.compare(a) < 0 {
			return b
		}
	case opMax:
		if b.compare(a) > 0 {
			return b
		}
	}
	return a
}

// truth evaluates a statement. failed is the comparison that decided that it is
// false, nil when it is true or when no single comparison can be blamed.
func (n *node) truth(x []exact) (holds bool, failed *node, err error) {
	switch n.op {
	case opAnd:
		if holds, failed, err = n.args[0].truth(x); err != nil || !holds {
			return false, failed, err
		}
		return n.args[1].truth(x)
	case opOr:
		if holds, _, err = n.args[0].truth(x); err != nil || holds {
			return holds, nil, err
		}
		holds, _, err = n.args[1].truth(x)
		return holds, nil, err
	case opNot:
		holds, _, err = n.args[0].truth(x)
		return !holds, nil, err
	}
	left, right, err := n.sides(x)
	if err != nil {
		return false, nil, err
	}
	if n.op.compares(left.compare(right)) {
		return true, nil, nil
	}
	return false, n, nil
}

// sides evaluates both sides of a comparison.
func (n *node) sides(x []exact) (left, right exact, err error) {
	if left, err = n.args[0].number(x); err != nil {
		return left, right, err
	}
	right, err = n.args[1].number(x)
	return left, right, err
}

// compares reports whether the comparison is true of two numbers of which the
// first compares to the second as c (-1, 0, 1).
func (o operation) compares(c int) bool {
	switch o {
	case opEqual:
		return c == 0
	case opUnequal:
		return c != 0
	case opLess:
		return c < 0
	case opAtMost:
		return c <= 0
	case opGreater:
		return c > 0
	}
	return c >= 0
}
