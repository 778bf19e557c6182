package handlers_test

import (
	"bytes"
	"net/http"
	"strings"
	"testing"

	parser "github.com/arran4/golang-ical" // a reader written by others
	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/server/servertest"
)

// read opens a calendar link with no sign-in and reads it by somebody else's
// parser: day and summary of each event.
func read(t *testing.T, s *servertest.Studio, link string) []string {
	t.Helper()
	_, path, found := strings.Cut(link, "/api/v1")
	require.True(t, found, link)
	a := s.Nobody().Get(path).Want(200)
	require.Equal(t, "text/calendar; charset=utf-8", a.Header.Get("Content-Type"))
	c, err := parser.ParseCalendar(bytes.NewReader(a.Body))
	require.NoError(t, err)
	var out []string
	for _, e := range c.Events() {
		at, err := e.GetAllDayStartAt()
		require.NoError(t, err)
		out = append(out, at.Format("2006-01-02")+" "+e.GetProperty(parser.ComponentPropertySummary).Value)
	}
	return out
}

func link(t *testing.T, c *servertest.Client) string {
	t.Helper()
	a := c.Post("/me/calendar", map[string]any{}).Want(201)
	require.Equal(t, "no-store", a.Header.Get("Cache-Control"))
	return a.Map()["link"].(string)
}

func TestCalendarOfTheStudio(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		b.filmer.Patch("/installments/"+b.crown, 1, map[string]any{"shoot_on": "2027-02-16"}).Want(200)
		b.addTake(b.ties)
		mine := link(t, b.filmer)
		require.Equal(t, []string{
			"2027-02-14 Airs: Thistle bonnet: Ties",
			"2027-02-16 Shoot: Thistle bonnet: Crown",
			"2027-02-17 Record by today: Thistle bonnet: Crown",
			"2027-02-21 Airs: Thistle bonnet: Crown",
		}, read(t, s, mine), "what is recorded has no day to record any more")

		require.NotContains(t, s.Log.String(), strings.Split(mine, "/calendar/")[1], "a secret address is not logged")
		require.NotNil(t, b.filmer.Get("/me/calendar").Want(200).Map()["made_at"])
		require.Empty(t, b.filmer.Get("/me/calendar").Map()["link"], "it is shown once")
		again := link(t, b.filmer)
		s.Nobody().Get(strings.SplitAfter(mine, "/api/v1")[1]).Want(404)
		read(t, s, again)
		b.filmer.Do(http.MethodDelete, "/me/calendar", nil, nil).Want(204)
		s.Nobody().Get(strings.SplitAfter(again, "/api/v1")[1]).Want(404)
		require.Nil(t, b.filmer.Get("/me/calendar").Map()["made_at"])

		other := link(t, b.editor)
		b.designer.Patch("/people/"+b.editor.Person.ID, 1, map[string]any{"disabled": true}).Want(200)
		s.Nobody().Get(strings.SplitAfter(other, "/api/v1")[1]).Want(404)
	})
}

func TestBadDayToRecordNamesItsField(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		b.filmer.Patch("/installments/"+b.crown, 1, map[string]any{"shoot_on": "2027-02-22"}).Names(422, "body.shoot_on")
		b.filmer.Patch("/installments/"+b.crown, 1, map[string]any{"shoot_on": "2027-02-30"}).Names(422, "body.shoot_on")
		require.Nil(t, b.editor.Get("/installments/" + b.crown).Map()["shoot_on"])
	})
}

func TestCalendarOfATesterHoldsOnlyTheirOwnTests(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		tester := s.As("vetch", models.Tester)
		require.Equal(t, []string{"1970-01-01 Nothing is planned yet"}, read(t, s, link(t, tester)))
		call := b.designer.Post("/designs/"+b.design+"/calls", map[string]any{"title": "Round", "opens_on": "2027-02-01", "due_on": "2027-03-10",
			"slots": []any{map[string]any{"size_id": b.large, "fewest": 1, "wanted": 1, "most": 2}}}).Want(201).ID()
		b.designer.Post("/calls/"+call+"/assignments", map[string]any{"person_id": tester.Person.ID, "size_id": b.large, "due_on": "2027-03-05"}).Want(201)
		require.Equal(t, []string{"2027-03-05 My report is due: Thistle bonnet"}, read(t, s, link(t, tester)))
		require.Contains(t, read(t, s, link(t, b.editor)), "2027-03-10 Test reports due: Thistle bonnet")
	})
}

func TestWorkIsSaidByThePersonOrTheDesigner(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		path := "/people/" + b.maker.Person.ID + "/work"
		usual := b.editor.Get(path).Want(200).Map()
		require.Equal(t, []any{"mon", "tue", "wed", "thu", "fri"}, usual["days"])
		body := func(more map[string]any) map[string]any {
			out := map[string]any{"days": []any{"sat", "mon"}, "hours_per_day": 2.5, "away": []any{map[string]any{"from": "2027-03-01", "until": "2027-03-05"}}}
			for k, v := range more {
				out[k] = v
			}
			return out
		}
		b.filmer.Put(path, 1, body(nil)).Want(403)
		got := b.maker.Put(path, 1, body(nil)).Want(200).Map()
		require.Equal(t, []any{"mon", "sat"}, got["days"], "in the week's order")
		require.InDelta(t, 2, got["revision"], 0)
		for field, more := range map[string]map[string]any{
			"body.days":              {"days": []any{}},
			"body.days[1]":           {"days": []any{"mon", "someday"}},
			"body.hours_per_day":     {"hours_per_day": 0},
			"body.stitches_per_hour": {"stitches_per_hour": 2},
			"body.away[0].until":     {"away": []any{map[string]any{"from": "2027-03-05", "until": "2027-03-01"}}},
			"body.away[0].from":      {"away": []any{map[string]any{"from": "2027-02-30", "until": "2027-03-01"}}},
		} {
			b.designer.Put(path, 2, body(more)).Names(422, field)
		}
		b.designer.Put(path, 1, body(nil)).Want(412)
		b.designer.Do(http.MethodPut, path, body(nil), nil).Want(428)
		require.InDelta(t, 2.5, b.editor.Get(path).Map()["hours_per_day"], 0)
		b.designer.Put(path, 2, body(map[string]any{"stitches_per_hour": 700})).Want(200)
		speed := b.editor.Get("/designs/" + b.design + "/making?person=" + b.maker.Person.ID).Map()["speed"].(map[string]any)
		require.Equal(t, "stated", speed["source"])
		require.InDelta(t, 700, speed["stitches_per_hour"], 0)
	})
}
