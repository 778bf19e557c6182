package handlers_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/server/servertest"
)

type changesBody struct {
	From, To struct{ Number int }
	Changes  []struct {
		Kind, Line, Size string
		Before, After    *float64
		Testers          []struct{ Handle, Size, State string }
	}
	Rules []struct {
		Name          string
		Before, After *struct{ Expr string }
	}
}

// newVersion gives version 2 other sleeves in size 2, and a line and a rule of its own.
func newVersion(t *testing.T, c *servertest.Client, p *servertest.Pullover) string {
	t.Helper()
	v := c.Post("/designs/"+p.ID+"/versions", map[string]any{"note": "corrections"}).Want(201).Map()
	var counts []any
	for _, x := range v["counts"].([]any) {
		row := x.(map[string]any)
		values := row["values"].([]any)
		if row["name"] == "body" {
			values[1] = values[1].(float64) + 4
		}
		if row["name"] == "left_front" {
			continue
		}
		counts = append(counts, map[string]any{"name": row["name"], "unit": row["unit"], "note": row["note"], "values": values})
	}
	counts = append(counts, map[string]any{"name": "pocket", "unit": "stitch", "text": "20"})
	c.Put("/versions/"+v["id"].(string)+"/sheet", 1, map[string]any{"counts": counts, "rules": []any{
		map[string]any{"name": "stitch repeat", "kind": "multiple", "expr": "body", "of": 2, "plus": 0},
	}}).Want(200)
	return v["id"].(string)
}

func TestVersionsAreComparedByLineAndSizeAndSayWhoMadeTheOldOne(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c := s.Designer()
		p := s.NewPullover(c, "Saltmarsh pullover")
		s.OpenCall(c, p)
		one, inOne := assign(t, s, c, p, "agrimony", "1")
		two, inTwo := assign(t, s, c, p, "bramble", "2")
		one.Post("/assignments/"+inOne+"/accept", nil).Want(200)
		two.Post("/assignments/"+inTwo+"/accept", nil).Want(200)
		for _, path := range []string{"/assignments/" + inOne, "/assignments/" + inTwo} {
			require.Nil(t, c.Get(path).Want(200).Map()["changed"])
		}
		v2 := newVersion(t, c, p)

		var got changesBody
		c.Get("/versions/" + v2 + "/changes").Want(200).Into(&got)
		require.Equal(t, []int{1, 2}, []int{got.From.Number, got.To.Number})
		var said []string
		for _, d := range got.Changes {
			handles := ""
			for _, m := range d.Testers {
				handles += m.Handle + " "
			}
			said = append(said, fmt.Sprintf("%s %s %s %v %v by %s", d.Kind, d.Line, d.Size, number(d.Before), number(d.After), handles))
		}
		require.Equal(t, []string{
			"value_changed body 2 134 138 by bramble ",
			"line_added pocket  – – by agrimony bramble ",
			"line_removed left_front  – – by agrimony bramble ",
		}, said)
		require.Len(t, got.Rules, 2)
		require.Equal(t, "stitch repeat", got.Rules[0].Name)
		require.Equal(t, "panels meet", got.Rules[1].Name)
		require.Nil(t, got.Rules[1].After)
		c.Get("/versions/" + v2 + "/changes?since=" + p.VersionID).Want(200)
		c.Get("/versions/" + p.VersionID + "/changes").Want(404)
		q := s.NewPullover(c, "Another one")
		c.Get("/versions/"+v2+"/changes?since="+q.VersionID).Names(422, "body.since")

		// The tester hears what is otherwise in their size, and no more.
		changed := two.Get("/assignments/" + inTwo).Want(200).Map()["changed"].(map[string]any)
		require.InDelta(t, 2, changed["version"], 0)
		require.Nil(t, changed["given_out_at"])
		require.Equal(t, []any{
			map[string]any{"name": "body", "unit": "stitch", "before": 134., "after": 138.},
			map[string]any{"name": "pocket", "unit": "stitch", "before": nil, "after": 20.},
			map[string]any{"name": "left_front", "unit": "stitch", "before": 34., "after": nil},
		}, changed["counts"])
		require.Len(t, one.Get("/assignments/" + inOne).Map()["changed"].(map[string]any)["counts"], 2)

		var b struct {
			Sizes []struct {
				Before []string `json:"made_before"`
			}
		}
		c.Get("/designs/" + p.ID + "/board").Want(200).Into(&b)
		require.Equal(t, []string{"1 tester with version 1; changed since: pocket – → 20, left_front 31 → –"}, b.Sizes[0].Before)
		require.Equal(t, []string{"1 tester with version 1; changed since: body 134 → 138, pocket – → 20 and 1 more"}, b.Sizes[1].Before)
		require.Empty(t, b.Sizes[2].Before, "nobody makes it")

		var list struct {
			Items []struct {
				Number  int
				Testers []struct{ Handle, Size, State string }
				SignOff any `json:"sign_off"`
			}
		}
		c.Get("/designs/" + p.ID + "/versions").Want(200).Into(&list)
		require.Len(t, list.Items, 2)
		require.Len(t, list.Items[0].Testers, 2)
		require.Equal(t, "accepted", list.Items[0].Testers[1].State)
		require.Empty(t, list.Items[1].Testers)
	})
}

func number(v *float64) string {
	if v == nil {
		return "–"
	}
	return fmt.Sprint(*v)
}

func TestTesterReadsNotesInTheirOwnTerms(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c := s.Designer()
		p := s.NewPullover(c, "Saltmarsh pullover") // written in US terms
		c.Put("/versions/"+p.VersionID+"/sheet", 2, map[string]any{"counts": []any{
			map[string]any{"name": "body", "unit": "stitch", "note": "work in dc, end with a sc", "text": "122"}}, "rules": []any{}}).Want(200)
		s.OpenCall(c, p)
		for _, row := range []struct{ handle, terms, want string }{
			{"agrimony", "us", "work in US dc, end with a sc"},
			{"bramble", "uk", "work in UK tr, end with a UK dc"},
		} {
			tester, id := assign(t, s, c, p, row.handle, "1")
			tester.Patch("/me", 1, map[string]any{"terms": row.terms}).Want(200)
			tester.Post("/assignments/"+id+"/accept", nil).Want(200)
			w := tester.Get("/assignments/" + id).Want(200).Map()
			require.Equal(t, row.terms, w["reads_in"])
			require.Equal(t, false, w["as_written"])
			require.Equal(t, row.want, w["counts"].([]any)[0].(map[string]any)["note"])
		}
	})
}

// TestProposalKeepsTheRules: bust 97 cm at 14 stitches over 10 cm is 135.8
// stitches; 134 and 138 are multiples of 4 + 2, and 134 is nearer.
func TestProposalKeepsTheRules(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c := s.Designer()
		design, version, sizes := smallDesign(t, c, true)
		c.Put("/designs/"+design+"/points", 2, map[string]any{"points": []any{
			map[string]any{"name": "bust", "axis": "stitch", "expr": "body", "tolerance": map[string]any{"value": 2, "unit": "cm"},
				"intended": []any{map[string]any{"size_id": sizes[0], "value": 87, "unit": "cm"}, map[string]any{"size_id": sizes[1], "value": 97, "unit": "cm"}}},
			map[string]any{"name": "widest", "axis": "stitch", "expr": "max(back, front)", "tolerance": map[string]any{"value": 2, "unit": "cm"}},
		}}).Want(200)
		var p struct {
			Lines []struct {
				Name, Text string
				NowText    string `json:"now_text"`
				Changed    bool
			}
			Sizes []struct {
				Exact   bool
				Problem string
			}
			Finished []struct {
				Point, Size string
				Expected    float64
			}
			Unguided []struct{ What, Problem string }
		}
		c.Post("/versions/"+version+"/proposal", map[string]any{"keep": []any{"back"}}).Want(200).Into(&p)
		require.Equal(t, "body", p.Lines[0].Name)
		require.Equal(t, "122 (134)", p.Lines[0].Text)
		require.Equal(t, "60 (66)", p.Lines[2].Text, "back + front = body, with back kept")
		require.Equal(t, "60 (67)", p.Lines[2].NowText)
		require.True(t, p.Lines[2].Changed)
		require.False(t, p.Lines[1].Changed)
		require.True(t, p.Sizes[1].Exact)
		require.Len(t, p.Unguided, 1)
		require.Equal(t, "point widest", p.Unguided[0].What)

		// From what stands on the screen, with a line that is still empty.
		sheet := smallSheet(true)
		sheet["counts"].([]any)[0] = map[string]any{"name": "body", "unit": "stitch", "values": []any{nil, nil}}
		sheet["keep"] = []any{"back"}
		c.Post("/versions/"+version+"/proposal", sheet).Want(200).Into(&p)
		require.Equal(t, "122 (134)", p.Lines[0].Text)
		require.Equal(t, "– (–)", p.Lines[0].NowText)

		c.Post("/versions/"+version+"/proposal", map[string]any{"keep": []any{"sleeve"}}).Names(422, "body.keep[0]")
		require.InDelta(t, 2, c.Get("/versions/" + version).Map()["revision"], 0, "nothing was written")
	})
}

func TestVersionsComeInPages(t *testing.T) {
	s := servertest.OnSQLite(t)
	c := s.Designer()
	design, _, _ := smallDesign(t, c, false)
	c.Post("/designs/"+design+"/versions", map[string]any{}).Want(201)
	first := c.Get("/designs/" + design + "/versions?limit=1").Want(200).Map()
	require.Len(t, first["items"], 1)
	rest := c.Get(fmt.Sprintf("/designs/%s/versions?limit=1&after=%s", design, first["next"])).Want(200).Map()
	require.InDelta(t, 2, rest["items"].([]any)[0].(map[string]any)["number"], 0)
	require.Nil(t, rest["next"])
	require.Empty(t, c.Get("/body-tables?limit=10").Want(200).Map()["items"])
}
