package models

import (
	"math"

	"tenter/models/gauge"
)

// Length is a length as somebody entered it and in centimetres. What was typed
// is shown back exactly; what is computed with is CM.
type Length struct {
	Value float64
	Unit  string // "cm" or "in"
	CM    float64
}

// cmPerInch is exact: the inch of the 1959 agreement between the national
// standards laboratories (NIST SP 811, appendix B).
const cmPerInch = 2.54

// longestCM bounds every length of a garment; a blanket is not longer (chosen).
const longestCM = 300.0

// NewLength returns a length with its canonical value; unit "in" or "cm".
func NewLength(value float64, unit string) Length {
	l := Length{Value: value, Unit: unit, CM: value}
	if unit == "in" {
		l.CM = value * cmPerInch
	}
	return l
}

// length checks a length that has to be positive.
func (p *problems) length(field string, l Length) {
	p.lengthBetween(field, l, 0, longestCM)
	if l.Value == 0 {
		p.addf(field, "is zero; leave it out when it wasn't measured")
	}
}

func (p *problems) lengthBetween(field string, l Length, low, high float64) {
	p.oneOf(field+".unit", l.Unit, "cm", "in")
	switch {
	case math.IsNaN(l.Value) || math.IsInf(l.Value, 0):
		p.addf(field+".value", "is not a number")
	case l.CM < low:
		p.addf(field+".value", "is %g %s, less than the %g cm that make sense here; check the number", l.Value, l.Unit, low)
	case l.CM > high:
		p.addf(field+".value", "is %g %s, which is %.0f cm; nothing here is longer than %g cm. Check the number and its unit", l.Value, l.Unit, l.CM, high)
	}
}

// Gauge is stitches and rows counted over a span. 4 in and 10 cm are different
// spans; what was entered is kept.
type Gauge struct {
	Stitches float64
	Rows     float64
	Span     float64
	Unit     string // of the span
}

// SwatchGauge is a gauge that somebody measured: any of it may be missing.
type SwatchGauge struct {
	Stitches *float64
	Rows     *float64
	Span     *float64
	Unit     *string
}

// Bounds of a gauge: finer than the finest lace and coarser than arm-knitting
// are slips of the pen (chosen).
const (
	fewestInSpan, mostInSpan = 0.5, 300.0
	shortestSpanCM           = 1.0
	longestSpanCM            = 60.0
)

func (g Gauge) validate(p *problems, field string, whole bool) {
	SwatchGauge{&g.Stitches, &g.Rows, &g.Span, &g.Unit}.validate(p, field, whole)
}

// IsEmpty tells whether nothing was given.
func (g SwatchGauge) IsEmpty() bool { return g.Stitches == nil && g.Rows == nil }

// validate checks what is there; whole demands stitches and rows both.
func (g SwatchGauge) validate(p *problems, field string, whole bool) {
	if g.IsEmpty() && !whole {
		return
	}
	count := func(name string, n *float64) {
		switch {
		case n == nil && whole:
			p.addf(field+"."+name, "is missing; count them over the span")
		case n != nil && !(*n >= fewestInSpan && *n <= mostInSpan):
			p.addf(field+"."+name, "has to lie between %g and %g over the span; check the count", fewestInSpan, mostInSpan)
		}
	}
	count("stitches", g.Stitches)
	count("rows", g.Rows)
	if g.Unit == nil || g.Span == nil {
		p.addf(field+".span", "is missing; say over which length it was counted, like 10 cm or 4 in")
		return
	}
	p.oneOf(field+".unit", *g.Unit, "cm", "in")
	if span := NewLength(*g.Span, *g.Unit).CM; !(span >= shortestSpanCM && span <= longestSpanCM) {
		p.addf(field+".span", "has to lie between %g and %g cm; 10 cm or 4 in are usual", shortestSpanCM, longestSpanCM)
		return
	}
	// Each count may be possible and the gauge still not: 300 stitches in 1 cm.
	possible := func(name string, n *float64) {
		if n != nil && *n >= fewestInSpan && *n <= mostInSpan && gauge.LengthUnit(*g.Unit).Valid() {
			p.calculation(field+"."+name, gauge.Swatch{Count: *n, Over: *g.Span, Unit: gauge.LengthUnit(*g.Unit)}.Check(""))
		}
	}
	possible("stitches", g.Stitches)
	possible("rows", g.Rows)
}

// Amount is an amount of yarn as somebody entered it: metres, yards, grams or
// ounces.
type Amount struct {
	Value *float64
	Unit  *string
}

const mostYarn = 20_000 // of any unit; a blanket in laceweight takes less (chosen)

func (a Amount) validate(p *problems, field string) {
	if a.Value == nil && a.Unit == nil {
		return
	}
	if a.Value == nil || a.Unit == nil {
		p.addf(field, "needs a value and a unit: m, yd, g or oz")
		return
	}
	p.oneOf(field+".unit", *a.Unit, "m", "yd", "g", "oz")
	if !(*a.Value > 0 && *a.Value <= mostYarn) {
		p.addf(field+".value", "has to lie between 0 and %d; check the number", mostYarn)
	}
}
