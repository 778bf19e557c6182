package assign

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// call is a small test call in which every part of an answer has something to
// say.
const call = `{
 "sizes": [{"name": "1", "fewest": 2, "wanted": 2, "most": 3},
           {"name": "2", "fewest": 1, "wanted": 1, "most": 2},
           {"name": "3", "fewest": 1, "wanted": 2, "most": 2}],
 "applicants": [{"id": "dee", "sizes": ["2"], "accepted": 2, "finished": 1},
                {"id": "ann", "sizes": ["2", "1"], "accepted": 5, "finished": 5},
                {"id": "cat", "sizes": ["1"]},
                {"id": "ben", "sizes": ["1", "2"], "accepted": 5, "finished": 4},
                {"id": "eve", "sizes": ["3", "1"]},
                {"id": "fay", "sizes": ["2"], "accepted": 3, "finished": 3}],
 "fixed": [{"applicant": "eve", "size": "3"}],
 "forbidden": [{"applicant": "cat", "size": "1"}],
 "prior": {"finished": 3.5, "dropped": 1.5},
 "probability": 0.9}`

const answer = `{
 "assignments": [
  {"applicant": "ann", "size": "1", "place": 2, "probability": 0.85, "fixed": false},
  {"applicant": "ben", "size": "1", "place": 1, "probability": 0.75, "fixed": false},
  {"applicant": "eve", "size": "3", "place": 1, "probability": 0.7, "fixed": true},
  {"applicant": "fay", "size": "2", "place": 1, "probability": 0.8125, "fixed": false}],
 "objective": {"short": 0, "below_wanted": 1, "preference": 1, "probability": 3.1125},
 "sizes": [
  {"name": "1", "assigned": 2, "short": 0, "probability": 0.6375, "probability_lowered": 0.4875,
   "recruit": 2, "reserve": [], "add": [], "probability_with_add": 0.6375},
  {"name": "2", "assigned": 1, "short": 0, "probability": 0.8125, "probability_lowered": 0.7125,
   "recruit": 1, "reserve": ["dee"], "add": ["dee"], "probability_with_add": 0.9330357},
  {"name": "3", "assigned": 1, "short": 0, "probability": 0.7, "probability_lowered": 0.6,
   "recruit": 1, "reserve": [], "add": [], "probability_with_add": 0.7}],
 "unassigned": ["cat", "dee"],
 "shortfalls": [],
 "reasons": [
  {"applicant": "ann", "size": "2", "price": {"short": 1, "below_wanted": 1, "preference": -1, "probability": 0.8125},
   "message": "size 2 for ann would leave one more report short elsewhere"},
  {"applicant": "cat", "message": "every size that cat listed is forbidden to them"},
  {"applicant": "dee", "size": "2", "price": {"short": 0, "below_wanted": 0, "preference": 0, "probability": 0.16964286},
   "message": "size 2 for dee would displace someone likelier to finish (0.17 fewer reports to expect)"}],
 "warnings": []}`

// rounded rounds every number in a JSON document, to compare with one written
// by hand, and keeps its fields and their order of nesting.
func rounded(t *testing.T, document string) any {
	t.Helper()
	var v any
	require.NoError(t, json.Unmarshal([]byte(document), &v))
	var walk func(v any) any
	walk = func(v any) any {
		switch v := v.(type) {
		case float64:
			return math.Round(v*1e6) / 1e6
		case []any:
			for i := range v {
				v[i] = walk(v[i])
			}
		case map[string]any:
			for k := range v {
				v[k] = walk(v[k])
			}
		}
		return v
	}
	return walk(v)
}

// decode reads an input as the outer layers do, with unknown fields refused.
func decode(t *testing.T, document string) Input {
	t.Helper()
	var in Input
	d := json.NewDecoder(strings.NewReader(document))
	d.DisallowUnknownFields()
	require.NoError(t, d.Decode(&in))
	return in
}

// The probabilities were worked by hand: (finished + 3.5) / (accepted + 5),
// 0.85 * 0.75 for both of size 1, and so on.
func TestWholeAnswer(t *testing.T) {
	out, err := Calculate(decode(t, call))
	require.NoError(t, err)
	got, err := json.Marshal(out)
	require.NoError(t, err)
	require.Equal(t, rounded(t, answer), rounded(t, string(got)))
}

func TestEmptyListsAreNotNull(t *testing.T) {
	out, err := Calculate(decode(t, `{"sizes": [{"name": "1", "fewest": 0, "wanted": 0, "most": 0}], "applicants": []}`))
	require.NoError(t, err)
	got, err := json.Marshal(out)
	require.NoError(t, err)
	require.JSONEq(t, `{"assignments": [], "unassigned": [], "shortfalls": [], "reasons": [], "warnings": [],
		"objective": {"short": 0, "below_wanted": 0, "preference": 0, "probability": 0},
		"sizes": [{"name": "1", "assigned": 0, "short": 0, "probability": 1, "probability_lowered": 1,
		           "recruit": 0, "reserve": [], "add": [], "probability_with_add": 1}]}`, string(got))
}

func TestBadInputNamesTheField(t *testing.T) {
	nan := math.NaN()
	for _, row := range []struct {
		name   string
		change func(*Input)
		want   string
	}{
		{"no sizes", func(in *Input) { in.Sizes = nil }, "sizes: give at least one size"},
		{"too many sizes", func(in *Input) { in.Sizes = make([]Size, MaxSizes+1) }, "sizes: 101 sizes; give at most 100"},
		{"a size without a name", func(in *Input) { in.Sizes[1].Name = "" }, "sizes[1].name: give a name"},
		{"two sizes of one name", func(in *Input) { in.Sizes[1].Name = "1" }, `sizes[1].name: "1" is also sizes[0].name; each must be different`},
		{"a name without end", func(in *Input) { in.Sizes[1].Name = strings.Repeat("x", 201) }, "sizes[1].name: 201 bytes; give at most 200"},
		{"fewest below 0", func(in *Input) { in.Sizes[0].Fewest = -1 }, "sizes[0].fewest: -1 is below 0"},
		{"fewest out of bounds", func(in *Input) { in.Sizes[0].Fewest = 1001 }, "sizes[0].fewest: 1001; give at most 1000"},
		{"wanted below fewest", func(in *Input) { in.Sizes[0].Wanted = 1 }, "sizes[0].wanted: 1 is below fewest, 2"},
		{"most below wanted", func(in *Input) { in.Sizes[0].Most = 1 }, "sizes[0].most: 1 is below wanted, 2"},
		{"most out of bounds", func(in *Input) { in.Sizes[0].Most = 10001 }, "sizes[0].most: 10001; give at most 10000"},
		{"too many applicants", func(in *Input) { in.Applicants = make([]Applicant, MaxApplicants+1) }, "applicants: 10001 applicants; give at most 10000"},
		{"an applicant without an id", func(in *Input) { in.Applicants[0].ID = "" }, "applicants[0].id: give a name"},
		{"the same id twice", func(in *Input) { in.Applicants[4].ID = "ann" }, `applicants[4].id: "ann" is also applicants[1].id; each must be different`},
		{"a record below 0", func(in *Input) { in.Applicants[2].Accepted = -1 }, "applicants[2].accepted: -1 is below 0"},
		{"a record out of bounds", func(in *Input) { in.Applicants[2].Accepted = 100001 }, "applicants[2].accepted: 100001; give at most 100000"},
		{"finished below 0", func(in *Input) { in.Applicants[2].Finished = -2 }, "applicants[2].finished: -2 is below 0"},
		{"more finished than accepted", func(in *Input) { in.Applicants[2].Finished = 1 }, "applicants[2].finished: 1 is more than accepted, 0"},
		{"a size that does not exist", func(in *Input) { in.Applicants[1].Sizes = []string{"2", "7"} }, `applicants[1].sizes[1]: "7" is not one of the sizes`},
		{"a size listed twice", func(in *Input) { in.Applicants[1].Sizes = []string{"2", "2"} }, `applicants[1].sizes[1]: "2" is listed twice`},
		{"fixed: nobody of that name", func(in *Input) { in.Fixed[0].Applicant = "zoe" }, `fixed[0].applicant: "zoe" is not one of the applicants`},
		{"fixed: no such size", func(in *Input) { in.Fixed[0].Size = "9" }, `fixed[0].size: "9" is not one of the sizes`},
		{"fixed twice", func(in *Input) { in.Fixed = append(in.Fixed, Pair{"eve", "1"}) }, `fixed[1].applicant: "eve" is fixed to size "3" already`},
		{"forbidden: nobody of that name", func(in *Input) { in.Forbidden[0].Applicant = "zoe" }, `forbidden[0].applicant: "zoe" is not one of the applicants`},
		{"fixed and forbidden", func(in *Input) { in.Forbidden[0] = Pair{"eve", "3"} }, `forbidden[0]: "eve" and size "3" are both fixed and forbidden`},
		{"too many forbidden", func(in *Input) { in.Forbidden = make([]Pair, MaxForbidden+1) }, "forbidden: 100001 pairs; give at most 100000"},
		{"a prior in which nobody finishes", func(in *Input) { in.Prior.Finished = 0 }, "prior.finished: 0; give a number from 0.01 to 1000"},
		{"a prior that is no number", func(in *Input) { in.Prior.Dropped = nan }, "prior.dropped: NaN; give a number from 0 to 1000"},
		{"certainty is not to be had", func(in *Input) { *in.Probability = 1 }, "probability: 1; give a number above 0 and below 1"},
		{"a probability that is no number", func(in *Input) { *in.Probability = nan }, "probability: NaN; give a number above 0 and below 1"},
	} {
		t.Run(row.name, func(t *testing.T) {
			in := decode(t, call)
			row.change(&in)
			out, err := Calculate(in)
			require.EqualError(t, err, row.want)
			var field *FieldError
			require.ErrorAs(t, err, &field)
			require.Equal(t, row.want[:strings.Index(row.want, ": ")], field.FieldPath())
			require.Empty(t, out)
		})
	}
}

func TestDefaults(t *testing.T) {
	in := decode(t, call)
	in.Prior, in.Probability = nil, nil
	without, err := Calculate(in)
	require.NoError(t, err)
	prior, asked := DefaultPrior(), DefaultProbability
	in.Prior, in.Probability = &prior, &asked
	with, err := Calculate(in)
	require.NoError(t, err)
	require.Equal(t, with, without)
	require.InDelta(t, 9/10.5, without.Assignments[0].Probability, 1e-15) // (5 + 4) / (5 + 5.5)
}

func TestFixedPairsMayGoAgainstTheCall(t *testing.T) {
	in := decode(t, call)
	in.Fixed = []Pair{{"ann", "3"}, {"eve", "3"}, {"ben", "3"}}
	out, err := Calculate(in)
	require.NoError(t, err)
	require.Equal(t, 3, out.Sizes[2].Assigned, "more than most, as the pairs say")
	require.Equal(t, []Warning{
		{Size: "3", Message: "size 3 has 3 fixed testers; at most 2 were to make it"},
		{Size: "3", Applicant: "ann", Message: "ann is fixed to size 3 but did not list it"},
		{Size: "3", Applicant: "ben", Message: "ben is fixed to size 3 but did not list it"},
	}, out.Warnings)
	require.Zero(t, out.Assignments[0].Place)
	require.Equal(t, 0, out.Objective.Preference, "fixed pairs cost no preference")
	require.Equal(t, []Shortfall{{[]string{"1"}, []string{}, 2,
		"size 1 needs two reports; nobody may make it; three more offered but a fixed pair holds them elsewhere; one more offered but that is forbidden"}}, out.Shortfalls)
}

func TestReserveAndAdd(t *testing.T) {
	in := decode(t, `{"sizes": [{"name": "1", "fewest": 2, "wanted": 2, "most": 4}, {"name": "2", "fewest": 0, "wanted": 0, "most": 0}],
	 "applicants": [{"id": "a", "sizes": ["1"], "accepted": 9, "finished": 9}, {"id": "b", "sizes": ["1"], "accepted": 9, "finished": 9},
	  {"id": "c", "sizes": ["2", "1"], "accepted": 8, "finished": 8}, {"id": "f", "sizes": ["1"], "accepted": 4, "finished": 3},
	  {"id": "e", "sizes": ["1"], "accepted": 4, "finished": 3}, {"id": "d", "sizes": ["1"], "accepted": 6, "finished": 6}],
	 "probability": 0.98}`)
	out, err := Calculate(in)
	require.NoError(t, err)
	require.Equal(t, []string{"d", "e", "f", "c"}, out.Sizes[0].Reserve, "place, then probability, then id")
	require.Equal(t, []string{"d", "e"}, out.Sizes[0].Add)
	require.Equal(t, []string{"c"}, out.Sizes[1].Reserve)
	require.Empty(t, out.Sizes[1].Add, "a size that needs nothing")
	require.InDelta(t, out.Sizes[0].ProbabilityWithAdd, AtLeast([]float64{13 / 14.5, 13 / 14.5, 10 / 11.5, 7 / 9.5}, 2), 1e-15)
	require.Less(t, AtLeast([]float64{13 / 14.5, 13 / 14.5, 10 / 11.5}, 2), 0.98)

	in.Sizes[0].Most = 3
	out, err = Calculate(in)
	require.NoError(t, err)
	require.Equal(t, []string{"d"}, out.Sizes[0].Add, "no further than most")
}

func TestReasons(t *testing.T) {
	one := func(name string) Size { return Size{Name: name, Fewest: 0, Wanted: 1, Most: 1} }
	for _, row := range []struct {
		name string
		in   Input
		want string
	}{
		{"an empty place elsewhere",
			Input{Sizes: []Size{one("1"), one("2")}, Applicants: []Applicant{{ID: "ann", Sizes: []string{"1", "2"}}, {ID: "ben", Sizes: []string{"1"}}}},
			"size 1 for ann would leave one more wanted place empty elsewhere"},
		{"others would lose more",
			Input{Sizes: []Size{one("1"), one("2"), one("3")}, Applicants: []Applicant{
				{ID: "ann", Sizes: []string{"1", "2"}}, {ID: "ben", Sizes: []string{"1", "3", "2"}}, {ID: "cat", Sizes: []string{"3"}}}},
			"size 1 for ann would push others down their lists by one place more than it gains"},
		{"an equal choice",
			Input{Sizes: []Size{one("1")}, Applicants: []Applicant{{ID: "ann", Sizes: []string{"1"}}, {ID: "ben", Sizes: []string{"1"}}}},
			"size 1 for ben would be as good; the order of ids and sizes decided"},
		{"fixed pairs fill it",
			Input{Sizes: []Size{one("1")}, Applicants: []Applicant{{ID: "ann"}, {ID: "ben", Sizes: []string{"1"}}}, Fixed: []Pair{{"ann", "1"}}},
			"size 1 is filled by fixed pairs"},
		{"an empty list",
			Input{Sizes: []Size{one("1")}, Applicants: []Applicant{{ID: "ann"}}},
			"ann listed no size"},
	} {
		t.Run(row.name, func(t *testing.T) {
			out, err := Calculate(row.in)
			require.NoError(t, err)
			require.Len(t, out.Reasons, 1)
			require.Equal(t, row.want, out.Reasons[0].Message)
		})
	}
}
