package compare

import (
	"math"

	"tenter/models/gauge"
)

// MaxMeasuredCM is the longest measurement of a finished garment that is taken,
// chosen: nearly twice the largest girth in the Craft Yarn Council's body charts
// (women's 5X hips, 157 cm), so a bust of 4 m is a slipped key.
const MaxMeasuredCM = 300.0

// Bounds returns a FieldError unless 0 < measured <= MaxMeasuredCM, in a known
// unit. These are the hard bounds; Slips only asks.
func Bounds(field string, measured gauge.Length) error {
	if !measured.Unit.Valid() {
		return measured.Check(field)
	}
	value := gauge.Under(field, "value")
	switch cm := measured.CM(); {
	case math.IsNaN(cm) || math.IsInf(measured.Value, 0):
		return gauge.Wrongf(value, "is not a number; give a length like 41.5")
	case cm <= 0:
		return gauge.Wrongf(value, "must be more than 0; leave it empty if it was not measured")
	case cm > MaxMeasuredCM:
		return gauge.Wrongf(value, "is %s, longer than any garment here (%s at most); check the number and its unit",
			gauge.ShowCM(math.Min(cm, 1e6), measured.Unit), gauge.ShowCM(MaxMeasuredCM, measured.Unit))
	}
	return nil
}
