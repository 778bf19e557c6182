package fit

import (
	"math"
	"slices"
)

const (
	mostMore  = 10     // further reports that are worth asking for
	power80   = 0.8416 // normal 0.80 quantile
	clear80   = 1.2816 // normal 0.90 quantile: both ends inside with 80 %
	leastSeen = 0.02   // a suspected offset is planned for as at least this
)

// plan says how many more reports of the size would settle a cell, 0 for more
// than ten, and the log offset that three more would show with 80 %.
//
// One more average report brings an independent value of variance q; what the
// other sizes say of the point keeps the variance v_com. After m more
//
//	se_m² = 1/(info + m/q) + v_com,  info = 1/max(se² − v_com, q/50)
func (r *result) plan(k int, o offset, verdict Verdict, tol float64) (MoreReports, float64) {
	q, common := r.oneMore(k), r.common(k)
	info := 0.0
	if o.good > 0 && o.known {
		info = 1 / max(o.variance-common, q/50)
	}
	visible := r.shows(q/3 + common)
	for m := 1; m <= mostMore; m++ {
		variance := 1/(info+float64(m)/q) + common
		if r.settled(o, verdict, variance, tol, m) {
			return MoreReports(m), visible
		}
	}
	return 0, visible
}

func (r *result) settled(o offset, verdict Verdict, variance, tol float64, m int) bool {
	if verdict != Suspect {
		return tol >= (normal975+clear80)*math.Sqrt(variance)
	}
	lambda := r.s.FaultSize * r.s.FaultSize / o.variance
	d := max(leastSeen, math.Abs(o.d)*lambda/(1+lambda))
	return o.good+m >= 2 && d >= r.shows(variance)
}

// shows is the log offset that is called a fault with 80 % when it is known with
// variance x, which the harmless offset of a cell adds to:
//
//	(z(x) + 0.8416) √x,  z(x) = √(2 (1+l)/l (ln(0.8/0.2) − lo + ½ ln(1+l))),  l = v/x
//
// where z is the |z| at which the probability of a fault reaches 0.80.
func (r *result) shows(x float64) float64 {
	x += r.s.CellOffset * r.s.CellOffset
	lo, v := r.s.prior(kindCell)
	l := v / x
	z2 := 2 * (1 + l) / l * (logOdds(r.s.FaultSure) - lo + 0.5*math.Log1p(l))
	return (math.Sqrt(max(z2, 0)) + power80) * math.Sqrt(x)
}

// oneMore is q: the tape at this point, and how well the tester's own offset is
// known from their other points of the size.
func (r *result) oneMore(k int) float64 {
	c := &r.ax.cells[k]
	others := 0.0
	for p, sp := range r.ax.spots {
		point := &r.in.Points[sp.point]
		e0 := r.in.expectedCM(r.in.Sizes[c.size], point, r.in.DesignGauge.per10(r.ax.axis))
		if p != c.point && e0 > 0 {
			others += 1 / r.tape(sp.uCM, e0)
		}
	}
	spread := r.m.omega*r.m.omega + r.medianGaugeVariance()
	return r.tape(c.uCM, c.e0) + 1/(1/spread+others)
}

// tape is the variance of one report's log measurement.
func (r *result) tape(uCM, e0 float64) float64 {
	return r.m.kappa * r.m.kappa * (uCM*uCM + r.s.StepCM*r.s.StepCM/12) / (e0 * e0)
}

func (r *result) medianGaugeVariance() float64 {
	all := make([]float64, len(r.ax.makers))
	for t, mk := range r.ax.makers {
		all[t] = mk.ug2
	}
	slices.Sort(all)
	n := len(all)
	return (all[n/2] + all[(n-1)/2]) / 2
}

// common is v_com, the variance of φ + b_p as seen without the cell's own level:
// e'M⁻¹e with e = 1 at the columns of φ and the point, the cell listed.
func (r *result) common(k int) float64 {
	m, c := r.m, &r.ax.cells[k]
	level := make([]float64, m.q) // C⁻¹e
	for i := range level {
		level[i] = m.inverse[i] + m.inverse[(1+c.point)*m.q+i]
	}
	variance := dot(level, level)
	if m.on.cell[k] {
		return variance
	}
	// Listing the cell adds one column, C⁻¹X'V0⁻¹x = Σ R_i over its observations.
	sum := m.scratch()
	a, _ := m.apart(c.obs, sum)
	along := dot(level, sum)
	return variance + along*along/(max(a, 0)+1/(m.s.FaultSize*m.s.FaultSize))
}
