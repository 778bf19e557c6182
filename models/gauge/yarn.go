package gauge

import (
	"math"
	"strconv"
)

// Limits of what is taken for the yarn in one piece, chosen: several times what
// the largest blanket uses.
const (
	MaxYarnMetres = 50000.0
	MaxYarnGrams  = 20000.0
)

// YarnLength is a length of yarn as it was entered.
type YarnLength struct {
	Value float64  `json:"value"`
	Unit  YarnUnit `json:"unit"`
}

// Metres returns the length in metres.
func (y YarnLength) Metres() float64 {
	if y.Unit == Yard {
		return y.Value * MetresPerYard
	}
	return y.Value
}

// In returns the length in the unit u, in its own unit exactly as entered.
func (y YarnLength) In(u YarnUnit) float64 {
	switch {
	case u == y.Unit:
		return y.Value
	case u == Yard:
		return y.Metres() / MetresPerYard
	default:
		return y.Metres()
	}
}

// String writes the length as it was entered, like "610 yd".
func (y YarnLength) String() string {
	return strconv.FormatFloat(y.Value, 'f', -1, 64) + " " + string(y.Unit)
}

// Check returns a FieldError unless the length is at least 0 and at most
// MaxYarnMetres, in a known unit.
func (y YarnLength) Check(field string) error {
	if !y.Unit.Valid() {
		return Wrongf(Under(field, "unit"), "is %q; give m or yd", clip(string(y.Unit)))
	}
	return checkAmount(Under(field, "value"), y.Value, y.Metres(), MaxYarnMetres, "m")
}

// Mass is a mass of yarn as it was entered.
type Mass struct {
	Value float64  `json:"value"`
	Unit  MassUnit `json:"unit"`
}

// Grams returns the mass in grams.
func (m Mass) Grams() float64 {
	if m.Unit == Ounce {
		return m.Value * GramsPerOunce
	}
	return m.Value
}

// In returns the mass in the unit u, in its own unit exactly as entered.
func (m Mass) In(u MassUnit) float64 {
	switch {
	case u == m.Unit:
		return m.Value
	case u == Ounce:
		return m.Grams() / GramsPerOunce
	default:
		return m.Grams()
	}
}

// String writes the mass as it was entered, like "3.5 oz".
func (m Mass) String() string {
	return strconv.FormatFloat(m.Value, 'f', -1, 64) + " " + string(m.Unit)
}

// Check returns a FieldError unless the mass is at least 0 and at most
// MaxYarnGrams, in a known unit.
func (m Mass) Check(field string) error {
	if !m.Unit.Valid() {
		return Wrongf(Under(field, "unit"), "is %q; give g or oz", clip(string(m.Unit)))
	}
	return checkAmount(Under(field, "value"), m.Value, m.Grams(), MaxYarnGrams, "g")
}

func checkAmount(field string, entered, canonical, most float64, unit string) error {
	switch {
	case math.IsNaN(entered) || math.IsInf(entered, 0):
		return Wrongf(field, "is not a number; give an amount like 610")
	case entered < 0:
		return Wrongf(field, "is negative; give what was used")
	case canonical > most:
		return Wrongf(field, "is more than %s %s; check the number and its unit", Decimal(most, 0), unit)
	}
	return nil
}
