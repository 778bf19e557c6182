package models

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tenter/models/fit"
)

func number(x float64) *float64 { return &x }

// TestWhatOpensADecidedFindingAgain goes through the rule by what it says.
func TestWhatOpensADecidedFindingAgain(t *testing.T) {
	was := FindingNumbers{Verdict: fit.Fault, EstimatePct: number(-8), LoPct: number(-9.5), HiPct: number(-6.5), P: number(0.9), Reports: 2}
	for _, row := range []struct {
		name   string
		change func(*FindingNumbers)
		opens  bool
	}{
		{"nothing has changed", func(*FindingNumbers) {}, false},
		{"one report more that says the same", func(n *FindingNumbers) { n.Reports = 3 }, false},
		{"the estimate has moved a little", func(n *FindingNumbers) { n.EstimatePct = number(-9.2) }, false},
		{"the estimate has left its interval", func(n *FindingNumbers) { n.EstimatePct = number(-9.6) }, true},
		{"it is a little surer", func(n *FindingNumbers) { n.P = number(0.99) }, false},
		{"it is far less sure", func(n *FindingNumbers) { n.P = number(0.7) }, true},
		{"it is judged otherwise", func(n *FindingNumbers) { n.Verdict = fit.Suspect }, true},
		{"there is no estimate any more", func(n *FindingNumbers) { n.EstimatePct = nil }, true},
		{"other sizes are concerned", func(n *FindingNumbers) { n.Sizes = []string{"5"} }, true},
	} {
		t.Run(row.name, func(t *testing.T) {
			now := was
			row.change(&now)
			require.Equal(t, row.opens, was.Changed(now) != "", was.Changed(now))
		})
	}
	wide := FindingNumbers{Verdict: fit.Grows, EstimatePct: number(4), LoPct: number(-1), HiPct: number(9)}
	moved := wide
	moved.EstimatePct = number(6.1)
	require.NotEmpty(t, wide.Changed(moved), "within a wide interval two points are much all the same")

	odd := FindingNumbers{Verdict: fit.Slip, EstimatePct: number(-50), MeasuredCM: number(62), Signature: fit.Half}
	again := odd
	again.MeasuredCM = number(61)
	require.NotEmpty(t, odd.Changed(again), "it was measured again")
	other := odd
	other.Signature = fit.InchAsCM
	require.NotEmpty(t, odd.Changed(other))
}

// What is decided on any numbers stays decided on the very same.
func TestTheSameNumbersOpenNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		maybe := func(label string, low, high float64) *float64 {
			if rapid.Bool().Draw(t, label+" there") {
				return number(rapid.Float64Range(low, high).Draw(t, label))
			}
			return nil
		}
		n := FindingNumbers{Verdict: fit.Fault, EstimatePct: maybe("estimate", -90, 200), P: maybe("p", 0, 1), MeasuredCM: maybe("measured", 1, 200)}
		if n.EstimatePct != nil {
			half := rapid.Float64Range(0, 20).Draw(t, "half")
			n.LoPct, n.HiPct = number(*n.EstimatePct-half), number(*n.EstimatePct+half)
		}
		require.Empty(t, n.Changed(n))
	})
}

func TestAKeyIsTheSameWhateverTheNumbers(t *testing.T) {
	a := Finding{Kind: "cell", SizeID: "s", PointID: "p", Message: "one", Numbers: FindingNumbers{P: number(0.8)}}
	b := Finding{Kind: "cell", SizeID: "s", PointID: "p", Message: "two", Verdict: fit.Suspect}
	others := []Finding{{Kind: "point", SizeID: "s", PointID: "p"}, {Kind: "cell", SizeID: "t", PointID: "p"}, {Kind: "cell", SizeID: "s", PointID: "q"},
		{Kind: "cell", SizeID: "s", PointID: "p", VersionID: "v"}, {Kind: "cell", SizeID: "s", PointID: "p", AssignmentID: "a"}, {Kind: "cell", SizeID: "s", PointID: "p", Axis: "row"}}
	a.setKey()
	b.setKey()
	require.Equal(t, a.Key, b.Key)
	for _, o := range others {
		o.setKey()
		require.NotEqual(t, a.Key, o.Key)
	}
}
