package handlers_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/server/servertest"
)

func TestApplicationByHand(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		body := map[string]any{"handle": "Pebblewick", "email": "pebblewick@testers.example", "sizes": []string{r.size["2"], r.size["1"]},
			"accepted": 6, "finished": 5, "unit": "in", "terms": "uk", "remarks": "left-handed"}
		m := r.c.Post("/calls/"+r.call+"/applications", body).Want(201).Map()
		require.Equal(t, []any{r.size["2"], r.size["1"]}, m["sizes"])
		require.InDelta(t, 6, m["accepted"], 0)
		require.InDelta(t, 5, m["finished"], 0)
		require.Nil(t, m["assignment"])
		person := m["person"].(map[string]any)
		require.Equal(t, []any{"Pebblewick", "in", "uk", "pebblewick@testers.example"}, []any{person["handle"], person["unit"], person["terms"], person["email"]})
		added := r.c.Get("/people/" + person["id"].(string)).Want(200).Map()
		require.Equal(t, []any{"tester"}, added["roles"])

		body["handle"] = "pebblewick"
		r.c.Post("/calls/"+r.call+"/applications", body).Names(409, "body.handle")

		// Somebody on file, found by handle in any case, keeps what is on file.
		known := r.tester("mossgrave")
		m = r.c.Post("/calls/"+r.call+"/applications", map[string]any{"handle": " @MossGrave", "sizes": []string{r.size["3"]}, "unit": "in"}).Want(201).Map()
		require.Equal(t, known.Person.ID, m["person"].(map[string]any)["id"])
		require.Equal(t, "cm", m["person"].(map[string]any)["unit"])
		id := r.assign(known, "3")

		items := r.c.Get("/calls/" + r.call + "/applications").Want(200).Map()["items"].([]any)
		require.Len(t, items, 2)
		require.Nil(t, items[0].(map[string]any)["assignment"])
		require.Equal(t, map[string]any{"id": id, "size_id": r.size["3"], "due_on": "2027-03-15", "state": "asked", "late": false}, items[1].(map[string]any)["assignment"])
		page := r.c.Get("/calls/" + r.call + "/applications?limit=1").Want(200).Map()
		require.Len(t, page["items"], 1)
		require.Len(t, r.c.Get("/calls/" + r.call + "/applications?after=" + page["next"].(string)).Want(200).Map()["items"], 1)
	})
}

func TestApplicationThatMakesNoSenseIsRefusedFieldByField(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		r.As("threadbare", models.Maker)
		away := r.tester("gone")
		r.c.Patch("/people/"+away.Person.ID, 1, map[string]any{"disabled": true}).Want(200)
		r.c.Post("/people", map[string]any{"handle": "ferrule", "email": "ferrule@testers.example", "roles": []string{"tester"}}).Want(201)
		before := len(r.c.Get("/people").Map()["items"].([]any))
		for name, row := range map[string]struct {
			change map[string]any
			field  string
		}{
			"no handle":                {map[string]any{"handle": ""}, "body.handle"},
			"a handle with spaces":     {map[string]any{"handle": "peb ble"}, "body.handle"},
			"one of the staff":         {map[string]any{"handle": "Threadbare"}, "body.handle"},
			"somebody who was let go":  {map[string]any{"handle": "gone"}, "body.handle"},
			"no address":               {map[string]any{"email": "pebblewick"}, "body.email"},
			"another's address":        {map[string]any{"email": "Ferrule@testers.example"}, "body.email"},
			"another address":          {map[string]any{"handle": "ferrule", "email": "else@testers.example"}, "body.email"},
			"no size":                  {map[string]any{"sizes": []string{}}, "body.sizes"},
			"a size of nobody":         {map[string]any{"sizes": []string{r.size["1"], models.NewID()}}, "body.sizes[1]"},
			"a size twice":             {map[string]any{"sizes": []string{r.size["1"], r.size["2"], r.size["1"]}}, "body.sizes[2]"},
			"more finished than taken": {map[string]any{"accepted": 2, "finished": 3}, "body.finished"},
			"fewer than none":          {map[string]any{"accepted": -1, "finished": -1}, "body.accepted"},
		} {
			body := map[string]any{"handle": "pebblewick", "email": "pebblewick@testers.example", "sizes": []string{r.size["1"]}}
			for k, v := range row.change {
				body[k] = v
			}
			a := r.c.Post("/calls/"+r.call+"/applications", body)
			require.Equal(t, 422, a.Status, name)
			a.Names(422, row.field)
		}
		require.Empty(t, r.c.Get("/calls/" + r.call + "/applications").Map()["items"])
		require.Len(t, r.c.Get("/people").Map()["items"], before, "nobody was added on the way")
		r.c.Patch("/calls/"+r.call, 1, map[string]any{"closed": true}).Want(200)
		r.c.Post("/calls/"+r.call+"/applications", map[string]any{"handle": "pebblewick", "sizes": []string{r.size["1"]}}).Want(409)
	})
}

func TestApplicationChanges(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		id := r.c.Post("/calls/"+r.call+"/applications", map[string]any{"handle": "pebblewick", "sizes": []string{r.size["1"], r.size["2"]}, "accepted": 2, "finished": 2}).Want(201).ID()
		m := r.c.Patch("/applications/"+id, 1, map[string]any{"sizes": []string{r.size["2"], r.size["1"], r.size["3"]}, "remarks": "3 if need be"}).Want(200).Map()
		require.Equal(t, []any{r.size["2"], r.size["1"], r.size["3"]}, m["sizes"])
		require.InDelta(t, 2, m["accepted"], 0)
		require.Equal(t, "3 if need be", m["remarks"])
		r.c.Patch("/applications/"+id, 1, map[string]any{"remarks": "lost"}).Want(412)
		r.c.Do("PATCH", "/applications/"+id, map[string]any{"remarks": "lost"}, nil).Want(428)
		r.c.Patch("/applications/"+id, 2, map[string]any{"finished": 3}).Names(422, "body.finished")
		r.c.Patch("/applications/"+models.NewID(), 1, map[string]any{"remarks": "lost"}).Want(404)
		got := r.c.Get("/calls/" + r.call + "/applications").Map()["items"].([]any)[0].(map[string]any)
		require.Equal(t, m, got)
	})
}

func TestOnlyTheDesignerSeesAddresses(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		r.c.Post("/calls/"+r.call+"/applications", map[string]any{"handle": "pebblewick", "name": "Petra Wick", "email": "pebblewick@testers.example", "sizes": []string{r.size["1"]}}).Want(201)
		editor := r.As("editor", models.TechEditor)
		for _, path := range []string{"/calls/" + r.call + "/applications", "/designs/" + r.design + "/history?limit=500", "/people"} {
			seen := string(editor.Get(path).Want(200).Body)
			require.Contains(t, seen, `"id"`, path)
			require.NotContains(t, seen, "testers.example", path)
			require.NotContains(t, seen, "Petra", path)
		}
		require.Equal(t, "pebblewick", editor.Get("/calls/" + r.call + "/applications").Map()["items"].([]any)[0].(map[string]any)["person"].(map[string]any)["handle"])
		require.Contains(t, string(r.c.Get("/calls/"+r.call+"/applications").Body), "pebblewick@testers.example")
		require.NotContains(t, s.Log.String(), "testers.example", "nor do addresses go to the log")
	})
}
