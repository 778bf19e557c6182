package counts

import (
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"github.com/expr-lang/expr"
	"github.com/stretchr/testify/require"
)

// randomTerm writes a random expression and works out its value at the same
// time in math/big, without any of this package's code. undefined is set where
// the term divides by zero.
type randomTerm struct {
	text      string
	value     *big.Rat
	undefined bool
}

var randomNames = []string{"a", "b", "c", "yoke_rows"}

func drawTerm(r *rand.Rand, values []*big.Rat, depth int) randomTerm {
	if depth == 0 || r.IntN(5) == 0 {
		if r.IntN(3) == 0 {
			tenths := r.Int64N(200)
			return randomTerm{text: fmt.Sprintf("%d.%d", tenths/10, tenths%10), value: big.NewRat(tenths, 10)}
		}
		i := r.IntN(len(randomNames))
		return randomTerm{text: randomNames[i], value: values[i]}
	}
	x := drawTerm(r, values, depth-1)
	y := drawTerm(r, values, depth-1)
	undefined := x.undefined || y.undefined
	switch r.IntN(9) {
	case 0:
		return randomTerm{fmt.Sprintf("(%s + %s)", x.text, y.text), new(big.Rat).Add(x.value, y.value), undefined}
	case 1:
		return randomTerm{fmt.Sprintf("(%s − %s)", x.text, y.text), new(big.Rat).Sub(x.value, y.value), undefined}
	case 2:
		return randomTerm{fmt.Sprintf("(%s × %s)", x.text, y.text), new(big.Rat).Mul(x.value, y.value), undefined}
	case 3, 4:
		if y.value.Sign() == 0 {
			return randomTerm{fmt.Sprintf("(%s / %s)", x.text, y.text), new(big.Rat), true}
		}
		return randomTerm{fmt.Sprintf("(%s ÷ %s)", x.text, y.text), new(big.Rat).Quo(x.value, y.value), undefined}
	case 5:
		lesser := x.value
		if y.value.Cmp(lesser) < 0 {
			lesser = y.value
		}
		return randomTerm{fmt.Sprintf("min(%s, %s)", x.text, y.text), lesser, undefined}
	case 6:
		greater := x.value
		if y.value.Cmp(greater) > 0 {
			greater = y.value
		}
		return randomTerm{fmt.Sprintf("max(%s, %s)", x.text, y.text), greater, undefined}
	case 7:
		return randomTerm{fmt.Sprintf("floor(%s)", x.text), ratFloor(x.value), x.undefined}
	}
	up := new(big.Rat).Neg(ratFloor(new(big.Rat).Neg(x.value)))
	return randomTerm{fmt.Sprintf("-ceil(%s)", x.text), new(big.Rat).Neg(up), x.undefined}
}

func ratFloor(x *big.Rat) *big.Rat {
	q, m := new(big.Int).QuoRem(x.Num(), x.Denom(), new(big.Int))
	if m.Sign() < 0 {
		q.Sub(q, big.NewInt(1))
	}
	return new(big.Rat).SetInt(q)
}

// The external checks: math/big for exactness, and the expression library's own
// machine, to floating-point precision, for the meaning of the text.
func TestEvalAgreesWithRationalArithmeticOnRandomExpressions(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	defined := 0
	for range 10_000 {
		values := map[string]float64{}
		rats := make([]*big.Rat, len(randomNames))
		for i, name := range randomNames {
			n := r.Int64N(300)
			values[name], rats[i] = float64(n), big.NewRat(n, 1)
		}
		term := drawTerm(r, rats, 4)
		e, err := Compile(term.text, randomNames)
		require.NoError(t, err, term.text)
		got, err := e.Eval(values)
		if term.undefined {
			require.ErrorContains(t, err, "divides by zero", term.text)
			continue
		}
		want, _ := term.value.Float64()
		if math.Abs(want) > MaxResult {
			require.ErrorContains(t, err, "comes to more than", term.text)
			continue
		}
		require.NoError(t, err, term.text)
		require.Equal(t, want, got, term.text)
		defined++
	}
	require.Greater(t, defined, 6_000, "most expressions must have a value")
}

func TestEvalAgreesWithTheLibrarysOwnMachine(t *testing.T) {
	values := map[string]float64{"a": 146, "b": 31, "c": 62, "yoke_rows": 22}
	for _, source := range []string{
		"a + b * c", "a - b - c", "a / b / c", "-a * b + c", "a * (b - c) / yoke_rows",
		"min(a, b, c) + max(b, c)", "floor(a / b) + ceil(c / yoke_rows)", "round(a / 4)",
		"a - -b", "2.5 * a - 1e2",
	} {
		program, err := expr.Compile(source, expr.Env(values))
		require.NoError(t, err, source)
		out, err := expr.Run(program, values)
		require.NoError(t, err, source)
		got, err := mustCompile(t, source, randomNames...).Eval(values)
		require.NoError(t, err, source)
		require.InEpsilon(t, out, got, 1e-12, source)
	}
	for _, source := range []string{
		"a > b and b < c", "a == b or c == 62", "not (a == b)", "a >= b && c <= b || a != b", "1 < yoke_rows < 30",
	} {
		program, err := expr.Compile(source, expr.Env(values))
		require.NoError(t, err, source)
		out, err := expr.Run(program, values)
		require.NoError(t, err, source)
		got, err := mustCompile(t, source, randomNames...).Holds(values)
		require.NoError(t, err, source)
		require.Equal(t, out, got.True, source)
	}
}

// FuzzCompile looks for sources that break the library's parser or get past the
// bounds; whatever compiles must evaluate to a finite number or say why not.
func FuzzCompile(f *testing.F) {
	for _, seed := range []string{
		"a + b", "min(a, b) == 3", "a = b and not b < 2", "((((", "a..b", "a?.b", "1e", "0x", "a not in b",
		"count(a, #)", "let a", "if a", "::a", "a |", "not not", "-", "1 < 2 < 3", "a%b", "0b2", ".5", "5.",
	} {
		f.Add(seed)
	}
	values := map[string]float64{"a": 7, "b": 0}
	f.Fuzz(func(t *testing.T, source string) {
		e, err := Compile(source, []string{"a", "b"})
		if err != nil {
			if err.Error() == "" {
				t.Fatal("an error without words")
			}
			return
		}
		if e.IsStatement() {
			_, _ = e.Holds(values)
			return
		}
		v, err := e.Eval(values)
		if err == nil && (math.IsNaN(v) || math.Abs(v) > MaxResult) {
			t.Fatalf("%q comes to %v", source, v)
		}
	})
}
