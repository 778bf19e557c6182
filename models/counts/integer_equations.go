package counts

import "math/big"

// equation is Σ times[i] × z[i] = total, with whole numbers throughout.
type equation struct {
	times []*big.Int
	total *big.Int
}

// wholeEquation scales Σ times × z = total to whole coefficients; false when the
// total is then no whole number, and no whole z can satisfy it.
func wholeEquation(times []exact, total exact) (equation, bool) {
	scale := big.NewInt(1)
	for _, t := range times {
		d := t.rat().Denom()
		common := new(big.Int).GCD(nil, nil, scale, d)
		scale.Mul(scale, new(big.Int).Quo(d, common))
	}
	by := new(big.Rat).SetInt(scale)
	e := equation{times: make([]*big.Int, len(times))}
	for i, t := range times {
		e.times[i] = new(big.Int).Set(new(big.Rat).Mul(t.rat(), by).Num())
	}
	b := new(big.Rat).Mul(total.rat(), by)
	e.total = new(big.Int).Set(b.Num())
	return e, b.IsInt()
}

// solveWhole returns all whole solutions of the equations in n unknowns:
// point + whole multiples of the columns of free. ok is false when there is
// none.
//
// Method: column operations of determinant ±1 bring the matrix to lower
// triangular (Hermite) form, H = A U; H y = b is solved from the top, and the
// columns of U that meet only zeros span the free directions. Textbook; from
// memory.
func solveWhole(equations []equation, n int) (point []*big.Int, free [][]*big.Int, ok bool) {
	columns := make([][]*big.Int, n) // of U
	rows := make([][]*big.Int, n)    // of A U, by column: rows[j][i] belongs to equation i
	for j := range n {
		columns[j] = make([]*big.Int, n)
		for i := range n {
			columns[j][i] = big.NewInt(0)
		}
		columns[j][j].SetInt64(1)
		rows[j] = make([]*big.Int, len(equations))
		for i, e := range equations {
			rows[j][i] = new(big.Int).Set(e.times[j])
		}
	}
	y := []*big.Int{}
	for i, e := range equations {
		pivot := len(y)
		clearRow(rows, columns, i, pivot)
		rest := new(big.Int).Set(e.total)
		for j := range y {
			rest.Sub(rest, new(big.Int).Mul(rows[j][i], y[j]))
		}
		if pivot == n || rows[pivot][i].Sign() == 0 {
			if rest.Sign() != 0 {
				return nil, nil, false
			}
			continue
		}
		q, m := new(big.Int).QuoRem(rest, rows[pivot][i], new(big.Int))
		if m.Sign() != 0 {
			return nil, nil, false
		}
		y = append(y, q)
	}
	point = make([]*big.Int, n)
	for i := range n {
		point[i] = big.NewInt(0)
		for j := range y {
			point[i].Add(point[i], new(big.Int).Mul(columns[j][i], y[j]))
		}
	}
	return point, columns[len(y):], true
}

// clearRow makes entry i zero in all columns after pivot, by Euclid's algorithm
// on pairs of columns.
func clearRow(rows, columns [][]*big.Int, i, pivot int) {
	for j := pivot + 1; j < len(rows); j++ {
		for rows[j][i].Sign() != 0 {
			q := new(big.Int).Quo(rows[pivot][i], rows[j][i])
			subtractColumn(rows[pivot], rows[j], q)
			subtractColumn(columns[pivot], columns[j], q)
			rows[pivot], rows[j] = rows[j], rows[pivot]
			columns[pivot], columns[j] = columns[j], columns[pivot]
		}
	}
}

func subtractColumn(from, column []*big.Int, times *big.Int) {
	for i := range from {
		from[i].Sub(from[i], new(big.Int).Mul(column[i], times))
	}
}
