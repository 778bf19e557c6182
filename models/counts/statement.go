package counts

import "errors"

// Verdict is what became of a statement. For a false one, Left and Right are
// the sides of the comparison that failed and Difference is Left − Right; they
// are nil when no single comparison can be blamed (after or, or not). Text is
// that comparison as the source puts it, LeftText and RightText its sides.
type Verdict struct {
	True       bool
	Text       string
	LeftText   string
	RightText  string
	Left       *float64
	Right      *float64
	Difference *float64
}

func (e *Expression) verdict(x []exact) (Verdict, error) {
	if !e.IsStatement() {
		return Verdict{}, errors.New("is a number; a statement with a comparison (such as left + right == body) is needed here")
	}
	holds, failed, err := e.root.truth(x)
	if err != nil || holds || failed == nil {
		return Verdict{True: holds, Text: e.root.text}, err
	}
	left, right, err := failed.sides(x)
	if err != nil {
		return Verdict{}, err
	}
	v := Verdict{Text: failed.text, LeftText: failed.args[0].text, RightText: failed.args[1].text}
	for _, side := range []struct {
		to    **float64
		value exact
	}{{&v.Left, left}, {&v.Right, right}, {&v.Difference, left.minus(right)}} {
		f, err := bounded(side.value)
		if err != nil {
			return Verdict{}, err
		}
		*side.to = &f
	}
	return v, nil
}
