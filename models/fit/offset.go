package fit

// Every question about a set of observations, with indicator x, is answered by
// A = x'Px and b = x'Py: how well the model determines an offset of theirs that
// it has no explanation for, and how large it seems.

// pii is P_ii of one observation.
func (m *model) pii(i int) float64 {
	a := m.a[i]
	row := m.row(i)
	return a - a*a*m.h[m.ax.obs[i].maker] - dot(row, row)
}

func (m *model) row(i int) []float64 { return m.rows[i*m.q : (i+1)*m.q] }

// apart gives A and b of observations of different testers.
func (m *model) apart(obs []int, sum []float64) (a, b float64) {
	clear(sum)
	for _, i := range obs {
		ai := m.a[i]
		a += ai - ai*ai*m.h[m.ax.obs[i].maker]
		b += m.u[i]
		for k, x := range m.row(i) {
			sum[k] += x
		}
	}
	return a - dot(sum, sum), b
}

// ofCell gives A and b of all observations of a cell.
func (m *model) ofCell(k int) (a, b float64) { return m.apart(m.ax.cells[k].obs, m.scratch()) }

// ofPoint gives A and b of all observations of a point. One person who makes two
// sizes counts as two testers, so they are of different testers too.
func (m *model) ofPoint(p int) (a, b float64) { return m.apart(m.ax.spots[p].obs, m.scratch()) }

// ofMaker gives A and b of all observations of a tester.
func (m *model) ofMaker(t int) (a, b float64) {
	mk := &m.ax.makers[t]
	for i := mk.from; i < mk.to; i++ {
		b += m.u[i]
	}
	left := 1 / (1 + m.w[t]*m.sum[t]) // 1 − h Σa
	block := m.blocks[t*m.q : (t+1)*m.q]
	return m.sum[t]*left - left*left*dot(block, block), b
}

func (m *model) scratch() []float64 {
	m.scratched = grown(m.scratched, m.q)
	return m.scratched
}
