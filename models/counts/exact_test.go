package counts

import (
	"math"
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// drawExact draws whole numbers about the border of the int64 form as well as
// fractions, with the same value as a big.Rat.
func drawExact(t *rapid.T, label string) (exact, *big.Rat) {
	num := rapid.OneOf(
		rapid.Int64Range(-1000, 1000),
		rapid.Int64Range(maxWhole-3, maxWhole+3),
		rapid.Int64Range(-maxWhole-3, -maxWhole+3),
	).Draw(t, label+" numerator")
	den := rapid.Int64Range(1, 12).Draw(t, label+" denominator")
	r := big.NewRat(num, den)
	return reduced(new(big.Rat).Set(r)), r
}

func TestExactFollowsBigRat(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, ra := drawExact(t, "a")
		b, rb := drawExact(t, "b")
		same := func(name string, got exact, want *big.Rat) {
			if got.rat().Cmp(want) != 0 {
				t.Fatalf("%s: got %s, want %s", name, got.rat(), want)
			}
		}
		same("a + b", a.add(b), new(big.Rat).Add(ra, rb))
		same("a - b", a.minus(b), new(big.Rat).Sub(ra, rb))
		same("a * b", a.times(b), new(big.Rat).Mul(ra, rb))
		if rb.Sign() != 0 {
			same("a / b", a.over(b), new(big.Rat).Quo(ra, rb))
		}
		if got, want := a.compare(b), ra.Cmp(rb); got != want {
			t.Fatalf("compare: got %d, want %d", got, want)
		}
		if a.sign() != ra.Sign() || a.isWhole() != ra.IsInt() {
			t.Fatalf("sign or wholeness of %s", ra)
		}
		// floor(a) <= a < floor(a) + 1 is the definition.
		fl := a.floor()
		if !fl.isWhole() || fl.compare(a) > 0 || fl.add(wholeNumber(1)).compare(a) <= 0 {
			t.Fatalf("floor of %s is %s", ra, fl.rat())
		}
		up := a.ceil()
		if !up.isWhole() || up.compare(a) < 0 || up.minus(wholeNumber(1)).compare(a) >= 0 {
			t.Fatalf("ceil of %s is %s", ra, up.rat())
		}
	})
}

func TestRounded(t *testing.T) {
	for _, row := range []struct {
		name     string
		in, want float64
	}{
		{"a half goes up", 2.5, 3},
		{"a half below zero goes away from zero", -2.5, -3},
		{"just under a half", 2.4999999, 2},
		{"whole stays", 7, 7},
		{"zero", 0, 0},
		{"negative towards zero", -2.25, -2},
	} {
		t.Run(row.name, func(t *testing.T) {
			require.Equal(t, row.want, exactOf(row.in).rounded().float())
			require.Equal(t, row.want, math.Round(row.in), "the standard library rounds the same")
		})
	}
}

func TestExactOfReadsDecimalsAsTyped(t *testing.T) {
	require.Zero(t, exactOf(0.1).times(wholeNumber(10)).compare(wholeNumber(1)))
	require.Zero(t, exactOf(0.1).add(exactOf(0.2)).compare(exactOf(0.3)))
}
