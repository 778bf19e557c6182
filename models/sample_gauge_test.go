package models_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
)

func washed(stitches, rows, span float64, unit string) models.Sample {
	s := models.Sample{Label: "swatch", Purpose: "swatch", After: models.SwatchGauge{Span: &span, Unit: &unit}}
	if stitches > 0 {
		s.After.Stitches = &stitches
	}
	if rows > 0 {
		s.After.Rows = &rows
	}
	return s
}

func TestSamplesBearOutTheStatedGauge(t *testing.T) {
	retired := washed(16, 11, 10, "cm")
	retired.RetiredAt = at(0)
	unwashed := models.Sample{Label: "swatch", Before: washed(14, 11, 10, "cm").After}
	for name, c := range map[string]struct {
		samples []models.Sample
		want    models.GaugeState
	}{
		"as stated": {[]models.Sample{washed(14, 11, 10, "cm")}, models.BorneOut},
		"over 4 in, which is 10.16 cm (NIST SP 811)": {[]models.Sample{washed(14.224, 11.176, 4, "in")}, models.BorneOut},
		"two stitches more":                          {[]models.Sample{washed(16, 11, 10, "cm")}, models.NotBorneOut},
		"two stitches more, but retired":             {[]models.Sample{retired, washed(14, 11, 10, "cm")}, models.BorneOut},
		"no sample":                                  {nil, models.Untold},
		"counted before washing only":                {[]models.Sample{unwashed}, models.Untold},
		"rows not counted":                           {[]models.Sample{washed(14, 0, 10, "cm")}, models.Untold},
		"rows counted on another sample":             {[]models.Sample{washed(14, 0, 10, "cm"), washed(0, 11, 10, "cm")}, models.BorneOut},
	} {
		t.Run(name, func(t *testing.T) {
			b, err := models.BearGauge(models.Design{Gauge: models.Gauge{Stitches: 14, Rows: 11, Span: 10, Unit: "cm"}}, c.samples)
			require.NoError(t, err)
			require.Equal(t, c.want, b.State)
			require.NotEmpty(t, b.Sentence)
			require.Len(t, b.Axes, 2)
		})
	}
}
