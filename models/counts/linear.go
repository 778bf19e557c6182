package counts

// linear is a sum of multiples of the names of an expression, and a constant:
// Σ times[slot] × name + plus.
type linear struct {
	times []exact
	plus  exact
}

func (l linear) constant() bool {
	for _, t := range l.times {
		if t.sign() != 0 {
			return false
		}
	}
	return true
}

// scaled returns l × by.
func (l linear) scaled(by exact) linear {
	out := linear{times: make([]exact, len(l.times)), plus: l.plus.times(by)}
	for i, t := range l.times {
		out.times[i] = t.times(by)
	}
	return out
}

// plusScaled returns l + other × by.
func (l linear) plusScaled(other linear, by exact) linear {
	out := other.scaled(by)
	for i, t := range l.times {
		out.times[i] = out.times[i].add(t)
	}
	out.plus = out.plus.add(l.plus)
	return out
}

// linear reads the node as a sum of multiples of slots names; false when it is
// none (a product of two counts, a rounding, the lesser of two).
func (n *node) linear(slots int) (linear, bool) {
	out := linear{times: make([]exact, slots)}
	switch n.op {
	case opNumber:
		out.plus = n.value
		return out, true
	case opName:
		out.times[n.slot] = wholeNumber(1)
		return out, true
	}
	args := make([]linear, len(n.args))
	constants := 0
	for i, a := range n.args {
		l, ok := a.linear(slots)
		if !ok {
			return linear{}, false
		}
		if args[i] = l; l.constant() {
			constants++
		}
	}
	switch {
	case n.op == opNegate:
		return args[0].scaled(wholeNumber(-1)), true
	case n.op == opAdd:
		return args[0].plusScaled(args[1], wholeNumber(1)), true
	case n.op == opSubtract:
		return args[0].plusScaled(args[1], wholeNumber(-1)), true
	case n.op == opMultiply && args[0].constant():
		return args[1].scaled(args[0].plus), true
	case n.op == opMultiply && args[1].constant():
		return args[0].scaled(args[1].plus), true
	case n.op == opDivide && args[1].constant() && args[1].plus.sign() != 0:
		return args[0].scaled(wholeNumber(1).over(args[1].plus)), true
	case !n.op.isTruth() && constants == len(args):
		v, err := n.number(make([]exact, slots))
		out.plus = v
		return out, err == nil
	}
	return linear{}, false
}
