package fit

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
	precision []float64 // q
	columns   []columns // N: where X has a 1

	a, vy     []float64 // N: 1/(κ² s²); V0⁻¹y
	w, h, sum []float64 // T: w_t; w/(1 + w Σa); Σa
	totals    []float64 // T × q: S = Σ a x over a tester
	chol      []float64 // q × q: C, lower, C C' = X'V0⁻¹X + L
	inverse   []float64 // q × q: C⁻¹, a column after the other
	z, back   []float64 // q: C⁻¹X'V0⁻¹y; C⁻ᵀz
	blocks    []float64 // T × q: C⁻¹S
	rows      []float64 // N × q: R, C R_i = (V0⁻¹X)_i
	u         []float64 // N
	scratched []float64 // q
	used      []int     // columns that a tester has

	logLik float64 // restricted, without its constant
	work   int     // steps of arithmetic so far, roughly
}

// columns are the columns of X in which an observation has a 1, ascending: φ, its
// point, and its cell and itself where they are listed.
type columns struct {
	n  int
	at [4]int
}

func (c *columns) add(column int) {
	c.at[c.n] = column
	c.n++
}

func newModel(ax *axisRound, s *Settings) *model {
	n, t := len(ax.obs), len(ax.makers)
	return &model{
		ax: ax, s: s, on: newList(ax), columns: make([]columns, n),
		a: make([]float64, n), vy: make([]float64, n), u: make([]float64, n),
		w: make([]float64, t), h: make([]float64, t), sum: make([]float64, t),
	}
}

// layOut gives each column its place and precision.
func (m *model) layOut() {
	m.precision = append(m.precision[:0], 0)
	add := func(variance float64) int {
		m.precision = append(m.precision, 1/variance)
		return len(m.precision) - 1
	}
	for p := range m.ax.spots {
		add(m.pointVariance(p))
	}
	for i := range m.columns {
		m.columns[i] = columns{n: 2, at: [4]int{0, 1 + m.ax.obs[i].point}}
	}
	for k := range m.ax.cells {
		if m.on.cell[k] {
			c := add(m.s.FaultSize * m.s.FaultSize)
			for _, i := range m.ax.cells[k].obs {
				m.columns[i].add(c)
			}
		}
	}
	for i := range m.columns {
		if m.on.odd[i] {
			m.columns[i].add(add(m.s.OddSize * m.s.OddSize))
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

// of gives the columns of observation i.
func (m *model) of(i int) []int { return m.columns[i].at[:m.columns[i].n] }
