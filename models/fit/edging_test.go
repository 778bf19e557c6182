package fit

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// An edging of 4 cm that every piece has, and that the point names, changes
// nothing but the lengths that are shown.
func TestWhatAPointAddsIsTakenOff(t *testing.T) {
	const edging = 4.0
	plain := calculated(t, plainRound())
	in := plainRound()
	in.Points[0].AddCM = edging
	for i := range in.Testers {
		in.Testers[i].Measurements[0].Value = pointer(*in.Testers[i].Measurements[0].Value + edging)
	}
	for size := range in.IntendedCM {
		in.IntendedCM[size]["bust"] += edging
	}
	edged := calculated(t, in)
	require.Equal(t, plain.Cells, edged.Cells)
	require.Equal(t, plain.Fabric, edged.Fabric)
	require.Equal(t, plain.Testers, edged.Testers)
	require.Equal(t, plain.Grading, edged.Grading)
	for i, line := range edged.Reports {
		was := plain.Reports[i]
		if line.Point == "bust" {
			was.MeasuredCM += edging
			was.ExpectedDesignCM += edging
			was.ExpectedOwnCM += edging
		}
		require.InDelta(t, was.MeasuredCM, line.MeasuredCM, 1e-9)
		require.InDelta(t, was.ExpectedDesignCM, line.ExpectedDesignCM, 1e-9)
		require.InDelta(t, was.ExpectedOwnCM, line.ExpectedOwnCM, 1e-9)
		require.InDelta(t, was.ResidualPct, line.ResidualPct, 1e-9)
	}
}

func TestAPieceThatIsLessThanItsEdgingIsNotTaken(t *testing.T) {
	in := plainRound()
	in.Points[0].AddCM = 95 // ash's bust is 90.5 cm, birch's 86
	out := calculated(t, in)
	for _, c := range out.Cells {
		require.False(t, c.Size == "S" && c.Point == "bust", "nothing was measured of it")
	}
}
