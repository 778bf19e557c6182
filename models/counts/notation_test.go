package counts

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// skip stands for a skipped size in the tables of the tests.
var skip = math.NaN()

// list makes values of numbers; skip makes nil.
func list(numbers ...float64) []*float64 {
	out := make([]*float64, len(numbers))
	for i, n := range numbers {
		if !math.IsNaN(n) {
			out[i] = &n
		}
	}
	return out
}

func numbered(n int) []string {
	names := make([]string, n)
	for i := range names {
		names[i] = string(rune('a' + i))
	}
	return names
}

var (
	fourSizes = []string{"S", "M", "L", "XL"}
	fiveSizes = []string{"1", "2", "3", "4", "5"}
	nineSizes = []string{"XS", "S", "M", "L", "1X", "2X", "3X", "4X", "5X"}
)

// The lines are as seen in several published patterns and tutorials (common
// practice); the numbers in front are those of the collection they come from.
func TestReadForPublishedForms(t *testing.T) {
	for _, row := range []struct {
		name, line string
		sizes      []string
		want       []*float64
	}{
		{"1 plain", "Ch 86 (94, 102, 110).", fourSizes, list(86, 94, 102, 110)},
		{"2 ordinals and the row's number apply to all sizes", "Row 1: Sc in 2nd ch from hook and in each ch across - 85 (93, 101, 109) sc.", fourSizes, list(85, 93, 101, 109)},
		{"3 two groups join into one list", "Cast on 72 (80, 88, 96, 104) (112, 120, 128, 136) sts.", nineSizes, list(72, 80, 88, 96, 104, 112, 120, 128, 136)},
		{"4 second group in square brackets", "Cast on 72 (80, 88, 96, 104) [112, 120, 128, 136] sts.", nineSizes, list(72, 80, 88, 96, 104, 112, 120, 128, 136)},
		{"5 colons in square brackets, equal and falling values", "Work 4 [5: 6: 6: 5] rows.", fiveSizes, list(4, 5, 6, 6, 5)},
		{"6 a dash skips the size", "Dec 1 st each end of next - (-, 4, 6) rows.", fourSizes, list(skip, skip, 4, 6)},
		{"7 for some sizes only", "Sizes L and XL only: work 2 more rows in patt.", fourSizes, list(skip, skip, 2, 2)},
		{"11 round brackets are a repeat, square ones the sizes", "(K4, k2tog) 6 [6: 8: 8: 10] times.", fiveSizes, list(6, 6, 8, 8, 10)},
		{"14 a comma before the parenthesis", "Using MC, ch 101, (111, 121, 131).", fourSizes, list(101, 111, 121, 131)},
	} {
		t.Run(row.name, func(t *testing.T) {
			got, err := ReadFor(row.line, row.sizes)
			require.NoError(t, err)
			require.Equal(t, row.want, got.Values)
		})
	}
}

func TestReadForPublishedFormsThatHoldNoSingleCount(t *testing.T) {
	for _, row := range []struct{ name, line, says string }{
		{"8 two measurements", "Rep Rows 2 and 3 until piece measures 14½ (15, 15½, 16)\" [37 (38, 39.5, 40.5) cm] from beg.", "more than one list"},
		{"10 repeats and stitches", "*K2, p2; rep from * 9 (10, 11, 12) more times, k2. [42 (46, 50, 54) sts]", "more than one list (9 (10, 11, 12) and 42 (46, 50, 54))"},
		{"12 repeats and stitches", "Next row: [Sc in next 5 sts, 2 sc in next st] 12 (13, 14, 15) times - 84 (91, 98, 105) sts.", "more than one list"},
		{"15 one value too many", "Fasten off after 3 (3, 4, 5, 5) rows.", "5 values for 4 sizes"},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, err := ReadFor(row.line, fourSizes)
			require.ErrorContains(t, err, row.says)
		})
	}
}

func TestReadForForms(t *testing.T) {
	for _, row := range []struct {
		name, text string
		want       []*float64
	}{
		{"one number for all", "12", list(12, 12, 12)},
		{"one number with its unit", "12 sts", list(12, 12, 12)},
		{"one number, chains", "ch 12.", list(12, 12, 12)},
		{"commas", "146 (158, 170)", list(146, 158, 170)},
		{"spaces", "146 (158 170)", list(146, 158, 170)},
		{"slashes", "146 (158/170)", list(146, 158, 170)},
		{"colons", "146 (158:170)", list(146, 158, 170)},
		{"semicolons", "146 [158; 170]", list(146, 158, 170)},
		{"no space before the bracket", "146(158,170)", list(146, 158, 170)},
		{"groups of one", "146 (158) (170)", list(146, 158, 170)},
		{"unit after", "146 (158, 170) sts", list(146, 158, 170)},
		{"unit after the first", "146 sts (158, 170)", list(146, 158, 170)},
		{"unit after each", "146 sts (158 sts, 170 sts)", list(146, 158, 170)},
		{"unit in the bracket", "146 (158, 170 sts)", list(146, 158, 170)},
		{"unit joined to the number", "146sts (158sts, 170sts)", list(146, 158, 170)},
		{"a letter joined to the first", "K6 (8, 10), p2.", list(6, 8, 10)},
		{"ordinals that change with the size", "Dec every 4th (6th, 8th) row.", list(4, 6, 8)},
		{"en dash", "22 (24, –)", list(22, 24, skip)},
		{"em dash", "22 (—, 26)", list(22, skip, 26)},
		{"hyphen", "- (24, 26)", list(skip, 24, 26)},
		{"two hyphens", "22 (--, 26)", list(22, skip, 26)},
		{"x", "22 (x, 26)", list(22, skip, 26)},
		{"capital X first", "X (24, 26)", list(skip, 24, 26)},
		{"n/a", "n/a (24, N/A)", list(skip, 24, skip)},
		{"all skip", "–", list(skip, skip, skip)},
		{"nought is a value", "0 (0, 2)", list(0, 0, 2)},
		{"halves as glyphs", "14½ (15, 15½)", list(14.5, 15, 15.5)},
		{"halves typed", "14 1/2 (15, 15 1/2)", list(14.5, 15, 15.5)},
		{"halves as decimals", "14.5 (15, .5)", list(14.5, 15, 0.5)},
		{"a slash that parts values", "4 (1/2)", list(4, 1, 2)},
		{"a half typed, for all", "3 1/2", list(3.5, 3.5, 3.5)},
		{"a spreadsheet's row", "146\t158\t170", list(146, 158, 170)},
		{"bare commas", "146, 158, 170 sts", list(146, 158, 170)},
		{"all in brackets", "Ch (146, 158, 170).", list(146, 158, 170)},
		{"all in brackets after a dash", "across - (85, 93, 101) sc", list(85, 93, 101)},
		{"the row's number is not the count", "Row 1: sc in each ch – 85 (93, 101) sc", list(85, 93, 101)},
		{"the row's number, one count", "Row 7: sc in each ch – 85 sc", list(85, 85, 85)},
		{"a chain and the closing count", "Row 3: ch 1, sc in each st – 85 sc.", list(85, 85, 85)},
		{"the closing count in brackets", "K to end, turn, ch 2. [85 sts]", list(85, 85, 85)},
		{"only one number can be meant", "Rows 2-5: K2tog, k1 – work 12 times", list(12, 12, 12)},
		{"a measurement beside the only number", "Work 3 cm in rib, then inc 12", list(12, 12, 12)},
		{"a row's numbers beside the count", "Row 5 (7, 9): – 85 (93, 101) sts", list(85, 93, 101)},
		{"the sizes' names beside the count", "Sizes 1 (2, 3): cast on 72 (80, 88)", list(72, 80, 88)},
		{"a measurement beside the count", "Work 22 (24, 26) rows [10 (11, 12) cm]", list(22, 24, 26)},
		{"a number with a note beside the count", "ch 3 (1 dc), dc across – 85 (93, 101) sts", list(85, 93, 101)},
		{"a gloss in square brackets", "K6 (8, 10) [42 sts]", list(6, 8, 10)},
		{"the same list twice", "85 (93, 101) sc – 85 (93, 101) sts", list(85, 93, 101)},
		{"for one size only", "Size C only: ch 4", list(skip, skip, 4)},
		{"for two sizes only, a value each", "Sizes a and c only: ch 4 (6)", list(4, skip, 6)},
		{"over a line's end", "146 (158,\n170) sts", list(146, 158, 170)},
	} {
		t.Run(row.name, func(t *testing.T) {
			got, err := ReadFor(row.text, numbered(3))
			require.NoError(t, err)
			require.Equal(t, row.want, got.Values)
		})
	}
}

func TestReadForSomeSizesOnly(t *testing.T) {
	sizes := []string{"0/1", "2/3", "4/5", "6"}
	for _, row := range []struct {
		name, text string
		want       []*float64
	}{
		{"a slash in the name", "Size 2/3 only: ch 4", list(skip, 4, skip, skip)},
		{"slashes in two names", "Sizes 2/3 and 4/5 only: ch 4", list(skip, 4, 4, skip)},
		{"a list with commas", "For sizes 0/1, 4/5, and 6 only, ch 4 (5, 6)", list(4, skip, 5, 6)},
		{"capitals", "SIZES 2/3 & 6 ONLY – 4 (–)", list(skip, 4, skip, skip)},
	} {
		t.Run(row.name, func(t *testing.T) {
			got, err := ReadFor(row.text, sizes)
			require.NoError(t, err)
			require.Equal(t, row.want, got.Values, Print(got.Values, Layout{}))
		})
	}
	got, err := ReadFor("Sizes L/XL only: ch 4", fourSizes)
	require.NoError(t, err)
	require.Equal(t, list(skip, skip, 4, 4), got.Values)
	_, err = ReadFor("Sizes XL and L only: ch 4 (6)", fourSizes)
	require.ErrorContains(t, err, "out of order")
	_, err = ReadFor("Sizes L and XL only: ch 4 (6, 8)", fourSizes)
	require.ErrorContains(t, err, "3 values for 2 sizes")
}

func TestReadForRefuses(t *testing.T) {
	for _, row := range []struct{ name, text, says string }{
		{"nothing", " ", "is empty"},
		{"no number", "work to the end", "holds no list"},
		{"only ordinals and labels", "Row 3: sc in 2nd ch", "holds no list"},
		{"two numbers", "work 2 rows, then 4 rows", "no single list can be told in this text (2, 4)"},
		{"too few values", "146 (158)", "2 values for 3 sizes"},
		{"too many in two groups", "146 (158) (170, 182)", "4 values for 3 sizes"},
		{"a letter for a digit", "146 (158, 17O)", `"17O" is not a number`},
		{"an empty place", "146 (158, , 170)", "empty place"},
		{"a comma too many", "146 (158, 170,)", "empty place"},
		{"a range", "146 (158–170)", "is not parted"},
		{"an open bracket", "146 (158, 170", "is not closed"},
		{"brackets that do not match", "146 (158, 170]", "is closed by"},
		{"a negative number reads as a skip too many", "146 (-158, 170)", "is not parted"},
		{"more than a count can be", "2000000 (3, 4)", "more than a count can be"},
		{"hundreds of digits", "999999999999999999999999999 (3, 4)", "more than a count can be"},
		{"a size that is not there", "Size Q only: ch 4", `size "Q"`},
		{"broken text", "146 (158\xff)", "UTF-8"},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, err := ReadFor(row.text, numbered(3))
			require.ErrorContains(t, err, row.says)
		})
	}
}

func TestReadKeepsTheLayout(t *testing.T) {
	got, err := Read("Cast on 72 (80, 88) [96, 104, 112] sts.")
	require.NoError(t, err)
	require.Equal(t, list(72, 80, 88, 96, 104, 112), got.Values)
	require.Equal(t, Layout{Groups: []Group{{Sizes: 2}, {Sizes: 3, Square: true}}}, got.Layout)
	require.Equal(t, "72 (80, 88) [96, 104, 112]", Print(got.Values, got.Layout))
}

func TestPrint(t *testing.T) {
	three := Layout{Groups: []Group{{Sizes: 1}, {Sizes: 1, Square: true}}}
	for _, row := range []struct {
		name   string
		values []*float64
		layout Layout
		want   string
	}{
		{"one pair of parentheses", list(146, 158, 170), Layout{}, "146 (158, 170)"},
		{"the design's own groups", list(146, 158, 170), three, "146 (158) [170]"},
		{"a layout for other sizes gives way", list(146, 158), three, "146 (158)"},
		{"the same for all prints once", list(12, 12, 12), three, "12"},
		{"unless a size skips it", list(12, skip, 12), Layout{}, "12 (–, 12)"},
		{"skipped by the first", list(skip, skip, 4), Layout{}, "– (–, 4)"},
		{"skipped by all", list(skip, skip), Layout{}, "– (–)"},
		{"one size", list(12), Layout{}, "12"},
		{"one size, skipped", list(skip), Layout{}, "–"},
		{"a fraction", list(14.5, 15), Layout{}, "14.5 (15)"},
		{"nothing", nil, Layout{}, ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			require.Equal(t, row.want, Print(row.values, row.layout))
		})
	}
}

func TestReadSizeNames(t *testing.T) {
	for _, row := range []struct {
		name, text string
		want       []string
		layout     Layout
	}{
		{"letters", "S (M, L)", []string{"S", "M", "L"}, Layout{Groups: []Group{{Sizes: 2}}}},
		{"groups", "XS (S, M, L) [1X, 2X]", []string{"XS", "S", "M", "L", "1X", "2X"}, Layout{Groups: []Group{{Sizes: 3}, {Sizes: 2, Square: true}}}},
		{"ages with words", "3 months (6 months, 12 months)", []string{"3 months", "6 months", "12 months"}, Layout{Groups: []Group{{Sizes: 2}}}},
		{"a slash in a name", "2/3 (4/5, 6/7)", []string{"2/3", "4/5", "6/7"}, Layout{Groups: []Group{{Sizes: 2}}}},
		{"spaces", "1 (2 3)", []string{"1", "2", "3"}, Layout{Groups: []Group{{Sizes: 2}}}},
		{"no brackets", "S, M, L", []string{"S", "M", "L"}, Layout{Groups: []Group{{Sizes: 2}}}},
		{"one size", "One size", []string{"One size"}, Layout{}},
	} {
		t.Run(row.name, func(t *testing.T) {
			names, layout, err := ReadSizeNames(row.text)
			require.NoError(t, err)
			require.Equal(t, row.want, names)
			require.Equal(t, row.layout, layout)
		})
	}
	for text, says := range map[string]string{
		"S (S, M)": "there twice", "S (M, )": "give a name", "S (M": "not closed", "": "is empty",
	} {
		_, _, err := ReadSizeNames(text)
		require.ErrorContains(t, err, says, text)
	}
}

func TestFindLists(t *testing.T) {
	text := "Größe: cast on 72 (80, 88) sts.\n" +
		"*K2, p2; rep from * 9 (10, 11) more times, k2. [42 (46, 50) sts]\n" +
		"(K4, k2tog) 6 [6: 8] times until piece measures 14½ (15, 16)\".\n" +
		"ch 3 (counts as dc); see (1, 2); 5 (6, 7O) rows\n"
	found, err := FindLists(text)
	require.NoError(t, err)
	type row struct {
		text, unit string
		line       int
		measure    bool
		problem    string
	}
	want := []row{
		{"72 (80, 88)", UnitStitch, 1, false, ""},
		{"9 (10, 11)", "", 2, false, ""},
		{"42 (46, 50)", UnitStitch, 2, false, ""},
		{"6 [6: 8]", UnitRepeat, 3, false, ""},
		{"14½ (15, 16)", "", 3, true, ""},
		{"5 (6, 7O)", UnitRow, 4, false, `"7O" is not a number`},
	}
	require.Len(t, found, len(want))
	runes := []rune(text)
	for i, f := range found {
		require.Equal(t, want[i], row{f.Text, f.Unit, f.Line, f.Measure, f.Problem})
		require.Equal(t, f.Text, text[f.Start:f.End], "byte offsets")
		require.Equal(t, f.Text, string(runes[f.StartRune:f.EndRune]), "rune offsets")
	}
	require.Equal(t, list(42, 46, 50), found[2].Values)
}

func TestReadMultiple(t *testing.T) {
	// Cases 13, m1 to m5 of the collection: common practice, seen in several
	// published patterns and tutorials; m1 is made up.
	for _, row := range []struct {
		name, text string
		want       Multiple
	}{
		{"13 with the foundation chain", "Stitch multiple: multiple of 6 + 2 (add 1 for the foundation chain).", Multiple{6, 2, 1}},
		{"m1 with a wish", "multiple of 8 + 2, want about 70 sts", Multiple{8, 2, 0}},
		{"m2 chains", "multiple of 6 + 2 chains, about 70", Multiple{6, 2, 0}},
		{"m3", "multiple of 5 + 1", Multiple{5, 1, 0}},
		{"m4 the second addend is for turning", "multiple of 3 + 1 + 1 (second 1 is the turning allowance of the foundation chain)", Multiple{3, 1, 1}},
		{"m5", "multiple of 3 + 2", Multiple{3, 2, 0}},
		{"in words", "a Multiple of 6 sts plus 2", Multiple{6, 2, 0}},
		{"nothing added", "mult of 4 sts.", Multiple{4, 0, 0}},
		{"something taken away", "multiple of 4 − 1", Multiple{4, -1, 0}},
	} {
		t.Run(row.name, func(t *testing.T) {
			got, err := ReadMultiple(row.text)
			require.NoError(t, err)
			require.Equal(t, row.want, got)
			again, err := ReadMultiple(got.String())
			require.NoError(t, err)
			require.Equal(t, got, again)
		})
	}
	for text, says := range map[string]string{
		"6 + 2": "does not state one", "multiple of 0 + 2": "must be 1 or more",
		"multiple of 6 or multiple of 8": "does not state one", "multiple of 99999": "out of bounds",
		"multiple of 3 + 1 + 1 + 1": "more than two",
	} {
		_, err := ReadMultiple(text)
		require.ErrorContains(t, err, says, text)
	}
}

func TestMultipleCounts(t *testing.T) {
	m := Multiple{Of: 6, Plus: 2, FoundationAdd: 1}
	// Case 13: the counts that fit, and the chain for 32 stitches.
	for _, v := range []float64{8, 14, 20, 26, 32} {
		require.True(t, m.Fits(v), v)
	}
	require.Equal(t, 33, m.Chain(32))
	require.Equal(t, 5, Multiple{3, 1, 1}.Chain(4), "m4: the chain is 3n + 2")

	require.Equal(t, 74.0, Multiple{Of: 8, Plus: 2}.Closest(70), "m1: 66 and 74 are equally near, the larger is taken")
	require.Equal(t, 68.0, m.Closest(70), "m2: 6 × 11 + 2")
	require.Equal(t, []float64{152, 158}, m.Nearest(157), "the contract's example")
	require.Equal(t, []float64{2}, m.Nearest(1), "none below nothing")
	require.Equal(t, []float64{158}, m.Nearest(158))
	require.Equal(t, []float64{152, 158}, m.Nearest(152.5))
	require.False(t, m.Fits(152.5))
	require.False(t, m.Fits(-4))
}

// Count lines of an invented design, as a studio would hand them over.
const pulloverLines = `# Invented design: adult pullover in crochet
body | sts | base round of the body | 122 (134, 150, 162) (178, 190, 206) (218, 234)
back | sts | back panel | 62 (68, 76, 82) (90, 96, 104) (110, 118)
left_front | sts | left front; shares one stitch with the back | 31 (34, 38, 41) (45, 48, 52) (55, 59)
right_front | sts | right front; shares one stitch with the back | 31 (34, 38, 41) (45, 48, 52) (55, 59)
hem | sts | foundation | 114 (130, 146, 158) (174, 186, 202) (214, 230)
upper_arm | sts | picked up round the armhole | 38 (42, 46, 48) (52, 56, 60) (64, 66)
cuff | sts | after the decreases | 28 (30, 30, 32) (34, 34, 36) (36, 38)
neck | sts | left unworked for the neck | 26 (28, 28, 28) (28, 30, 30) (30, 32)
armhole_rows | rows | each panel | 19 (20, 21, 22) (23, 24, 25) (26, 27)
length_rows | rows | hem to shoulder | 60 (60, 62, 62) (62, 64, 64) (66, 66)

sleeve_rows | rows | underarm to cuff | 48 (48, 48, 50) (50, 50, 50) (50, 50)
`

func TestReadNamedLines(t *testing.T) {
	lines, problems, err := ReadNamedLines(pulloverLines)
	require.NoError(t, err)
	require.Empty(t, problems)
	require.Len(t, lines, 11)
	require.Equal(t, NamedLine{
		Name: "body", Unit: UnitStitch, Description: "base round of the body",
		List: List{Values: list(122, 134, 150, 162, 178, 190, 206, 218, 234),
			Layout: Layout{Groups: []Group{{Sizes: 3}, {Sizes: 3}, {Sizes: 2}}}},
	}, lines[0])
	require.Equal(t, UnitRow, lines[10].Unit)
	require.Equal(t, "122 (134, 150, 162) (178, 190, 206) (218, 234)", Print(lines[0].Values, lines[0].Layout))
}

func TestReadNamedLinesSaysWhichLineIsWrong(t *testing.T) {
	lines, problems, err := ReadNamedLines("a | sts | 1 (2, 3)\nb | yards | 1 (2, 3)\nno fields\na | sts | | 4\nc | running row | end of yoke | 20 (2O, 21)\nd | row number | | 20 (22, 24)")
	require.NoError(t, err)
	require.Len(t, lines, 2)
	require.Equal(t, UnitRowNumber, lines[1].Unit)
	require.Equal(t, []LineProblem{
		{2, `"yards" is no unit of a count; write sts, rows, repeats or row number`},
		{3, "write name | unit | what it is | counts"},
		{4, "a is already on line 1"},
		{5, `c: "2O" is not a number`},
	}, problems)
}
