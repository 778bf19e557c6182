package handlers

import (
	"context"

	"tenter/models"
	"tenter/models/gauge"
)

// DesignGauge says whether a design's samples bear out the gauge it states.
type DesignGauge struct {
	State            string      `json:"state" enum:"borne_out,not_borne_out,untold"`
	Sentence         string      `json:"sentence"`
	TolerancePercent float64     `json:"tolerance_percent" doc:"How far the samples' mean may be off, beyond what counting leaves."`
	Axes             []GaugeAxis `json:"axes"`
}

// GaugeAxis is the answer on one axis. Without a washed sample there is no mean.
type GaugeAxis struct {
	Axis               string   `json:"axis" enum:"stitch,row"`
	State              string   `json:"state" enum:"borne_out,not_borne_out,untold"`
	Samples            int      `json:"samples" doc:"In use and counted after washing."`
	StatedPer10CM      float64  `json:"stated_per_10_cm"`
	MeanPer10CM        *float64 `json:"mean_per_10_cm"`
	Percent            *float64 `json:"percent" doc:"How far the mean is from the stated gauge."`
	UncertaintyPercent *float64 `json:"uncertainty_percent" doc:"Standard uncertainty of the mean, from counting."`
	Sentence           string   `json:"sentence"`
}

func (a *api) getDesignGauge(ctx context.Context, _ models.Actor, in *DesignPath) (*plain[DesignGauge], error) {
	b, err := a.Store.GaugeBearing(ctx, in.Design)
	if err != nil {
		return nil, err
	}
	return &plain[DesignGauge]{DesignGauge{string(b.State), b.Sentence, b.TolerancePercent, each(b.Axes, gaugeAxisView)}}, nil
}

func gaugeAxisView(x gauge.AxisBearing) GaugeAxis {
	out := GaugeAxis{Axis: string(x.Axis), State: string(models.StateOfGauge(x.Answer)), Samples: x.Samples, StatedPer10CM: x.StatedPer10CM, Sentence: x.Message}
	if x.Samples > 0 {
		out.MeanPer10CM, out.Percent, out.UncertaintyPercent = &x.MeanPer10CM, &x.Percent, &x.UncertaintyPercent
	}
	return out
}
