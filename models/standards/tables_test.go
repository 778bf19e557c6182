package standards

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models/gauge"
)

// Rows of the Craft Yarn Council's body charts, in inches, written
// down again from the chart and from a tutorial that reprints parts of it.
func TestBodyChartsHoldThePublishedRows(t *testing.T) {
	for _, row := range []struct {
		name, chart, dimension string
		low, high              []float64
	}{
		// Craft Yarn Council, Standards & Guidelines, woman's chart.
		{"bust, nine sizes", "woman", "chest", []float64{28, 32, 36, 40, 44, 48, 52, 56, 60}, []float64{30, 34, 38, 42, 46, 50, 54, 58, 62}},
		{"armhole depth grows by half an inch", "woman", "armhole_depth", []float64{6, 6.5, 7, 7.5, 8, 8.5, 9, 9.5, 10}, []float64{6.5, 7, 7.5, 8, 8.5, 9, 9.5, 10, 10.5}},
		// The same, man's chart.
		{"chest, eight sizes", "man", "chest", []float64{34, 38, 42, 46, 50, 54, 58, 62}, []float64{36, 40, 44, 48, 52, 56, 60, 64}},
		// The same, baby's chart; a public tutorial gives 16, 6 and 3.25 in for 3 months.
		{"baby's chest", "baby", "chest", []float64{16, 17, 18, 19, 20}, []float64{16, 17, 18, 19, 20}},
		{"baby's back waist", "baby", "back_waist_length", []float64{6, 7, 7.5, 8, 8.5}, []float64{6, 7, 7.5, 8, 8.5}},
		{"baby's armhole", "baby", "armhole_depth", []float64{3.25, 3.5, 3.75, 4, 4.25}, []float64{3.25, 3.5, 3.75, 4, 4.25}},
		// A public tutorial that reprints sizes 2 to 16. It prints 12.22 for the
		// cross back of size 14, where the chart has 12.25.
		{"child's cross back", "child", "cross_back", []float64{9.25, 9.75, 10.25, 10.75, 11.25}, []float64{9.25, 9.75, 10.25, 10.75, 11.25}},
		{"youth's cross back", "youth", "cross_back", []float64{12, 12.25, 13}, []float64{12, 12.25, 13}},
		{"child's upper arm", "child", "upper_arm", []float64{7, 7.5, 8, 8.5, 8.75}, []float64{7, 7.5, 8, 8.5, 8.75}},
		{"youth's sleeve to underarm", "youth", "arm_length_to_underarm", []float64{15, 16, 16.5}, []float64{15, 16, 16.5}},
	} {
		t.Run(row.name, func(t *testing.T) {
			chart, err := BodyChartOf(row.chart)
			require.NoError(t, err)
			require.Len(t, chart.Sizes, len(row.low))
			for i, size := range chart.Sizes {
				cell, ok := chart.At(size, row.dimension)
				require.True(t, ok, size)
				require.Equal(t, row.low[i], *cell.In.Low, size)
				require.Equal(t, row.high[i], *cell.In.High, size)
				require.InDelta(t, row.low[i]*2.54, *cell.CM.Low, 1e-6, "an inch is exactly 2.54 cm")
			}
		})
	}
}

// Cells whose printed centimetres are not the inches: found by comparing every
// cell of the published charts with 2.54 times its inches.
func TestDisagreeingCellsAreTheKnownMisprints(t *testing.T) {
	want := map[string]bool{
		"woman X-Small centre_back_neck_to_wrist": true, // 26.5 in beside 68.5 cm
		"man 3X cross_back":                       true, // 20–21 in beside 48–51 cm
		"man 4X cross_back":                       true, // 21 in beside 51 cm
		"man 4X arm_length_to_underarm":           true, // 21 in beside 49.5 cm
		"man 5X arm_length_to_underarm":           true, // 21.5 in beside 53.5 cm
		"man 5X upper_arm":                        true, // 20 in beside 48 cm
	}
	found := map[string]bool{}
	for _, c := range BodyCharts() {
		for _, cell := range c.Cells {
			require.Equal(t, cell.Disagrees, cell.Note == disagreement)
			if cell.Disagrees {
				found[c.Name+" "+cell.Size+" "+cell.Dimension] = true
			}
		}
	}
	require.Equal(t, want, found)
}

// Every chart is complete, each row of a dimension goes up or stays from size
// to size, and no range is upside down.
func TestBodyChartsAreCompleteAndRise(t *testing.T) {
	cells := 0
	for _, c := range BodyCharts() {
		for _, d := range c.Dimensions {
			require.NotEmpty(t, d.How, d.ID)
			low, high := math.Inf(-1), math.Inf(-1)
			for _, size := range c.Sizes {
				cell, ok := c.At(size, d.ID)
				require.True(t, ok, "%s %s %s", c.Name, size, d.ID)
				require.LessOrEqual(t, *cell.In.Low, *cell.In.High)
				require.GreaterOrEqual(t, *cell.In.Low, low, "%s %s %s", c.Name, size, d.ID)
				require.GreaterOrEqual(t, *cell.In.High, high, "%s %s %s", c.Name, size, d.ID)
				require.NotEmpty(t, cell.Source.Citation)
				low, high = *cell.In.Low, *cell.In.High
				cells++
			}
			require.Len(t, c.Of(c.Sizes[0]), len(c.Dimensions))
		}
	}
	require.Equal(t, 279, cells)
}

func TestBodyChartsGoFromYoungToOld(t *testing.T) {
	var names []string
	for _, c := range BodyCharts() {
		names = append(names, c.Name+" "+c.Edition)
	}
	require.Equal(t, []string{"baby current", "child current", "youth current", "woman current", "woman 2015", "man current"}, names)
	for _, name := range chartNames() {
		_, err := BodyChartOf(name)
		require.NoError(t, err)
	}
	_, err := BodyChartOf("giant")
	require.EqualError(t, err, "chart: is not one of baby, child, youth, woman, man")
}

// What a function returns is the caller's own.
func TestTablesCannotBeChangedFromOutside(t *testing.T) {
	BodyCharts()[0].Cells[0].Size = "changed"
	BodyCharts()[0].Sizes[0] = "changed"
	YarnClasses()[0].Name = "changed"
	TermList()[0].US = "changed"
	require.Equal(t, "3 months", BodyCharts()[0].Cells[0].Size)
	require.Equal(t, "3 months", BodyCharts()[0].Sizes[0])
	require.Equal(t, "Lace", YarnClasses()[0].Name)
	require.Equal(t, "slip stitch", TermList()[0].US)
}

// Craft Yarn Council, Standards & Guidelines, head circumference chart.
func TestHeadSizes(t *testing.T) {
	want := map[string][2]float64{"Preemie": {9, 12}, "Baby": {14, 16}, "Toddler": {16, 18}, "Child": {18, 20}, "Tween": {20, 22}, "Woman": {21, 23}, "Man": {22, 24}}
	for _, h := range HeadSizes() {
		require.False(t, h.Disagrees, h.Group)
		if h.Edition == "older" {
			require.Equal(t, FromMemory, h.Source.Standing)
			continue
		}
		require.Equal(t, want[h.Group], [2]float64{*h.In.Low, *h.In.High}, h.Group)
		delete(want, h.Group)
	}
	require.Empty(t, want)
}

// Craft Yarn Council, Standards & Guidelines, fit chart: ease at the chest or
// bust in inches.
func TestFits(t *testing.T) {
	for _, row := range []struct {
		name   string
		easeCM float64
		want   []string
	}{
		{"3 in less than the body", -3 * 2.54, []string{"very close-fitting"}},
		{"as the body", 0, []string{"close-fitting"}},
		{"3 in more", 3 * 2.54, []string{"classic"}},
		{"5 in more", 5 * 2.54, []string{"loose"}},
		{"6 in is where loose ends and oversized begins", gauge.Tidy(6 * 2.54), []string{"loose", "oversized"}},
		{"12 in more", 12 * 2.54, []string{"oversized"}},
		{"between two names", -1 * 2.54, []string{}},
	} {
		t.Run(row.name, func(t *testing.T) {
			got := []string{}
			for _, f := range FitsOf(row.easeCM) {
				got = append(got, f.Name)
			}
			require.Equal(t, row.want, got)
		})
	}
	require.Len(t, Fits(), 5)
	require.Nil(t, Fits()[4].In.High, "oversized has no end")
}

// Craft Yarn Council, Standards & Guidelines, length chart.
func TestGarmentLengths(t *testing.T) {
	inches := map[string]float64{}
	for _, l := range GarmentLengths() {
		inches[l.Group+" "+l.Name] = *l.In.High
	}
	require.Equal(t, map[string]float64{"child waist length": 0, "child hip length": 2, "child tunic length": 6,
		"woman waist length": 0, "woman hip length": 6, "woman tunic length": 11, "man usual length variation": 2}, inches)
}

// ISO 8559 and EN 13402 names and the points of a finished garment: complete,
// without doubles, each with a definition and a source.
func TestDimensionsAndPoints(t *testing.T) {
	names := map[string]bool{}
	for _, d := range BodyDimensions() {
		require.False(t, names[d.Name], d.Name)
		names[d.Name] = true
		require.NotEmpty(t, d.Definition)
		require.NotEmpty(t, d.Standard)
	}
	require.Len(t, names, 20)
	for _, d := range []string{"bust girth", "chest girth", "waist girth", "hip girth", "head girth", "height"} {
		require.True(t, names[d], d)
	}
	codes := map[string]GarmentPoint{}
	for _, p := range GarmentPoints() {
		require.NotContains(t, codes, p.Code)
		require.NotEmpty(t, p.How)
		require.True(t, (p.ToleranceCM == nil) != (p.ToleranceNote == ""), "%s has a tolerance or says why not", p.Code)
		codes[p.Code] = p
	}
	require.Len(t, codes, 25)
	require.Equal(t, 1.0, *codes["CH"].ToleranceCM)
	require.True(t, codes["CH"].Key)
	require.Equal(t, CommonPractice, codes["CH"].ToleranceSource.Standing, "no standard fixes a tolerance of hand-made knits")
	require.Len(t, MeasuringPieces(), 8)
}

// EN 13402-3 (2004), from memory: women's codes meet end to end, children's
// heights go in steps of 6 cm.
func TestSizeCodesMeetEndToEnd(t *testing.T) {
	end := map[string]float64{}
	for _, c := range SizeCodes() {
		require.Equal(t, FromMemory, c.Source.Standing)
		if before, ok := end[c.Group]; ok {
			require.Equal(t, before, c.LowCM, "%s %s", c.Group, c.Code)
		}
		if c.Group == "child" {
			require.Equal(t, 6.0, c.HighCM-c.LowCM)
		}
		end[c.Group] = c.HighCM
	}
	require.Equal(t, map[string]float64{"woman": 167, "man": 141, "child": 191}, end)
}
