package counts

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// testReporter is a *testing.T or a *rapid.T.
type testReporter interface {
	require.TestingT
	Helper()
}

// stepSizes returns the numbers of the sizes (from 1) that have a step finding.
func stepSizes(t testReporter, values []*float64) []string {
	t.Helper()
	names := make([]string, len(values))
	for i := range names {
		names[i] = string(rune('1' + i))
	}
	out, err := Calculate(Input{Sizes: names, Counts: []Count{{Name: "line", Unit: UnitStitch, Values: values}}})
	require.NoError(t, err)
	found := []string{}
	for _, f := range out.Findings {
		require.Equal(t, FindingStep, f.Kind)
		require.Contains(t, f.Message, "line")
		found = append(found, f.Size)
	}
	return found
}

// The lines are invented; that a count goes one way, by steps that are much
// alike, is common practice in grading.
func TestSteps(t *testing.T) {
	for _, row := range []struct {
		name   string
		values []*float64
		want   []string
	}{
		{"even steps", list(146, 158, 170), []string{}},
		{"steps rounded to a repeat of four", list(122, 134, 150, 162, 178, 190, 206, 218, 234), []string{}},
		{"flat with small rises", list(26, 28, 28, 28, 28, 30, 30, 30, 32), []string{}},
		{"one rise", list(48, 48, 48, 50, 50, 50, 50, 50, 50), []string{}},
		{"all the same", list(12, 12, 12), []string{}},
		{"falling", list(40, 36, 32, 28), []string{}},
		{"a step that doubles with the large sizes", list(86, 96, 106, 116, 136, 156, 176), []string{}},
		{"twelve and none in turn, rounded to a repeat", list(100, 112, 112, 124, 124, 136), []string{}},
		{"a tenth of a long step is no fault", list(100, 136, 180, 220, 260), []string{}},
		{"a small rise in a flat line", list(200, 200, 206, 206, 206), []string{}},
		{"a large rise in a flat line", list(200, 200, 230, 230, 230), []string{"3"}},
		{"two sizes", list(10, 200), []string{}},
		{"one size", list(10), []string{}},
		{"digits swapped in the middle", list(122, 134, 150, 126, 178, 190), []string{"4"}},
		{"too high in the middle", list(122, 134, 150, 192, 178, 190), []string{"4"}},
		{"too low at the end", list(122, 134, 150, 162, 150), []string{"5"}},
		{"too high at the start", list(140, 134, 150, 162, 178), []string{"1"}},
		{"the third of four falls back", list(146, 158, 150, 182), []string{"3"}},
		{"the last of three falls back", list(146, 158, 150), []string{"3"}},
		{"one fault in a falling line", list(40, 36, 48, 28, 24), []string{"3"}},
		{"two faults", list(100, 110, 102, 130, 140, 132, 160, 170), []string{"3", "6"}},
		{"either of two can be wrong", list(146, 170, 158, 182), []string{"2", "3"}},
		{"a repeat too many, still rising", list(122, 134, 154, 162, 178, 190), []string{"3"}},
		{"a repeat too few, still rising", list(122, 134, 146, 164, 170, 182), []string{"4"}},
		{"one long step between two halves", list(100, 112, 124, 172, 184, 196), []string{"4"}},
		{"a last size that runs away", list(100, 112, 124, 136, 190), []string{"5"}},
		{"a first size that is too small", list(60, 112, 124, 136, 148), []string{"1"}},
		{"over a size that skips the line", list(100, 110, skip, 130, 140), []string{}},
		{"beside a size that skips the line", list(100, 110, skip, 105, 140), []string{"4"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			require.Equal(t, row.want, stepSizes(t, row.values))
		})
	}
}

// In an even grading one count that leaves the run by more than its step is
// always found, and nothing else is.
func TestOneWrongCountInAnEvenGradingIsFound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(5, 12).Draw(t, "sizes")
		step := float64(rapid.IntRange(3, 20).Draw(t, "step"))
		start := float64(rapid.IntRange(100, 200).Draw(t, "start"))
		wrong := rapid.IntRange(1, n-2).Draw(t, "wrong size")
		off := (step + float64(rapid.IntRange(1, 40).Draw(t, "beyond the step"))) * float64(rapid.SampledFrom([]int{-1, 1}).Draw(t, "sign"))
		values := make([]*float64, n)
		for i := range values {
			values[i] = pointer(start + step*float64(i))
		}
		*values[wrong] = math.Max(0, *values[wrong]+off)
		if got := stepSizes(t, values); len(got) != 1 || got[0] != string(rune('1'+wrong)) {
			t.Fatalf("size %d is wrong in %s, found %v", wrong+1, Print(values, Layout{}), got)
		}
	})
}

// Turning the order of the sizes round turns a rising line into a falling one
// with the same even steps: still nothing to find.
func TestAnEvenGradingHasNoFindings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "sizes")
		ideal := rapid.Float64Range(-12, 12).Draw(t, "step")
		repeat := float64(rapid.IntRange(1, 2).Draw(t, "repeat"))
		values := make([]*float64, n)
		for i := range values {
			values[i] = pointer(math.Round((300+ideal*float64(i))/repeat) * repeat)
		}
		if got := stepSizes(t, values); len(got) > 0 {
			t.Fatalf("%s: found %v", Print(values, Layout{}), got)
		}
	})
}
