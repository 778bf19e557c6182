package gauge

import (
	"strings"
	"unicode"
)

// Bounds on a typed length, in characters: the whole, and its number alone, so
// that whatever is read can be written back with a unit and read again.
const (
	maxTyped       = 64
	maxTypedNumber = 40
)

// leastTyped is the shortest length that is taken from a person, in its unit,
// but for none at all: less than a wavelength of light, so a slip; chosen. A
// shorter one would also need more digits than maxTypedNumber to be written back.
const leastTyped = 1e-6

// ParseLength reads a length as a person types it on a phone:
//
//	41.5   41,5   41 1/2   41-1/2   41½   ½   41.5 in   41.5"   105 cm
//
// A comma is a decimal comma. A fraction is written with / or as one character.
// assumed is the unit when none is typed. The value is read exactly as the
// nearest float64; nothing is converted. Signs, exponents, thousands separators
// and other units are refused with how to mend it. The length has passed Check.
func ParseLength(text string, assumed LengthUnit) (Length, error) {
	if len([]rune(text)) > maxTyped {
		return Length{}, Wrongf("length", "is too long a text; give one number like 41.5")
	}
	number, unitText := splitTyped(text)
	if number == "" {
		return Length{}, noNumber(text)
	}
	if len([]rune(number)) > maxTypedNumber {
		return Length{}, Wrongf("length", "has too many digits; give one number like 41.5")
	}
	unit, err := typedUnit(unitText, assumed)
	if err != nil {
		return Length{}, err
	}
	value, err := typedNumber(number)
	if err != nil {
		return Length{}, err
	}
	if value != 0 && value < leastTyped {
		return Length{}, Wrongf("length", "is shorter than anything that can be measured; check the number")
	}
	l := Length{Value: value, Unit: unit}
	if err := l.Check(""); err != nil {
		return Length{}, Wrongf("length", "%s", err.(*FieldError).Problem)
	}
	return l, nil
}

// splitTyped parts a typed length into its number and what follows. All kinds
// of spaces that phones insert become plain ones.
func splitTyped(text string) (number, unit string) {
	text = strings.TrimSpace(strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) {
			return ' '
		}
		return r
	}, text))
	end := strings.IndexFunc(text, func(r rune) bool {
		_, vulgar := vulgarFraction(r)
		return !(r >= '0' && r <= '9' || vulgar || strings.ContainsRune(".,/⁄- ", r))
	})
	if end < 0 {
		end = len(text)
	}
	return strings.TrimSpace(text[:end]), strings.TrimSpace(text[end:])
}

func noNumber(text string) error {
	if strings.TrimSpace(text) == "" {
		return Wrongf("length", "is empty; give a number like 41.5")
	}
	return Wrongf("length", "%q does not start with a number; give one like 41.5", clip(text))
}

// typedUnit reads the unit after a number.
func typedUnit(text string, assumed LengthUnit) (LengthUnit, error) {
	switch strings.TrimSuffix(strings.ToLower(text), ".") {
	case "":
		if !assumed.Valid() {
			return "", Wrongf("length", "has no unit; write cm or in after the number")
		}
		return assumed, nil
	case "cm", "cms", "centimetre", "centimetres", "centimeter", "centimeters":
		return Centimetre, nil
	case "in", "ins", "inch", "inches", `"`, "″", "”", "“", "''", "’’", "′′":
		return Inch, nil
	case "mm", "m":
		return "", Wrongf("length", "is in %s; give it in cm or in", strings.ToLower(text))
	case "'", "’", "′", "ft", "feet", "foot", "yd":
		return "", Wrongf("length", "is in feet or yards; give it in inches or cm")
	}
	return "", Wrongf("length", "ends in %q; give one number, with cm or in after it", clip(text))
}
