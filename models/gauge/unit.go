package gauge

// Exact definitions. Source: NIST SP 811 (2008), Appendix B, after the 1959
// agreement on the international yard and pound (1 yd = 0.9144 m and
// 1 lb = 0.45359237 kg, so 1 in = 1/36 yd and 1 oz = 1/16 lb).
const (
	CMPerInch     = 2.54
	MetresPerYard = 0.9144
	GramsPerOunce = 28.349523125 // avoirdupois
)

// LengthUnit is the unit in which a length of fabric was entered.
type LengthUnit string

// The units of a length of fabric.
const (
	Centimetre LengthUnit = "cm"
	Inch       LengthUnit = "in"
)

// Valid reports whether u is one of the units of a length.
func (u LengthUnit) Valid() bool { return u == Centimetre || u == Inch }

// inCM is the length of one unit in centimetres.
func (u LengthUnit) inCM() float64 {
	if u == Inch {
		return CMPerInch
	}
	return 1
}

// YarnUnit is the unit in which a length of yarn was entered.
type YarnUnit string

// The units of a length of yarn.
const (
	Metre YarnUnit = "m"
	Yard  YarnUnit = "yd"
)

// Valid reports whether u is one of the units of a length of yarn.
func (u YarnUnit) Valid() bool { return u == Metre || u == Yard }

// MassUnit is the unit in which a mass was entered.
type MassUnit string

// The units of mass.
const (
	Gram  MassUnit = "g"
	Ounce MassUnit = "oz"
)

// Valid reports whether u is one of the units of mass.
func (u MassUnit) Valid() bool { return u == Gram || u == Ounce }
