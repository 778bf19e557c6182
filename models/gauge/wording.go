package gauge

import (
	"math"
	"strconv"
	"strings"
)

// Decimal writes x with at most places decimals and no trailing zeros, halves
// rounded away from zero as people do: what a sentence shows. Minus zero is
// written 0.
func Decimal(x float64, places int) string {
	if scale := math.Pow10(places); math.Abs(x) < 1e9 {
		x = math.Round(x*scale) / scale
	}
	s := strconv.FormatFloat(x, 'f', places, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// ShowCM writes a length of cm centimetres in the reader's unit: to the
// millimetre, "104.1 cm", or to the hundredth of an inch, "41.25 in".
func ShowCM(cm float64, unit LengthUnit) string {
	if unit == Inch {
		return Decimal(cm/CMPerInch, 2) + " in"
	}
	return Decimal(cm, 1) + " cm"
}

// Tidy rounds an answer to 6 decimals, so that it reads as 91.44 and not as
// 91.43999999999998, and is the same on machines that fuse multiplications.
func Tidy(x float64) float64 {
	if math.Abs(x) > 1e9 { // six decimals are beyond a float64 there
		return x
	}
	return math.Round(x*1e6)/1e6 + 0 // + 0 turns minus zero into zero
}

// clip bounds what an error repeats of somebody's input.
func clip(s string) string {
	const most = 24
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "…"
	}
	return s
}
