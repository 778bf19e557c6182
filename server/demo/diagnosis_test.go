package demo_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/fit"
	"tenter/models/gauge"
)

// diagnosisFindsTheStory holds the pullover's reports against the
// diagnosis: what the story put into them, and nothing else, is found.
func diagnosisFindsTheStory(t *testing.T, store *models.Store) {
	diagnosis, err := store.Diagnosis(context.Background(), "fenwhistle-pullover")
	require.NoError(t, err)
	out := diagnosis.Numbers
	require.Len(t, diagnosis.Pieces, 19)
	var cells, odd, testers []string
	for _, c := range out.Cells {
		if c.Verdict == fit.Fault || c.Verdict == fit.Suspect {
			cells = append(cells, c.Size+" "+c.Point+" "+string(c.Verdict))
		}
	}
	for _, o := range out.OddValues {
		odd = append(odd, o.Tester+" "+o.Point+" "+string(o.Signature))
	}
	for _, m := range out.Testers {
		if m.Verdict != fit.OK && m.Verdict != fit.CannotTell {
			testers = append(testers, m.Tester+" "+string(m.Axis)+" "+string(m.Verdict))
		}
	}
	require.Equal(t, []string{"6 upper arm fault"}, cells)
	require.ElementsMatch(t, []string{"bracken cuff inch_as_cm", "sorrel bust half"}, odd)
	require.NotEmpty(t, testers)
	for _, line := range testers {
		require.Contains(t, line, "woad")
	}
	require.Equal(t, gauge.Row, out.Fabric[1].Axis)
	require.Equal(t, fit.Grows, out.Fabric[1].Verdict)
	require.InDelta(t, 2.5, *out.Fabric[1].EstimatePct, 0.8, "what the story lets the fabric grow by")
	require.Equal(t, fit.Steady, out.Fabric[0].Verdict)
	yarn, err := store.Yarn(context.Background(), "fenwhistle-pullover")
	require.NoError(t, err)
	require.False(t, yarn.SizeMatters, "a stitch takes the same in every size")
	require.Empty(t, diagnosis.Sheet, "the sheet gives what is intended")
}
