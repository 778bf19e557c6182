package yarn

import (
	"fmt"
	"math"
	"math/rand/v2"

	"tenter/models/fit"
	"tenter/models/gauge"
)

func pointer[T any](x T) *T { return &x }

func counting(count float64) *gauge.Swatch {
	return &gauge.Swatch{Count: count, Over: 10, Unit: gauge.Centimetre}
}

// worked is a synthetic worked example: gauge 20/28, three sizes, five testers,
// one of whom gives twice too much.
func worked() Input {
	in := Input{Input: fit.Input{
		Round: "worked", Sizes: []string{"A", "B", "C"},
		DesignGauge:   fit.DesignGauge{Stitch: 20, Row: 28, OverCM: 10},
		TotalStitches: map[string]float64{"A": 40000, "B": 46000, "C": 52000},
	}, Gamma: pointer(0.95)}
	for i, t := range []struct {
		size        string
		stitch, row float64
		metres      float64
	}{{"A", 20, 28, 410}, {"A", 21, 29, 378}, {"B", 19.5, 27, 512}, {"B", 20, 28.5, 455}, {"B", 20, 28, 980}} {
		in.Testers = append(in.Testers, fit.Tester{
			ID: fmt.Sprint("t", i+1), Size: t.size, MetresUsed: pointer(t.metres),
			Swatch: &fit.Swatch{Stitch: counting(t.stitch), Row: counting(t.row)},
		})
	}
	return in
}

// made is a synthetic round in which makers differ by a spread of 6 %, and yarn
// goes with a power of the stitches.
func made(rnd *rand.Rand, testers int, power float64) Input {
	in := Input{Input: fit.Input{
		Round: "made", Sizes: []string{"1", "2", "3", "4"},
		DesignGauge:   fit.DesignGauge{Stitch: 18, Row: 24, OverCM: 10},
		TotalStitches: map[string]float64{"1": 30000, "2": 36000, "3": 43000, "4": 52000},
	}}
	for i := range testers {
		size := in.Sizes[i%len(in.Sizes)]
		stitch, row := 18*math.Exp(0.05*rnd.NormFloat64()), 24*math.Exp(0.05*rnd.NormFloat64())
		in.Testers = append(in.Testers, fit.Tester{
			ID: fmt.Sprint("t", i+1), Size: size,
			MetresUsed: pointer(truth(in.TotalStitches[size], power) * pitch(stitch, row) * math.Exp(0.06*rnd.NormFloat64())),
			Swatch:     &fit.Swatch{Stitch: counting(stitch), Row: counting(row)},
		})
	}
	return in
}

// truth is the yarn of a size in sides of a stitch.
func truth(n, power float64) float64 { return 2.4 * n * math.Pow(n/40000, power) }
