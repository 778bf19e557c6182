package counts

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models/gauge"
)

// The handbooks' own worked numbers. What was read of them is what stands here;
// none of them prints a whole graded sheet.

// TestProposeComesToTheHandbooksStitches turns a wanted width into stitches.
func TestProposeComesToTheHandbooksStitches(t *testing.T) {
	for _, row := range []struct {
		name             string
		stitches, span   float64
		unit             gauge.LengthUnit
		widthCM          float64
		of, plus         int
		want             float64
		withSeamStitches float64
	}{
		// “How to Become an Expert Knitter” (an online knitting book), chapter 3:
		// at 22 stitches to 10 cm, 40 cm across are 88 stitches, and two more for the seam.
		{"22 to 10 cm, 40 cm across", 22, 10, "cm", 40, 1, 0, 88, 90},
		// A public guide to choosing a size: at 20 stitches to 4 in, 42 in around are 210.
		{"20 to 4 in, 42 in around", 20, 4, "in", 42 * 2.54, 1, 0, 210, 212},
	} {
		t.Run(row.name, func(t *testing.T) {
			in := ProposeInput{Sizes: []string{"one"}, Gauge: &gauge.Entry{Stitches: &row.stitches, Span: &row.span, Unit: row.unit},
				Counts: []Count{{Name: "width", Unit: UnitStitch}, {Name: "cast_on", Unit: UnitStitch}},
				Rules:  []Rule{{Name: "seam", Kind: KindHolds, Expr: "cast_on == width + 2"}, {Name: "repeat", Kind: KindMultiple, Expr: "width", Of: row.of, Plus: row.plus}},
				Points: []Point{{Name: "width", Axis: AxisStitch, Expr: "width", Tolerance: pointer(1), Intended: []*float64{&row.widthCM}}}}
			out := mustPropose(t, in)
			require.InDelta(t, row.want, *out.Counts[0].Values[0], 0)
			require.InDelta(t, row.withSeamStitches, *out.Counts[1].Values[0], 0)
			require.InDelta(t, row.widthCM, out.Finished[0].Expected, 0.005)
		})
	}
}

// TestMultipleAsTheDictionaryReadsIt: Mon Tricot Knitting Dictionary, “how to
// read a pattern”. A repeat of three knit and three purl wants a multiple of 6,
// 66 for instance, and one selvedge stitch at either end: 68. A diamond with 4
// stitches before, 4 after and 1 in the middle of a repeat of 8 wants a multiple
// of 8 plus 9, plus the selvedges.
func TestMultipleAsTheDictionaryReadsIt(t *testing.T) {
	rib, diamond := Multiple{Of: 6, Plus: 2}, Multiple{Of: 8, Plus: 9 + 2}
	require.True(t, Multiple{Of: 6}.Fits(66))
	require.True(t, rib.Fits(68))
	require.False(t, rib.Fits(66))
	for n := range 5 {
		require.True(t, diamond.Fits(float64(8*n+11)))
	}
	require.Equal(t, []float64{67, 75}, diamond.Nearest(68))
}
