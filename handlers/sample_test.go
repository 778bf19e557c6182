package handlers_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/server/servertest"
)

func TestSampleIsAddedReadAndChanged(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		a := b.designer.Post("/designs/thistle-bonnet/samples", map[string]any{"label": "the grey one", "purpose": "camera", "size_id": b.large,
			"version_id": b.version, "worked_through": b.ties, "worked_note": "and two rounds", "held_by": b.maker.Person.ID,
			"yarn": map[string]any{"value": 40, "unit": "g"}, "before": swatch(14.5, nil, 4, "in")}).Want(201)
		require.Equal(t, "/api/v1/samples/"+a.ID(), a.Header.Get("Location"))
		require.Equal(t, `"1"`, a.Header.Get("ETag"))

		require.Contains(t, string(b.editor.Get("/designs/thistle-bonnet/board").Want(200).Body), `"worked":"the end of Ties"`, "the board says how far it is")
		got := b.editor.Get("/samples/" + a.ID()).Want(200).Map()
		require.Equal(t, map[string]any{"id": b.maker.Person.ID, "handle": "pim"}, got["held_by"])
		require.Equal(t, map[string]any{"value": 40.0, "unit": "g"}, got["yarn"])
		require.Equal(t, map[string]any{"stitches": 14.5, "span": 4.0, "unit": "in"}, got["before"])
		require.Nil(t, got["after"])
		require.Equal(t, []any{}, got["measurements"])
		require.Len(t, got["moves"], 1, "where it stands at first is its first move")

		b.designer.Patch("/samples/"+a.ID(), 1, map[string]any{"label": "the old grey one", "purpose": "fit", "size_id": b.small,
			"version_id": nil, "before": nil, "yarn": nil, "retired": true}).Want(200)
		got = b.designer.Get("/samples/" + a.ID()).Want(200).Map()
		require.Equal(t, "the old grey one", got["label"])
		require.Equal(t, "fit", got["purpose"])
		require.Equal(t, b.small, got["size_id"])
		require.Nil(t, got["version_id"])
		require.Nil(t, got["before"])
		require.Nil(t, got["yarn"])
		require.Equal(t, true, got["retired"])
		require.InDelta(t, 2, got["revision"], 0)

		b.designer.Patch("/samples/"+a.ID(), 1, map[string]any{"label": "lost"}).Want(412)
		b.designer.Do("PATCH", "/samples/"+a.ID(), map[string]any{"label": "lost"}, nil).Want(428)
		require.Equal(t, "the old grey one", b.designer.Get("/samples/" + a.ID()).Map()["label"])
	})
}

func TestSamplesAreListedInPages(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		first, second, third := b.addSample(nil), b.addSample(nil), b.addSample(nil)
		page := b.maker.Get("/designs/" + b.design + "/samples?limit=2").Want(200).Map()
		require.Equal(t, []string{first, second}, ids(page))
		page = b.maker.Get("/designs/" + b.design + "/samples?limit=2&after=" + page["next"].(string)).Want(200).Map()
		require.Equal(t, []string{third}, ids(page))
		require.NotContains(t, page, "next")
		require.Empty(t, ids(b.maker.Get("/designs/"+b.otherDesign+"/samples").Want(200).Map()))
	})
}

func ids(page map[string]any) []string {
	out := []string{}
	for _, item := range page["items"].([]any) {
		out = append(out, item.(map[string]any)["id"].(string))
	}
	return out
}

func TestBadSampleNamesItsFieldAndChangesNothing(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		otherVersion := b.designer.Get("/designs/" + b.otherDesign).Map()["versions"].([]any)[0].(map[string]any)["id"]
		for field, more := range map[string]map[string]any{
			"body.label":           {"label": " "},
			"body.purpose":         {"purpose": "gift"},
			"body.size_id":         {"size_id": b.otherSize},
			"body.version_id":      {"version_id": otherVersion},
			"body.worked_through":  {"worked_through": b.design},
			"body.held_by":         {"held_by": b.design},
			"body.before.stitches": {"before": swatch(900, 20, 10, "cm")},
			"body.after.rows":      {"after": swatch(14, 300, 1, "cm")}, // 3000 over 10 cm
			"body.after.span":      {"after": swatch(14, 11, 0.5, "cm")},
			"body.yarn.value":      {"yarn": map[string]any{"value": 0, "unit": "m"}},
		} {
			body := map[string]any{"label": "the grey one", "purpose": "camera", "size_id": b.large}
			for k, v := range more {
				body[k] = v
			}
			b.designer.Post("/designs/"+b.design+"/samples", body).Names(422, field)
		}
		require.Empty(t, ids(b.designer.Get("/designs/"+b.design+"/samples").Map()))

		id := b.addSample(nil)
		b.designer.Patch("/samples/"+id, 1, map[string]any{"size_id": b.otherSize}).Names(422, "body.size_id")
		b.designer.Patch("/samples/"+id, 1, map[string]any{"version_id": otherVersion}).Names(422, "body.version_id")
		b.designer.Patch("/samples/"+id, 1, map[string]any{"after": swatch(14, 11, 500, "cm")}).Names(422, "body.after.span")
		require.InDelta(t, 1, b.designer.Get("/samples/" + id).Map()["revision"], 0)
		b.designer.Get("/samples/" + b.design).Want(404)
	})
}

func TestMakersRecordWhatTheyCountAndTheDesignerPlans(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		id := b.addSample(nil)
		b.maker.Patch("/samples/"+id, 1, map[string]any{"before": swatch(15, 12, 10, "cm")}).Want(200)
		b.filmer.Patch("/samples/"+id, 2, map[string]any{"after": swatch(14, 11, 10, "cm"), "yarn": map[string]any{"value": 80, "unit": "m"}}).Want(200)
		for _, plan := range []map[string]any{{"label": "mine"}, {"purpose": "fit"}, {"size_id": b.small}, {"version_id": b.version}, {"retired": true}} {
			b.maker.Patch("/samples/"+id, 3, plan).Want(403)
		}
		b.editor.Patch("/samples/"+id, 3, map[string]any{"before": nil}).Want(403)
		got := b.designer.Get("/samples/" + id).Map()
		require.Equal(t, "the grey one", got["label"])
		require.InDelta(t, 3, got["revision"], 0)
	})
}

func TestSampleIsHeldAgainstTheDesign(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s) // states 14 stitches, 11 rows over 10 cm; edge 56 (70)
		id := b.addSample(nil)
		comparison := func() map[string]any {
			return b.maker.Get("/samples/" + id).Want(200).Map()["comparison"].(map[string]any)
		}
		require.Equal(t, "No gauge has been counted on it yet.", comparison()["sentence"])

		b.maker.Patch("/samples/"+id, 1, map[string]any{"before": swatch(15.4, 11, 10, "cm")}).Want(200)
		require.InDelta(t, 10, comparison()["before_stitch_percent"], 1e-6)
		require.Nil(t, comparison()["stitch_percent"])
		require.Contains(t, comparison()["sentence"], "before washing only")

		// 14 over 4 in is 14/1.016 over 10 cm: 1.5748 % fewer (the inch of NIST SP 811 is exact).
		b.maker.Patch("/samples/"+id, 2, map[string]any{"after": swatch(14, nil, 4, "in")}).Want(200)
		require.InDelta(t, -1.574803, comparison()["stitch_percent"], 1e-6)
		require.Nil(t, comparison()["row_percent"])
		// Washing widened the fabric by 15.4/(14/1.016) - 1 = 11.76 %.
		require.InDelta(t, 11.76, comparison()["wash_stitch_percent"], 1e-6)
		require.Nil(t, comparison()["wash_row_percent"])

		b.filmer.Put("/samples/"+id+"/measurements", 3, map[string]any{"measurements": []any{map[string]any{"point_id": b.edge, "value": 20, "unit": "in"}}}).Want(200)
		point := comparison()["points"].([]any)[0].(map[string]any)
		require.Equal(t, map[string]any{"value": 20.0, "unit": "in", "cm": 50.8}, point["measured"])
		require.InDelta(t, 50, point["expected_cm"], 1e-6) // 70 / 14 · 10
		require.InDelta(t, 50.8, point["expected_own_cm"], 1e-6)
		require.InDelta(t, 0.8, point["difference_cm"], 1e-6)
		require.InDelta(t, 0, point["residual_cm"], 1e-6)
		require.Equal(t, true, point["within"])
		require.NotEmpty(t, point["sentence"])
	})
}

func TestMeasurementThatCannotBeComparedSaysWhy(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		id := b.addSample(map[string]any{"size_id": b.small})
		b.designer.Put("/versions/"+b.version+"/sheet", 2, map[string]any{"rules": []any{},
			"counts": []any{map[string]any{"name": "edge", "unit": "stitch", "values": []any{nil, 70}}}}).Want(200)
		got := b.maker.Put("/samples/"+id+"/measurements", 1, map[string]any{"measurements": []any{map[string]any{"point_id": b.edge, "value": 40, "unit": "cm"}}}).Want(200).Map()
		point := got["comparison"].(map[string]any)["points"].([]any)[0].(map[string]any)
		require.Nil(t, point["expected_cm"])
		require.Nil(t, point["within"])
		require.Contains(t, point["sentence"], "no count")
	})
}

func TestBadMeasurementsOfASample(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		id := b.addSample(nil)
		path := "/samples/" + id + "/measurements"
		put := func(rows ...any) *servertest.Answer {
			return b.maker.Put(path, 1, map[string]any{"measurements": rows})
		}
		good := map[string]any{"point_id": b.edge, "value": 40, "unit": "cm"}
		put(map[string]any{"point_id": b.design, "value": 40, "unit": "cm"}).Names(422, "body.measurements[0].point_id")
		put(good, good).Names(422, "body.measurements[1].point_id")
		put(map[string]any{"point_id": b.edge, "value": -40, "unit": "cm"}).Names(422, "body.measurements[0].value")
		put(map[string]any{"point_id": b.edge, "value": 200, "unit": "in"}).Names(422, "body.measurements[0].value")
		b.editor.Put(path, 1, map[string]any{"measurements": []any{good}}).Want(403)
		b.maker.Do("PUT", path, map[string]any{"measurements": []any{good}}, nil).Want(428)
		put(good).Want(200)
		put().Want(412)
		got := b.maker.Get("/samples/" + id).Map()
		require.Len(t, got["measurements"], 1)
		require.InDelta(t, 2, got["revision"], 0)
	})
}
