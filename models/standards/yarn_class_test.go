package standards

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tenter/models/gauge"
)

// Craft Yarn Council, Standards & Guidelines, yarn weight table: stitches over
// 4 in and recommended tools in mm.
func TestPublishedYarnClasses(t *testing.T) {
	want := []struct {
		name, knit, crochet, needle, hook string
	}{
		{"Lace", "33 to 40", "32 to 42", "1.5 to 2.25", "1.4 to 2.25"},
		{"Super Fine", "27 to 32", "21 to 32", "2.25 to 3.25", "2.25 to 3.5"},
		{"Fine", "23 to 26", "16 to 20", "3.25 to 3.75", "3.5 to 4.5"},
		{"Light", "21 to 24", "12 to 17", "3.75 to 4.5", "4.5 to 5.5"},
		{"Medium", "16 to 20", "11 to 14", "4.5 to 5.5", "5.5 to 6.5"},
		{"Bulky", "12 to 15", "8 to 11", "5.5 to 8", "6.5 to 9"},
		{"Super Bulky", "7 to 11", "7 to 9", "8 to 12.75", "9 to 15"},
		{"Jumbo", "6 or fewer", "6 or fewer", "12.75 or more", "15 or more"},
	}
	classes := YarnClasses()
	require.Len(t, classes, len(want))
	for i, w := range want {
		c := classes[i]
		require.Equal(t, i, c.Number)
		require.Equal(t, []string{w.name, w.knit, w.crochet, w.needle, w.hook},
			[]string{c.Name, c.Knit.String(), c.Crochet.String(), c.NeedleMM.String(), c.HookMM.String()})
	}
	require.Equal(t, "US double crochet", classes[0].CrochetStitch, "a stitch is never named without its terms")
	require.Equal(t, "US single crochet", classes[4].CrochetStitch)
}

func TestHintGauge(t *testing.T) {
	for _, row := range []struct {
		name, craft string
		class       int
		s           gauge.Swatch
		place       string
		classes     []int
		message     string
	}{
		{"knitted in the middle of the range", "knit", 4, gauge.Swatch{Count: 18, Over: 4, Unit: "in"}, Within, []int{4},
			"18 stitches over 4 in are within the 16 to 20 that are usual in stockinette with Medium (4) yarn."},
		{"over 10 cm is brought to 4 in first", "crochet", 4, gauge.Swatch{Count: 14, Over: 10, Unit: "cm"}, Within, []int{3, 4},
			"14 stitches over 10 cm come to 14.2 over 4 in, within the 11 to 14 that are usual in US single crochet with Medium (4) yarn."},
		{"looser", "knit", 2, gauge.Swatch{Count: 18, Over: 10, Unit: "cm"}, Looser, []int{4},
			"18 stitches over 10 cm come to 18.3 over 4 in, looser than the 23 to 26 that are usual in stockinette with Fine (2) yarn; a hint only, the pattern's own gauge and stitch decide."},
		{"tighter", "crochet", 7, gauge.Swatch{Count: 8, Over: 4, Unit: "in"}, Tighter, []int{5, 6},
			"8 stitches over 4 in are tighter than the 6 or fewer that are usual in US single crochet with Jumbo (7) yarn; a hint only, the pattern's own gauge and stitch decide."},
		{"half a stitch short rounds in", "knit", 4, gauge.Swatch{Count: 15.5, Over: 4, Unit: "in"}, Within, []int{4},
			"15.5 stitches over 4 in are within the 16 to 20 that are usual in stockinette with Medium (4) yarn."},
		{"a gap between two classes is no error", "crochet", 2, gauge.Swatch{Count: 60, Over: 4, Unit: "in"}, Tighter, []int{},
			"60 stitches over 4 in are tighter than the 16 to 20 that are usual in US single crochet with Fine (2) yarn; a hint only, the pattern's own gauge and stitch decide."},
	} {
		t.Run(row.name, func(t *testing.T) {
			hint, err := HintGauge(row.craft, row.class, row.s)
			require.NoError(t, err)
			require.Equal(t, row.place, hint.Place)
			require.Equal(t, row.classes, hint.Classes)
			require.Equal(t, row.message, hint.Message)
		})
	}
}

func TestHintGaugeNamesTheFieldAtFault(t *testing.T) {
	good := gauge.Swatch{Count: 18, Over: 4, Unit: "in"}
	for _, row := range []struct {
		name, craft string
		class       int
		s           gauge.Swatch
		field       string
	}{
		{"craft", "felting", 4, good, "craft: "},
		{"class below", "knit", -1, good, "class: "},
		{"class above", "knit", 8, good, "class: "},
		{"no stitches", "knit", 4, gauge.Swatch{Over: 4, Unit: "in"}, "gauge.count: "},
		{"no unit", "knit", 4, gauge.Swatch{Count: 18, Over: 4}, "gauge.unit: "},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, err := HintGauge(row.craft, row.class, row.s)
			require.ErrorContains(t, err, row.field)
		})
	}
}

// The place is the same whichever unit the gauge was counted in, and "within"
// says the same as the list of classes.
func TestHintGaugeProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		craft := rapid.SampledFrom([]string{"knit", "crochet"}).Draw(t, "craft")
		class := rapid.IntRange(0, 7).Draw(t, "class")
		count := float64(rapid.IntRange(2, 120).Draw(t, "half stitches")) / 2
		in, err := HintGauge(craft, class, gauge.Swatch{Count: count, Over: 4, Unit: "in"})
		require.NoError(t, err)
		cm, err := HintGauge(craft, class, gauge.Swatch{Count: count, Over: 10.16, Unit: "cm"})
		require.NoError(t, err)
		require.Equal(t, in.Place, cm.Place)
		require.Equal(t, in.Classes, cm.Classes)
		require.Equal(t, in.Place == Within, contains(in.Classes, class))
	})
}

func contains(list []int, x int) bool {
	for _, y := range list {
		if x == y {
			return true
		}
	}
	return false
}
