package fit

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models/gauge"
)

// Gauge 20 over 10 cm and a repeat of 4: off is more than 1 + 0.1 cm.
func TestGrading(t *testing.T) {
	for _, row := range []struct {
		name     string
		counts   []float64 // of sizes intended at 50, 52, 54, 56, 58 cm
		verdict  Verdict
		sizes    []string
		worstCM  float64
		intended bool
	}{
		{"all within half a repeat", []float64{102, 104, 106, 112, 116}, OK, []string{}, 1, true},
		{"one slip", []float64{100, 104, 114, 112, 116}, SheetCell, []string{"3"}, 3, true},
		{"running away at the upper end", []float64{100, 104, 108, 109, 110}, Drift, []string{"4", "5"}, -3, true},
		{"running away at the lower end", []float64{106, 107, 108, 112, 116}, Drift, []string{"1", "2"}, 3, true},
		{"two off in the middle", []float64{100, 110, 114, 112, 116}, SheetCell, []string{"2", "3"}, 3, true},
		{"both ways", []float64{106, 104, 108, 112, 108}, SheetCell, []string{"1", "5"}, -4, true},
		{"a skipped size is no end", []float64{100, 104, 112, 117, 0}, Drift, []string{"3", "4"}, 2.5, true},
		{"nothing intended", []float64{100, 104, 130, 112, 116}, OK, []string{}, 0, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			in := Input{
				Sizes: []string{"1", "2", "3", "4", "5"}, DesignGauge: DesignGauge{Stitch: 20, OverCM: 10},
				Points: []Point{{ID: "bust", Axis: gauge.Stitch, Repeat: pointer(4.0)}},
				Counts: map[string]map[string]float64{}, IntendedCM: map[string]map[string]float64{},
			}
			for i, size := range in.Sizes {
				in.Counts[size] = map[string]float64{"bust": row.counts[i]}
				if row.intended {
					in.IntendedCM[size] = map[string]float64{"bust": 50 + 2*float64(i)}
				}
			}
			g := calculated(t, in).Grading[0]
			require.Equal(t, row.verdict, g.Verdict)
			require.Equal(t, row.sizes, g.Sizes)
			require.InDelta(t, row.worstCM, g.MaxDevCM, 1e-9)
		})
	}
}
