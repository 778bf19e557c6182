package counts

import (
	"fmt"
	"math"

	"tenter/models/gauge"
)

// slackCM is how far beyond a bound a length may lie and still count as on it:
// far below what can be measured, far above what floating-point arithmetic errs.
const slackCM = 1e-9

// checkPoints works out each point's measurement in each size, and adds a
// finding where it is not what was intended or where the ease is out of range.
func (s *sheet) checkPoints(out *Output) error {
	for i, p := range s.in.Points {
		e := s.points[i]
		swatch, _ := s.gauge.On(gauge.Axis(p.Axis))
		for k, size := range s.in.Sizes {
			x, applies := s.at(e, k)
			if !applies {
				continue
			}
			n, err := e.number(x)
			if err != nil {
				return s.sizeError(fmt.Sprintf("points[%d].expr", i), k, err)
			}
			m := measured{point: p, size: size, cm: n/swatch.PerCM() + p.Add,
				intended: entryAt(p.Intended, k), body: entryAt(p.Body, k)}
			out.Finished = append(out.Finished, m.finished())
			out.Findings = append(out.Findings, m.findings()...)
		}
	}
	return nil
}

func entryAt(list []*float64, k int) *float64 {
	if len(list) == 0 {
		return nil
	}
	return list[k]
}

// measured is one point in one size: what the counts come to, and what there is
// to compare it with.
type measured struct {
	point          Point
	size           string
	cm             float64
	intended, body *float64
}

func (m measured) finished() Finished {
	f := Finished{Point: m.point.Name, Size: m.size, Expected: centimetres(m.cm)}
	if m.intended != nil {
		f.Intended = pointer(*m.intended)
	}
	if m.body != nil {
		f.Ease = pointer(centimetres(m.cm - *m.body))
	}
	return f
}

func (m measured) findings() []Finding {
	var out []Finding
	if m.intended != nil && m.point.Tolerance != nil {
		if d := m.cm - *m.intended; math.Abs(d) > *m.point.Tolerance+slackCM {
			out = append(out, m.finding(FindingIntended, d, fmt.Sprintf(
				"Size %s: the counts make %s %s cm, and %s cm is intended: %s cm too %s (tolerance %s cm).",
				m.size, m.point.Name, show(m.cm), show(*m.intended), show(math.Abs(d)), muchOrLittle(d), show(*m.point.Tolerance))))
		}
	}
	if m.body != nil && len(m.point.Ease) == 2 {
		least, most := m.point.Ease[0], m.point.Ease[1]
		ease := m.cm - *m.body
		beyond := math.Min(ease-least, 0) + math.Max(ease-most, 0)
		if math.Abs(beyond) > slackCM {
			out = append(out, m.finding(FindingEase, beyond, fmt.Sprintf(
				"Size %s: the counts make %s %s cm on a body of %s cm: an ease of %s cm, and %s to %s cm is intended.",
				m.size, m.point.Name, show(m.cm), show(*m.body), show(ease), show(least), show(most))))
		}
	}
	return out
}

// finding fills what both kinds share. For ease, difference is how far the ease
// lies beyond the nearer end of its range.
func (m measured) finding(kind string, difference float64, message string) Finding {
	f := Finding{Kind: kind, Name: m.point.Name, Size: m.size, Message: message,
		Expected: pointer(centimetres(m.cm)), Difference: pointer(centimetres(difference))}
	if kind == FindingIntended {
		f.Intended = pointer(*m.intended)
		return f
	}
	f.Body = pointer(*m.body)
	f.Ease = pointer(centimetres(m.cm - *m.body))
	f.Range = []float64{m.point.Ease[0], m.point.Ease[1]}
	return f
}

func muchOrLittle(d float64) string {
	if d > 0 {
		return "much"
	}
	return "little"
}
