package fit

import "math"

// The few operations on lower triangles that the model needs, row by row in one
// slice of q × q. They are written out because the matrices are small, come by
// the hundred and reuse their memory.

// leastPivot keeps a pivot of a matrix that is positive definite, up to
// rounding, above 0, relative to its diagonal.
const leastPivot = 1e-14

// cholesky replaces the lower half of a by C, C C' = a, and returns ln|a|.
func cholesky(a []float64, q int) float64 {
	logDet := 0.0
	for i := range q {
		ri := a[i*q : i*q+i+1]
		for j := range i {
			rj := a[j*q : j*q+j+1]
			x := ri[j]
			for k := range j {
				x -= ri[k] * rj[k]
			}
			ri[j] = x / rj[j]
		}
		d := ri[i]
		least := leastPivot * d
		for _, x := range ri[:i] {
			d -= x * x
		}
		d = math.Sqrt(max(d, least))
		ri[i] = d
		logDet += 2 * math.Log(d)
	}
	return logDet
}

// solveLower replaces b by C⁻¹b.
func solveLower(c, b []float64, q int) {
	for i := range q {
		row, x := c[i*q:i*q+i+1], b[i]
		for k, l := range row[:i] {
			x -= l * b[k]
		}
		b[i] = x / row[i]
	}
}

// invertLower fills inv, which is 0, with C⁻¹, a column after the other:
// inv[j q + i] is its element in row i and column j.
func invertLower(inv, c []float64, q int) {
	for j := range q {
		column := inv[j*q : (j+1)*q]
		column[j] = 1 / c[j*q+j]
		for i := j + 1; i < q; i++ {
			row, x := c[i*q:i*q+i+1], 0.0
			for k := j; k < i; k++ {
				x -= row[k] * column[k]
			}
			column[i] = x / row[i]
		}
	}
}

func dot(a, b []float64) float64 {
	s := 0.0
	for i, x := range a {
		s += x * b[i]
	}
	return s
}

// grown returns a slice of n numbers of any value, b's own memory if it is large
// enough.
func grown(b []float64, n int) []float64 {
	if cap(b) < n {
		return make([]float64, n, n+n/2)
	}
	return b[:n]
}

// zeroed is grown, all 0.
func zeroed(b []float64, n int) []float64 {
	b = grown(b, n)
	clear(b)
	return b
}
