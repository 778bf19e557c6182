package fit

import (
	"math"
	"strconv"
	"unicode/utf8"

	"tenter/models/gauge"
)

// Signature is the slip that an odd value looks like.
type Signature string

// The slips that are recognised.
const (
	NoSignature Signature = "none"
	Half        Signature = "half"       // half of a circumference
	Double      Signature = "double"     // twice the width
	InchAsCM    Signature = "inch_as_cm" // an inch figure entered as cm
	CMAsInch    Signature = "cm_as_inch"
	Transposed  Signature = "transposed" // two neighbouring digits changed places
	Tens        Signature = "tens"       // ten too many or too few
)

// slip is a meaning of an odd value: reported times e^f is what was meant.
type slip struct {
	signature Signature
	f         float64
}

// slips lists what a value could have been meant as.
func slips(value float64, unit gauge.LengthUnit) []slip {
	out := []slip{{Half, math.Ln2}, {Double, -math.Ln2}}
	if unit == gauge.Inch {
		out = append(out, slip{CMAsInch, -math.Log(gauge.CMPerInch)})
	} else {
		out = append(out, slip{InchAsCM, math.Log(gauge.CMPerInch)})
	}
	for _, meant := range swaps(value) {
		out = append(out, slip{Transposed, math.Log(meant / value)})
	}
	for _, by := range []float64{10, -10} {
		if value+by > 0 {
			out = append(out, slip{Tens, math.Log((value + by) / value)})
		}
	}
	return out
}

// swaps gives the value with each two neighbouring different digits changed
// over, unless that brings a 0 to the front.
func swaps(value float64) []float64 {
	written := strconv.FormatFloat(value, 'f', -1, 64)
	var out []float64
	for i := 0; i+1 < len(written); i++ {
		a, b := written[i], written[i+1]
		if !digit(a) || !digit(b) || a == b || i == 0 && b == '0' {
			continue
		}
		swapped := []byte(written)
		swapped[i], swapped[i+1] = b, a
		if x, err := strconv.ParseFloat(string(swapped), 64); err == nil && x > 0 {
			out = append(out, x)
		}
	}
	return out
}

func digit(c byte) bool { return c < utf8.RuneSelf && '0' <= c && c <= '9' }

// sign finds the slip that brings a value with log deviation dev back, the
// smallest |dev + f| within max(2.5 se, 0.02) and under 0.4 |dev|. The first wins
// a tie.
func sign(dev, se, value float64, unit gauge.LengthUnit) Signature {
	const leastReach, readings, ofDev = 0.02, 2.5, 0.4
	best, found := min(max(readings*se, leastReach), math.Inf(1)), NoSignature
	within := true // the bound itself counts, a tie does not
	for _, s := range slips(value, unit) {
		left := math.Abs(dev + s.f)
		if left >= ofDev*math.Abs(dev) {
			continue
		}
		if left < best || within && left == best {
			best, found, within = left, s.signature, false
		}
	}
	return found
}
