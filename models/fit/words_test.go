package fit

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// What a person reads, in the worked examples.
func TestSentences(t *testing.T) {
	for _, row := range []struct {
		example                    int
		kind, size, point, message string
	}{
		{2, "cell", "B", "armhole", "Size B, armhole: both testers came out 13.8 % long here and only here (+8.1 to +19.9 %, 99 % sure), " +
			"after allowing for their own gauge and the fabric; that is as if about 6 rows more (between 4 and 9). Compare this line of the text with the sheet."},
		{2, "fabric", "", "", "Finished pieces of this round come out 4.1 % longer than the swatch says (+0.8 to +7.5 %, 95 % sure, from 6 testers), " +
			"at every size. State it, or multiply the counts of rows by 0.96."},
		{3, "cell", "C", "body", "One tester of size C is 13 % short at body (−16.6 to −9.4 %). With one report a wrong count (53 % sure) and a wrong tape look the same; " +
			"1 more report of this size should settle it. Ask them to measure again first."},
		{3, "odd_value", "A", "sleeve", "t1's sleeve, 23.5 cm, does not fit their other numbers nor the other testers (−48.6 %, more than 99 % sure); " +
			"it fits half of what was asked, as with a width for a circumference. Ask them to measure again."},
		{3, "cell", "C", "armhole", "Size C, armhole: can't be told yet; from 1 report it is +5.8 % off, 95 % sure to lie between −0.8 and +12.7 %, " +
			"and right means within 7.3 %. 3 more reports of this size should settle it."},
		{3, "cell", "A", "body", "Size A, body: can't be told yet; from 2 reports it is +1.5 % off, 95 % sure to lie between −2.3 and +5.4 %, " +
			"and right means within 5 %. More reports of this size alone will not settle it: three more would show only 9.9 % or over."},
	} {
		out := calculated(t, readWorked(t, row.example).Input)
		found := false
		for _, f := range out.Findings {
			if f.Kind == row.kind && f.Size == row.size && f.Point == row.point && f.Axis != "stitch" {
				require.Equal(t, row.message, f.Message)
				found = true
			}
		}
		require.True(t, found, "%+v", row)
	}
}

func TestFindingsComeMostSeriousFirst(t *testing.T) {
	out := calculated(t, readWorked(t, 3).Input)
	last := 0
	for _, f := range out.Findings {
		require.GreaterOrEqual(t, f.rank(), last)
		last = f.rank()
		require.NotContains(t, []Verdict{OK, Clear, Steady}, f.Verdict)
	}
	require.Equal(t, Suspect, out.Findings[0].Verdict)
}

func TestWordsForAmounts(t *testing.T) {
	require.Equal(t, "more than 99 % sure", sure(0.9999))
	require.Equal(t, "99 % sure", sure(0.99))
	require.Equal(t, "less than 1 % sure", sure(0.001))
	require.Equal(t, "−3.1", signed(-3.14))
	require.Equal(t, "0", signed(-0.001))
	require.Equal(t, "0.4", inWhole(0.4))
	require.Equal(t, "12", inWhole(-12.3))
}
