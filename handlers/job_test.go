package handlers_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/modelstest"
	"tenter/server/servertest"
)

// assign gives a size to a fresh tester and returns their client and the
// assignment's id.
func assign(t *testing.T, s *servertest.Studio, c *servertest.Client, p *servertest.Pullover, handle, size string) (*servertest.Client, string) {
	t.Helper()
	tester := s.As(handle, models.Tester)
	id := c.Post("/calls/"+p.CallID+"/assignments", map[string]any{"person_id": tester.Person.ID, "size_id": p.Sizes[size]}).Want(201).ID()
	return tester, id
}

// measured turns "bust 96.5" style pairs into measurements.
func measured(p *servertest.Pullover, unit string, values map[string]float64) []map[string]any {
	var out []map[string]any
	for name, v := range values {
		out = append(out, map[string]any{"point_id": p.Points[name], "value": v, "unit": unit})
	}
	return out
}

type comparisonCell struct {
	Point         string
	ExpectedCM    *float64 `json:"expected_cm"`
	ExpectedOwnCM *float64 `json:"expected_own_cm"`
	MeasuredCM    *float64 `json:"measured_cm"`
	DifferenceCM  *float64 `json:"difference_cm"`
	ExplainedCM   *float64 `json:"explained_cm"`
	ResidualCM    *float64 `json:"residual_cm"`
	SharePercent  *float64 `json:"share_percent"`
	Sentence      string
	Warnings      []struct{ Kind, Sentence string }
}

// TestReportIsHeldAgainstItsCounts checks the numbers by hand: size 1 has 122
// stitches round the body. At 14 stitches over 10 cm that is 122 * 10 / 14 =
// 87.142857 cm; at the tester's 13 stitches over 4 in (10.16 cm) it is 122 *
// 10.16 / 13 = 95.347692 cm. Measured 95 cm: the difference is 7.857143 cm, of
// which the gauge explains 8.204835, and -0.347692 is left.
func TestReportIsHeldAgainstItsCounts(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c := s.Designer()
		p := s.NewPullover(c, "Saltmarsh pullover")
		s.OpenCall(c, p)
		tester, assignment := assign(t, s, c, p, "agrimony", "1")
		report := tester.Post("/assignments/"+assignment+"/reports", map[string]any{
			"swatch":       map[string]any{"stitches": 13, "rows": 11, "span": 4, "unit": "in"},
			"measurements": measured(p, "cm", map[string]float64{"bust": 95, "hem": 43}),
			"yarn":         map[string]any{"value": 620, "unit": "yd"}, "hours": 21.5, "note": "lovely",
			"remarks": []any{map[string]any{"place": "Row 12", "body": "says 12, I needed 14"}},
		}).Want(201).ID()

		var got struct {
			Yarn       struct{ Value float64 }
			Comparison []comparisonCell
			Gauge      struct {
				StitchPercent float64 `json:"stitch_percent"`
			}
		}
		c.Get("/reports/" + report).Want(200).Into(&got)
		require.InDelta(t, 620, got.Yarn.Value, 0)
		// 13 over 4 in is 12.795276 over 10 cm; 12.795276 / 14 - 1 = -8.605174 %.
		require.InDelta(t, -8.605174, got.Gauge.StitchPercent, 1e-5)
		bust := cell(t, got.Comparison, "bust")
		require.InDelta(t, 87.142857, *bust.ExpectedCM, 1e-6)
		require.InDelta(t, 95.347692, *bust.ExpectedOwnCM, 1e-6)
		require.InDelta(t, 95, *bust.MeasuredCM, 0)
		require.InDelta(t, 7.857143, *bust.DifferenceCM, 1e-6)
		require.InDelta(t, 8.204835, *bust.ExplainedCM, 1e-6)
		require.InDelta(t, -0.347692, *bust.ResidualCM, 1e-6)
		require.Empty(t, bust.Warnings)
		require.NotEmpty(t, bust.Sentence)
		hem := cell(t, got.Comparison, "hem") // 114 stitches: 81.4 cm; 43 is about half of the 89.1 at the own gauge
		require.NotEmpty(t, hem.Warnings)
		require.Equal(t, "half", hem.Warnings[0].Kind)
		cuff := cell(t, got.Comparison, "cuff")
		require.Nil(t, cuff.MeasuredCM)

		own := tester.Get("/reports/" + report).Want(200).Map()
		require.NotContains(t, own, "comparison", "a tester measures blind")
		remarks := c.Get("/designs/" + p.ID + "/remarks").Want(200).Map()["items"].([]any)
		require.Len(t, remarks, 1)
		require.Equal(t, "agrimony", remarks[0].(map[string]any)["handle"])
	})
}

func cell(t *testing.T, cells []comparisonCell, point string) comparisonCell {
	t.Helper()
	for _, c := range cells {
		if c.Point == point {
			return c
		}
	}
	t.Fatalf("no comparison for %s", point)
	return comparisonCell{}
}

func TestReportIsCorrectedWithItsHistoryKept(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c := s.Designer()
		p := s.NewPullover(c, "Saltmarsh pullover")
		s.OpenCall(c, p)
		tester, assignment := assign(t, s, c, p, "agrimony", "1")
		other, _ := assign(t, s, c, p, "bramble", "2")
		send := func(client *servertest.Client, bust float64, extra map[string]any) *servertest.Answer {
			body := map[string]any{"measurements": measured(p, "in", map[string]float64{"bust": bust})}
			for k, v := range extra {
				body[k] = v
			}
			return client.Post("/assignments/"+assignment+"/reports", body)
		}
		first := send(tester, 17.5, nil).Want(201)
		require.Equal(t, "reported", c.Get("/assignments/" + assignment).Map()["state"])
		c.Post("/reports/"+first.ID()+"/approve", map[string]any{"approved": true}).Want(200)
		require.Equal(t, "approved", c.Get("/assignments/" + assignment).Map()["state"])

		send(tester, 35, map[string]any{"corrects": 2}).Want(409)
		send(other, 35, nil).Want(404)
		send(c, 35, nil).Want(403)
		second := send(tester, 35, map[string]any{"corrects": 1}).Want(201)
		require.EqualValues(t, 2, second.Map()["number"])
		require.Equal(t, "reported", c.Get("/assignments/" + assignment).Map()["state"], "a correction is not approved yet")
		c.Post("/reports/"+first.ID()+"/approve", map[string]any{"approved": true}).Want(409)

		items := tester.Get("/assignments/" + assignment + "/reports").Want(200).Map()["items"].([]any)
		require.Len(t, items, 2)
		was := items[0].(map[string]any)
		require.NotNil(t, was["superseded_at"])
		length := was["measurements"].([]any)[0].(map[string]any)["length"].(map[string]any)
		require.InDelta(t, 17.5, length["value"], 0) // what was typed
		require.Equal(t, "in", length["unit"])
		require.InDelta(t, 44.45, length["cm"], 1e-9) // 17.5 * 2.54

		other.Get("/assignments/" + assignment + "/reports").Want(404)
		other.Get("/reports/" + first.ID()).Want(404)
	})
}

// TestBadReportIsRefusedWhole: each names its field and leaves nothing behind.
func TestBadReportIsRefusedWhole(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c := s.Designer()
		p := s.NewPullover(c, "Saltmarsh pullover")
		q := s.NewPullover(c, "Another one")
		s.OpenCall(c, p)
		tester, assignment := assign(t, s, c, p, "agrimony", "1")
		one := func(point string, value any, unit string) []any {
			return []any{map[string]any{"point_id": point, "value": value, "unit": unit}}
		}
		for _, row := range []struct {
			name  string
			body  map[string]any
			field string
		}{
			{"a bust of four metres", map[string]any{"measurements": one(p.Points["bust"], 400, "cm")}, "body.measurements[0].value"},
			{"200 inches", map[string]any{"measurements": one(p.Points["bust"], 200, "in")}, "body.measurements[0].value"},
			{"less than nothing", map[string]any{"measurements": one(p.Points["bust"], -1, "cm")}, "body.measurements[0].value"},
			{"nothing at all", map[string]any{"measurements": one(p.Points["bust"], 0, "cm")}, "body.measurements[0]"},
			{"a word for a number", map[string]any{"measurements": one(p.Points["bust"], "wide", "cm")}, "body.measurements[0].value"},
			{"an unknown unit", map[string]any{"measurements": one(p.Points["bust"], 90, "ell")}, "body.measurements[0].unit"},
			{"another design's point", map[string]any{"measurements": one(q.Points["bust"], 90, "cm")}, "body.measurements[0].point_id"},
			{"an unknown field", map[string]any{"measurements": one(p.Points["bust"], 90, "cm"), "colour": "grey"}, "body.colour"},
			{"a swatch without its span", map[string]any{"swatch": map[string]any{"stitches": 14}}, "body.swatch.span"},
			{"a swatch of no stitches", map[string]any{"swatch": map[string]any{"stitches": 0, "span": 10, "unit": "cm"}}, "body.swatch.stitches"},
			{"negative hours", map[string]any{"measurements": one(p.Points["bust"], 90, "cm"), "hours": -2}, "body.hours"},
			{"yarn by the mile", map[string]any{"measurements": one(p.Points["bust"], 90, "cm"), "yarn": map[string]any{"value": 1e9, "unit": "m"}}, "body.yarn.value"},
			{"nothing measured", map[string]any{}, "body.measurements"},
			{"an empty remark", map[string]any{"measurements": one(p.Points["bust"], 90, "cm"), "remarks": []any{map[string]any{"body": " "}}}, "body.remarks[0].body"},
		} {
			t.Run(row.name, func(t *testing.T) {
				tester.Post("/assignments/"+assignment+"/reports", row.body).Names(422, row.field)
			})
		}
		tester.Do("POST", "/assignments/"+assignment+"/reports", `{"measurements":[{"point_id":"x","value":NaN,"unit":"cm"}]}`, nil).Want(400)
		tester.Do("POST", "/assignments/"+assignment+"/reports", `{"hours":1e999}`, nil).Names(422, "body.hours")
		require.Empty(t, c.Get("/assignments/" + assignment + "/reports").Want(200).Map()["items"])
		require.Empty(t, c.Get("/designs/" + p.ID + "/remarks").Want(200).Map()["items"])
	})
}

func TestEntryIsQuestionedAndNeverRefused(t *testing.T) {
	s := servertest.OnSQLite(t)
	c := s.Designer()
	p := s.NewPullover(c, "Saltmarsh pullover")
	s.OpenCall(c, p)
	tester, assignment := assign(t, s, c, p, "agrimony", "1")
	for _, row := range []struct {
		name  string
		value float64
		unit  string
		want  string // "" for no question
	}{
		{"near what is expected", 88, "cm", ""},
		{"half a circumference", 43.5, "cm", "half"},
		{"inches entered as cm", 34.25, "cm", "inch_as_cm"},
		{"cm entered as inches", 87, "in", "cm_as_inch"},
		{"swapped digits", 78, "cm", ""}, // 78 for 87 is only 10 % off: not beyond what a piece can be
		{"out by a point", 8.7, "cm", "decimal_point"},
	} {
		t.Run(row.name, func(t *testing.T) {
			var got struct {
				Warnings []struct{ Kind, Sentence string }
			}
			tester.Post("/assignments/"+assignment+"/check", map[string]any{
				"measurements": measured(p, row.unit, map[string]float64{"bust": row.value})}).Want(200).Into(&got)
			if row.want == "" {
				require.Empty(t, got.Warnings)
				return
			}
			require.NotEmpty(t, got.Warnings)
			require.Equal(t, row.want, got.Warnings[0].Kind)
			require.NotContains(t, got.Warnings[0].Sentence, "expected", "a tester measures blind")
			tester.Post("/assignments/"+assignment+"/reports", map[string]any{
				"measurements": measured(p, row.unit, map[string]float64{"bust": row.value})}).Want(201)
		})
	}
}

type boardBody struct {
	Sizes []struct {
		Name    string
		Testers struct{ Assigned, Reported, Approved int }
		Strips  []struct {
			PointID    string   `json:"point_id"`
			IntendedCM *float64 `json:"intended_cm"`
			ExpectedCM *float64 `json:"expected_cm"`
			LowCM      float64  `json:"low_cm"`
			HighCM     float64  `json:"high_cm"`
			Marks      []struct {
				Who   string
				AtCM  float64 `json:"at_cm"`
				State string
			}
		}
	}
	Gates []struct {
		Name, Why, Where string
		Shut             bool
	}
	Gauge struct{ State string }
}

// TestBoardPlacesEachPieceAtItsMakersOwnGauge: 95 cm at 13 stitches over 4 in
// lies where 95 * 87.142857 / 95.347692 = 86.825 cm would at the design's gauge.
func TestBoardPlacesEachPieceAtItsMakersOwnGauge(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c := s.Designer()
		p := s.NewPullover(c, "Saltmarsh pullover")
		s.OpenCall(c, p)
		tester, assignment := assign(t, s, c, p, "agrimony", "1")
		tester.Post("/assignments/"+assignment+"/reports", map[string]any{
			"swatch":       map[string]any{"stitches": 13, "rows": 11, "span": 4, "unit": "in"},
			"measurements": measured(p, "cm", map[string]float64{"bust": 95, "cuff": 24, "hem": 43}),
		}).Want(201)

		var b boardBody
		c.Get("/designs/" + p.Slug + "/board").Want(200).Into(&b)
		require.Len(t, b.Sizes, 9)
		require.Equal(t, 1, b.Sizes[0].Testers.Reported)
		require.Zero(t, b.Sizes[1].Testers.Assigned)
		for _, strip := range b.Sizes[0].Strips {
			switch strip.PointID {
			case p.Points["bust"]:
				require.InDelta(t, 87, *strip.IntendedCM, 0)
				require.InDelta(t, 87.14, *strip.ExpectedCM, 1e-9)
				require.Len(t, strip.Marks, 1)
				require.InDelta(t, 86.83, strip.Marks[0].AtCM, 0.006)
				require.Equal(t, "within", strip.Marks[0].State)
				require.Less(t, strip.LowCM, 85.0)
				require.Greater(t, strip.HighCM, 89.0)
			case p.Points["cuff"]: // 28 stitches: 20 cm; 24 cm lies at 21.9, beyond the 1 cm of tolerance
				require.Equal(t, "outside", strip.Marks[0].State)
			case p.Points["hem"]:
				require.Equal(t, "slip", strip.Marks[0].State)
			}
		}
		require.Equal(t, "untold", b.Gauge.State)
		for _, g := range b.Gates {
			require.Equal(t, g.Shut, g.Why != "", "%s", g.Name)
			require.True(t, strings.HasPrefix(g.Where, "/d/"+p.Slug+"/"))
		}
		c.Get("/designs/no-such-design/board").Want(404)
	})
}

// TestTestersSeeOnlyTheirOwn walks what a tester may reach with somebody
// else's ids in it.
func TestTestersSeeOnlyTheirOwn(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c := s.Designer()
		p := s.NewPullover(c, "Saltmarsh pullover")
		s.OpenCall(c, p)
		one, mine := assign(t, s, c, p, "agrimony", "1")
		two, theirs := assign(t, s, c, p, "bramble", "2")
		body := map[string]any{"measurements": measured(p, "cm", map[string]float64{"bust": 90})}
		report := two.Post("/assignments/"+theirs+"/reports", body).Want(201).ID()
		own := one.Post("/assignments/"+mine+"/reports", body).Want(201).ID()

		picture := modelstest.JPEG(t, modelstest.Quarters(20, 20))
		photo := addPhoto(two, "/assignments/"+theirs+"/photos", picture).Want(201).ID()
		fill := map[string]string{"photo": photo, "size": "thumb", "assignment": theirs, "report": report, "design": p.Slug, "call": p.CallID, "version": p.VersionID, "person": two.Person.ID}
		right := map[string]string{"assignment": mine, "report": own}
		for _, r := range routes(t, s) {
			if strings.HasSuffix(r.path, "/live") || !strings.Contains(r.path, "{") || r.id == "calculate" || r.id == "stop-letters" { // the last two ask for no sign-in or tell nothing of anybody
				continue
			}
			var b any
			switch {
			case r.id == "withdraw-assignment":
				b = map[string]any{"why": "no time"}
			case r.id == "check-in":
				b = map[string]any{"done": 1}
			case r.id == "ask-for-time":
				b = map[string]any{"wanted_on": "2027-04-01", "why": "a cold"}
			case r.id == "send-report" || r.id == "check-entry":
				b = body
			case r.id == "add-report-photo":
				b = picture
			case r.id == "caption-photo":
				b = map[string]any{"caption": "mine now"}
			case r.id == "add-assignment-remark":
				b = map[string]any{"body": "unclear"}
			case r.method != "GET" && r.id != "accept-assignment":
				b = map[string]any{}
			}
			a := one.Do(r.method, r.address(fill), b, nil)
			require.Contains(t, []int{403, 404}, a.Status, "%s with another tester's ids = %s", r.id, a.Body)
			require.NotContains(t, string(a.Body), "bramble")
			if strings.Contains(r.path, "{assignment}") || strings.Contains(r.path, "{report}") {
				if a.Status == 404 && !slices.Contains([]string{"withdraw-assignment", "check-in", "ask-for-time"}, r.id) { // those end with the report
					a = one.Do(r.method, r.address(right), b, nil)
					require.Less(t, a.Status, 300, "%s with my own ids = %s", r.id, a.Body)
				}
			}
		}
		for _, path := range []string{"/me/assignments", "/assignments/" + mine, "/reports/" + own} {
			require.NotContains(t, string(one.Get(path).Want(200).Body), "bramble")
		}
	})
}
