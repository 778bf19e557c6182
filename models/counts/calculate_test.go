package counts

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models/gauge"
)

// tenCM is a gauge of stitches and rows over 10 cm.
func tenCM(stitches, rows float64) *gauge.Entry {
	return &gauge.Entry{Stitches: &stitches, Rows: &rows, Span: pointer(10), Unit: gauge.Centimetre}
}

// contractInput is the worked example of the calculation's contract: three
// sizes at 15 stitches and 17 rows over 10 cm.
func contractInput() Input {
	return Input{
		Sizes: []string{"1", "2", "3"},
		Gauge: tenCM(15, 17),
		Counts: []Count{
			{Name: "body", Unit: UnitStitch, Values: list(146, 158, 170)},
			{Name: "left", Unit: UnitStitch, Values: list(37, 40, 43)},
			{Name: "back", Unit: UnitStitch, Values: list(74, 80, 86)},
			{Name: "right", Unit: UnitStitch, Values: list(37, 40, 43)},
			{Name: "yoke_rows", Unit: UnitRow, Text: "22 (24, –)"},
		},
		Rules: []Rule{
			{Name: "panels meet", Kind: KindHolds, Expr: "left + back + right == body + 2"},
			{Name: "shell repeat", Kind: KindMultiple, Expr: "body", Of: 6, Plus: 2},
		},
		Points: []Point{{Name: "bust", Axis: AxisStitch, Expr: "body", Tolerance: pointer(2),
			Intended: list(97, 105, 113), Body: list(86, 94, 102), Ease: []float64{8, 14}}},
	}
}

func mustCalculate(t *testing.T, in Input) Output {
	t.Helper()
	out, err := Calculate(in)
	require.NoError(t, err)
	return out
}

func TestCalculateFindsNothingInASoundSheet(t *testing.T) {
	out := mustCalculate(t, contractInput())
	require.Empty(t, out.Findings)
	// 146 stitches at 15 over 10 cm are 97.33 cm, worked by hand.
	require.Equal(t, []Finished{
		{Point: "bust", Size: "1", Expected: 97.33, Intended: pointer(97), Ease: pointer(11.33)},
		{Point: "bust", Size: "2", Expected: 105.33, Intended: pointer(105), Ease: pointer(11.33)},
		{Point: "bust", Size: "3", Expected: 113.33, Intended: pointer(113), Ease: pointer(11.33)},
	}, out.Finished)
	require.Equal(t, Line{Name: "body", Text: "146 (158, 170)"}, out.Lines[0])
	require.Equal(t, Line{Name: "yoke_rows", Text: "22 (24, –)"}, out.Lines[4])
}

// The numbers are those of the contract's example answer.
func TestCalculateFindings(t *testing.T) {
	in := contractInput()
	in.Counts[0].Values = list(146, 157, 170)
	in.Counts[1].Values = list(37, 40, 43)
	in.Counts[2].Values = list(74, 80, 86)
	in.Points[0].Intended = list(97, 105, 118)
	in.Points[0].Body = list(86, 94, 98)
	out := mustCalculate(t, in)
	for i := range out.Findings {
		require.NotEmpty(t, out.Findings[i].Message)
		out.Findings[i].Message = ""
	}
	require.Equal(t, []Finding{
		{Kind: "rule", Name: "panels meet", Size: "2", Left: pointer(160), Right: pointer(159), Difference: pointer(1)},
		{Kind: "multiple", Name: "shell repeat", Size: "2", Value: pointer(157), Nearest: []float64{152, 158}},
		{Kind: "intended", Name: "bust", Size: "3", Expected: pointer(113.33), Intended: pointer(118), Difference: pointer(-4.67)},
		{Kind: "ease", Name: "bust", Size: "3", Expected: pointer(113.33), Body: pointer(98), Ease: pointer(15.33), Range: []float64{8, 14}, Difference: pointer(1.33)},
	}, out.Findings)
}

func TestMessagesSayWhatIsWrong(t *testing.T) {
	in := contractInput()
	in.Counts[0].Values = list(146, 157, 170)
	out := mustCalculate(t, in)
	require.Equal(t, "Size 2: left + back + right is 160, and body + 2 is 159; the difference is 1, so left + back + right == body + 2 is not so.", out.Findings[0].Message)
	require.Equal(t, "Size 2: body is 157, and that is no multiple of 6 + 2; the nearest: 152 and 158.", out.Findings[1].Message)
}

func TestASkippedCountKeepsRuleAndPointFromApplying(t *testing.T) {
	in := contractInput()
	in.Rules = []Rule{{Name: "never true", Kind: KindHolds, Expr: "yoke_rows < 0"}}
	in.Points = []Point{{Name: "yoke", Axis: AxisRow, Expr: "yoke_rows", Add: 1.5}}
	out := mustCalculate(t, in)
	require.Len(t, out.Findings, 2)
	// 22 rows at 17 over 10 cm are 12.94 cm, and 1.5 of edging.
	require.Equal(t, []Finished{{Point: "yoke", Size: "1", Expected: 14.44}, {Point: "yoke", Size: "2", Expected: 15.62}}, out.Finished)
}

func TestGaugeOverInches(t *testing.T) {
	in := contractInput()
	in.Gauge = &gauge.Entry{Stitches: pointer(18), Span: pointer(4), Unit: gauge.Inch}
	in.Counts[0].Values = list(91, 91, 91)
	in.Rules = nil
	// 91 stitches at 18 over 4 in are 51.3644 cm (arithmetic).
	require.Equal(t, 51.36, mustCalculate(t, in).Finished[0].Expected)
}

func TestOnTheToleranceIsWithinIt(t *testing.T) {
	in := contractInput()
	in.Gauge = tenCM(10, 10)
	in.Rules, in.Points[0].Body, in.Points[0].Ease = nil, nil, nil
	in.Points[0].Intended = list(144, 156, 172.1)
	out := mustCalculate(t, in)
	require.Len(t, out.Findings, 1)
	require.Equal(t, "3", out.Findings[0].Size)
	require.Equal(t, -2.1, *out.Findings[0].Difference)
}

func TestSoundPulloverHasNoFindings(t *testing.T) {
	lines, _, err := ReadNamedLines(pulloverLines)
	require.NoError(t, err)
	in := Input{Sizes: []string{"1", "2", "3", "4", "5", "6", "7", "8", "9"}, Layout: lines[0].Layout, Gauge: tenCM(14, 11),
		Rules: []Rule{
			{Name: "panels meet", Kind: KindHolds, Expr: "left_front + back + right_front = body + 2"},
			{Name: "fronts", Kind: KindHolds, Expr: "left_front = right_front"},
			{Name: "repeat", Kind: KindMultiple, Expr: "body", Of: 4, Plus: 2},
		}}
	for _, l := range lines {
		in.Counts = append(in.Counts, Count{Name: l.Name, Unit: l.Unit, Text: Print(l.Values, l.Layout)})
	}
	out := mustCalculate(t, in)
	require.Empty(t, out.Findings)
	require.Equal(t, "122 (134, 150, 162) (178, 190, 206) (218, 234)", out.Lines[0].Text, "the design's own grouping")
}

func TestRunningRowNumbers(t *testing.T) {
	in := Input{Sizes: []string{"1", "2", "3"}, Counts: []Count{
		{Name: "yoke_end", Unit: UnitRowNumber, Text: "22 (24, 26)"},
		{Name: "stitches", Unit: UnitStitch, Text: "100 (110, 120)"},
		{Name: "body_end", Unit: UnitRowNumber, Text: "60 (63, –)"},
		{Name: "hem_end", Unit: UnitRowNumber, Text: "66 (62, 70)"},
	}}
	require.Equal(t, []Section{{After: "yoke_end", Name: "body_end", Rows: list(38, 39, skip), Text: "38 (39, –)"}},
		mustCalculate(t, in).Sections, "a hem that ends before the body makes no section")
	_, err := SectionRows(list(60, 63), list(66, 62))
	require.ErrorContains(t, err, "ends at row 62, before it starts after row 63")
	_, err = SectionRows(list(60), list(66, 62))
	require.ErrorContains(t, err, "1 start and 2 ends")
}

func TestCalculateRefuses(t *testing.T) {
	many := func(n int) []string {
		names := make([]string, n)
		for i := range names {
			names[i] = fmt.Sprint(i)
		}
		return names
	}
	for _, row := range []struct {
		name        string
		spoil       func(in *Input)
		field, says string
	}{
		{"no sizes", func(in *Input) { in.Sizes = nil }, "sizes", "at least one"},
		{"a size twice", func(in *Input) { in.Sizes[2] = "1" }, "sizes[2]", "twice"},
		{"too many sizes", func(in *Input) { in.Sizes = many(41) }, "sizes", "40 are the most"},
		{"a gauge without a span", func(in *Input) { in.Gauge.Span = nil }, "gauge.span", "is missing"},
		{"no gauge for a point", func(in *Input) { in.Gauge = nil }, "gauge", "no stitches"},
		{"no rows for a point", func(in *Input) { in.Gauge.Rows = nil; in.Points[0].Axis = AxisRow }, "gauge", "no rows"},
		{"a count without a name", func(in *Input) { in.Counts[1].Name = " " }, "counts[1].name", "give a name"},
		{"a count twice", func(in *Input) { in.Counts[1].Name = "body" }, "counts[1].name", "another count"},
		{"a long name", func(in *Input) { in.Counts[1].Name = strings.Repeat("a", 81) }, "counts[1].name", "longer than 80"},
		{"a control character in a name", func(in *Input) { in.Counts[1].Name = "a\x00" }, "counts[1].name", "control"},
		{"an unknown unit", func(in *Input) { in.Counts[1].Unit = "loop" }, "counts[1].unit", "must be stitch"},
		{"values and text", func(in *Input) { in.Counts[1].Text = "1" }, "counts[1]", "both"},
		{"neither", func(in *Input) { in.Counts[1].Values = nil }, "counts[1]", "neither"},
		{"too few values", func(in *Input) { in.Counts[1].Values = list(1, 2) }, "counts[1].values", "2 values for 3 sizes"},
		{"too many values in a text", func(in *Input) { in.Counts[4].Text = "3 (3, 4, 5)" }, "counts[4].text", "4 values for 3 sizes"},
		{"a negative count", func(in *Input) { in.Counts[1].Values[2] = pointer(-1) }, "counts[1].values[2]", "from 0"},
		{"not a number", func(in *Input) { in.Counts[1].Values[2] = pointer(math.NaN()) }, "counts[1].values[2]", "from 0"},
		{"too many counts", func(in *Input) { in.Counts = make([]Count, 401) }, "counts", "400 are the most"},
		{"too many rules", func(in *Input) { in.Rules = make([]Rule, 401) }, "rules", "400 are the most"},
		{"too many points", func(in *Input) { in.Points = make([]Point, 201) }, "points", "200 are the most"},
		{"a name that is no count", func(in *Input) { in.Rules[0].Expr = "front == back" }, "rules[0].expr", `no count named "front"`},
		{"a point's name that is no count", func(in *Input) { in.Points[0].Expr = "front" }, "points[0].expr", `no count named "front"`},
		{"a rule without a name", func(in *Input) { in.Rules[0].Name = "" }, "rules[0].name", "give a name"},
		{"an unknown kind", func(in *Input) { in.Rules[0].Kind = "sum" }, "rules[0].kind", "must be holds or multiple"},
		{"a number that should hold", func(in *Input) { in.Rules[0].Expr = "body" }, "rules[0].expr", "needs a comparison"},
		{"a statement as a multiple", func(in *Input) { in.Rules[1].Expr = "body == 2" }, "rules[1].expr", "needs a number"},
		{"a multiple of nothing", func(in *Input) { in.Rules[1].Of = 0 }, "rules[1].of", "1 or more"},
		{"a division by zero says the size", func(in *Input) { in.Rules[0].Expr = "body / (left - 40) > 0" }, "rules[0].expr", "for size 2: it divides by zero: left - 40 is 0"},
		{"a division by zero in a point", func(in *Input) { in.Points[0].Expr = "body / (left - 43)" }, "points[0].expr", "for size 3: it divides by zero"},
		{"a result that is too large", func(in *Input) { in.Points[0].Expr = "body * 1000000000000 * 1000" }, "points[0].expr", "comes to more than"},
		{"a statement as a point", func(in *Input) { in.Points[0].Expr = "body > 2" }, "points[0].expr", "needs a number"},
		{"an unknown axis", func(in *Input) { in.Points[0].Axis = "round" }, "points[0].axis", "must be stitch or row"},
		{"a point twice", func(in *Input) { in.Points = append(in.Points, in.Points[0]) }, "points[1].name", "another point"},
		{"an infinite constant", func(in *Input) { in.Points[0].Add = math.Inf(1) }, "points[0].add", "at most"},
		{"a negative tolerance", func(in *Input) { in.Points[0].Tolerance = pointer(-1) }, "points[0].tolerance", "from 0"},
		{"too few intended", func(in *Input) { in.Points[0].Intended = list(1) }, "points[0].intended", "1 value for 3 sizes"},
		{"an intended length of NaN", func(in *Input) { in.Points[0].Intended[1] = pointer(math.NaN()) }, "points[0].intended[1]", "from 0"},
		{"too many bodies", func(in *Input) { in.Points[0].Body = list(1, 2, 3, 4) }, "points[0].body", "4 values"},
		{"ease the wrong way round", func(in *Input) { in.Points[0].Ease = []float64{14, 8} }, "points[0].ease", "in that order"},
		{"ease without a body", func(in *Input) { in.Points[0].Body = nil }, "points[0].body", "is needed"},
	} {
		t.Run(row.name, func(t *testing.T) {
			in := contractInput()
			row.spoil(&in)
			_, err := Calculate(in)
			require.ErrorContains(t, err, row.says)
			var at interface{ FieldPath() string }
			require.ErrorAs(t, err, &at)
			require.Equal(t, row.field, at.FieldPath())
			require.True(t, strings.HasPrefix(err.Error(), row.field+": "))
		})
	}
}

func TestCalculateIsDeterministicAndLeavesItsInputAlone(t *testing.T) {
	in := contractInput()
	in.Counts[0].Values = list(146, 157, 150)
	before, err := json.Marshal(in)
	require.NoError(t, err)
	first, err := json.Marshal(mustCalculate(t, in))
	require.NoError(t, err)
	for range 20 {
		again, err := json.Marshal(mustCalculate(t, in))
		require.NoError(t, err)
		require.Equal(t, string(first), string(again))
	}
	after, err := json.Marshal(in)
	require.NoError(t, err)
	require.Equal(t, string(before), string(after))
}

func TestEmptyOutputHasListsAndNoNulls(t *testing.T) {
	b, err := json.Marshal(mustCalculate(t, Input{Sizes: []string{"1"}}))
	require.NoError(t, err)
	require.JSONEq(t, `{"findings": [], "finished": [], "lines": [], "sections": []}`, string(b))
}
