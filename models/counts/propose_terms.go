package counts

// term is a rule or a point of one size: a condition or a pull on some of the
// counts that are to be found.
type term struct {
	name   string
	expr   *Expression
	fixed  map[string]exact // the counts that are kept
	slots  []int            // the counts to find that expr is about, by place
	rule   *Rule            // nil for a point
	equals []linear         // over slots: each must be 0, or a multiple of repeat
	repeat int
	pull   *pull // over slots; nil for a rule
}

// newTerm makes a term about e; place tells where the counts to find stand.
func newTerm(name string, e *Expression, place map[string]int, fixed map[string]exact) term {
	t := term{name: name, expr: e, fixed: fixed}
	for _, name := range e.names {
		if at, toFind := place[name]; toFind {
			t.slots = append(t.slots, at)
		}
	}
	return t
}

// over reads a part of the expression as a sum of multiples of the counts at
// slots, the kept counts worked in.
func (t term) over(part *node) (linear, bool) {
	whole, ok := part.linear(len(t.expr.names))
	if !ok {
		return linear{}, false
	}
	out := linear{plus: whole.plus}
	for slot, name := range t.expr.names {
		if v, kept := t.fixed[name]; kept {
			out.plus = out.plus.add(whole.times[slot].times(v))
		} else {
			out.times = append(out.times, whole.times[slot])
		}
	}
	return out, true
}

// ruleTerm turns a rule into a term. A balance or a multiple of sums guides the
// search; anything else is only checked on what it finds.
func ruleTerm(r Rule, e *Expression, place map[string]int, fixed map[string]exact) term {
	t := newTerm(r.Name, e, place, fixed)
	t.rule = &r
	if r.Kind == KindMultiple {
		if l, ok := t.over(e.root); ok {
			l.plus = l.plus.minus(wholeNumber(int64(r.Plus)))
			t.equals, t.repeat = []linear{l}, r.Of
		}
		return t
	}
	for _, balance := range e.root.balances() {
		left, okLeft := t.over(balance.args[0])
		right, okRight := t.over(balance.args[1])
		if okLeft && okRight {
			t.equals = append(t.equals, left.plusScaled(right, wholeNumber(-1)))
		}
	}
	return t
}

// balances returns the equalities that must all be true for the statement to be.
func (n *node) balances() []*node {
	switch n.op {
	case opEqual:
		return []*node{n}
	case opAnd:
		return append(n.args[0].balances(), n.args[1].balances()...)
	}
	return nil
}

// pointTerm makes the pull of a point: (n / perCM + add − target) / tolerance.
func pointTerm(p Point, e *Expression, target, perCM float64, place map[string]int, fixed map[string]exact) term {
	t := newTerm(p.Name, e, place, fixed)
	l, _ := t.over(e.root) // openProposal has seen that it is a sum
	t.pull = &pull{target: (target - p.Add - l.plus.float()/perCM) / *p.Tolerance}
	for _, times := range l.times {
		t.pull.times = append(t.pull.times, times.float()/perCM / *p.Tolerance)
	}
	return t
}

// holds checks a rule on found counts. A division by zero keeps no rule.
func (t term) holds(found map[string]exact) bool {
	x := make([]exact, len(t.expr.names))
	for i, name := range t.expr.names {
		v, kept := t.fixed[name]
		if !kept {
			v = found[name]
		}
		x[i] = v
	}
	if t.rule.Kind == KindMultiple {
		v, err := t.expr.number(x)
		return err == nil && Multiple{Of: t.rule.Of, Plus: t.rule.Plus}.Fits(v)
	}
	v, err := t.expr.verdict(x)
	return err == nil && v.True
}
