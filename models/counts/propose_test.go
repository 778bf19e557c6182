package counts

import (
	"fmt"
	"math"
	"math/big"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func mustPropose(t testing.TB, in ProposeInput) Proposal {
	t.Helper()
	out, err := Propose(in)
	require.NoError(t, err)
	return out
}

// pulloverProposal asks for the body of a pullover in n sizes: at 14 stitches
// over 10 cm, a body of 76 cm and 10 cm more for each size, with 8 to 13 of ease.
func pulloverProposal(n int) ProposeInput {
	in := ProposeInput{Gauge: tenCM(14, 11)}
	for _, name := range []string{"body", "back", "left_front", "right_front"} {
		in.Counts = append(in.Counts, Count{Name: name, Unit: UnitStitch})
	}
	in.Rules = []Rule{
		{Name: "panels meet", Kind: KindHolds, Expr: "left_front + back + right_front = body + 2"},
		{Name: "fronts are alike", Kind: KindHolds, Expr: "left_front = right_front"},
		{Name: "repeat", Kind: KindMultiple, Expr: "body", Of: 4, Plus: 2},
	}
	bust := Point{Name: "bust", Axis: AxisStitch, Expr: "body", Tolerance: pointer(2), Ease: []float64{8, 13}}
	back := Point{Name: "back width", Axis: AxisStitch, Expr: "back", Tolerance: pointer(1)}
	for k := range n {
		in.Sizes = append(in.Sizes, fmt.Sprint(k+1))
		bust.Body = append(bust.Body, pointer(76+10*float64(k)))
		back.Intended = append(back.Intended, pointer(44+5*float64(k)))
	}
	in.Points = []Point{bust, back}
	return in
}

func TestProposeKeepsTheRules(t *testing.T) {
	in := pulloverProposal(9)
	out := mustPropose(t, in)
	checked := Input{Sizes: in.Sizes, Gauge: in.Gauge, Rules: in.Rules, Points: in.Points}
	for _, c := range out.Counts {
		checked.Counts = append(checked.Counts, Count{Name: c.Name, Unit: c.Unit, Text: c.Text})
	}
	result := mustCalculate(t, checked)
	require.Empty(t, result.Findings)
	require.Equal(t, result.Finished, out.Finished)
	for _, size := range out.Sizes {
		require.True(t, size.Exact)
		require.Empty(t, size.Problem)
	}
	// By hand for size 1: 76 + 10.5 cm are 121.1 stitches, and 122 is 4 × 30 + 2.
	// 44 cm are 61.6 stitches; 62 leaves two fronts of 31.
	require.Equal(t, []float64{122, 62, 31, 31}, []float64{*out.Counts[0].Values[0], *out.Counts[1].Values[0], *out.Counts[2].Values[0], *out.Counts[3].Values[0]})
}

func TestProposeForms(t *testing.T) {
	base := func() ProposeInput {
		return ProposeInput{Sizes: []string{"S"}, Gauge: tenCM(10, 10),
			Counts: []Count{{Name: "a", Unit: UnitStitch}, {Name: "b", Unit: UnitStitch}, {Name: "c", Unit: UnitRow}},
			Points: []Point{
				{Name: "wide", Axis: AxisStitch, Expr: "a", Tolerance: pointer(1), Intended: list(20.4)},
				{Name: "wider", Axis: AxisStitch, Expr: "b", Tolerance: pointer(2), Intended: list(30)},
			}}
	}
	for _, row := range []struct {
		name   string
		change func(in *ProposeInput)
		want   []*float64 // a, b, c
	}{
		{"without rules the nearest whole counts", func(in *ProposeInput) {}, list(20, 30, skip)},
		{"the larger tolerance gives way", func(in *ProposeInput) {
			in.Rules = []Rule{{Name: "seam", Kind: KindHolds, Expr: "b == a + 5"}}
		}, list(21, 26, skip)}, // 22, 27 cost 2.56 + 2.25; 21, 26 cost 0.36 + 4; 20, 25 cost 0.16 + 6.25
		{"a rule that only checks", func(in *ProposeInput) {
			in.Rules = []Rule{{Name: "even", Kind: KindHolds, Expr: "floor(a / 2) * 2 == a - 1 and b > 30"}}
		}, list(21, 31, skip)},
		{"unequal", func(in *ProposeInput) {
			in.Rules = []Rule{{Name: "not that", Kind: KindHolds, Expr: "a != 20"}}
		}, list(21, 30, skip)},
		{"a multiple of a rounded sum", func(in *ProposeInput) {
			in.Rules = []Rule{{Name: "half", Kind: KindMultiple, Expr: "floor(b / 2)", Of: 4}}
		}, list(20, 32, skip)}, // 32 and 33 give 16; 24 and 25 give 12
		{"a kept count", func(in *ProposeInput) {
			in.Counts[0].Text, in.Keep = "18", []string{"a"}
			in.Rules = []Rule{{Name: "seam", Kind: KindHolds, Expr: "b == a + 5"}}
		}, list(18, 23, skip)},
		{"a count that nothing measures stays where it was", func(in *ProposeInput) {
			in.Counts[2].Values = list(44)
			in.Rules = []Rule{{Name: "rows", Kind: KindMultiple, Expr: "c", Of: 6}}
		}, list(20, 30, 42)},
		{"a count in no rule and no point stays as it was", func(in *ProposeInput) { in.Counts[2].Text = "7.5" }, list(20, 30, 7.5)},
		{"a skipped count stays skipped, and its rule does not apply", func(in *ProposeInput) {
			in.Counts[2].Text = "–"
			in.Rules = []Rule{{Name: "rows", Kind: KindHolds, Expr: "a == c"}}
		}, list(20, 30, skip)},
		{"an edging is part of the width", func(in *ProposeInput) { in.Points[1].Add = 4 }, list(20, 26, skip)},
		{"body and the middle of the ease, where nothing is intended", func(in *ProposeInput) {
			in.Points[1].Intended, in.Points[1].Body, in.Points[1].Ease = list(skip), list(30), []float64{4, 8}
		}, list(20, 36, skip)},
		{"half a stitch goes to the smaller count", func(in *ProposeInput) { in.Points[1].Intended = list(30.5) }, list(20, 30, skip)},
		{"never less than nothing", func(in *ProposeInput) { in.Points[1].Intended, in.Points[1].Add = list(3), 5 }, list(20, 0, skip)},
		{"a point over two counts", func(in *ProposeInput) {
			in.Points[1] = Point{Name: "round", Axis: AxisStitch, Expr: "2 * (a + b)", Tolerance: pointer(1), Intended: list(90)}
		}, list(20, 25, skip)},
		{"a balance of halves", func(in *ProposeInput) {
			in.Rules = []Rule{{Name: "halves", Kind: KindHolds, Expr: "a / 2 + b / 3 == 20"}}
		}, list(20, 30, skip)},
	} {
		t.Run(row.name, func(t *testing.T) {
			in := base()
			row.change(&in)
			out := mustPropose(t, in)
			require.Empty(t, out.Sizes[0].Problem)
			got := []*float64{out.Counts[0].Values[0], out.Counts[1].Values[0], out.Counts[2].Values[0]}
			require.Equal(t, row.want, got, Print(got, Layout{}))
		})
	}
}

func TestProposeSaysWhyNot(t *testing.T) {
	for _, row := range []struct {
		name  string
		rules []Rule
		says  string
	}{
		{"balances that contradict one another", []Rule{{Name: "one", Kind: KindHolds, Expr: "a == b"}, {Name: "two", Kind: KindHolds, Expr: "a == b + 1"}}, "no whole counts keep all rules (one, two)"},
		{"a half of a stitch", []Rule{{Name: "odd", Kind: KindHolds, Expr: "2 * a + 4 * b == 7"}}, "no whole counts keep all rules (odd)"},
		{"no whole number at all", []Rule{{Name: "third", Kind: KindHolds, Expr: "a == 1 / 3"}}, "no whole counts keep"},
		{"a count that nothing measures", []Rule{{Name: "free", Kind: KindHolds, Expr: "c > 3"}}, "nothing says how large c should be"},
		{"a check that nothing passes", []Rule{{Name: "never", Kind: KindHolds, Expr: "a * a == 2"}}, "no counts that keep all rules were found near"},
		{"a fixed point that fails its check", []Rule{{Name: "is 20", Kind: KindHolds, Expr: "a == 20"}, {Name: "is more", Kind: KindHolds, Expr: "a > 20"}}, "no counts keep all rules (is 20, is more)"},
		{"a division by zero", []Rule{{Name: "zero", Kind: KindHolds, Expr: "a / (b - b) > 1"}}, "were found near"},
	} {
		t.Run(row.name, func(t *testing.T) {
			out := mustPropose(t, ProposeInput{Sizes: []string{"S"}, Gauge: tenCM(10, 10), Rules: row.rules,
				Counts: []Count{{Name: "a", Unit: UnitStitch}, {Name: "b", Unit: UnitStitch}, {Name: "c", Unit: UnitRow}},
				Points: []Point{
					{Name: "wide", Axis: AxisStitch, Expr: "a", Tolerance: pointer(1), Intended: list(20.4)},
					{Name: "wider", Axis: AxisStitch, Expr: "b", Tolerance: pointer(2), Intended: list(30)},
				}})
			require.Contains(t, out.Sizes[0].Problem, row.says)
			require.Equal(t, list(skip), out.Counts[0].Values)
		})
	}
}

func TestProposeRefuses(t *testing.T) {
	for _, row := range []struct {
		name        string
		spoil       func(in *ProposeInput)
		field, says string
	}{
		{"a point without a tolerance", func(in *ProposeInput) { in.Points[0].Tolerance = nil }, "points[0].tolerance", "above 0"},
		{"a point of a rounding", func(in *ProposeInput) { in.Points[0].Expr = "floor(body)" }, "points[0].expr", "sum of multiples"},
		{"a point of a product", func(in *ProposeInput) { in.Points[0].Expr = "body * back" }, "points[0].expr", "sum of multiples"},
		{"a point of a constant", func(in *ProposeInput) { in.Points[0].Expr = "12" }, "points[0].expr", "sum of multiples"},
		{"keeping what is not there", func(in *ProposeInput) { in.Keep = []string{"hem"} }, "keep[0]", "no count"},
		{"keeping what has no values", func(in *ProposeInput) { in.Keep = []string{"body"} }, "keep[0]", "no values"},
		{"no gauge", func(in *ProposeInput) { in.Gauge = nil }, "gauge", "no stitches"},
		{"too many counts tied together", func(in *ProposeInput) {
			var sum []string
			for i := range 25 {
				name := fmt.Sprintf("n%d", i)
				in.Counts = append(in.Counts, Count{Name: name, Unit: UnitStitch})
				sum = append(sum, name)
			}
			in.Rules = append(in.Rules, Rule{Name: "sum", Kind: KindHolds, Expr: strings.Join(sum, " + ") + " == body"})
		}, "rules", "tie 29 counts together"},
	} {
		t.Run(row.name, func(t *testing.T) {
			in := pulloverProposal(2)
			row.spoil(&in)
			_, err := Propose(in)
			require.ErrorContains(t, err, row.says)
			var at *FieldError
			require.ErrorAs(t, err, &at)
			require.Equal(t, row.field, at.Field)
		})
	}
}

// bruteBest tries all counts from 0 to most.
func bruteBest(most int, legal func(a, b, c int) bool, cost func(a, b, c int) float64) (best [3]int, least float64, found bool) {
	least = math.Inf(1)
	for a := 0; a <= most; a++ {
		for b := 0; b <= most; b++ {
			for c := 0; c <= most; c++ {
				if !legal(a, b, c) {
					continue
				}
				if v := cost(a, b, c); v < least-sameCost {
					best, least, found = [3]int{a, b, c}, v, true
				}
			}
		}
	}
	return best, least, found
}

func TestProposeIsAsGoodAsTryingEverything(t *testing.T) {
	const most = 26 // targets lie below 12, so that nothing better lies beyond
	solved := 0
	rapid.Check(t, func(t *rapid.T) {
		targets := [3]float64{}
		tolerance := [3]float64{}
		var starts [3]*float64
		in := ProposeInput{Sizes: []string{"S"}, Gauge: tenCM(10, 10)}
		for i, name := range []string{"a", "b", "c"} {
			targets[i] = float64(rapid.IntRange(0, 110).Draw(t, "target")) / 10
			tolerance[i] = float64(rapid.IntRange(1, 30).Draw(t, "tolerance")) / 10
			count := Count{Name: name, Unit: UnitStitch}
			if rapid.Bool().Draw(t, "has a start") {
				starts[i] = pointer(float64(rapid.IntRange(0, 11).Draw(t, "start")))
				count.Values = []*float64{starts[i]}
			}
			in.Counts = append(in.Counts, count)
			in.Points = append(in.Points, Point{Name: name, Axis: AxisStitch, Expr: name, Tolerance: &tolerance[i], Intended: []*float64{&targets[i]}})
		}
		small := rapid.IntRange(-2, 2)
		u, v, w, sum := small.Draw(t, "u"), small.Draw(t, "v"), small.Draw(t, "w"), rapid.IntRange(-4, 12).Draw(t, "sum")
		of, plus := rapid.IntRange(1, 5).Draw(t, "of"), rapid.IntRange(0, 4).Draw(t, "plus")
		least := rapid.IntRange(-20, 8).Draw(t, "least")
		in.Rules = []Rule{
			{Name: "balance", Kind: KindHolds, Expr: fmt.Sprintf("%d * a + %d * b + %d * c == %d", u, v, w, sum)},
			{Name: "multiple", Kind: KindMultiple, Expr: "a + b", Of: of, Plus: plus},
			{Name: "order", Kind: KindHolds, Expr: fmt.Sprintf("a - c >= %d", least)},
		}
		legal := func(a, b, c int) bool {
			return u*a+v*b+w*c == sum && (a+b-plus)%of == 0 && a-c >= least
		}
		cost := func(a, b, c int) float64 {
			total := 0.0
			for i, n := range []int{a, b, c} {
				total += math.Pow((float64(n)-targets[i])/tolerance[i], 2)
				if starts[i] != nil {
					total += 1e-4 * math.Pow(float64(n)-*starts[i], 2)
				}
			}
			return total
		}
		best, value, found := bruteBest(most, legal, cost)
		out, err := Propose(in)
		if err != nil {
			t.Fatal(err)
		}
		size := out.Sizes[0]
		if !found {
			// Whatever is legal lies beyond what was tried here, or there is nothing.
			if size.Problem == "" && legal(int(*out.Counts[0].Values[0]), int(*out.Counts[1].Values[0]), int(*out.Counts[2].Values[0])) {
				return
			}
			if size.Problem == "" {
				t.Fatalf("proposes what keeps no rule: %v", out.Counts)
			}
			return
		}
		if size.Problem != "" || !size.Exact {
			t.Fatalf("best is %v at %g, got %q, exact %v", best, value, size.Problem, size.Exact)
		}
		got := [3]int{}
		for i := range got {
			got[i] = int(*out.Counts[i].Values[0])
		}
		if got != best && (!legal(got[0], got[1], got[2]) || cost(got[0], got[1], got[2]) > value-sameCost) {
			t.Fatalf("best is %v at %g, got %v at %g", best, value, got, cost(got[0], got[1], got[2]))
		}
		if math.Abs(size.Cost-cost(got[0], got[1], got[2])) > 1e-5 {
			t.Fatalf("states a cost of %g, it is %g", size.Cost, cost(got[0], got[1], got[2]))
		}
		solved++
	})
	require.Greater(t, solved, 20, "enough of the random rules must have a solution")
}

func TestSolveWholeSolvesItsEquations(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, m := rapid.IntRange(1, 6).Draw(t, "unknowns"), rapid.IntRange(0, 4).Draw(t, "equations")
		hidden := rapid.SliceOfN(rapid.Int64Range(-20, 20), n, n).Draw(t, "a solution")
		var equations []equation
		for range m {
			e := equation{total: big.NewInt(0)}
			for i := range n {
				c := big.NewInt(rapid.Int64Range(-9, 9).Draw(t, "coefficient"))
				e.times = append(e.times, c)
				e.total.Add(e.total, new(big.Int).Mul(c, big.NewInt(hidden[i])))
			}
			equations = append(equations, e)
		}
		point, free, ok := solveWhole(equations, n)
		if !ok {
			t.Fatalf("%v solves it, and nothing was found", hidden)
		}
		value := func(e equation, z []*big.Int) *big.Int {
			sum := big.NewInt(0)
			for i := range z {
				sum.Add(sum, new(big.Int).Mul(e.times[i], z[i]))
			}
			return sum
		}
		for _, e := range equations {
			if value(e, point).Cmp(e.total) != 0 {
				t.Fatal("the point is no solution")
			}
			for _, f := range free {
				if value(e, f).Sign() != 0 {
					t.Fatal("a free direction leaves the solutions")
				}
			}
		}
		// The hidden solution differs from the point by whole multiples of the free
		// directions: adding the difference as an equation set over them solves.
		var reach []equation
		for i := range n {
			e := equation{total: new(big.Int).Sub(big.NewInt(hidden[i]), point[i])}
			for _, f := range free {
				e.times = append(e.times, f[i])
			}
			reach = append(reach, e)
		}
		if _, _, ok := solveWhole(reach, len(free)); !ok {
			t.Fatalf("%v is out of reach", hidden)
		}
	})
}

// twelveByTwelve is twelve sizes with twelve counts in one knot of six rules.
func twelveByTwelve() ProposeInput {
	in := ProposeInput{Gauge: tenCM(22, 30)}
	names := []string{"body", "back", "left", "right", "hem", "arm", "cuff", "neck", "yoke", "shoulder", "band", "pocket"}
	for i, name := range names {
		in.Counts = append(in.Counts, Count{Name: name, Unit: UnitStitch})
		in.Points = append(in.Points, Point{Name: name, Axis: AxisStitch, Expr: name, Tolerance: pointer(0.5 + float64(i%3)*0.5)})
	}
	in.Rules = []Rule{
		{Name: "panels", Kind: KindHolds, Expr: "left + back + right == body + 2"},
		{Name: "repeat", Kind: KindMultiple, Expr: "body", Of: 8, Plus: 2},
		{Name: "hem", Kind: KindHolds, Expr: "hem + pocket == body - 4 + cuff"},
		{Name: "yoke", Kind: KindHolds, Expr: "yoke == body + 2 * arm - 4 * band"},
		{Name: "shoulders", Kind: KindHolds, Expr: "2 * shoulder + neck == back"},
		{Name: "arm", Kind: KindMultiple, Expr: "arm + cuff", Of: 6, Plus: 1},
	}
	for k := range 12 {
		in.Sizes = append(in.Sizes, fmt.Sprint(k+1))
		body := 80.0 + 7.3*float64(k)
		for i, share := range []float64{1, 0.47, 0.26, 0.27, 1.02, 0.33, 0.21, 0.19, 1.4, 0.14, 0.06, 0.2} {
			in.Points[i].Intended = append(in.Points[i].Intended, pointer(math.Round(body*share*10)/10))
		}
	}
	return in
}

func TestProposeTwelveByTwelveIsExact(t *testing.T) {
	for _, size := range mustPropose(t, twelveByTwelve()).Sizes {
		require.Empty(t, size.Problem)
		require.True(t, size.Exact)
	}
}

func BenchmarkPropose12Sizes12Counts6Rules(b *testing.B) {
	in := twelveByTwelve()
	for b.Loop() {
		if _, err := Propose(in); err != nil {
			b.Fatal(err)
		}
	}
}

// The dearest case: rules that no search can use and nothing keeps, so that the
// budget of each size runs out.
func BenchmarkProposeNothingIsLegal(b *testing.B) {
	in := twelveByTwelve()
	in.Rules = append(in.Rules, Rule{Name: "never", Kind: KindHolds, Expr: "body * body == 2 * back * back + 1 and body / 3 == floor(body / 3) + 1 / 2"})
	for b.Loop() {
		if out, err := Propose(in); err != nil || out.Sizes[0].Problem == "" {
			b.Fatal(out.Sizes[0], err)
		}
	}
}
