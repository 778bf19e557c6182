package fit

import "math"

// leastInformation is the A below which a set of observations says nothing
// about an offset of its own, as with a single tester.
const leastInformation = 1e-9

// fabric gives φ and its variance: f·z and f·f with C f = e0.
func (m *model) fabric() (phi, variance float64) {
	for k, f := range m.inverse[:m.q] {
		phi += f * m.z[k]
		variance += f * f
	}
	return phi, variance
}

// testerOffset gives τ of a tester, w b, and its variance, w − w² A, over all
// their observations.
func (m *model) testerOffset(t int) (tau, variance float64) {
	a, b := m.ofMaker(t)
	w := m.w[t]
	return w * b, max(w-w*w*a, 0)
}

// pointOffset gives b_p, the point's offset at all sizes.
func (m *model) pointOffset(p int) float64 {
	_, b := m.ofPoint(p)
	return m.pointVariance(p) * b
}

// offset is how far observations are off together, unshrunk.
type offset struct {
	known    bool
	good     int // values that are not listed as odd
	d        float64
	variance float64
}

// cellOffset gives the offset of a cell: d = b/A and 1/A over all its values,
// less the explanation's own variance where the cell is listed. A value listed
// as odd weighs next to nothing, by the variance of its listing; without any
// other there is no offset.
func (m *model) cellOffset(k int) offset {
	o := offset{}
	for _, i := range m.ax.cells[k].obs {
		if !m.on.odd[i] {
			o.good++
		}
	}
	a, b := m.ofCell(k)
	if o.good == 0 || a <= leastInformation {
		return o
	}
	o.known, o.d, o.variance = true, b/a, 1/a
	if m.on.cell[k] {
		o.variance = max(o.variance-m.s.FaultSize*m.s.FaultSize, 0)
	}
	return o
}

// valueOffset gives the offset of one observation the same way.
func (m *model) valueOffset(i int) offset {
	a := m.pii(i)
	if a <= leastInformation {
		return offset{good: 1}
	}
	o := offset{known: true, good: 1, d: m.u[i] / a, variance: 1 / a}
	if m.on.odd[i] {
		o.variance = max(o.variance-m.s.OddSize*m.s.OddSize, 0)
	}
	return o
}

// percent shows a log effect.
func percent(d float64) float64 { return 100 * math.Expm1(d) }
