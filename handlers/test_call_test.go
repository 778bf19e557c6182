package handlers_test

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/server/servertest"
)

// round is a design of four sizes with counts and a call for its testers:
// what most tests of this part begin with. The clock stands at 8 February 2027.
type round struct {
	*servertest.Studio
	c       *servertest.Client // the designer
	design  string
	version string
	size    map[string]string // id by name
	call    string
}

func newRound(t *testing.T, s *servertest.Studio) *round {
	t.Helper()
	r := &round{Studio: s, c: s.Designer(), size: map[string]string{}}
	r.design = r.c.Post("/designs", pullover()).Want(201).ID()
	var d struct {
		Sizes    []struct{ ID, Name string }
		Versions []struct{ ID string }
	}
	r.c.Put("/designs/"+r.design+"/sizes", 1, map[string]any{"sizes": []map[string]any{{"name": "1"}, {"name": "2"}, {"name": "3"}, {"name": "4"}}}).Want(200).Into(&d)
	for _, z := range d.Sizes {
		r.size[z.Name] = z.ID
	}
	r.version = d.Versions[0].ID
	r.c.Put("/versions/"+r.version+"/sheet", 1, map[string]any{"rules": []any{}, "counts": []map[string]any{
		{"name": "body", "unit": "stitch", "note": "chain for the body", "values": []int{110, 122, 136, 150}},
		{"name": "short_rows", "unit": "row", "values": []any{nil, nil, 4, 6}},
		{"name": "cuff", "unit": "stitch", "values": []int{32, 34, 36, 38}},
	}}).Want(200)
	r.c.Put("/designs/"+r.design+"/points", 2, map[string]any{"points": []map[string]any{
		{"name": "bust", "axis": "stitch", "expr": "body", "tolerance": cm(2), "girth": true, "how_to_measure": "Lay flat, measure across, double it.",
			"intended": []map[string]any{{"size_id": r.size["3"], "value": 97.125, "unit": "cm"}}},
		{"name": "cuff", "axis": "stitch", "expr": "cuff", "tolerance": cm(1)},
	}}).Want(200)
	r.call = r.c.Post("/designs/"+r.design+"/calls", r.callBody()).Want(201).ID()
	return r
}

func cm(v float64) map[string]any { return map[string]any{"value": v, "unit": "cm"} }

func (r *round) callBody() map[string]any {
	return map[string]any{"title": "Spring round", "opens_on": "2027-02-01", "due_on": "2027-03-15", "confidentiality": "No pictures before release.",
		"slots": []map[string]any{r.slot("1", 1, 2, 3), r.slot("2", 1, 2, 3), r.slot("3", 1, 1, 2), r.slot("4", 0, 1, 2)}}
}

func (r *round) slot(size string, fewest, wanted, most int) map[string]any {
	return map[string]any{"size_id": r.size[size], "fewest": fewest, "wanted": wanted, "most": most}
}

// tester adds somebody who tests.
func (r *round) tester(handle string) *servertest.Client { return r.As(handle, models.Tester) }

// assign asks a tester by hand and returns the assignment's id.
func (r *round) assign(c *servertest.Client, size string) string {
	r.T.Helper()
	return r.c.Post("/calls/"+r.call+"/assignments", map[string]any{"person_id": c.Person.ID, "size_id": r.size[size]}).Want(201).ID()
}

// report puts a tester's report on file.
func (r *round) report(c *servertest.Client, assignment string, approved bool) string {
	r.T.Helper()
	db, err := r.Store.SQL()
	require.NoError(r.T, err)
	id := models.NewID()
	now := r.Store.Now().Format("2006-01-02 15:04:05.999999999-07:00")
	mark := "NULL"
	if approved {
		mark = "'" + now + "'"
	}
	_, err = db.ExecContext(context.Background(), fmt.Sprintf(`INSERT INTO reports (id, assignment_id, number, sent_at, sent_by, source, note, approved_at, revision, created_at, updated_at)
		VALUES ('%s', '%s', 1, '%s', '%s', 'tester', '', %s, 1, '%s', '%s')`, id, assignment, now, c.Person.ID, mark, now, now))
	require.NoError(r.T, err)
	return id
}

// slots reads the call's slots by the size's name.
func (r *round) slots() map[string]map[string]any {
	r.T.Helper()
	var call struct{ Slots []map[string]any }
	r.c.Get("/calls/" + r.call).Want(200).Into(&call)
	out := map[string]map[string]any{}
	for _, s := range call.Slots {
		for name, id := range r.size {
			if s["size_id"] == id {
				out[name] = s
			}
		}
	}
	return out
}

func TestCallIsMadeReadAndChanged(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		call := r.c.Get("/calls/" + r.call).Want(200)
		require.Equal(t, `"1"`, call.Header.Get("ETag"))
		m := call.Map()
		require.Equal(t, r.version, m["version_id"])
		require.Equal(t, "2027-02-01", m["opens_on"])
		require.Len(t, m["slots"], 4)
		require.Equal(t, map[string]any{"size_id": r.size["1"], "fewest": 1., "wanted": 2., "most": 3.,
			"applied": 0., "assigned": 0., "accepted": 0., "reported": 0., "approved": 0.}, m["slots"].([]any)[0])

		m = r.c.Patch("/calls/"+r.call, 1, map[string]any{"title": "Spring round, again", "closed": true}).Want(200).Map()
		require.Equal(t, "Spring round, again", m["title"])
		require.NotNil(t, m["closed_at"])
		require.Len(t, m["slots"], 4, "slots that were not sent stay")
		r.c.Patch("/calls/"+r.call, 1, map[string]any{"title": "lost"}).Want(412)
		r.c.Do("PATCH", "/calls/"+r.call, map[string]any{"title": "lost"}, nil).Want(428)
		require.Equal(t, "Spring round, again", r.c.Get("/calls/" + r.call).Map()["title"])
		require.Nil(t, r.c.Patch("/calls/"+r.call, 2, map[string]any{"closed": false}).Want(200).Map()["closed_at"])

		second := r.callBody()
		second["title"] = "Autumn round"
		r.c.Post("/designs/saltmarsh-pullover/calls", second).Want(201)
		page := r.c.Get("/designs/" + r.design + "/calls?limit=1").Want(200).Map()
		require.Len(t, page["items"], 1)
		rest := r.c.Get("/designs/" + r.design + "/calls?limit=1&after=" + page["next"].(string)).Want(200).Map()
		require.Equal(t, "Autumn round", rest["items"].([]any)[0].(map[string]any)["title"])
		require.Nil(t, rest["next"])
	})
}

func TestCallThatMakesNoSenseIsRefusedFieldByField(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		other := r.c.Post("/designs", map[string]any{"name": "Harbour cowl", "craft": "knit", "audience": "unisex", "terms": "uk", "unit": "in",
			"gauge": map[string]any{"stitches": 20, "rows": 28, "span": 4, "unit": "in"}}).Want(201)
		foreign := other.Map()["versions"].([]any)[0].(map[string]any)["id"]
		for name, row := range map[string]struct {
			change map[string]any
			field  string
		}{
			"no title":                    {map[string]any{"title": " "}, "body.title"},
			"no such day":                 {map[string]any{"opens_on": "2027-02-30"}, "body.opens_on"},
			"due before it opens":         {map[string]any{"due_on": "2027-01-31"}, "body.due_on"},
			"another design's version":    {map[string]any{"version_id": foreign}, "body.version_id"},
			"no slots":                    {map[string]any{"slots": []any{}}, "body.slots"},
			"a size of nobody":            {map[string]any{"slots": []any{map[string]any{"size_id": models.NewID(), "fewest": 1, "wanted": 1, "most": 1}}}, "body.slots[0].size_id"},
			"a size twice":                {map[string]any{"slots": []any{r.slot("1", 1, 1, 1), r.slot("1", 1, 1, 1)}}, "body.slots[1].size_id"},
			"fewest below zero":           {map[string]any{"slots": []any{r.slot("1", -1, 1, 1)}}, "body.slots[0].fewest"},
			"wanted below fewest":         {map[string]any{"slots": []any{r.slot("1", 2, 1, 3)}}, "body.slots[0].wanted"},
			"most below wanted":           {map[string]any{"slots": []any{r.slot("1", 1, 3, 2)}}, "body.slots[0].most"},
			"more than make sense":        {map[string]any{"slots": []any{r.slot("1", 1, 3, 101)}}, "body.slots[0].most"},
			"words longer than the bound": {map[string]any{"confidentiality": string(make([]byte, 4001))}, "body.confidentiality"},
		} {
			body := r.callBody()
			for k, v := range row.change {
				body[k] = v
			}
			a := r.c.Post("/designs/"+r.design+"/calls", body)
			require.Equal(t, 422, a.Status, name)
			a.Names(422, row.field)
		}
		require.Len(t, r.c.Get("/designs/" + r.design + "/calls").Map()["items"], 1, "nothing was added")
		r.c.Post("/designs/no-such-design/calls", r.callBody()).Want(404)
		r.c.Get("/calls/" + models.NewID()).Want(404)
	})
}

func TestSlotsFollowTheTesters(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		one, two, three, four := r.tester("pebblewick"), r.tester("mossgrave"), r.tester("dimity"), r.tester("hobnail")
		for handle, sizes := range map[string][]string{"pebblewick": {r.size["1"], r.size["2"]}, "mossgrave": {r.size["2"]}, "newcomer": {r.size["2"], r.size["4"], r.size["1"]}} {
			r.c.Post("/calls/"+r.call+"/applications", map[string]any{"handle": handle, "sizes": sizes}).Want(201)
		}
		a, b, c, d := r.assign(one, "1"), r.assign(two, "2"), r.assign(three, "2"), r.assign(four, "2")
		one.Post("/assignments/"+a+"/accept", nil).Want(200)
		two.Post("/assignments/"+b+"/accept", nil).Want(200)
		r.report(two, b, true)
		r.report(three, c, false) // without a word of acceptance before
		four.Post("/assignments/"+d+"/withdraw", map[string]any{"why": "no time after all"}).Want(200)

		want := func(size string, applied, assigned, accepted, reported, approved float64) {
			t.Helper()
			got := r.slots()[size]
			require.Equal(t, []any{applied, assigned, accepted, reported, approved},
				[]any{got["applied"], got["assigned"], got["accepted"], got["reported"], got["approved"]}, "size %s", size)
		}
		want("1", 2, 1, 1, 0, 0)
		want("2", 3, 2, 2, 2, 1)
		want("3", 0, 0, 0, 0, 0)
		want("4", 1, 0, 0, 0, 0)

		revision := int(r.c.Get("/calls/" + r.call).Map()["revision"].(float64))
		r.c.Patch("/calls/"+r.call, revision, map[string]any{"slots": []any{r.slot("1", 1, 1, 1), r.slot("2", 1, 1, 1)}}).Names(422, "body.slots[1].most")
		r.c.Patch("/calls/"+r.call, revision, map[string]any{"slots": []any{r.slot("1", 1, 1, 1)}}).Names(422, "body.slots")
		require.Len(t, r.slots(), 4, "a refused change leaves the slots as they were")
		r.c.Patch("/calls/"+r.call, revision, map[string]any{"slots": []any{r.slot("2", 2, 2, 2), r.slot("1", 1, 1, 1)}}).Want(200)
		require.Len(t, r.slots(), 2)
		want("2", 3, 2, 2, 2, 1)
		r.c.Patch("/calls/"+r.call, revision+1, map[string]any{"confidentiality": "Pictures are fine."}).Names(409, "body.confidentiality")
	})
}

func TestTheLastDayMovesForThoseWhoHadIt(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		one, two, three := r.tester("pebblewick"), r.tester("mossgrave"), r.tester("dimity")
		a, b := r.assign(one, "1"), r.assign(two, "2")
		own := r.c.Post("/calls/"+r.call+"/assignments", map[string]any{"person_id": three.Person.ID, "size_id": r.size["3"], "due_on": "2027-03-20"}).Want(201).ID()
		r.report(two, b, false)

		r.c.Patch("/calls/"+r.call, 1, map[string]any{"due_on": "2027-03-29"}).Want(200)
		due := func(id string) any { return r.c.Get("/assignments/" + id).Want(200).Map()["due_on"] }
		require.Equal(t, "2027-03-29", due(a))
		require.Equal(t, "2027-03-15", due(b), "the report was in")
		require.Equal(t, "2027-03-20", due(own), "this day was agreed with one tester")
		require.Equal(t, `"2"`, r.c.Get("/assignments/"+a).Header.Get("ETag"))
	})
}
