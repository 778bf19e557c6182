package gauge

import (
	"fmt"
	"math"
)

// BearsOutTolerancePercent is how far the samples' mean washed gauge may be from
// the stated gauge, beyond what counting leaves. Chosen: the width within which
// a round's fabric is called steady.
const BearsOutTolerancePercent = 3.0

// Answer says whether the samples bear out the stated gauge.
type Answer string

// The answers.
const (
	BearsOut      Answer = "bears_out"
	DoesNot       Answer = "does_not"
	NoWashedGauge Answer = "no_washed_gauge" // no sample has a gauge after washing
	NotAllCounted Answer = "not_all_counted" // an axis of the stated gauge has no washed count
)

// SampleGauge is one sample's gauge before and after washing. A gauge with
// nothing counted is one that was not taken.
type SampleGauge struct {
	Name   string `json:"name"`
	Before Gauge  `json:"before,omitzero"`
	After  Gauge  `json:"after,omitzero"`
}

// AxisBearing is the answer on one axis of the stated gauge.
type AxisBearing struct {
	Axis               Axis    `json:"axis"`
	Answer             Answer  `json:"answer"`
	Samples            int     `json:"samples"` // with a count after washing
	StatedPer10CM      float64 `json:"stated_per_10_cm"`
	MeanPer10CM        float64 `json:"mean_per_10_cm"`
	Percent            float64 `json:"percent"`
	UncertaintyPercent float64 `json:"uncertainty_percent"` // of the mean, from counting
	Message            string  `json:"message"`
}

// Bearing is the answer for a design's gauge. Message is one sentence for a
// person.
type Bearing struct {
	Answer           Answer        `json:"answer"`
	TolerancePercent float64       `json:"tolerance_percent"`
	Axes             []AxisBearing `json:"axes"`
	Message          string        `json:"message"`
}

// SamplesBearOut answers whether the samples' washed gauges bear out the gauge
// that the design states. For each axis that is stated, with m the plain mean of
// the n washed gauges per 10 cm and u its standard uncertainty from counting,
//
//	u = √(Σ (per10_i · 0.2466/count_i)²) / n
//
// the samples bear it out when |m - stated| <= tolerance + 1.96 u. A gauge
// before washing bears nothing out: fabric is worn washed. tolerancePercent is
// of the stated gauge, 0 to 20. It fails when the design states no gauge or a
// gauge does not pass Check.
func SamplesBearOut(design Gauge, samples []SampleGauge, tolerancePercent float64) (Bearing, error) {
	if err := checkBearing(design, samples, tolerancePercent); err != nil {
		return Bearing{}, err
	}
	b := Bearing{Answer: NoWashedGauge, TolerancePercent: tolerancePercent, Axes: []AxisBearing{}}
	for _, axis := range []Axis{Stitch, Row} {
		if stated, ok := design.On(axis); ok {
			b.Axes = append(b.Axes, bearOnAxis(axis, stated, samples, tolerancePercent))
		}
	}
	b.Answer, b.Message = together(b.Axes)
	return b, nil
}

func checkBearing(design Gauge, samples []SampleGauge, tolerancePercent float64) error {
	if !design.Counted() {
		return Wrongf("design", "states no gauge; give stitches or rows over a span")
	}
	if err := design.Check("design"); err != nil {
		return err
	}
	if !(tolerancePercent >= 0 && tolerancePercent <= 20) {
		return Wrongf("tolerance_percent", "must lie between 0 and 20")
	}
	for i, s := range samples {
		if err := s.Before.Check(fmt.Sprintf("samples[%d].before", i)); err != nil {
			return err
		}
		if err := s.After.Check(fmt.Sprintf("samples[%d].after", i)); err != nil {
			return err
		}
	}
	return nil
}

func bearOnAxis(axis Axis, stated Swatch, samples []SampleGauge, tolerancePercent float64) AxisBearing {
	a := AxisBearing{Axis: axis, Answer: NoWashedGauge, StatedPer10CM: Tidy(stated.Per10CM())}
	var sum, variance float64
	for _, s := range samples {
		if after, ok := s.After.On(axis); ok {
			a.Samples++
			sum += after.Per10CM()
			variance += math.Pow(after.Per10CM()*after.RelativeUncertainty(), 2)
		}
	}
	if a.Samples == 0 {
		a.Message = fmt.Sprintf("No sample has its %s counted after washing.", axis.Plural())
		return a
	}
	n := float64(a.Samples)
	mean, u := sum/n, math.Sqrt(variance)/n
	off := 100 * (mean/stated.Per10CM() - 1)
	uPercent := 100 * u / stated.Per10CM()
	a.MeanPer10CM, a.Percent, a.UncertaintyPercent = Tidy(mean), Tidy(off), Tidy(uPercent)
	a.Answer = BearsOut
	if math.Abs(off) > tolerancePercent+Coverage*uPercent {
		a.Answer = DoesNot
	}
	a.Message = a.sentence()
	return a
}

func (a AxisBearing) sentence() string {
	who, verdict := "The washed sample has", "it bears that out"
	if a.Samples > 1 {
		who, verdict = fmt.Sprintf("%d washed samples have, on average,", a.Samples), "they bear that out"
	}
	if a.Answer == DoesNot {
		verdict = fmt.Sprintf("that is %s %% %s; correct the stated gauge or make another sample",
			Decimal(math.Abs(a.Percent), 1), moreOrFewer(a.Percent))
	}
	return fmt.Sprintf("%s %s %s over 10 cm where the design states %s: %s.",
		who, Decimal(a.MeanPer10CM, 1), a.Axis.Plural(), Decimal(a.StatedPer10CM, 1), verdict)
}

// together puts the axes' answers into one: any axis that does not bear the
// gauge out decides.
func together(axes []AxisBearing) (Answer, string) {
	var uncounted string
	counted := 0
	for _, a := range axes {
		switch a.Answer {
		case DoesNot:
			return DoesNot, a.Message
		case NoWashedGauge:
			uncounted = a.Message
		default:
			counted++
		}
	}
	switch {
	case counted == 0:
		return NoWashedGauge, "No sample has a washed gauge yet."
	case uncounted != "":
		return NotAllCounted, uncounted
	case counted == 1:
		return BearsOut, axes[0].Message
	}
	return BearsOut, "The gauge after washing bears out the stated one, in stitches and in rows."
}
