package fit

import "math"

// reportLines takes every measurement of one axis apart:
//
//	ln(M/E0) = ln(E1/E0) + y
//
// deviation from the design = what the tester's own gauge explains + residual,
// M and E without what the point adds; the lengths are shown with it.
func (r *result) reportLines() []ReportLine {
	const leastDeviation = 0.005
	out := make([]ReportLine, 0, len(r.ax.obs))
	for i := range r.ax.obs {
		o := &r.ax.obs[i]
		mk := &r.ax.makers[o.maker]
		who := &r.in.Testers[mk.tester]
		fromGauge, add := math.Log(o.e1/o.e0), r.in.Points[r.ax.spots[o.point].point].AddCM
		line := ReportLine{
			Tester: who.ID, Size: who.Size, Point: r.pointID(o.point), Axis: r.ax.axis,
			Readings:   o.reading.readings,
			MeasuredCM: rounded(o.reading.cm, 3), MeasuredUCM: rounded(math.Sqrt(o.reading.variance), 3),
			ExpectedDesignCM: rounded(o.e0+add, 3), ExpectedOwnCM: rounded(o.e1+add, 3),
			DeviationPct: *shownPercent(fromGauge + o.y), FromGaugePct: *shownPercent(fromGauge),
			ResidualPct:  *shownPercent(o.y),
			ResidualUPct: rounded(100*math.Sqrt(o.s2+mk.ug2), 3),
		}
		if whole := fromGauge + o.y; !mk.missing && math.Abs(whole) >= leastDeviation {
			line.GaugeShare = pointer(rounded(fromGauge/whole, 3))
		}
		out = append(out, line)
	}
	return out
}
