package fit

import "math"

// everySize asks solve for the rows of all observations.
const everySize = -1

// solve computes everything for the present list and spreads; blocks and rows
// only for the testers of one size, unless size is everySize.
//
//	R_i = a_i (Σ_c (C⁻¹)_c − h_t C⁻¹S_t),  u_i = (V0⁻¹y)_i − R_i·z
//
// over the columns c of observation i.
func (m *model) solve(size int) {
	m.likelihood()
	q := m.q
	m.inverse, m.back = zeroed(m.inverse, q*q), zeroed(m.back, q)
	invertLower(m.inverse, m.chol, q)
	for c := range q {
		m.back[c] = dot(m.inverse[c*q:(c+1)*q], m.z)
	}
	m.blocks, m.rows = grown(m.blocks, len(m.ax.makers)*q), grown(m.rows, len(m.ax.obs)*q)
	for t := range m.ax.makers {
		mk := &m.ax.makers[t]
		total := m.totals[t*q : (t+1)*q]
		shared := m.h[t] * dot(total, m.back)
		for i := mk.from; i < mk.to; i++ {
			own := 0.0
			for _, c := range m.of(i) {
				own += m.back[c]
			}
			m.u[i] = m.vy[i] - m.a[i]*(own-shared)
		}
		if size == everySize || size == mk.size {
			block := m.blocks[t*q : (t+1)*q]
			copy(block, total)
			solveLower(m.chol, block, q)
			m.fillRows(t, block)
		}
	}
}

func (m *model) fillRows(t int, block []float64) {
	mk, q := &m.ax.makers[t], m.q
	m.work += q * (q + 8*(mk.to-mk.from))
	for i := mk.from; i < mk.to; i++ {
		row := m.rows[i*q : (i+1)*q]
		for k, g := range block {
			row[k] = -m.h[t] * g
		}
		for _, c := range m.of(i) {
			for k, e := range m.inverse[c*q+c : (c+1)*q] {
				row[c+k] += e
			}
		}
		for k := range row {
			row[k] *= m.a[i]
		}
	}
}

// likelihood computes only what the restricted log likelihood needs.
//
//	−½ (log|V0| + log|M| − Σ_{k≥1} ln L_k + y'V0⁻¹y − z'z),  M = X'V0⁻¹X + L
func (m *model) likelihood() {
	m.layOut()
	m.work += m.q*m.q*m.q/4 + 20*len(m.ax.obs)
	logV0, quadratic := m.testers()
	m.normal()
	logM := cholesky(m.chol, m.q)
	m.z = zeroed(m.z, m.q)
	for i := range m.ax.obs {
		for _, c := range m.of(i) {
			m.z[c] += m.vy[i]
		}
	}
	solveLower(m.chol, m.z, m.q)
	logL := 0.0
	for _, p := range m.precision[1:] {
		logL += math.Log(p)
	}
	m.logLik = -0.5 * (logV0 + logM - logL + quadratic - dot(m.z, m.z))
}

// testers fills a, w, h, Σa and V0⁻¹y, and returns log|V0| and y'V0⁻¹y.
func (m *model) testers() (logDet, quadratic float64) {
	k2 := m.kappa * m.kappa
	logDet = m.ax.logS2 + float64(len(m.ax.obs))*math.Log(k2)
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
		}
		h := w / (1 + w*sum)
		logDet += math.Log(1 + w*sum)
		m.w[t], m.h[t], m.sum[t] = w, h, sum
		for i := mk.from; i < mk.to; i++ {
			m.vy[i] = m.a[i] * (m.ax.obs[i].y - h*weighted)
			quadratic += m.ax.obs[i].y * m.vy[i]
		}
	}
	return logDet, quadratic
}

// normal fills chol with the lower half of X'V0⁻¹X + L, and totals with S:
//
//	X'V0⁻¹X = Σ_i a_i x_i x_i' − Σ_t h_t S_t S_t'
func (m *model) normal() {
	q := m.q
	m.chol, m.totals = zeroed(m.chol, q*q), zeroed(m.totals, len(m.ax.makers)*q)
	for c, p := range m.precision {
		m.chol[c*q+c] = p
	}
	for t := range m.ax.makers {
		mk := &m.ax.makers[t]
		total := m.totals[t*q : (t+1)*q]
		for i := mk.from; i < mk.to; i++ {
			at := m.of(i)
			for n, c := range at {
				total[c] += m.a[i]
				for _, d := range at[:n+1] {
					m.chol[c*q+d] += m.a[i]
				}
			}
		}
		m.used = m.used[:0]
		for c, x := range total {
			if x != 0 {
				m.used = append(m.used, c)
			}
		}
		for n, c := range m.used {
			x := m.h[t] * total[c]
			for _, d := range m.used[:n+1] {
				m.chol[c*q+d] -= x * total[d]
			}
		}
	}
}
