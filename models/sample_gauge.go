package models

import (
	"context"

	"tenter/models/gauge"
)

// GaugeState says whether a design's samples bear out the gauge that it states.
type GaugeState string

// The answers about a stated gauge.
const (
	BorneOut    GaugeState = "borne_out"
	NotBorneOut GaugeState = "not_borne_out"
	Untold      GaugeState = "untold" // not every axis has been counted on a washed sample
)

// GaugeBearing is the answer about a design's gauge: one sentence, and the
// numbers of each axis behind it.
type GaugeBearing struct {
	State            GaugeState
	Sentence         string
	TolerancePercent float64
	Axes             []gauge.AxisBearing // stitches, then rows
}

// GaugeBearing answers whether a design's samples bear out its gauge.
func (s *Store) GaugeBearing(ctx context.Context, idOrSlug string) (GaugeBearing, error) {
	design, err := s.Design(ctx, idOrSlug)
	if err != nil {
		return GaugeBearing{}, err
	}
	samples, err := s.Samples(ctx, design.ID)
	if err != nil {
		return GaugeBearing{}, err
	}
	return BearGauge(*design, samples)
}

// BearGauge is GaugeBearing for a caller that has the rows. Every sample in use
// counts, whatever its purpose; a retired one doesn't: it may have been made
// with another hook or needle.
func BearGauge(design Design, samples []Sample) (GaugeBearing, error) {
	var counted []gauge.SampleGauge
	for _, s := range samples {
		if s.RetiredAt == nil {
			counted = append(counted, gauge.SampleGauge{Name: s.Label, Before: s.Before.gauge(), After: s.After.gauge()})
		}
	}
	b, err := gauge.SamplesBearOut(design.Gauge.gauge(), counted, gauge.BearsOutTolerancePercent)
	if err != nil {
		return GaugeBearing{}, err
	}
	return GaugeBearing{StateOfGauge(b.Answer), b.Message, b.TolerancePercent, b.Axes}, nil
}

// StateOfGauge puts an answer of the calculation into the three states of a
// design's gauge.
func StateOfGauge(a gauge.Answer) GaugeState {
	switch a {
	case gauge.BearsOut:
		return BorneOut
	case gauge.DoesNot:
		return NotBorneOut
	}
	return Untold
}
