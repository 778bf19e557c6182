package gauge

import "math"

const (
	// SpreadOfMakers is the relative standard uncertainty of the gauge of
	// somebody who reported none: the spread of makers' gauges round the
	// design's. Chosen.
	SpreadOfMakers = 0.05

	// Coverage widens a standard uncertainty to an interval that holds about
	// 95 %: the normal distribution's 0.975 quantile.
	Coverage = 1.959963984540054
)

// Budget lists what keeps a swatch count from being exact (JCGM 100:2008).
type Budget struct {
	CountStep float64 // counted to this part of a stitch: rectangular, step/√12 (4.3.7)
	Edge      float64 // standard uncertainty of where the span's ends fall, in stitches
	SpanStep  float64 // the span is read to this many cm: rectangular, step/√12
}

// UsualBudget is a swatch counted to the half stitch over a span that the ruler
// itself gives, with a fifth of a stitch for its ends (chosen).
func UsualBudget() Budget { return Budget{CountStep: 0.5, Edge: 0.2} }

// Count returns the standard uncertainty of the count, in stitches or rows
// whatever the span:
//
//	u = √(step²/12 + edge²)
//
// which is 0.2466 in the usual budget.
func (b Budget) Count() float64 { return math.Hypot(b.CountStep/math.Sqrt(12), b.Edge) }

// Relative returns the relative standard uncertainty of the gauge, dimensionless:
//
//	√((u_count/count)² + (span step/√12 / span)²)
//
// More stitches counted, over a wider span, fix a gauge better. 0 when s was not
// counted; s has passed Check.
func (b Budget) Relative(s Swatch) float64 {
	if !s.Counted() {
		return 0
	}
	return math.Hypot(b.Count()/s.Count, b.SpanStep/math.Sqrt(12)/s.SpanCM())
}

// RelativeUncertainty is Relative in the usual budget: 0.2466 / count.
func (s Swatch) RelativeUncertainty() float64 { return UsualBudget().Relative(s) }
