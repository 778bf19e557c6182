package compare

import (
	"strconv"

	"tenter/models/gauge"
)

// candidates returns what may have been meant by a typed length, in the order
// that settles a tie.
func candidates(typed gauge.Length) []Slip {
	v, unit := typed.Value, typed.Unit
	same := func(kind SlipKind, value float64) Slip {
		return Slip{Kind: kind, Meant: gauge.Length{Value: value, Unit: unit}}
	}
	out := []Slip{same(Half, 2*v), same(Double, v/2)}
	if unit == gauge.Centimetre {
		out = append(out, Slip{Kind: InchAsCM, Meant: gauge.Length{Value: v, Unit: gauge.Inch}})
	} else {
		out = append(out, Slip{Kind: CMAsInch, Meant: gauge.Length{Value: v, Unit: gauge.Centimetre}})
	}
	for _, value := range transpositions(v) {
		out = append(out, same(Transposed, value))
	}
	out = append(out, same(Tens, v+10))
	if v > 10 {
		out = append(out, same(Tens, v-10))
	}
	return append(out, same(DecimalPoint, v*10), same(DecimalPoint, v/10))
}

// transpositions returns every number that becomes v when two neighbouring
// different digits are swapped, without a leading 0.
func transpositions(v float64) []float64 {
	text := strconv.FormatFloat(v, 'f', -1, 64)
	var out []float64
	for i := 0; i+1 < len(text); i++ {
		a, b := text[i], text[i+1]
		if a == '.' || b == '.' || a == b || (i == 0 && (a == '0' || b == '0')) {
			continue
		}
		swapped := []byte(text)
		swapped[i], swapped[i+1] = b, a
		if value, err := strconv.ParseFloat(string(swapped), 64); err == nil {
			out = append(out, value)
		}
	}
	return out
}
