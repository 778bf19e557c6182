package counts

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestDiff(t *testing.T) {
	before := Sheet{Sizes: []string{"S", "M", "L"}, Lines: []Row{
		{"body", UnitStitch, list(146, 158, 170)},
		{"neck", UnitStitch, list(26, 28, skip)},
		{"gone", UnitRow, list(1, 2, 3)},
		{"rounds", UnitRepeat, list(4, 4, 4)},
	}}
	after := Sheet{Sizes: []string{"M", "L", "XL"}, Lines: []Row{
		{"rounds", UnitRow, list(4, 4, 4)},
		{"body", UnitStitch, list(158, 171, 182)},
		{"new", UnitRow, list(1, 2, 3)},
		{"neck", UnitStitch, list(skip, 30, 32)},
	}}
	require.Equal(t, []Change{
		{Kind: SizeRemoved, Size: "S"},
		{Kind: SizeAdded, Size: "XL"},
		{Kind: UnitChanged, Line: "rounds", UnitBefore: UnitRepeat, UnitAfter: UnitRow},
		{Kind: ValueChanged, Line: "body", Size: "L", Before: pointer(170), After: pointer(171)},
		{Kind: LineAdded, Line: "new", UnitAfter: UnitRow},
		{Kind: ValueChanged, Line: "neck", Size: "M", Before: pointer(28)},
		{Kind: ValueChanged, Line: "neck", Size: "L", After: pointer(30)},
		{Kind: LineRemoved, Line: "gone", UnitBefore: UnitRow},
	}, Diff(before, after))
	require.Empty(t, Diff(before, before))
	require.Empty(t, Diff(Sheet{}, Sheet{}))
}

// Diff tells the same differences from either side.
func TestDiffIsTheSameBackwards(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(label string) Sheet {
			names := rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"a", "b", "c", "d"}), 0, 4, rapid.ID[string]).Draw(t, label)
			s := Sheet{Sizes: rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"S", "M", "L"}), 0, 3, rapid.ID[string]).Draw(t, label)}
			for _, n := range names {
				s.Lines = append(s.Lines, Row{n, UnitStitch, drawValues(t, len(s.Sizes))})
			}
			return s
		}
		a, b := draw("a"), draw("b")
		count := func(changes []Change) map[string]int {
			n := map[string]int{}
			for _, c := range changes {
				n[c.Kind]++
			}
			return n
		}
		there, back := count(Diff(a, b)), count(Diff(b, a))
		require.Equal(t, there[ValueChanged], back[ValueChanged])
		require.Equal(t, there[LineAdded], back[LineRemoved])
		require.Equal(t, there[SizeAdded], back[SizeRemoved])
		require.Empty(t, Diff(a, a))
	})
}
