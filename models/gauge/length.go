package gauge

import (
	"math"
	"strconv"
)

// Limits of what is taken for a length of fabric, chosen: wider than any
// garment or blanket, narrow enough to stop a slipped key.
const (
	MaxLengthCM = 1000.0
	MaxAddedCM  = 100.0 // an edging, a button band; may be negative
)

// Length is a length of fabric as it was entered. Value and Unit are never
// rewritten, so that showing it back gives exactly what was typed; CM is always
// derived.
type Length struct {
	Value float64    `json:"value"`
	Unit  LengthUnit `json:"unit"`
}

// CM returns the length in centimetres: Value × 2.54 for inches, exactly the
// product of float64s.
func (l Length) CM() float64 { return l.Value * l.Unit.inCM() }

// In returns the length in the unit u. In its own unit that is Value itself,
// untouched by conversion.
func (l Length) In(u LengthUnit) float64 {
	if u == l.Unit {
		return l.Value
	}
	return l.CM() / u.inCM()
}

// String writes the length as it was entered, like "41.5 in", with as many
// digits as its value needs; ParseLength reads the same Length from it.
func (l Length) String() string {
	return strconv.FormatFloat(l.Value, 'f', -1, 64) + " " + string(l.Unit)
}

// Check returns a FieldError unless the length is at least 0 and at most
// MaxLengthCM, in a known unit. field is the path of the length in the input.
func (l Length) Check(field string) error {
	if err := l.checkUnit(field); err != nil {
		return err
	}
	switch {
	case math.IsNaN(l.Value) || math.IsInf(l.Value, 0):
		return Wrongf(Under(field, "value"), "is not a number; give a length like 41.5")
	case l.Value < 0:
		return Wrongf(Under(field, "value"), "is negative; give the length as it is read from the tape")
	case l.CM() > MaxLengthCM:
		return Wrongf(Under(field, "value"), "is longer than %s cm; check the number and its unit", Decimal(MaxLengthCM, 0))
	}
	return nil
}

// CheckAdded is Check for a length that is added to what the counts give, such
// as an edging: from -MaxAddedCM to MaxAddedCM.
func (l Length) CheckAdded(field string) error {
	if err := l.checkUnit(field); err != nil {
		return err
	}
	return checkAddedCM(Under(field, "value"), l.CM())
}

func checkAddedCM(field string, cm float64) error {
	if !(math.Abs(cm) <= MaxAddedCM) { // written so that NaN fails too
		return Wrongf(field, "must lie between -%[1]s and %[1]s cm; it is what an edging adds to the counts", Decimal(MaxAddedCM, 0))
	}
	return nil
}

func (l Length) checkUnit(field string) error {
	if !l.Unit.Valid() {
		return Wrongf(Under(field, "unit"), "is %q; give cm or in", clip(string(l.Unit)))
	}
	return nil
}
