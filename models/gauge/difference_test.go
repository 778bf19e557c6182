package gauge_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tenter/models/gauge"
)

// Percentages worked by hand: 100 (own/reference - 1); intervals
// 100 (ratio e^(±1.96 u) - 1) with u = 0.2466/count, computed in Python.
func TestAgainstStated(t *testing.T) {
	design := gauge.Over(16, 20, 10, "cm")
	for name, c := range map[string]struct {
		own      gauge.Gauge
		stitches gauge.Difference
	}{
		"half a stitch is within counting": {gauge.Over(16.25, 0, 10, "cm"), gauge.Difference{
			Axis: "stitch", Verdict: gauge.SameGauge, Percent: 1.5625,
			Message: "16.3 stitches over 10 cm against 16 is 1.6 % more, within what counting can tell (±3 %)."}},
		"two stitches more are tighter": {gauge.Over(18, 0, 10, "cm"), gauge.Difference{
			Axis: "stitch", Verdict: gauge.Tighter, Percent: 12.5,
			Message: "18 stitches over 10 cm against 16 is 12.5 % more (9.5 to 15.6 %): the piece comes out narrower."}},
		"two stitches fewer are looser": {gauge.Over(14, 0, 10, "cm"), gauge.Difference{
			Axis: "stitch", Verdict: gauge.Looser, Percent: -12.5,
			Message: "14 stitches over 10 cm against 16 is 12.5 % fewer (−15.5 to −9.4 %): the piece comes out wider."}},
		"the same number over 4 in is 1.6 % fewer": {gauge.Over(16, 0, 4, "in"), gauge.Difference{
			Axis: "stitch", Verdict: gauge.SameGauge, Percent: -1.574803,
			Message: "15.7 stitches over 10 cm against 16 is 1.6 % fewer, within what counting can tell (±3 %)."}},
		"the stated number itself is the same": {gauge.Over(16, 0, 10, "cm"), gauge.Difference{
			Axis: "stitch", Verdict: gauge.SameGauge, Percent: 0,
			Message: "16 stitches over 10 cm against 16 is the same, as far as counting can tell (±3 %)."}},
		"no stitches": {gauge.Over(0, 20, 10, "cm"), gauge.Difference{
			Axis: "stitch", Verdict: gauge.NotCounted,
			Message: "The stitches were not counted on both sides, so there is nothing to compare."}},
	} {
		t.Run(name, func(t *testing.T) {
			got := gauge.AgainstStated(c.own, design)
			require.Len(t, got, 2)
			d := got[0]
			require.Equal(t, c.stitches.Verdict, d.Verdict)
			require.Equal(t, c.stitches.Percent, d.Percent)
			require.Equal(t, c.stitches.Message, d.Message)
			require.Equal(t, gauge.Row, got[1].Axis)
		})
	}
	rows := gauge.AgainstStated(gauge.Over(16, 22, 10, "cm"), design)[1]
	require.Contains(t, rows.Message, "shorter")
	require.InDelta(t, 100*1.1*0.2466/22, rows.UncertaintyPercent, 1e-3)
}

func TestCountingBothSidesTellsLess(t *testing.T) {
	own, ref := gauge.Over(15.4, 0, 10, "cm"), gauge.Over(16, 0, 10, "cm")
	require.Equal(t, gauge.Looser, gauge.AgainstStated(own, ref)[0].Verdict, "3.8 % against u = 1.6 %")
	require.Equal(t, gauge.SameGauge, gauge.BetweenCounts(own, ref)[0].Verdict, "3.8 % against u = 2.2 %")
}

func TestDifferencesMirror(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := gauge.Gauge{Stitch: drawSwatch(t)}, gauge.Gauge{Stitch: drawSwatch(t)}
		ab, ba := gauge.BetweenCounts(a, b)[0], gauge.BetweenCounts(b, a)[0]
		require.InDelta(t, 1, (1+ab.Percent/100)*(1+ba.Percent/100), 1e-4)
		mirror := map[gauge.Verdict]gauge.Verdict{gauge.SameGauge: gauge.SameGauge, gauge.Tighter: gauge.Looser, gauge.Looser: gauge.Tighter}
		require.Equal(t, mirror[ab.Verdict], ba.Verdict)
		require.LessOrEqual(t, ab.LowPercent, ab.Percent)
		require.LessOrEqual(t, ab.Percent, ab.HighPercent)

		same := gauge.BetweenCounts(a, a)[0]
		require.Equal(t, gauge.SameGauge, same.Verdict)
		require.Zero(t, same.Percent)
	})
}

// ISO 5077's convention: dimensional change = 100 (after - before)/before, so
// negative is shrinkage. A gauge that goes from 16 to 15 stitches lets a width
// grow by 16/15 - 1 = 6.67 %; from 20 to 22 rows a length shrinks by 9.09 %.
func TestWashed(t *testing.T) {
	got := gauge.Washed(gauge.Over(16, 20, 10, "cm"), gauge.Over(15, 22, 10, "cm"))
	require.Equal(t, 6.666667, got[0].Percent)
	require.True(t, got[0].Told)
	require.Equal(t, "Washing made the fabric 6.7 % wider (16 stitches over 10 cm before, 15 after).", got[0].Message)
	require.Equal(t, -9.090909, got[1].Percent)
	require.Equal(t, "Washing made the fabric 9.1 % shorter (20 rows over 10 cm before, 22 after).", got[1].Message)

	little := gauge.Washed(gauge.Over(16, 0, 10, "cm"), gauge.Over(15.5, 0, 10, "cm"))
	require.False(t, little[0].Told)
	require.Contains(t, little[0].Message, "no more than counting can tell")
	require.False(t, little[1].Known)
	require.Zero(t, little[1].Percent)
}

func TestSamplesBearOut(t *testing.T) {
	design := gauge.Over(16, 20, 10, "cm")
	washed := func(stitches, rows float64) gauge.SampleGauge {
		return gauge.SampleGauge{After: gauge.Over(stitches, rows, 10, "cm")}
	}
	unwashed := gauge.SampleGauge{Before: design}
	for name, c := range map[string]struct {
		samples []gauge.SampleGauge
		answer  gauge.Answer
		message string
	}{
		"no samples": {nil, gauge.NoWashedGauge, "No sample has a washed gauge yet."},
		"an unwashed gauge says nothing": {[]gauge.SampleGauge{unwashed}, gauge.NoWashedGauge,
			"No sample has a washed gauge yet."},
		"one sample that agrees": {[]gauge.SampleGauge{unwashed, washed(16, 20)}, gauge.BearsOut,
			"The gauge after washing bears out the stated one, in stitches and in rows."},
		"rows not counted after washing": {[]gauge.SampleGauge{washed(16, 0)}, gauge.NotAllCounted,
			"No sample has its rows counted after washing."},
		"stitches out decide before rows missing": {[]gauge.SampleGauge{washed(18, 0)}, gauge.DoesNot,
			"The washed sample has 18 stitches over 10 cm where the design states 16: that is 12.5 % more; correct the stated gauge or make another sample."},
		"a mean that is out": {[]gauge.SampleGauge{washed(16, 18), washed(16, 18.5)}, gauge.DoesNot,
			"2 washed samples have, on average, 18.3 rows over 10 cm where the design states 20: that is 8.8 % fewer; correct the stated gauge or make another sample."},
		"two that are out on either side agree on average": {[]gauge.SampleGauge{washed(15, 20), washed(17, 20)}, gauge.BearsOut,
			"The gauge after washing bears out the stated one, in stitches and in rows."},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := gauge.SamplesBearOut(design, c.samples, gauge.BearsOutTolerancePercent)
			require.NoError(t, err)
			require.Equal(t, c.answer, got.Answer)
			require.Equal(t, c.message, got.Message)
			require.Len(t, got.Axes, 2)
		})
	}
}

// The rule's edge, by hand: one sample of 16 stitches has u = 0.2466 stitch, so
// against a stated 17 it is 5.88 % off and allowed 3 + 1.96 × 0.2466/17 = 5.84 %;
// with four such samples counting allows half of that.
func TestSamplesBearOutAtTheEdge(t *testing.T) {
	sample := gauge.SampleGauge{After: gauge.Over(16, 0, 10, "cm")}
	answer := func(stated float64, n int) gauge.Answer {
		got, err := gauge.SamplesBearOut(gauge.Over(stated, 0, 10, "cm"), repeated(sample, n), 3)
		require.NoError(t, err)
		return got.Answer
	}
	require.Equal(t, gauge.DoesNot, answer(17, 1))
	require.Equal(t, gauge.BearsOut, answer(16.98, 1), "5.77 % off, allowed 5.85 %")
	require.Equal(t, gauge.DoesNot, answer(16.98, 4), "allowed 4.42 %")
}

func repeated(s gauge.SampleGauge, n int) []gauge.SampleGauge {
	out := make([]gauge.SampleGauge, n)
	for i := range out {
		out[i] = s
	}
	return out
}

func TestSamplesBearOutRefuses(t *testing.T) {
	design := gauge.Over(16, 20, 10, "cm")
	_, err := gauge.SamplesBearOut(gauge.Gauge{}, nil, 3)
	requireField(t, err, "design", "states no gauge")
	_, err = gauge.SamplesBearOut(gauge.Over(-16, 0, 10, "cm"), nil, 3)
	requireField(t, err, "design.stitch.count", "more than 0")
	_, err = gauge.SamplesBearOut(design, nil, 50)
	requireField(t, err, "tolerance_percent", "between 0 and 20")
	_, err = gauge.SamplesBearOut(design, []gauge.SampleGauge{{}, {After: gauge.Over(16, -1, 10, "cm")}}, 3)
	requireField(t, err, "samples[1].after.row.count", "more than 0")
	_, err = gauge.SamplesBearOut(design, []gauge.SampleGauge{{Before: gauge.Over(16, 1, 0, "cm")}}, 3)
	requireField(t, err, "samples[0].before.stitch.over", "span of")
}
