package fit

import (
	"fmt"
	"math"
	"math/rand/v2"

	"tenter/models/gauge"
)

// madeRound is a synthetic round: testers with their own gauges, garments and
// tapes, and what is wrong with it.
type madeRound struct {
	sizes, stitchPoints, rowPoints, testers int
	faults                                  int // cells with a count 10 % off
	nuisances                               bool
}

func (m madeRound) make(seed uint64) Input {
	rnd := rand.New(rand.NewPCG(seed, 7))
	in := Input{
		Round: fmt.Sprint("made ", seed), Craft: "knit", DesignGauge: DesignGauge{Stitch: 20, Row: 28, OverCM: 10},
		Counts: map[string]map[string]float64{}, IntendedCM: map[string]map[string]float64{},
	}
	for p := range m.stitchPoints + m.rowPoints {
		axis := gauge.Stitch
		if p >= m.stitchPoints {
			axis = gauge.Row
		}
		in.Points = append(in.Points, Point{ID: fmt.Sprint("p", p), Axis: axis, UCM: pointer(0.6 + 0.2*float64(p%4))})
	}
	wrong := map[string]float64{}
	for s := range m.sizes {
		size := fmt.Sprint("S", s+1)
		in.Sizes = append(in.Sizes, size)
		in.Counts[size], in.IntendedCM[size] = map[string]float64{}, map[string]float64{}
		for p, point := range in.Points {
			cm := float64(20+9*p) + 2*float64(s)
			in.IntendedCM[size][point.ID] = cm
			in.Counts[size][point.ID] = math.Round(cm * in.DesignGauge.per10(point.Axis) / 10)
		}
	}
	for range m.faults {
		wrong[fmt.Sprint("S", 1+rnd.IntN(m.sizes), "p", rnd.IntN(len(in.Points)))] = 0.1 * float64(1-2*rnd.IntN(2))
	}
	for t := range m.testers {
		in.Testers = append(in.Testers, m.tester(&in, rnd, t, wrong))
	}
	return in
}

func (m madeRound) tester(in *Input, rnd *rand.Rand, t int, wrong map[string]float64) Tester {
	who := Tester{ID: fmt.Sprintf("t%03d", t+1), Size: in.Sizes[t%m.sizes], Swatch: &Swatch{}}
	stitch, row := 20*math.Exp(0.05*rnd.NormFloat64()), 28*math.Exp(0.05*rnd.NormFloat64())
	garment := map[gauge.Axis]float64{gauge.Stitch: 0.03 * rnd.NormFloat64(), gauge.Row: 0.04 + 0.03*rnd.NormFloat64()}
	half := func(x float64) float64 { return math.Round(2*x) / 2 }
	who.Swatch.Stitch = &gauge.Swatch{Count: half(stitch), Over: 10, Unit: gauge.Centimetre}
	if !m.nuisances || rnd.IntN(10) > 0 {
		who.Swatch.Row = &gauge.Swatch{Count: half(row), Over: 10, Unit: gauge.Centimetre}
	}
	if m.nuisances && rnd.IntN(20) == 0 {
		who.Swatch.Stitch.Count = half(1.2 * stitch)
	}
	for _, p := range in.Points {
		per10 := map[gauge.Axis]float64{gauge.Stitch: stitch, gauge.Row: row}[p.Axis]
		cm := 10 * in.Counts[who.Size][p.ID] / per10 * math.Exp(garment[p.Axis]+wrong[who.Size+p.ID])
		value := half(cm + *p.UCM*rnd.NormFloat64())
		if m.nuisances && rnd.IntN(80) == 0 {
			value = half(value / 2)
		}
		if m.nuisances && rnd.IntN(60) == 0 {
			value = half(value * 1.12)
		}
		who.Measurements = append(who.Measurements, Measurement{Point: p.ID, Value: &value, Unit: gauge.Centimetre})
	}
	return who
}
