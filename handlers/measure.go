package handlers

import "tenter/models"

// Length is a length as it was entered and in centimetres.
type Length struct {
	Value float64 `json:"value"`
	Unit  string  `json:"unit" enum:"cm,in"`
	CM    float64 `json:"cm"`
}

func lengthView(l models.Length) Length { return Length{l.Value, l.Unit, l.CM} }

// LengthIn is a length as somebody enters it.
type LengthIn struct {
	Value float64 `json:"value" minimum:"-10000" maximum:"10000"`
	Unit  string  `json:"unit" enum:"cm,in"`
}

func (l LengthIn) length() models.Length { return models.NewLength(l.Value, l.Unit) }

// Gauge is stitches and rows over a span.
type Gauge struct {
	Stitches float64 `json:"stitches"`
	Rows     float64 `json:"rows"`
	Span     float64 `json:"span"`
	Unit     string  `json:"unit" enum:"cm,in"`
}

func gaugeView(g models.Gauge) Gauge { return Gauge(g) }
func (g Gauge) gauge() models.Gauge  { return models.Gauge(g) }

// SwatchGauge is a measured gauge; stitches or rows may be missing.
type SwatchGauge struct {
	Stitches *float64 `json:"stitches,omitempty"`
	Rows     *float64 `json:"rows,omitempty"`
	Span     *float64 `json:"span,omitempty"`
	Unit     *string  `json:"unit,omitempty" enum:"cm,in"`
}

// swatchView returns nil when nothing was given.
func swatchView(g models.SwatchGauge) *SwatchGauge {
	if g.IsEmpty() {
		return nil
	}
	s := SwatchGauge(g)
	return &s
}

func (g *SwatchGauge) gauge() models.SwatchGauge {
	if g == nil || (g.Stitches == nil && g.Rows == nil) {
		return models.SwatchGauge{}
	}
	return models.SwatchGauge(*g)
}

// Amount is an amount of yarn as it was entered.
type Amount struct {
	Value float64 `json:"value" minimum:"0"`
	Unit  string  `json:"unit" enum:"m,yd,g,oz"`
}

func amountView(a models.Amount) *Amount {
	if a.Value == nil || a.Unit == nil {
		return nil
	}
	return &Amount{*a.Value, *a.Unit}
}

func (a *Amount) amount() models.Amount {
	if a == nil {
		return models.Amount{}
	}
	return models.Amount{Value: &a.Value, Unit: &a.Unit}
}
