package counts

import (
	"math"
	"math/big"
	"strconv"
)

// exact is a rational number. Counts are whole numbers nearly always, so a
// whole number is kept in an int64 and only fractions pay for big arithmetic.
// Statements about counts are decided on exact numbers because body / 3 * 3
// must equal body, and 0.07 * 100 must not round up to 8.
type exact struct {
	whole int64
	ratio *big.Rat // nil: the value is whole
}

// maxWhole bounds the int64 form, so that sums and products of two of them can
// be checked in float64 before they are made.
const maxWhole = 1 << 53

func wholeNumber(n int64) exact { return exact{whole: n} }

// exactOf reads f as the shortest decimal that stands for it, which is what a
// person typed: 0.1 is one tenth and not the nearest binary fraction. f must be
// finite.
func exactOf(f float64) exact {
	if f == math.Trunc(f) && math.Abs(f) < maxWhole {
		return exact{whole: int64(f)}
	}
	r, _ := new(big.Rat).SetString(strconv.FormatFloat(f, 'g', -1, 64))
	return reduced(r)
}

// reduced brings r back to the int64 form when it is a small whole number.
func reduced(r *big.Rat) exact {
	if r.IsInt() && r.Num().IsInt64() {
		if n := r.Num().Int64(); n > -maxWhole && n < maxWhole {
			return exact{whole: n}
		}
	}
	return exact{ratio: r}
}

func (a exact) rat() *big.Rat {
	if a.ratio != nil {
		return a.ratio
	}
	return new(big.Rat).SetInt64(a.whole)
}

// float returns the float64 nearest to a.
func (a exact) float() float64 {
	if a.ratio == nil {
		return float64(a.whole)
	}
	f, _ := a.ratio.Float64()
	return f
}

func (a exact) isWhole() bool { return a.ratio == nil || a.ratio.IsInt() }

func (a exact) sign() int {
	if a.ratio != nil {
		return a.ratio.Sign()
	}
	switch {
	case a.whole > 0:
		return 1
	case a.whole < 0:
		return -1
	}
	return 0
}

func (a exact) compare(b exact) int {
	if a.ratio == nil && b.ratio == nil {
		switch {
		case a.whole < b.whole:
			return -1
		case a.whole > b.whole:
			return 1
		}
		return 0
	}
	return a.rat().Cmp(b.rat())
}

// small reports whether n stays in the int64 form.
func small(n float64) bool { return math.Abs(n) < maxWhole }

func (a exact) add(b exact) exact {
	if a.ratio == nil && b.ratio == nil && small(float64(a.whole)+float64(b.whole)) {
		return exact{whole: a.whole + b.whole}
	}
	return reduced(new(big.Rat).Add(a.rat(), b.rat()))
}

func (a exact) negated() exact {
	if a.ratio == nil {
		return exact{whole: -a.whole}
	}
	return exact{ratio: new(big.Rat).Neg(a.ratio)}
}

func (a exact) minus(b exact) exact { return a.add(b.negated()) }

func (a exact) times(b exact) exact {
	if a.ratio == nil && b.ratio == nil && small(float64(a.whole)*float64(b.whole)) {
		return exact{whole: a.whole * b.whole}
	}
	return reduced(new(big.Rat).Mul(a.rat(), b.rat()))
}

// over divides; b must not be zero.
func (a exact) over(b exact) exact {
	if a.ratio == nil && b.ratio == nil && a.whole%b.whole == 0 {
		return exact{whole: a.whole / b.whole}
	}
	return reduced(new(big.Rat).Quo(a.rat(), b.rat()))
}

// floor returns the greatest whole number that is not above a.
func (a exact) floor() exact {
	if a.ratio == nil {
		return a
	}
	// Euclidean division rounds towards minus infinity for a positive divisor,
	// and a Rat's denominator is always positive.
	q := new(big.Int).Div(a.ratio.Num(), a.ratio.Denom())
	return reduced(new(big.Rat).SetInt(q))
}

// ceil returns the least whole number that is not below a.
func (a exact) ceil() exact { return a.negated().floor().negated() }

// rounded returns the whole number nearest to a, halves away from zero, as the
// trade rounds.
func (a exact) rounded() exact {
	half := exact{ratio: big.NewRat(1, 2)}
	if a.sign() < 0 {
		return a.negated().add(half).floor().negated()
	}
	return a.add(half).floor()
}
