package yarn

import (
	"math"

	"tenter/models/fit"
	"tenter/models/gauge"
)

// FieldError names the input field at fault and how to mend it.
type FieldError = gauge.FieldError

// Input is a test round, the same document as fit's, with what the yarn needs
// beside it. Points and counts may be missing.
type Input struct {
	fit.Input
	// Gamma is the share of makers whose yarn should last: 0.90 where nil, 0.95
	// if running out is costly.
	Gamma *float64 `json:"gamma,omitempty"`
	Ball  *Ball    `json:"ball,omitempty"`
	// SwatchWeight gives an estimate before anybody has reported. It needs a ball
	// with grams.
	SwatchWeight *SwatchWeight `json:"swatch_weight,omitempty"`
}

// Ball is one ball, skein or cone as it is sold.
type Ball struct {
	Metres float64 `json:"metres"`
	Grams  float64 `json:"grams,omitempty"`
}

// SwatchWeight is a weighed swatch at the design gauge.
type SwatchWeight struct {
	Grams    float64 `json:"grams"`
	WidthCM  float64 `json:"width_cm"`
	HeightCM float64 `json:"height_cm"`
}

func (in *Input) check() error {
	if err := in.Input.Check(); err != nil {
		return err
	}
	for _, axis := range []struct {
		name  string
		count float64
	}{{"stitch", in.DesignGauge.Stitch}, {"row", in.DesignGauge.Row}} {
		if axis.count == 0 {
			return gauge.Wrongf("design_gauge."+axis.name, "is missing; yarn needs the design's stitches and rows")
		}
	}
	if g := in.Gamma; g != nil && !(*g >= 0.5 && *g <= 0.999) {
		return gauge.Wrongf("gamma", "must lie between 0.5 and 0.999, such as 0.9 for 9 of 10 makers")
	}
	return in.checkBall()
}

func (in *Input) checkBall() error {
	within := func(x, low, high float64) bool { return x >= low && x <= high } // false for NaN
	if b := in.Ball; b != nil {
		if !within(b.Metres, 1, 100_000) {
			return gauge.Wrongf("ball.metres", "must lie between 1 and 100000 m")
		}
		if b.Grams != 0 && !within(b.Grams, 1, 100_000) {
			return gauge.Wrongf("ball.grams", "must lie between 1 and 100000 g; leave it out if not known")
		}
	}
	w := in.SwatchWeight
	if w == nil {
		return nil
	}
	for _, f := range []struct {
		name  string
		value float64
	}{{"grams", w.Grams}, {"width_cm", w.WidthCM}, {"height_cm", w.HeightCM}} {
		if !within(f.value, 0.1, 1000) {
			return gauge.Wrongf("swatch_weight."+f.name, "must lie between 0.1 and 1000")
		}
	}
	if in.Ball == nil || in.Ball.Grams == 0 {
		return gauge.Wrongf("ball.grams", "is missing; a swatch's weight only tells metres with the weight of a ball")
	}
	return nil
}

// gamma is the share of makers asked for.
func (in *Input) gamma(s Settings) float64 {
	if in.Gamma != nil {
		return *in.Gamma
	}
	return s.Gamma
}

// designPitch is the pitch at the design gauge, in metres for each stitch.
func (in *Input) designPitch() float64 {
	g := in.DesignGauge
	return pitch(g.Stitch*10/g.OverCM, g.Row*10/g.OverCM)
}

// pitch is 0.1 / √(stitch gauge · row gauge), the side in metres of a square of
// one stitch's area; the gauges are over 10 cm.
func pitch(stitch, row float64) float64 { return 0.1 / math.Sqrt(stitch*row) }
