package compare

import "tenter/models/gauge"

// Kind is how a point is measured, as far as that decides how well.
type Kind string

// The kinds of points.
const (
	ShortStraight Kind = "short"  // a straight length up to longLengthCM
	Width         Kind = "width"  // across, laid flat
	LongLength    Kind = "length" // a straight length beyond longLengthCM
	Girth         Kind = "girth"  // a full circumference
	Hem           Kind = "hem"    // an edge that spreads or draws in
)

// longLengthCM is where a straight length stops being short, chosen.
const longLengthCM = 40.0

// Valid reports whether k is one of the kinds.
func (k Kind) Valid() bool {
	switch k {
	case ShortStraight, Width, LongLength, Girth, Hem:
		return true
	}
	return false
}

// KindOf returns the kind of a point that nobody has told more about: a girth if
// it is one, else by its axis and expected length.
func KindOf(axis gauge.Axis, girth bool, expectedCM float64) Kind {
	switch {
	case girth:
		return Girth
	case axis == gauge.Stitch:
		return Width
	case expectedCM > longLengthCM:
		return LongLength
	}
	return ShortStraight
}

// RepeatabilityCM is the standard uncertainty, in cm, of a measurement of a point
// of kind k, including who measures it. Type B, chosen; a studio's own repeated
// readings are better. For comparison: ASTM F2203, measuring with a steel rule,
// is recommended for tolerances of 0.3 cm and more, and a tape on a soft garment
// does worse.
func (k Kind) RepeatabilityCM() float64 {
	switch k {
	case ShortStraight:
		return 0.5
	case Width:
		return 0.8
	case LongLength:
		return 1.0
	case Hem:
		return 1.4
	}
	return 1.2 // girths
}

// MaxRepeatabilityCM bounds a stated repeatability, chosen.
const MaxRepeatabilityCM = 20.0

func checkRepeatability(field string, cm float64) error {
	if !(cm > 0 && cm <= MaxRepeatabilityCM) {
		return gauge.Wrongf(field, "must be more than 0 and at most %s cm", gauge.Decimal(MaxRepeatabilityCM, 0))
	}
	return nil
}

// StepCM is the step in cm to which people read a tape in the unit: half a
// centimetre, or a quarter of an inch (0.635 cm). Chosen.
func StepCM(unit gauge.LengthUnit) float64 {
	if unit == gauge.Inch {
		return 0.25 * gauge.CMPerInch
	}
	return 0.5
}
