package counts

import (
	"fmt"
	"strings"
)

// checkRules adds a finding for each rule and size where the rule fails.
func (s *sheet) checkRules(out *Output) error {
	for i, r := range s.in.Rules {
		e := s.rules[i]
		for k := range s.in.Sizes {
			x, applies := s.at(e, k)
			if !applies {
				continue
			}
			f, failed, err := s.checkRule(r, e, x)
			if err != nil {
				return s.sizeError(fmt.Sprintf("rules[%d].expr", i), k, err)
			}
			if failed {
				f.Name, f.Size = r.Name, s.in.Sizes[k]
				f.Message = fmt.Sprintf("Size %s: %s", f.Size, f.Message)
				out.Findings = append(out.Findings, f)
			}
		}
	}
	return nil
}

func (s *sheet) checkRule(r Rule, e *Expression, x []exact) (f Finding, failed bool, err error) {
	if r.Kind == KindMultiple {
		return checkMultiple(Multiple{Of: r.Of, Plus: r.Plus}, e, x)
	}
	v, err := e.verdict(x)
	if err != nil || v.True {
		return f, false, err
	}
	f = Finding{Kind: FindingRule, Message: fmt.Sprintf("%s is not so.", v.Text)}
	if v.Left == nil {
		return f, true, nil
	}
	f.Left, f.Right, f.Difference = pointer(figure(*v.Left)), pointer(figure(*v.Right)), pointer(figure(*v.Difference))
	f.Message = fmt.Sprintf("%s is %s, and %s is %s; the difference is %s, so %s is not so.",
		v.LeftText, show(*v.Left), v.RightText, show(*v.Right), show(*v.Difference), v.Text)
	return f, true, nil
}

func checkMultiple(m Multiple, e *Expression, x []exact) (f Finding, failed bool, err error) {
	v, err := e.number(x)
	if err != nil || m.Fits(v) {
		return f, false, err
	}
	f = Finding{Kind: FindingMultiple, Value: pointer(figure(v)), Nearest: m.Nearest(v)}
	near := make([]string, len(f.Nearest))
	for i, n := range f.Nearest {
		near[i] = show(n)
	}
	f.Message = fmt.Sprintf("%s is %s, and that is no %s; the nearest: %s.",
		e.Source(), show(v), m, strings.Join(near, " and "))
	return f, true, nil
}
