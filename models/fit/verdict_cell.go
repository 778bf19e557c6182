package fit

import "math"

// normal975 is the normal distribution's 0.975 quantile as the verdict rules
// state it.
const normal975 = 1.96

// cell judges one size at one point.
func (r *result) cell(k int) Cell {
	c := &r.ax.cells[k]
	o := r.m.cellOffset(k)
	share := max(r.s.Tolerance, r.s.ToleranceReadings*c.uCM/c.e0)
	tol := math.Log1p(share)
	out := Cell{
		Size: r.in.Sizes[c.size], Point: r.pointID(c.point),
		Reports: len(c.obs), Used: o.good,
		PFault: rounded(r.odds.fault[k], 4), PAny: rounded(r.odds.any[k], 4),
		TolPct: *shownPercent(tol),
	}
	half := normal975 * math.Sqrt(o.variance)
	if o.known {
		out.EstimatePct, out.LoPct, out.HiPct = shownPercent(o.d), shownPercent(o.d-half), shownPercent(o.d+half)
		out.AsCount = r.asCount(c, o.d, half)
	}
	out.Verdict = r.cellVerdict(k, o, half, tol)
	if out.Verdict == Suspect || out.Verdict == CannotTell {
		more, visible := r.plan(k, o, out.Verdict, tol)
		out.MoreReports, out.VisibleWith3Pct = &more, shownPercent(visible)
	}
	out.Message = cellSentence(out, r.ax.axis)
	return out
}

// cellVerdict applies the rules in their order. One report is never a fault and
// never clear.
func (r *result) cellVerdict(k int, o offset, half, tol float64) Verdict {
	fault, anything, n := r.odds.fault[k], r.odds.any[k], len(r.ax.cells[k].obs)
	switch {
	case o.good >= 2 && fault >= r.s.FaultSure:
		return Fault
	case o.good >= 2 && fault >= r.s.Suspect,
		n == 1 && o.good == 1 && anything >= r.s.Suspect,
		n > 1 && o.good == 1 && fault >= r.s.Suspect:
		return Suspect
	case o.good >= 2 && o.known && o.d-half > -tol && o.d+half < tol:
		return Clear
	}
	return CannotTell
}

// asCount shows an offset as stitches or rows of the text.
func (r *result) asCount(c *cell, d, half float64) *CountOffset {
	count := r.in.Counts[r.in.Sizes[c.size]][r.pointID(c.point)]
	as := func(d float64) float64 { return rounded(count*math.Expm1(d), 2) }
	return &CountOffset{Unit: r.ax.axis.Plural(), Count: count, Estimate: as(d), Lo: as(d - half), Hi: as(d + half)}
}
