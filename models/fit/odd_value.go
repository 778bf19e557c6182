package fit

import (
	"math"
)

// oddValues lists the values of one axis that fit nothing else, and the readings
// that disagree, by tester and point.
func (r *result) oddValues() []OddValue {
	var out []OddValue
	for i := range r.ax.obs {
		o := &r.ax.obs[i]
		if p := r.odds.odd[i]; p >= r.s.OddSure {
			v := r.m.valueOffset(i)
			odd := r.oddValue(o, Odd)
			odd.P, odd.DevPct = shownP(p), shownPercent(v.d)
			odd.Signature = sign(v.d, math.Sqrt(v.variance), *o.reading.last.Value, o.reading.last.Unit)
			if odd.Signature != NoSignature {
				odd.Verdict = Slip
			}
			odd.Message = oddSentence(odd, o)
			out = append(out, odd)
		}
		if o.reading.disagree {
			odd := r.oddValue(o, ReadingsDisagree)
			odd.Message = disagreeSentence(odd, o)
			out = append(out, odd)
		}
	}
	return out
}

func (r *result) oddValue(o *observation, verdict Verdict) OddValue {
	who := &r.in.Testers[r.ax.makers[o.maker].tester]
	return OddValue{
		Tester: who.ID, Size: who.Size, Point: r.pointID(o.point),
		Verdict: verdict, Signature: NoSignature,
	}
}
