package fit

// block is one cell given everything else: Q = P and r = u of its observations,
// with its own listings taken out and the harmless offset of a cell put in.
type block struct {
	n      int
	q      []float64 // n × n
	r      []float64 // n
	column []float64 // n: Qx of one explanation
	rowSum []float64 // n: Q1

	rawA, rawB float64 // 1'Q1 and 1'r before the harmless offset
	logOffset  float64 // log Bayes factor of the harmless offset
	a, b       float64 // 1'Q1 and 1'r with it

	loFault, vFault, loOdd, vOdd, vOffset float64
}

func newBlock(s *Settings) *block {
	b := &block{vOffset: s.CellOffset * s.CellOffset}
	b.loFault, b.vFault = s.prior(kindCell)
	b.loOdd, b.vOdd = s.prior(kindOdd)
	return b
}

// whole stands for the indicator of the whole cell, where others name one
// observation by its place in the cell.
const whole = -1

// load takes cell k out of a solved model.
func (b *block) load(m *model, k int) {
	c := &m.ax.cells[k]
	n := len(c.obs)
	b.n = n
	m.work += n * n * (m.q + 10)
	b.q, b.r = grown(b.q, n*n), grown(b.r, n)
	b.column, b.rowSum = grown(b.column, n), grown(b.rowSum, n)
	for i, oi := range c.obs {
		row := m.row(oi)
		for j, oj := range c.obs[:i] {
			x := -dot(row, m.row(oj))
			b.q[i*n+j], b.q[j*n+i] = x, x
		}
		b.q[i*n+i] = m.pii(oi)
		b.r[i] = m.u[oi]
	}
	if m.on.cell[k] {
		b.takeOut(whole, b.vFault)
	}
	for i, oi := range c.obs {
		if m.on.odd[oi] {
			b.takeOut(i, b.vOdd)
		}
	}
	b.offset()
}

// offset puts the harmless offset of the cell in, and keeps what it did.
func (b *block) offset() {
	b.rawA, b.rawB = b.product(whole)
	b.logOffset = logBayesFactor(b.rawA, b.rawB, b.vOffset)
	b.putIn(whole, b.vOffset)
	b.a, b.b = b.product(whole)
	copy(b.rowSum, b.column)
}

// product fills column with Qx and returns x'Qx and x'r.
func (b *block) product(x int) (a, r float64) {
	if x != whole {
		copy(b.column, b.q[x*b.n:(x+1)*b.n])
		return b.column[x], b.r[x]
	}
	for i := range b.n {
		sum := 0.0
		for _, q := range b.q[i*b.n : (i+1)*b.n] {
			sum += q
		}
		b.column[i] = sum
		a += sum
		r += b.r[i]
	}
	return a, r
}

// takeOut changes Q and r to what they would be without the listed explanation
// x of variance v: Q += v qq'/(1 − vA), r += v q b/(1 − vA), q = Qx.
func (b *block) takeOut(x int, v float64) {
	a, r := b.product(x)
	b.update(v/remaining(a, v), r)
}

// putIn is the contrary: Q −= v qq'/(1 + vA), r −= v q b/(1 + vA).
func (b *block) putIn(x int, v float64) {
	a, r := b.product(x)
	b.update(-v/(1+v*a), r)
}

func (b *block) update(scale, r float64) {
	for i, x := range b.column {
		x *= scale
		row := b.q[i*b.n : (i+1)*b.n]
		for j := range row {
			row[j] += x * b.column[j]
		}
		b.r[i] += x * r
	}
}
