package fit

import "math"

// model is the Gaussian model of one axis at one list and two spreads. With V
// the covariance of y without the fabric φ, it holds what is needed of
//
//	P = V⁻¹ − V⁻¹1 (1'V⁻¹1)⁻¹ 1'V⁻¹,  u = Py
//
// without ever forming an N × N matrix: V = V0 + X L⁻¹ X', where V0 has the tape
// and one block for each tester, and X one column for φ, each point, and each
// listed cell and value, with precisions L (0 for φ). N observations, T testers,
// q columns. A model is a workspace: solve may be called again and again.
type model struct {
	ax           *axisRound
	s            *Settings
	on           list
	omega, kappa float64

	q         int
	cellCol   []int // column of a listed cell, −1 if not listed
	oddCol    []int // column of a listed value
	precision []float64
	a         []float64 // N: 1/(κ² s²)
	w, h, sum []float64 // T: w_t; w/(1 + w Σa); Σa
	block     []float64 // T × q: Σ a x over a tester; then C⁻¹ of it
	chol      []float64 // q × q: C, lower, C C' = X'V0⁻¹X + L
	inverse   []float64 // q × q: C⁻¹, lower
	vy        []float64 // N: V0⁻¹y
	z         []float64 // q: C⁻¹ X'V0⁻¹y
	rows      []float64 // N × q: R, C R_i = (V0⁻¹X)_i
	u         []float64 // N
	scratched []float64 // q

	logLik float64 // restricted, without its constant
	work   int     // steps of arithmetic so far, roughly
}

func newModel(ax *axisRound, s *Settings) *model {
	n, t := len(ax.obs), len(ax.makers)
	return &model{
		ax: ax, s: s, on: newList(ax),
		cellCol: make([]int, len(ax.cells)), oddCol: make([]int, n),
		a: make([]float64, n), vy: make([]float64, n), u: make([]float64, n),
		w: make([]float64, t), h: make([]float64, t), sum: make([]float64, t),
	}
}

// solve computes everything for the present list and spreads.
func (m *model) solve() {
	m.likelihood()
	q := m.q
	m.rows = grown(m.rows, len(m.ax.obs)*q)
	invertLower(m.inverse, m.chol, q)
	for t := range m.ax.makers {
		solveLower(m.chol, m.block[t*q:(t+1)*q], q)
	}
	for i := range m.ax.obs {
		t := m.ax.obs[i].maker
		row, block := m.rows[i*q:(i+1)*q], m.block[t*q:(t+1)*q]
		for k, g := range block {
			row[k] = -m.h[t] * g
		}
		m.eachColumn(i, func(c int) {
			for k := c; k < q; k++ {
				row[k] += m.inverse[k*q+c]
			}
		})
		u := m.vy[i]
		for k := range row {
			row[k] *= m.a[i]
			u -= row[k] * m.z[k]
		}
		m.u[i] = u
	}
}

// likelihood computes only what the restricted log likelihood needs.
func (m *model) likelihood() {
	m.columns()
	m.work += m.q * (m.q*(m.q+len(m.ax.makers)) + 8*len(m.ax.obs))
	logV0 := m.testers()
	m.normal()
	logM := cholesky(m.chol, m.q)
	m.project()
	quadratic := 0.0
	for i := range m.ax.obs {
		quadratic += m.ax.obs[i].y * m.vy[i]
	}
	logL := 0.0
	for k, p := range m.precision[:m.q] {
		quadratic -= m.z[k] * m.z[k]
		if k > 0 {
			logL += math.Log(p)
		}
	}
	m.logLik = -0.5 * (logV0 + logM - logL + quadratic)
}

// columns lays out X.
func (m *model) columns() {
	m.precision = append(m.precision[:0], 0)
	add := func(variance float64) int {
		m.precision = append(m.precision, 1/variance)
		return len(m.precision) - 1
	}
	for p := range m.ax.spots {
		add(m.pointVariance(p))
	}
	for k := range m.cellCol {
		m.cellCol[k] = -1
		if m.on.cell[k] {
			m.cellCol[k] = add(m.s.FaultSize * m.s.FaultSize)
		}
	}
	for i := range m.oddCol {
		m.oddCol[i] = -1
		if m.on.odd[i] {
			m.oddCol[i] = add(m.s.OddSize * m.s.OddSize)
		}
	}
	m.q = len(m.precision)
}

// pointVariance is ν², with the size of a point fault where one is listed.
func (m *model) pointVariance(p int) float64 {
	v := m.s.PointOffset * m.s.PointOffset
	if m.on.point[p] {
		v += m.s.PointSize * m.s.PointSize
	}
	return v
}

// eachColumn calls f with the columns of observation i, ascending.
func (m *model) eachColumn(i int, f func(c int)) {
	o := &m.ax.obs[i]
	f(0)
	f(1 + o.point)
	if c := m.cellCol[o.cell]; c >= 0 {
		f(c)
	}
	if c := m.oddCol[i]; c >= 0 {
		f(c)
	}
}

// testers fills a, w, h, Σa and V0⁻¹y, and returns log|V0|.
func (m *model) testers() float64 {
	logDet, k2 := 0.0, m.kappa*m.kappa
	for t := range m.ax.makers {
		mk := &m.ax.makers[t]
		w := m.omega*m.omega + mk.ug2
		if m.on.gauge[t] {
			w += m.s.GaugeSize * m.s.GaugeSize
		}
		sum, weighted := 0.0, 0.0
		for i := mk.from; i < mk.to; i++ {
			m.a[i] = 1 / (k2 * m.ax.obs[i].s2)
			sum += m.a[i]
			weighted += m.a[i] * m.ax.obs[i].y
			logDet -= math.Log(m.a[i])
		}
		h := w / (1 + w*sum)
		logDet += math.Log(1 + w*sum)
		m.w[t], m.h[t], m.sum[t] = w, h, sum
		for i := mk.from; i < mk.to; i++ {
			m.vy[i] = m.a[i] * (m.ax.obs[i].y - h*weighted)
		}
	}
	return logDet
}

// normal fills chol with the lower half of X'V0⁻¹X + L, and block with Σ a x.
func (m *model) normal() {
	q := m.q
	m.chol = zeroed(m.chol, q*q)
	m.inverse = grown(m.inverse, q*q)
	m.block = zeroed(m.block, len(m.ax.makers)*q)
	for i := range m.ax.obs {
		block, a := m.block[m.ax.obs[i].maker*q:], m.a[i]
		m.eachColumn(i, func(c int) {
			block[c] += a
			m.eachColumn(i, func(d int) {
				if d <= c {
					m.chol[c*q+d] += a
				}
			})
		})
	}
	for t := range m.ax.makers {
		block, h := m.block[t*q:(t+1)*q], m.h[t]
		for c, x := range block {
			if x == 0 {
				continue
			}
			x *= h
			row := m.chol[c*q : c*q+c+1]
			for d := range row {
				row[d] -= x * block[d]
			}
		}
	}
	for c, p := range m.precision {
		m.chol[c*q+c] += p
	}
}

// project fills z = C⁻¹ X'V0⁻¹y.
func (m *model) project() {
	m.z = zeroed(m.z, m.q)
	for i := range m.ax.obs {
		m.eachColumn(i, func(c int) { m.z[c] += m.vy[i] })
	}
	solveLower(m.chol, m.z, m.q)
}
