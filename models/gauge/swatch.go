package gauge

import "math"

// Limits of what is taken for a gauge, chosen: beyond the finest lace and the
// thickest roving on either side.
const (
	MinSpanCM = 1.0
	MaxSpanCM = 100.0
	minPer10  = 0.2
	maxPer10  = 300.0
)

// MaxCount is the most stitches or rows that are taken for one count, chosen:
// several times the rows of a long scarf.
const MaxCount = 100000.0

// Swatch is one axis of a gauge: Count stitches or rows, part stitches kept,
// over a span of Over Units. The zero Swatch means not counted.
type Swatch struct {
	Count float64    `json:"count"`
	Over  float64    `json:"over"`
	Unit  LengthUnit `json:"unit"`
}

// Counted reports whether the axis was counted at all.
func (s Swatch) Counted() bool { return s != Swatch{} }

// SpanCM returns the span in centimetres: 4 in is 10.16, not 10.
func (s Swatch) SpanCM() float64 { return Length{Value: s.Over, Unit: s.Unit}.CM() }

// PerCM returns count / span, per centimetre; 0 when not counted. s has passed
// Check.
func (s Swatch) PerCM() float64 {
	if !s.Counted() {
		return 0
	}
	return s.Count / s.SpanCM()
}

// Per10CM returns count × 10 / span_cm, the metric way to state a gauge.
func (s Swatch) Per10CM() float64 {
	if !s.Counted() {
		return 0
	}
	return s.Count * 10 / s.SpanCM()
}

// Per4In returns count × 10.16 / span_cm, the way US sources state a gauge.
func (s Swatch) Per4In() float64 {
	if !s.Counted() {
		return 0
	}
	return s.Count * 4 * CMPerInch / s.SpanCM()
}

// ExpectedCM returns the length in cm that count stitches or rows give at this
// gauge, with addCM for an edging:
//
//	expected = count × span_cm / swatch count + add
//
// 0 <= count <= MaxCount; the sum must not be negative. The swatch must be
// counted and have passed Check.
func (s Swatch) ExpectedCM(count, addCM float64) (float64, error) {
	if err := checkCount("count", count); err != nil {
		return 0, err
	}
	if err := checkAddedCM("add_cm", addCM); err != nil {
		return 0, err
	}
	if err := s.Check(""); err != nil {
		return 0, err
	}
	cm := s.lengthCM(count, addCM)
	if cm < 0 {
		return 0, Wrongf("add_cm", "takes away more than the counts give; check its sign")
	}
	return cm, nil
}

func (s Swatch) lengthCM(count, addCM float64) float64 { return count*s.SpanCM()/s.Count + addCM }

// Check returns a FieldError unless the swatch is counted over a span of
// MinSpanCM to MaxSpanCM and gives a gauge that yarn can have.
func (s Swatch) Check(field string) error {
	if err := s.checkSpan(Under(field, "over"), Under(field, "unit")); err != nil {
		return err
	}
	return s.checkCount(Under(field, "count"))
}

func (s Swatch) checkSpan(overField, unitField string) error {
	if !s.Unit.Valid() {
		return Wrongf(unitField, "is %q; give cm or in", clip(string(s.Unit)))
	}
	if cm := s.SpanCM(); !(cm >= MinSpanCM && cm <= MaxSpanCM) {
		return Wrongf(overField, "must be a span of %s to %s cm, like 10 cm or 4 in", Decimal(MinSpanCM, 1), Decimal(MaxSpanCM, 0))
	}
	return nil
}

func (s Swatch) checkCount(field string) error {
	if !(s.Count > 0) || math.IsInf(s.Count, 1) {
		return Wrongf(field, "must be more than 0; give what was counted, half stitches kept")
	}
	if per10 := s.Count * 10 / s.SpanCM(); !(per10 >= minPer10 && per10 <= maxPer10) {
		return Wrongf(field, "comes to %s over 10 cm, which no yarn gives; check the count and its span", Decimal(math.Min(per10, 1e6), 2))
	}
	return nil
}

func checkCount(field string, count float64) error {
	if !(count >= 0 && count <= MaxCount) {
		return Wrongf(field, "must lie between 0 and %s", Decimal(MaxCount, 0))
	}
	return nil
}
