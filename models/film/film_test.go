package film_test

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tenter/models/film"
)

// pullover is a garment with four states, 20 hours from cast on to body.
func pullover() film.Input {
	return film.Input{
		Today: "2026-03-02", HoursPerDay: 2, SameDayHours: 0.5,
		States: []film.State{{Name: "cast on"}, {Name: "yoke", Hours: 6}, {Name: "body", Hours: 14}, {Name: "sleeves", Hours: 10}},
	}
}

func calculate(t *testing.T, in film.Input) film.Output {
	t.Helper()
	out, err := film.Calculate(in)
	require.NoError(t, err)
	return out
}

func TestPlans(t *testing.T) {
	type want struct {
		chains     []string // "sample: shots"
		hours      float64
		newSamples int
		unserved   []string
	}
	at := func(id, on, from, to string) film.Shot { return film.Shot{ID: id, On: on, From: from, To: to} }
	for _, tc := range []struct {
		shows   string
		samples []film.Sample
		shots   []film.Shot
		want    want
	}{
		{"no shots, no plan", []film.Sample{{ID: "s1", State: "yoke"}}, nil, want{}},
		{"a sample in the right state serves; 20 hours do not fit in 4 days of 2, so nothing new can be ready",
			[]film.Sample{{ID: "s1", State: "yoke", FreeFrom: "2026-03-02"}},
			[]film.Shot{at("2a", "2026-03-06", "yoke", "yoke"), at("2b", "2026-03-06", "body", "body")},
			want{chains: []string{"s1: 2a"}, unserved: []string{"2b"}}},
		{"ten days of 2 hours are exactly the 20 that a new sample needs", nil,
			[]film.Shot{at("a", "2026-03-12", "body", "body")},
			want{chains: []string{"new 1: a"}, hours: 20, newSamples: 1}},
		{"nine days are not", nil,
			[]film.Shot{at("a", "2026-03-11", "body", "body")}, want{unserved: []string{"a"}}},
		{"the shot itself takes the sample from state to state",
			[]film.Sample{{ID: "s1", State: "yoke"}},
			[]film.Shot{at("a", "2026-03-03", "yoke", "body"), at("b", "2026-03-03", "body", "body")},
			want{chains: []string{"s1: a b"}}},
		{"within a date the order given counts: the sample is past yoke when a comes",
			[]film.Sample{{ID: "s1", State: "yoke"}},
			[]film.Shot{at("b", "2026-03-03", "body", "body"), at("a", "2026-03-03", "yoke", "body")},
			want{chains: []string{"s1: a"}, unserved: []string{"b"}}},
		{"two shots of one early state need two samples",
			[]film.Sample{{ID: "s1", State: "cast on"}, {ID: "s2", State: "cast on"}},
			[]film.Shot{at("a", "2026-03-20", "yoke", "sleeves"), at("b", "2026-03-21", "yoke", "sleeves")},
			want{chains: []string{"s1: a", "s2: b"}, hours: 12}},
		{"a sample at hand is used before a new one, though the new one costs fewer hours in all",
			[]film.Sample{{ID: "s1", State: "cast on"}},
			[]film.Shot{at("a", "2026-03-02", "cast on", "cast on"), at("b", "2026-03-30", "sleeves", "sleeves")},
			want{chains: []string{"s1: a b"}, hours: 30}},
		{"one sample for both, though two would save the making",
			[]film.Sample{{ID: "s1", State: "cast on"}, {ID: "s2", State: "sleeves"}},
			[]film.Shot{at("a", "2026-03-02", "cast on", "cast on"), at("b", "2026-03-30", "sleeves", "sleeves")},
			want{chains: []string{"s1: a b"}, hours: 30}},
		{"the sample that needs the least making",
			[]film.Sample{{ID: "s1", State: "cast on"}, {ID: "s2", State: "yoke"}},
			[]film.Shot{at("a", "2026-03-30", "body", "body")},
			want{chains: []string{"s2: a"}, hours: 14}},
		{"equal samples: the least id",
			[]film.Sample{{ID: "s9", State: "yoke"}, {ID: "s2", State: "yoke"}},
			[]film.Shot{at("a", "2026-03-05", "yoke", "yoke")}, want{chains: []string{"s2: a"}}},
		{"a sample that is away until after the shot can't serve",
			[]film.Sample{{ID: "s1", State: "body", FreeFrom: "2026-03-07"}},
			[]film.Shot{at("a", "2026-03-06", "body", "body")}, want{unserved: []string{"a"}}},
		{"on the day it comes back it has the hours of one day",
			[]film.Sample{{ID: "s1", State: "body", FreeFrom: "2026-03-06"}},
			[]film.Shot{at("a", "2026-03-06", "body", "body")}, want{chains: []string{"s1: a"}}},
		{"free from a past day counts from today",
			[]film.Sample{{ID: "s1", State: "yoke", FreeFrom: "2026-01-01"}},
			[]film.Shot{at("a", "2026-03-06", "body", "body")}, want{unserved: []string{"a"}}},
		{"a shot before today can't be served and serves as no step",
			[]film.Sample{{ID: "s1", State: "yoke"}},
			[]film.Shot{at("a", "2026-03-01", "yoke", "yoke"), at("b", "2026-03-02", "yoke", "yoke")},
			want{chains: []string{"s1: b"}, unserved: []string{"a"}}},
		{"a new sample's name keeps clear of a sample's id",
			[]film.Sample{{ID: "new 1", State: "sleeves"}},
			[]film.Shot{at("a", "2026-03-05", "cast on", "cast on")},
			want{chains: []string{"new 2: a"}, newSamples: 1}},
	} {
		t.Run(tc.shows, func(t *testing.T) {
			in := pullover()
			in.Samples, in.Shots = tc.samples, tc.shots
			out := calculate(t, in)
			got := want{hours: out.Hours, newSamples: out.NewSamples}
			for _, c := range out.Chains {
				got.chains = append(got.chains, c.Sample+": "+strings.Join(c.Shots, " "))
			}
			for _, u := range out.Unserved {
				got.unserved = append(got.unserved, u.Shot)
				require.NotEmpty(t, u.Message)
			}
			require.Equal(t, tc.want, got)
			require.Len(t, out.Chains, out.Samples)
		})
	}
}

func TestAnswerAsDocument(t *testing.T) {
	in := pullover()
	in.Samples = []film.Sample{{ID: "s1", State: "yoke"}, {ID: "s3", State: "sleeves"}}
	in.Shots = []film.Shot{
		{ID: "2a", On: "2026-03-06", From: "yoke", To: "yoke"},
		{ID: "2b", On: "2026-03-06", From: "body", To: "body"},
		{ID: "3", On: "2026-03-20", From: "body", To: "sleeves"},
	}
	got, err := json.Marshal(calculate(t, in))
	require.NoError(t, err)
	require.JSONEq(t, `{
		"chains": [{"sample": "s1", "new": false, "shots": ["2a", "3"],
			"work": [{"from": "yoke", "to": "body", "hours": 14, "by": "2026-03-20", "shot": "3"}]}],
		"samples": 1, "new_samples": 0, "hours": 14,
		"unserved": [{"shot": "2b", "message": "Nothing can be at body for 2b on 2026-03-06. A new sample needs 20 hours of making and 8 hours are left by then. s1, at yoke, needs 14 hours of making and 8 hours are left by then. Already past it: s3."}],
		"warnings": [
			{"sample": "s3", "shots": ["2b"], "message": "s3 is worked to sleeves, which is past what is still to be filmed: 2b needs body."},
			{"sample": "s1", "shots": ["2a"], "message": "Do not work s1 past yoke before 2026-03-06: it is needed there for shot 2a."},
			{"sample": "s1", "shots": ["3"], "message": "Do not work s1 past body before 2026-03-20: it is needed there for shot 3."}]
	}`, string(got))
}

func TestNothingLiesPastTheLastState(t *testing.T) {
	in := pullover()
	in.Samples = []film.Sample{{ID: "s1", State: "body"}}
	in.Shots = []film.Shot{
		{ID: "a", On: "2026-03-06", From: "body", To: "body"}, {ID: "b", On: "2026-03-09", From: "body", To: "sleeves"},
		{ID: "c", On: "2026-03-10", From: "sleeves", To: "sleeves"},
	}
	require.Equal(t, []film.Warning{{Sample: "s1", Shots: []string{"a", "b"},
		Message: "Do not work s1 past body before 2026-03-09: it is needed there for shots a and b."}}, calculate(t, in).Warnings)
}

func TestEmptyAnswerHasNoNull(t *testing.T) {
	got, err := json.Marshal(calculate(t, pullover()))
	require.NoError(t, err)
	require.JSONEq(t, `{"chains": [], "samples": 0, "new_samples": 0, "hours": 0, "unserved": [], "warnings": []}`, string(got))
}

func TestReasons(t *testing.T) {
	for _, tc := range []struct {
		shows   string
		samples []film.Sample
		shots   []film.Shot
		message string
	}{
		{"before today", nil, []film.Shot{{ID: "a", On: "2026-02-27", From: "yoke", To: "yoke"}},
			"a was to be filmed on 2026-02-27, which is before today."},
		{"the one sample serves more shots elsewhere",
			[]film.Sample{{ID: "s1", State: "yoke"}},
			[]film.Shot{
				{ID: "a", On: "2026-03-03", From: "yoke", To: "body"},
				{ID: "b", On: "2026-03-03", From: "yoke", To: "yoke"},
				{ID: "c", On: "2026-03-03", From: "yoke", To: "yoke"},
			},
			"s1 (filmed for b and c) could be at yoke for a on 2026-03-03, but more shots are served otherwise. A new sample needs 6 hours of making and 2 hours are left by then."},
		{"of several samples the one that is nearest to being ready",
			[]film.Sample{{ID: "s1", State: "cast on"}, {ID: "s2", State: "yoke"}, {ID: "s3", State: "cast on"}},
			[]film.Shot{{ID: "a", On: "2026-03-03", From: "body", To: "body"}},
			"Nothing can be at body for a on 2026-03-03. A new sample needs 20 hours of making and 2 hours are left by then. s2, at yoke, needs 14 hours of making and 2 hours are left by then."},
		{"away", []film.Sample{{ID: "s1", State: "yoke", FreeFrom: "2026-03-09"}},
			[]film.Shot{{ID: "a", On: "2026-03-03", From: "yoke", To: "yoke"}},
			"Nothing can be at yoke for a on 2026-03-03. A new sample needs 6 hours of making and 2 hours are left by then. Not free by then: s1."},
	} {
		t.Run(tc.shows, func(t *testing.T) {
			in := pullover()
			in.Samples, in.Shots = tc.samples, tc.shots
			out := calculate(t, in)
			require.Len(t, out.Unserved, 1)
			require.Equal(t, tc.message, out.Unserved[0].Message)
			for _, w := range out.Warnings {
				require.NotContains(t, w.Shots, "a", "no sample is past yoke")
			}
		})
	}
}

// Three times 0.1 is a little more than 0.3 in floating point.
func TestTenthsOfAnHourAddUp(t *testing.T) {
	in := pullover()
	in.HoursPerDay = 0.3
	in.States = []film.State{{Name: "cast on"}, {Name: "cuff", Hours: 0.1}, {Name: "heel", Hours: 0.1}, {Name: "toe", Hours: 0.1}}
	in.Shots = []film.Shot{{ID: "a", On: "2026-03-03", From: "toe", To: "toe"}}
	require.Empty(t, calculate(t, in).Unserved)
}

func TestBadInput(t *testing.T) {
	good := func() film.Input {
		in := pullover()
		in.Samples = []film.Sample{{ID: "s1", State: "yoke", FreeFrom: "2026-03-02"}}
		in.Shots = []film.Shot{{ID: "a", On: "2026-03-06", From: "yoke", To: "body"}}
		return in
	}
	calculate(t, good())
	for _, tc := range []struct {
		shows, field, says string
		spoil              func(*film.Input)
	}{
		{"no today", "today", "is missing", func(in *film.Input) { in.Today = "" }},
		{"not a date", "today", "YYYY-MM-DD", func(in *film.Input) { in.Today = "2026-02-30" }},
		{"a year of two digits", "shots[0].on", "years 1900 to 2199", func(in *film.Input) { in.Shots[0].On = "0026-03-02" }},
		{"negative hours a day", "hours_per_day", "0 to 24", func(in *film.Input) { in.HoursPerDay = -1 }},
		{"hours that are no number", "hours_per_day", "0 to 24", func(in *film.Input) { in.HoursPerDay = math.NaN() }},
		{"more hours than a day has", "same_day_hours", "0 to 24", func(in *film.Input) { in.SameDayHours = 25 }},
		{"no states", "states", "is empty", func(in *film.Input) { in.States = nil }},
		{"too many states", "states", "at most 100", func(in *film.Input) { in.States = make([]film.State, 101) }},
		{"a state without a name", "states[1].name", "is empty", func(in *film.Input) { in.States[1].Name = " " }},
		{"a state twice", "states[2].name", "used twice", func(in *film.Input) { in.States[2].Name = "yoke" }},
		{"endless making", "states[1].hours", "0 to 10000", func(in *film.Input) { in.States[1].Hours = math.Inf(1) }},
		{"too many samples", "samples", "at most 100", func(in *film.Input) { in.Samples = make([]film.Sample, 101) }},
		{"a sample twice", "samples[1].id", "used twice", func(in *film.Input) { in.Samples = append(in.Samples, in.Samples[0]) }},
		{"a sample in no known state", "samples[0].state", `no state "hem"; the states are cast on, yoke, body and sleeves`, func(in *film.Input) { in.Samples[0].State = "hem" }},
		{"a sample free from no date", "samples[0].free_from", "not a date", func(in *film.Input) { in.Samples[0].FreeFrom = "soon" }},
		{"too many shots", "shots", "at most 200", func(in *film.Input) { in.Shots = make([]film.Shot, 201) }},
		{"a shot without an id", "shots[0].id", "is empty", func(in *film.Input) { in.Shots[0].ID = "" }},
		{"an id without end", "shots[0].id", "longer than 100", func(in *film.Input) { in.Shots[0].ID = strings.Repeat("a", 101) }},
		{"a shot without a date", "shots[0].on", "is missing", func(in *film.Input) { in.Shots[0].On = "" }},
		{"a shot from no known state", "shots[0].from", "no state", func(in *film.Input) { in.Shots[0].From = "hem" }},
		{"a shot to no known state", "shots[0].to", "no state", func(in *film.Input) { in.Shots[0].To = "hem" }},
		{"a shot backwards", "shots[0].to", "only moves forwards", func(in *film.Input) { in.Shots[0].To = "cast on" }},
	} {
		t.Run(tc.shows, func(t *testing.T) {
			in := good()
			tc.spoil(&in)
			_, err := film.Calculate(in)
			var at *film.FieldError
			require.ErrorAs(t, err, &at)
			require.Equal(t, tc.field, at.FieldPath())
			require.Contains(t, at.Problem, tc.says)
			require.Equal(t, at.Field+": "+at.Problem, err.Error())
		})
	}
}

// Dilworth, "A decomposition theorem for partially ordered sets", Annals of
// Mathematics 51 (1950): the fewest chains that cover an order are as many as
// its largest antichain. When time is plenty, shots are ordered by time and
// state, an antichain is a run of shots of ever earlier states, and the longest
// such run is found by patience sorting.
func TestFewestSamplesAreTheLargestAntichain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		states := rapid.SliceOfN(rapid.IntRange(0, 29), 1, 60).Draw(t, "states")
		in := film.Input{Today: "2026-03-02", HoursPerDay: 24, SameDayHours: 24}
		for i := range 30 {
			in.States = append(in.States, film.State{Name: fmt.Sprint(i), Hours: 0.01})
		}
		for i, s := range states {
			in.Shots = append(in.Shots, film.Shot{ID: fmt.Sprint(i), On: "2026-04-01", From: fmt.Sprint(s), To: fmt.Sprint(s)})
		}
		var piles []int // the negated tops, strictly rising
		for _, s := range states {
			i, _ := slices.BinarySearch(piles, -s)
			if i == len(piles) {
				piles = append(piles, 0)
			}
			piles[i] = -s
		}
		out, err := film.Calculate(in)
		require.NoError(t, err)
		require.Empty(t, out.Unserved)
		require.Equal(t, len(piles), out.NewSamples)
	})
}

func TestOrderOfSamplesDoesNotMatter(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 300 {
		in := randomInput(r, 12, 6, 5, 9)
		before := fmt.Sprintf("%+v", in)
		want := calculate(t, in)
		require.Equal(t, before, fmt.Sprintf("%+v", in), "the input is only read")
		r.Shuffle(len(in.Samples), func(i, j int) { in.Samples[i], in.Samples[j] = in.Samples[j], in.Samples[i] })
		require.Equal(t, want, calculate(t, in))
	}
}

func BenchmarkPlan(b *testing.B) {
	for _, size := range []struct{ shots, samples, states int }{{60, 12, 30}, {film.MaxShots, film.MaxSamples, film.MaxStates}} {
		b.Run(fmt.Sprintf("%d shots, %d samples, %d states", size.shots, size.samples, size.states), func(b *testing.B) {
			in := randomInput(rand.New(rand.NewPCG(5, 6)), size.shots, size.samples, size.states, 28)
			for b.Loop() {
				if _, err := film.Calculate(in); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
