package standards

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Published pairs: Craft Yarn Council, Standards & Guidelines (US), and public
// conversion charts (old UK and Canadian numbers).
func TestPublishedToolSizes(t *testing.T) {
	for _, row := range []struct {
		name, kind string
		mm         float64
		us, uk     string
	}{
		{"H-8 hook", "hook", 5, "H-8", "6"},
		{"G-6 hook", "hook", 4, "G-6", "8"},
		{"K-10 1/2 hook", "hook", 6.5, "K-10 1/2", "3"},
		{"a hook that charts number differently has no old number here", "hook", 3.75, "F-5", ""},
		{"US 7 needle", "needle", 4.5, "7", "7"},
		{"US 8 needle", "needle", 5, "8", "6"},
		{"the thinnest needles count noughts", "needle", 1.5, "000", ""},
		{"thick needles count noughts in the UK", "needle", 10, "15", "000"},
		{"a needle that only the UK numbers", "needle", 7.5, "", "1"},
		{"steel hook", "steel_hook", 1.65, "7", ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			near, err := ToolsNear(row.kind, row.mm)
			require.NoError(t, err)
			require.Len(t, near, 1)
			require.Equal(t, row.mm, near[0].MM)
			require.Equal(t, row.us, near[0].US)
			require.Equal(t, row.uk, near[0].OldUK)
			require.Equal(t, row.uk != "", near[0].OldUKSource != nil)
		})
	}
}

func TestToolsRiseByMillimetre(t *testing.T) {
	all, err := Tools("")
	require.NoError(t, err)
	n := 0
	for _, kind := range ToolKinds() {
		of, err := Tools(kind)
		require.NoError(t, err)
		for i := 1; i < len(of); i++ {
			require.Greater(t, of[i].MM, of[i-1].MM, kind)
		}
		n += len(of)
	}
	require.Len(t, all, n)
	require.Equal(t, 87, n)
}

// Old UK needle numbers fall as needles grow.
func TestOldNumbersFall(t *testing.T) {
	order := []string{"14", "13", "12", "11", "10", "9", "8", "7", "6", "5", "4", "3", "2", "1", "0", "00", "000"}
	of, _ := Tools("needle")
	var seen []string
	for _, tool := range of {
		if tool.OldUK != "" {
			seen = append(seen, tool.OldUK)
		}
	}
	require.Equal(t, order, seen)
}

func TestToolsNear(t *testing.T) {
	for _, row := range []struct {
		name string
		mm   float64
		want []float64
	}{
		{"between two", 4.8, []float64{4.5, 5}},
		{"thinner than the thinnest", 1, []float64{1.5}},
		{"thicker than the thickest", 50, []float64{35}},
	} {
		t.Run(row.name, func(t *testing.T) {
			near, err := ToolsNear("needle", row.mm)
			require.NoError(t, err)
			var mm []float64
			for _, n := range near {
				mm = append(mm, n.MM)
			}
			require.Equal(t, row.want, mm)
		})
	}
	for _, mm := range []float64{0, -1, 50.1} {
		_, err := ToolsNear("needle", mm)
		require.ErrorContains(t, err, "mm: must be a thickness")
	}
	_, err := ToolsNear("", 4)
	require.ErrorContains(t, err, "kind: is missing")
	_, err = ToolsNear("spoon", 4)
	require.ErrorContains(t, err, "kind: is not one of hook, steel_hook, needle")
}

// Whatever is asked, the answers stand on either side of it and nothing stands
// between.
func TestToolsNearEnclose(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kind := rapid.SampledFrom(ToolKinds()).Draw(t, "kind")
		mm := float64(rapid.IntRange(1, 5000).Draw(t, "hundredths")) / 100
		near, err := ToolsNear(kind, mm)
		require.NoError(t, err)
		if len(near) == 2 {
			require.Less(t, near[0].MM, mm)
			require.Greater(t, near[1].MM, mm)
		}
		all, _ := Tools(kind)
		for _, tool := range all {
			if len(near) == 2 {
				require.False(t, tool.MM > near[0].MM && tool.MM < near[1].MM)
			}
		}
	})
}
