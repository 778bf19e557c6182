package handlers_test

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/server/servertest"
)

// testRound is a pullover in the middle of its test: three testers with gauges
// of their own in each of some sizes, who measure what the counts give at their
// gauge, to the half centimetre, unless told otherwise.
type testRound struct {
	t           *testing.T
	s           *servertest.Studio
	designer    *servertest.Client
	p           *servertest.Pullover
	expected    map[string]map[string]float64 // cm at the design's gauge, by size and point
	axis        map[string]string             // by point
	testers     map[string]*servertest.Client
	assignments map[string]string
}

// swatches are the gauges over 10 cm of each size's three testers; the design's
// is 14 stitches and 11 rows.
var swatches = [][2]float64{{14, 11}, {13.5, 10.5}, {14.5, 11.5}}

func newTestRound(t *testing.T, s *servertest.Studio) *testRound {
	t.Helper()
	r := &testRound{t: t, s: s, designer: s.Designer(), expected: map[string]map[string]float64{}, axis: map[string]string{},
		testers: map[string]*servertest.Client{}, assignments: map[string]string{}}
	r.p = s.NewPullover(r.designer, "Saltmarsh pullover")
	s.OpenCall(r.designer, r.p)
	var sheet struct {
		Finished []struct {
			Point, Size string
			Expected    float64
		}
	}
	r.designer.Get("/versions/" + r.p.VersionID).Want(200).Into(&sheet)
	for _, f := range sheet.Finished {
		if r.expected[f.Size] == nil {
			r.expected[f.Size] = map[string]float64{}
		}
		r.expected[f.Size][f.Point] = f.Expected
	}
	for _, q := range s.ReadPoints().Points {
		r.axis[q.Name] = q.Axis
	}
	return r
}

// join assigns three testers to each size: "s1-0", "s1-1", ...
func (r *testRound) join(sizes ...string) {
	r.t.Helper()
	for _, size := range sizes {
		for i := range swatches {
			who := fmt.Sprintf("s%s-%d", size, i)
			r.testers[who], r.assignments[who] = assign(r.t, r.s, r.designer, r.p, who, size)
		}
	}
}

// report sends what a tester measures; off multiplies the length of a point,
// 0 leaves it out.
func (r *testRound) report(who string, off map[string]float64) string {
	r.t.Helper()
	var size string
	var i int
	_, err := fmt.Sscanf(strings.Replace(who, "-", " ", 1), "s%1s %d", &size, &i)
	require.NoError(r.t, err)
	values := map[string]float64{}
	for point, cm := range r.expected[size] {
		factor, told := off[point]
		if !told {
			factor = 1
		}
		own := swatches[i][0] / 14
		if r.axis[point] == "row" {
			own = swatches[i][1] / 11
		}
		if factor > 0 {
			values[point] = math.Round(2*cm/own*factor) / 2
		}
	}
	return r.testers[who].Post("/assignments/"+r.assignments[who]+"/reports", map[string]any{
		"swatch":       map[string]any{"stitches": swatches[i][0], "rows": swatches[i][1], "span": 10, "unit": "cm"},
		"measurements": measured(r.p, "cm", values), "yarn": map[string]any{"value": 600, "unit": "m"},
	}).Want(201).ID()
}

type fitBody struct {
	Problem   string
	Of        string
	Undecided int
	Findings  []fitFinding
	Gone      []struct{ Key, Choice string }
	Requests  []struct {
		ID, Who, Point string
		AnsweredAt     *string `json:"answered_at"`
		WithdrawnAt    *string `json:"withdrawn_at"`
		Same           bool
		Was, Now       *struct{ Value float64 }
		Revision       int
	}
	Pieces []struct {
		Who, Size string
		Measured  int
	}
	Lines []struct {
		Who, Point    string
		ExpectedOwnCM float64 `json:"expected_own_cm"`
		LikelyCM      float64 `json:"likely_cm"`
		LowCM         float64 `json:"low_cm"`
		HighCM        float64 `json:"high_cm"`
		MeasuredCM    float64 `json:"measured_cm"`
		Odd           bool
	}
}

type fitFinding struct {
	Key, Kind, Verdict, Size, Point, Who, Message, Reopened string
	Asks, Waits                                             bool
	Numbers                                                 map[string]any
	Counts                                                  []string
	MoreReports                                             *int   `json:"more_reports"`
	AssignmentID                                            string `json:"assignment_id"`
	PointID                                                 string `json:"point_id"`
	Decision                                                *struct{ Choice, Reason, Who string }
}

func (r *testRound) fit() fitBody {
	r.t.Helper()
	var f fitBody
	r.designer.Get("/designs/" + r.p.ID + "/fit").Want(200).Into(&f)
	return f
}

func (f fitBody) find(t *testing.T, verdict string) fitFinding {
	t.Helper()
	for _, x := range f.Findings {
		if x.Verdict == verdict {
			return x
		}
	}
	t.Fatalf("no %s among %+v", verdict, f.Findings)
	return fitFinding{}
}

func (r *testRound) gate(name string) (shut bool, why, where string) {
	r.t.Helper()
	var b boardBody
	r.designer.Get("/designs/" + r.p.ID + "/board").Want(200).Into(&b)
	for _, g := range b.Gates {
		if g.Name == name {
			return g.Shut, g.Why, g.Where
		}
	}
	r.t.Fatalf("no gate %s", name)
	return false, "", ""
}

func narrow(point string, factor float64) map[string]float64 {
	return map[string]float64{point: factor}
}

// TestCountFaultIsFoundDecidedAndOpensAgain: the sleeves of size 2 come out 12 %
// narrow for all three testers, and nothing else is off.
func TestCountFaultIsFoundDecidedAndOpensAgain(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newTestRound(t, s)
		require.Empty(t, r.fit().Pieces)
		shut, _, _ := r.gate("Fit findings decided")
		require.False(t, shut, "nobody has reported: there is nothing to decide")
		r.join("1", "2", "3")
		for _, size := range []string{"1", "3"} {
			for i := range swatches {
				r.report(fmt.Sprintf("s%s-%d", size, i), nil)
			}
		}
		for i := range swatches {
			r.report(fmt.Sprintf("s2-%d", i), narrow("upper arm", 0.88))
		}

		f := r.fit()
		require.Empty(t, f.Problem)
		require.Len(t, f.Pieces, 9)
		require.Len(t, f.Lines, 9*len(r.axis))
		fault := f.Findings[0] // the most serious first
		require.Equal(t, "cell", fault.Kind)
		require.Equal(t, "fault", fault.Verdict)
		require.Equal(t, []string{"2", "upper arm"}, []string{fault.Size, fault.Point})
		require.Equal(t, []string{"upper_arm"}, fault.Counts)
		require.Contains(t, fault.Message, "Size 2, upper arm: all 3 testers came out")
		require.InDelta(t, -12, fault.Numbers["estimate_pct"], 3)
		require.True(t, fault.Asks)
		require.True(t, fault.Waits)
		shut, why, where := r.gate("Fit findings decided")
		require.True(t, shut)
		require.Contains(t, why, "Size 2, upper arm")
		require.Equal(t, "/d/"+r.p.Slug+"/fit", where)

		path := "/designs/" + r.p.ID + "/fit/decisions"
		decide := func(choice, reason string, seen map[string]any) *servertest.Answer {
			return r.designer.Post(path, map[string]any{"key": fault.Key, "choice": choice, "reason": reason, "seen": seen})
		}
		decide("rejected", " ", fault.Numbers).Names(422, "body.reason")
		decide("perhaps", "", fault.Numbers).Names(422, "body.choice")
		r.designer.Post(path, map[string]any{"key": "cell-0", "choice": "accepted", "seen": fault.Numbers}).Names(422, "body.key")
		r.designer.Post(path, map[string]any{"key": fault.Key, "choice": "accepted"}).Names(422, "body")
		old := map[string]any{"verdict": "suspect", "estimate_pct": -5.0, "reports": 1}
		decide("accepted", "", old).Want(412)
		require.Nil(t, r.fit().find(t, "fault").Decision, "nothing of that was kept")

		require.Equal(t, `"1"`, decide("left", "", fault.Numbers).Want(201).Header.Get("ETag"))
		left := r.fit().find(t, "fault")
		require.True(t, left.Waits, "what is left is still open")
		require.Equal(t, `"2"`, decide("accepted", "the text says 40", fault.Numbers).Want(201).Header.Get("ETag"))
		done := r.fit().find(t, "fault")
		require.Equal(t, fault.Key, done.Key)
		require.False(t, done.Waits)
		require.Equal(t, "accepted", done.Decision.Choice)
		require.Equal(t, "the text says 40", done.Decision.Reason)
		require.Equal(t, "designer", done.Decision.Who)
		_, why, _ = r.gate("Fit findings decided")
		require.NotContains(t, why, "Size 2, upper arm")

		// One tester measures the same again: nothing material has changed.
		r.report("s2-0", narrow("upper arm", 0.88))
		require.Empty(t, r.fit().find(t, "fault").Reopened)

		// All three measure again, and it is far worse.
		for i := range swatches {
			r.report(fmt.Sprintf("s2-%d", i), narrow("upper arm", 0.80))
		}
		worse := r.fit().find(t, "fault")
		require.Equal(t, fault.Key, worse.Key)
		require.True(t, worse.Waits)
		require.NotEmpty(t, worse.Reopened)
		require.Equal(t, "accepted", worse.Decision.Choice, "what was decided is still told")

		// They had measured at the wrong place: the finding is gone, the decision is kept.
		for i := range swatches {
			r.report(fmt.Sprintf("s2-%d", i), nil)
		}
		clean := r.fit()
		for _, x := range clean.Findings {
			require.NotEqual(t, "fault", x.Verdict, x.Message)
		}
		require.Len(t, clean.Gone, 1)
		require.Equal(t, fault.Key, clean.Gone[0].Key)
	})
}

// TestBoardShowsWhatTheDiagnosisNames: pieces of every size are 6 % longer than
// swatches promise; one bust is half; one size's sleeves are at fault.
func TestBoardShowsWhatTheDiagnosisNames(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newTestRound(t, s)
		r.join("1", "2", "3")
		grown := map[string]float64{}
		for point, axis := range r.axis {
			if axis == "row" {
				grown[point] = 1.06
			}
		}
		with := func(point string, factor float64) map[string]float64 {
			out := map[string]float64{point: factor}
			for k, v := range grown {
				out[k] = v
			}
			return out
		}
		for who := range r.testers {
			switch {
			case who == "s1-0":
				r.report(who, with("bust", 0.5))
			case strings.HasPrefix(who, "s2"):
				r.report(who, with("upper arm", 0.86))
			default:
				r.report(who, grown)
			}
		}
		grows := r.fit().find(t, "grows")
		require.Equal(t, "fabric", grows.Kind)
		require.InDelta(t, 6, grows.Numbers["estimate_pct"], 1)

		var b struct {
			Sizes []struct {
				Name   string
				Strips []struct {
					PointID    string   `json:"point_id"`
					ExpectedCM float64  `json:"expected_cm"`
					GrowthCM   *float64 `json:"growth_cm"`
					Finding    *struct {
						Key, Verdict string
						Decided      bool
					}
					Marks []struct {
						Who, State, Sentence string
						AtCM                 float64 `json:"at_cm"`
					}
				}
			}
		}
		r.designer.Get("/designs/" + r.p.ID + "/board").Want(200).Into(&b)
		for _, z := range b.Sizes {
			for _, strip := range z.Strips {
				switch strip.PointID {
				case r.p.Points["body length"]:
					require.NotNil(t, strip.GrowthCM, "also in sizes that nobody made")
					require.InDelta(t, 0.06*strip.ExpectedCM, *strip.GrowthCM, 0.01*strip.ExpectedCM)
					for _, m := range strip.Marks {
						require.Equal(t, "within", m.State, "the band moves with the fabric: %s at %g", m.Who, m.AtCM)
					}
				case r.p.Points["upper arm"]:
					require.Nil(t, strip.GrowthCM, "the fabric does not grow widthwise")
					require.Equal(t, z.Name == "2", strip.Finding != nil && strip.Finding.Verdict == "fault", "size %s", z.Name)
				case r.p.Points["bust"]:
					for _, m := range strip.Marks {
						if m.Who == "s1-0" {
							require.Equal(t, "slip", m.State)
							require.Contains(t, m.Sentence, "half of what was asked")
						}
					}
				}
			}
		}
		var numbers map[string][]any
		r.designer.Get("/designs/" + r.p.ID + "/fit/numbers").Want(200).Into(&numbers)
		require.Len(t, numbers["reports"], 9*len(r.axis))
		require.Len(t, numbers["fabric"], 2)
		raw, err := json.Marshal(numbers)
		require.NoError(t, err)
		require.NotContains(t, string(raw), "NaN")
	})
}

func TestTesterIsAskedToMeasureAgainAndAnswers(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newTestRound(t, s)
		other := s.NewPullover(r.designer, "Another one")
		r.join("1")
		path := "/designs/" + r.p.ID + "/measure-requests"
		ask := func(who string, extra map[string]any) *servertest.Answer {
			body := map[string]any{"assignment_id": r.assignments[who], "point_id": r.p.Points["bust"]}
			for k, v := range extra {
				body[k] = v
			}
			return r.designer.Post(path, body)
		}
		ask("s1-0", nil).Want(409) // has not reported yet
		r.report("s1-0", narrow("bust", 0.5))
		r.report("s1-1", nil)
		ask("s1-0", map[string]any{"point_id": other.Points["bust"]}).Names(422, "body.point_id")
		r.designer.Post("/designs/"+other.ID+"/measure-requests", map[string]any{"assignment_id": r.assignments["s1-0"], "point_id": other.Points["bust"]}).Names(422, "body.assignment_id")
		ask("s1-0", map[string]any{"why": strings.Repeat("x", 20000)}).Names(422, "body.why")
		require.Empty(t, r.fit().Requests)

		ask("s1-0", map[string]any{"why": "all the way round, please"}).Want(201)
		ask("s1-0", nil).Want(409) // asked already
		work := func(who string) []any {
			return r.testers[who].Get("/assignments/" + r.assignments[who]).Want(200).Map()["measure_again"].([]any)
		}
		require.Len(t, work("s1-0"), 1)
		seen := work("s1-0")[0].(map[string]any)
		require.Equal(t, r.p.Points["bust"], seen["point_id"])
		require.Equal(t, "all the way round, please", seen["why"])
		require.NotContains(t, seen, "was", "a tester measures blind")
		require.Empty(t, work("s1-1"))

		r.report("s1-0", map[string]float64{"bust": 0}) // says nothing of it
		require.Len(t, work("s1-0"), 1)
		r.report("s1-0", nil)
		require.Empty(t, work("s1-0"))
		answered := r.fit().Requests[0]
		require.NotNil(t, answered.AnsweredAt)
		require.InDelta(t, answered.Was.Value*2, answered.Now.Value, 0.5)
		require.False(t, answered.Same)
		take := func(id string, revision int) *servertest.Answer {
			return r.designer.Do("POST", "/measure-requests/"+id+"/withdraw", nil, servertest.IfMatch(revision))
		}
		take(answered.ID, answered.Revision).Want(409) // answered

		// The swatch can be asked for again too, and what is asked can be taken back.
		id := r.designer.Post(path, map[string]any{"assignment_id": r.assignments["s1-1"]}).Want(201).ID()
		r.designer.Post("/measure-requests/"+id+"/withdraw", nil).Want(428)
		take(id, 7).Want(412)
		require.Len(t, work("s1-1"), 1)
		take(id, 1).Want(200)
		require.Empty(t, work("s1-1"))
		r.designer.Post(path, map[string]any{"assignment_id": r.assignments["s1-1"]}).Want(201)
		ask("s1-1", nil).Want(201)
		r.report("s1-1", nil) // the same as before, with the swatch
		require.Empty(t, work("s1-1"))
		for _, m := range r.fit().Requests {
			if m.Who == "s1-1" && m.Point == "bust" {
				require.True(t, m.Same, "it was made so")
			}
		}
		r.testers["s1-0"].Post(path, map[string]any{"assignment_id": r.assignments["s1-0"]}).Want(403)
	})
}

// TestPiecesAreHeldAgainstTheVersionTheyWereMadeFrom: size 2 has other sleeve
// stitches in version 2. Pieces of both versions are right; held against one
// sheet, one of them would be off by a seventh.
func TestPiecesAreHeldAgainstTheVersionTheyWereMadeFrom(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newTestRound(t, s)
		r.join("1", "2")
		for who := range r.testers {
			r.report(who, nil)
		}
		before := r.fit()
		version := r.designer.Post("/designs/"+r.p.ID+"/versions", map[string]any{"note": "wider sleeves"}).Want(201).ID()
		var sheet struct {
			Revision      int
			Counts, Rules []map[string]any
		}
		r.designer.Get("/versions/" + version).Want(200).Into(&sheet)
		for _, c := range sheet.Counts {
			delete(c, "text")
			delete(c, "id")
			if c["name"] == "upper_arm" {
				values := c["values"].([]any)
				values[1] = values[1].(float64) + 8
			}
		}
		for _, rule := range sheet.Rules {
			delete(rule, "id")
		}
		r.designer.Put("/versions/"+version+"/sheet", sheet.Revision, map[string]any{"counts": sheet.Counts, "rules": sheet.Rules}).Want(200)
		var now struct {
			Finished []struct {
				Point, Size string
				Expected    float64
			}
		}
		r.designer.Get("/versions/" + version).Want(200).Into(&now)
		was := r.expected["2"]["upper arm"]
		for _, f := range now.Finished {
			r.expected[f.Size][f.Point] = f.Expected
		}
		require.InDelta(t, 8*10/14.0, r.expected["2"]["upper arm"]-was, 0.006) // shown to the hundredth
		require.NotEqual(t, before.Of, r.fit().Of, "another sheet, another state")

		r.p.CallID = r.designer.Post("/designs/"+r.p.ID+"/calls", map[string]any{"version_id": version, "title": "Second call", "opens_on": "2027-02-01", "due_on": "2027-04-01",
			"slots": []any{map[string]any{"size_id": r.p.Sizes["2"], "fewest": 1, "wanted": 3, "most": 3}}}).Want(201).ID()
		for i := range swatches {
			who := fmt.Sprintf("s2-%d", i)
			again := r.testers[who]
			r.assignments[who] = r.designer.Post("/calls/"+r.p.CallID+"/assignments", map[string]any{"person_id": again.Person.ID, "size_id": r.p.Sizes["2"]}).Want(201).ID()
			r.report(who, nil)
		}
		f := r.fit()
		require.Len(t, f.Pieces, 9)
		names := map[string]int{}
		for _, line := range f.Lines {
			if strings.HasPrefix(line.Point, "upper arm") && strings.HasPrefix(line.Who, "s2-0") {
				names[line.Point+", "+line.Who]++
				require.InDelta(t, line.ExpectedOwnCM, line.MeasuredCM, 0.26)
			}
		}
		require.Equal(t, map[string]int{"upper arm, s2-0": 1, "upper arm in version 2, s2-0, piece 2": 1}, names)
		for _, x := range f.Findings {
			require.NotContains(t, []string{"fault", "suspect", "odd", "slip", "all_sizes_off"}, x.Verdict, x.Message)
		}
	})
}

// TestWhatWasMendedIsJudgedAfresh: the text of version 1 had too few sleeve
// stitches in size 2, which the sheet does not show. The fault is accepted,
// version 2 has the text mended, and its pieces are right: they neither hide
// the fault nor inherit it.
func TestWhatWasMendedIsJudgedAfresh(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newTestRound(t, s)
		r.join("1", "2")
		for who := range r.testers {
			if strings.HasPrefix(who, "s2") {
				r.report(who, narrow("upper arm", 0.88))
			} else {
				r.report(who, nil)
			}
		}
		fault := r.fit().find(t, "fault")
		r.designer.Post("/designs/"+r.p.ID+"/fit/decisions", map[string]any{"key": fault.Key, "choice": "accepted", "seen": fault.Numbers}).Want(201)
		version := r.designer.Post("/designs/"+r.p.ID+"/versions", map[string]any{"note": "sleeves of size 2 mended"}).Want(201).ID()
		r.p.CallID = r.designer.Post("/designs/"+r.p.ID+"/calls", map[string]any{"version_id": version, "title": "Second call", "opens_on": "2027-02-01", "due_on": "2027-04-01",
			"slots": []any{map[string]any{"size_id": r.p.Sizes["2"], "fewest": 1, "wanted": 3, "most": 3}}}).Want(201).ID()
		for i := range swatches {
			who := fmt.Sprintf("s2-%d", i)
			r.assignments[who] = r.designer.Post("/calls/"+r.p.CallID+"/assignments", map[string]any{"person_id": r.testers[who].Person.ID, "size_id": r.p.Sizes["2"]}).Want(201).ID()
			r.report(who, nil)
		}
		f := r.fit()
		require.Len(t, f.Pieces, 9)
		still := f.find(t, "fault")
		require.Equal(t, fault.Key, still.Key)
		require.False(t, still.Waits, "what was decided stands: %s", still.Reopened)
		for _, x := range f.Findings {
			require.False(t, x.Kind == "cell" && x.Asks && x.Point == "upper arm in version 2", x.Message)
		}
		cells := 0
		for _, line := range f.Lines {
			if line.Point == "upper arm in version 2" {
				cells++
			}
		}
		require.Equal(t, 3, cells)
	})
}

// TestFitOfLittle: an answer or a clear word, never an error.
func TestFitOfLittle(t *testing.T) {
	s := servertest.OnSQLite(t)
	c := s.Designer()
	d := c.Post("/designs", map[string]any{"name": "Bare", "craft": "knit", "audience": "woman", "terms": "uk", "unit": "in",
		"gauge": map[string]any{"stitches": 20, "rows": 28, "span": 4, "unit": "in"}}).Want(201).Map()
	path := "/designs/" + d["slug"].(string)
	require.NotEmpty(t, c.Get(path + "/fit").Want(200).Map()["problem"])
	require.NotEmpty(t, c.Get(path + "/yarn").Want(200).Map()["problem"])
	c.Get(path + "/fit/numbers").Want(200)
	c.Get("/designs/nowhere/fit").Want(404)
	c.Get("/designs/nowhere/yarn").Want(404)

	p := s.NewPullover(c, "One tester, one point")
	s.OpenCall(c, p)
	tester, assignment := assign(t, s, c, p, "agrimony", "1")
	tester.Post("/assignments/"+assignment+"/reports", map[string]any{"measurements": measured(p, "in", map[string]float64{"bust": 35})}).Want(201)
	var f fitBody
	c.Get("/designs/" + p.ID + "/fit").Want(200).Into(&f)
	require.Empty(t, f.Problem)
	require.Len(t, f.Lines, 1)
	require.Less(t, f.Lines[0].LowCM, f.Lines[0].HighCM)
	for _, x := range f.Findings {
		require.Contains(t, []string{"cannot_tell", "sheet_cell", "drift"}, x.Verdict)
	}
	maker := s.As("distaff", models.Maker)
	maker.Get("/designs/" + p.ID + "/fit").Want(200)
	tester.Get("/designs/" + p.ID + "/fit").Want(403)
}
