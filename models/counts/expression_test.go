package counts

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func mustCompile(t testing.TB, source string, names ...string) *Expression {
	t.Helper()
	e, err := Compile(source, names)
	require.NoError(t, err)
	return e
}

func TestEval(t *testing.T) {
	values := map[string]float64{"body": 146, "back": 74, "yoke_rows": 22, "chain": 33, "none": 0, "odd": 7}
	names := []string{"body", "back", "yoke_rows", "chain", "none", "odd"}
	for _, row := range []struct {
		name, source string
		want         float64
	}{
		{"a division of whole numbers keeps its fraction", "odd / 2", 3.5},
		{"literals too", "7/2", 3.5},
		{"products before sums", "body + 2 * back", 294},
		{"from left to right", "body - back - 2", 70},
		{"division from left to right", "body / 2 / 2", 36.5},
		{"parentheses", "(body - 2) / 6", 24},
		{"the trade's signs", "(body − 2) ÷ 6 × 2", 48},
		{"a minus in front", "-body + 150", 4},
		{"a plus in front", "+body", 146},
		{"min of several", "min(body, back, yoke_rows)", 22},
		{"max of one", "max(odd)", 7},
		{"floor below zero", "floor(-odd / 2)", -4},
		{"ceil", "ceil(odd / 2)", 4},
		{"round, half away from zero", "round(odd / 2) + round(-odd / 2)", 0},
		{"a third three times is whole", "body / 3 * 3", 146},
		{"no rounding error reaches ceil", "ceil(0.07 * 100)", 7},
		{"0.1 + 0.2 is 0.3", "0.1 + 0.2", 0.3},
		{"zero over something", "none / body", 0},
		// m6 of the notation cases: common practice in crochet.
		{"single crochet over a chain: one fewer", "chain - 1", 32},
	} {
		t.Run(row.name, func(t *testing.T) {
			got, err := mustCompile(t, row.source, names...).Eval(values)
			require.NoError(t, err)
			require.Equal(t, row.want, got)
		})
	}
}

func TestHolds(t *testing.T) {
	values := map[string]float64{"left": 31, "right": 31, "back": 62, "body": 122}
	names := []string{"left", "right", "back", "body"}
	side := func(v float64) *float64 { return &v }
	for _, row := range []struct {
		name, source string
		want         bool
		left, right  *float64
	}{
		{"a balance that holds", "left + back + right == body + 2", true, nil, nil},
		{"one = is enough", "left + back + right = body + 2", true, nil, nil},
		{"a balance that is off by one", "left + back + right == body + 1", false, side(124), side(123)},
		{"unequal", "left ≠ right", false, side(31), side(31)},
		{"not equal written !=", "left != back", true, nil, nil},
		{"at most", "back ≤ 62", true, nil, nil},
		{"less", "back < 62", false, side(62), side(62)},
		{"at least", "back >= 63", false, side(62), side(63)},
		{"greater", "body > back", true, nil, nil},
		{"between", "60 < back < 62", false, side(62), side(62)},
		{"and names the half that fails", "left == right and back == body", false, side(62), side(122)},
		{"or with one true half", "left == back or left == right", true, nil, nil},
		{"or with none", "left == back or right == body", false, nil, nil},
		{"not", "not (left == right)", false, nil, nil},
		{"thirds are exact", "body / 3 + body / 3 + body / 3 == body", true, nil, nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			v, err := mustCompile(t, row.source, names...).Holds(values)
			require.NoError(t, err)
			require.Equal(t, row.want, v.True)
			require.Equal(t, row.left, v.Left)
			require.Equal(t, row.right, v.Right)
			if v.Left != nil {
				require.Equal(t, *v.Left-*v.Right, *v.Difference)
			}
		})
	}
}

func TestEqualityOfLargeWholeNumbersIsExact(t *testing.T) {
	// Near 10^15 a relative tolerance would swallow a single unit.
	e := mustCompile(t, "a * a * a + 1 == a * a * a", "a")
	v, err := e.Holds(map[string]float64{"a": 99_999})
	require.NoError(t, err)
	require.False(t, v.True)
	require.Equal(t, 1.0, *v.Difference)

	_, err = mustCompile(t, "a * a * a", "a").Eval(map[string]float64{"a": 1e6})
	require.ErrorContains(t, err, "comes to more than")
}

func TestCompileRefuses(t *testing.T) {
	for _, row := range []struct{ name, source, says string }{
		{"nothing", "  ", "is empty"},
		{"an unknown name", "body + bodi", `there is no count named "bodi"`},
		{"a function that reaches outside", "env(1)", `"env" is not a function here`},
		{"a built-in of the library", "len(body)", `"len" is not a function here`},
		{"a loop of the library", "count(body)", `"count" is not a function here`},
		{"the clock", "now()", `"now" is not a function here`},
		{"a string", `"body"`, "has no place"},
		{"a list", "[1, 2]", "has no place"},
		{"a range", "1..1000000", "is not an operation here"},
		{"a member", "body.size", "only arithmetic"},
		{"a power", "9**9**9", "is not an operation here"},
		{"a pipe", "body | back", "has no place"},
		{"a choice", "body ? 1 : 2", "has no place"},
		{"a variable", "let a = 1", "cannot be read at character"},
		{"a comment", "body // back", "one /"},
		{"a truth value", "true", "has no place"},
		{"a missing side", "body +", "cannot be read at character"},
		{"an open parenthesis", "(body", "cannot be read at character"},
		{"a statement inside a sum", "1 + (body == 2)", "needs numbers"},
		{"a number inside and", "body and body == 2", "needs statements"},
		{"comparing twice", "body == back == body", "needs numbers"},
		{"no values for a function", "min()", "does not take 0 values"},
		{"too many values", "floor(body, 2)", "does not take 2 values"},
		{"a huge number", "1e300 * body", "out of bounds"},
		{"a tiny number", "1e-300 * body", "out of bounds"},
		{"an integer beyond 64 bits", "99999999999999999999", "cannot be read"},
		{"broken text", "body\xff", "UTF-8"},
		{"too long", strings.Repeat("body+", 200) + "1", "longer than 500 bytes"},
		{"too many nodes", strings.Repeat("1+", 150) + "1", "more than 200"},
		{"deep parentheses, closed", strings.Repeat("-", 240) + "1", "more than 200"},
		{"deep parentheses, open", strings.Repeat("(", 499), "cannot be read"},
		{"calls in calls", strings.Repeat("min(", 120) + "1", "cannot be read"},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, err := Compile(row.source, []string{"body", "back"})
			require.ErrorContains(t, err, row.says)
		})
	}
}

func TestEvalRefuses(t *testing.T) {
	names := []string{"a", "b"}
	for _, row := range []struct {
		name, source string
		values       map[string]float64
		says         string
	}{
		{"a division by zero says by what", "1 / (a - b)", map[string]float64{"a": 2, "b": 2}, "divides by zero: a - b is 0"},
		{"a name without a value", "a + b", map[string]float64{"a": 1}, `there is no value for "b"`},
		{"not a number", "a", map[string]float64{"a": math.NaN()}, "not a number"},
		{"infinite", "a", map[string]float64{"a": math.Inf(1)}, "not a number"},
		{"a statement is not a number", "a == b", map[string]float64{"a": 1, "b": 1}, "is a statement"},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, err := mustCompile(t, row.source, names...).Eval(row.values)
			require.ErrorContains(t, err, row.says)
		})
	}
	_, err := mustCompile(t, "a", names...).Holds(map[string]float64{"a": 1})
	require.ErrorContains(t, err, "is a number")
}

func TestNamesAreThoseUsed(t *testing.T) {
	e := mustCompile(t, "right + back + right - min(left, 3)", "left", "right", "back", "body")
	require.Equal(t, []string{"right", "back", "left"}, e.Names())
	e.Names()[0] = "changed"
	require.Equal(t, []string{"right", "back", "left"}, e.Names())
}

// Words that the library knows as functions are fine as names of counts.
func TestCountsMayBeNamedLikeBuiltins(t *testing.T) {
	e := mustCompile(t, "repeat + count + min", "repeat", "count", "min")
	got, err := e.Eval(map[string]float64{"repeat": 1, "count": 2, "min": 3})
	require.NoError(t, err)
	require.Equal(t, 6.0, got)
}

func TestIsName(t *testing.T) {
	for name, want := range map[string]bool{
		"body": true, "yoke_rows": true, "_a1": true, "ärmel": true, "repeat": true, "min": true, "if": true,
		"": false, "1a": false, "left front": false, "a-b": false, "a.b": false, "12": false,
		"and": false, "or": false, "not": false, "in": false, "let": false, "true": false, "nil": false, "contains": false,
	} {
		require.Equal(t, want, IsName(name), name)
	}
}
