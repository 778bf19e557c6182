package fit

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// tester judges one maker's garment against their own swatch.
func (r *result) tester(t int) TesterOnAxis {
	mk := &r.ax.makers[t]
	who := &r.in.Testers[mk.tester]
	out := TesterOnAxis{Tester: who.ID, Size: who.Size, Axis: r.ax.axis, Verdict: CannotTell}
	good := 0
	for i := mk.from; i < mk.to; i++ {
		if !r.m.on.odd[i] {
			good++
		}
	}
	if mk.missing || good < 2 {
		out.Message = testerUnknown(out, mk.missing)
		return out
	}
	mean, variance := r.m.testerOffset(t)
	sd := math.Sqrt(variance)
	out.EstimatePct = shownPercent(mean)
	out.LoPct, out.HiPct = shownPercent(mean-normal975*sd), shownPercent(mean+normal975*sd)
	off := outside(mean, sd, r.s.OffBy)
	out.POff, out.PGauge = shownP(off), shownP(r.odds.gauge[t])
	switch {
	case r.odds.gauge[t] >= r.s.GaugeSure:
		out.Verdict = GaugeWrong
	case off >= r.s.OffSure:
		out.Verdict = Off
	default:
		out.Verdict = OK
	}
	out.Message = testerSentence(out, good)
	return out
}

// outside is P(|x| > by) of x ~ N(mean, sd²).
func outside(mean, sd, by float64) float64 {
	if sd <= 0 {
		if math.Abs(mean) > by {
			return 1
		}
		return 0
	}
	n := distuv.Normal{Mu: mean, Sigma: sd}
	return n.CDF(-by) + n.Survival(by)
}
