package handlers_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/server/servertest"
)

func TestTesterIsAskedAcceptsAndSeesWhatTheyNeed(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		tester := r.tester("pebblewick")
		a := r.c.Post("/calls/"+r.call+"/assignments", map[string]any{"person_id": tester.Person.ID, "size_id": r.size["3"]}).Want(201)
		id := a.ID()
		require.Equal(t, "/api/v1/assignments/"+id, a.Header.Get("Location"))
		m := a.Map()
		require.Equal(t, "asked", m["state"])
		require.Equal(t, "2027-03-15", m["due_on"], "the call's own last day")
		require.InDelta(t, 35, m["days_left"], 0, "from 8 February to 15 March 2027")
		require.Equal(t, false, m["late"])
		require.Nil(t, m["invited"])
		require.Equal(t, map[string]any{"id": tester.Person.ID, "handle": "pebblewick"}, m["person"])
		require.Equal(t, map[string]any{"id": r.size["3"], "name": "3"}, m["size"])
		require.Equal(t, map[string]any{"id": r.version, "number": 1.}, m["version"])

		mine := tester.Get("/me/assignments").Want(200).Map()
		require.Len(t, mine["items"], 1)
		before := tester.Get("/assignments/" + id).Want(200).Map()
		require.Equal(t, "No pictures before release.", before["confidentiality"])
		require.Empty(t, before["counts"], "the pattern's numbers wait for their yes")
		require.Empty(t, before["points"])
		require.Len(t, r.c.Get("/assignments/" + id).Map()["counts"], 3, "the studio sees what they will get")
		require.Equal(t, "accepted", tester.Post("/assignments/"+id+"/accept", nil).Want(200).Map()["state"])
		work := tester.Get("/assignments/" + id).Want(200)
		w := work.Map()
		require.Equal(t, []any{
			map[string]any{"name": "body", "unit": "stitch", "note": "chain for the body", "value": 136.},
			map[string]any{"name": "short_rows", "unit": "row", "note": "", "value": 4.},
			map[string]any{"name": "cuff", "unit": "stitch", "note": "", "value": 36.}}, w["counts"])
		require.Equal(t, "No pictures before release.", w["confidentiality"])
		require.Equal(t, "us", w["design"].(map[string]any)["terms"])
		require.Equal(t, "saltmarsh-pullover", w["design"].(map[string]any)["slug"])
		points := w["points"].([]any)
		require.Len(t, points, 2)
		bust := points[0].(map[string]any)
		require.Equal(t, "bust", bust["name"])
		require.Equal(t, true, bust["girth"])
		require.Equal(t, "Lay flat, measure across, double it.", bust["how_to_measure"])
		for _, hidden := range []string{"expected", "intended", "expr", "tolerance", "97.125", "email"} {
			require.NotContains(t, string(work.Body), hidden, "a tester measures blind")
		}

		again := tester.Post("/assignments/"+id+"/accept", nil).Want(200).Map()
		require.InDelta(t, 2, again["revision"], 0, "saying yes twice changes nothing")
		r.report(tester, id, false)
		require.Equal(t, "reported", r.c.Get("/assignments/" + id).Map()["state"])
	})
}

func TestSkippedLinesAreLeftOut(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		tester := r.tester("pebblewick")
		id := r.assign(tester, "1")
		tester.Post("/assignments/"+id+"/accept", nil).Want(200)
		counts := tester.Get("/assignments/" + id).Want(200).Map()["counts"].([]any)
		require.Len(t, counts, 2)
		require.Equal(t, "cuff", counts[1].(map[string]any)["name"])
	})
}

func TestAssigningSealsTheVersion(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		sheet := r.c.Get("/versions/" + r.version).Want(200).Map()
		require.Nil(t, sheet["given_out_at"])
		r.assign(r.tester("pebblewick"), "1")
		sheet = r.c.Get("/versions/" + r.version).Want(200).Map()
		require.NotNil(t, sheet["given_out_at"])
		r.c.Put("/versions/"+r.version+"/sheet", int(sheet["revision"].(float64)), map[string]any{"rules": []any{}, "counts": []any{}}).Want(409)
	})
}

func TestStateLateAndDaysLeftAreComputed(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		waiting, done, gone := r.tester("pebblewick"), r.tester("mossgrave"), r.tester("dimity")
		a, b, c := r.assign(waiting, "1"), r.assign(done, "2"), r.assign(gone, "3")
		r.report(done, b, true)
		gone.Post("/assignments/"+c+"/withdraw", map[string]any{"why": "moved house"}).Want(200)
		look := func(id string) (state string, late bool, days float64) {
			m := r.c.Get("/assignments/" + id).Want(200).Map()
			return m["state"].(string), m["late"].(bool), m["days_left"].(float64)
		}
		s.Clock.Advance(35 * 24 * time.Hour) // the last day itself
		r.c = s.For(r.c.Person)              // the sign-in has run out meanwhile
		state, late, days := look(a)
		require.Equal(t, []any{"asked", false, 0.}, []any{state, late, days})
		s.Clock.Advance(24 * time.Hour)
		r.c = s.For(r.c.Person)
		state, late, days = look(a)
		require.Equal(t, []any{"asked", true, -1.}, []any{state, late, days})
		state, late, _ = look(b)
		require.Equal(t, []any{"approved", false}, []any{state, late})
		state, late, _ = look(c)
		require.Equal(t, []any{"withdrawn", false}, []any{state, late})
	})
}

func TestWhoCantBeAssigned(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		tester, maker, away := r.tester("pebblewick"), r.As("threadbare", models.Maker), r.tester("gone")
		r.c.Patch("/people/"+away.Person.ID, 1, map[string]any{"disabled": true}).Want(200)
		other := r.c.Post("/designs", map[string]any{"name": "Harbour cowl", "craft": "knit", "audience": "unisex", "terms": "uk", "unit": "in",
			"gauge": map[string]any{"stitches": 20, "rows": 28, "span": 4, "unit": "in"}}).Want(201).ID()
		foreign := r.c.Put("/designs/"+other+"/sizes", 1, map[string]any{"sizes": []map[string]any{{"name": "1"}}}).Want(200).Map()["sizes"].([]any)[0].(map[string]any)["id"].(string)
		give := func(person, size, due string) *servertest.Answer {
			body := map[string]any{"person_id": person, "size_id": size}
			if due != "" {
				body["due_on"] = due
			}
			return r.c.Post("/calls/"+r.call+"/assignments", body)
		}
		give(models.NewID(), r.size["1"], "").Names(422, "body.person_id")
		give(maker.Person.ID, r.size["1"], "").Names(422, "body.person_id")
		give(away.Person.ID, r.size["1"], "").Names(422, "body.person_id")
		give(tester.Person.ID, foreign, "").Names(422, "body.size_id")
		give(tester.Person.ID, r.size["1"], "tomorrow").Names(422, "body.due_on")
		give(tester.Person.ID, r.size["1"], "2027-01-31").Names(422, "body.due_on")
		require.Empty(t, r.c.Get("/calls/" + r.call + "/assignments").Want(200).Map()["items"])
		require.Nil(t, r.c.Get("/versions/" + r.version).Map()["given_out_at"], "what is refused seals nothing")

		id := r.assign(tester, "1")
		give(tester.Person.ID, r.size["2"], "").Names(409, "body.person_id")
		r.assign(r.tester("mossgrave"), "4")
		r.assign(r.tester("dimity"), "4")
		late := r.tester("hobnail")
		give(late.Person.ID, r.size["4"], "").Names(409, "body.size_id")

		tester.Post("/assignments/"+id+"/withdraw", map[string]any{"why": "no wool"}).Want(200)
		give(tester.Person.ID, r.size["2"], "").Want(201)

		r.c.Patch("/calls/"+r.call, 1, map[string]any{"closed": true}).Want(200)
		give(late.Person.ID, r.size["1"], "").Want(409)
		r.c.Post("/calls/"+models.NewID()+"/assignments", map[string]any{"person_id": late.Person.ID, "size_id": r.size["1"]}).Want(404)
	})
}

func TestSizeWithoutCountsOrPlacesIsNotGiven(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		revision := int(r.c.Get("/designs/" + r.design).Map()["revision"].(float64))
		sizes := []map[string]any{{"id": r.size["1"], "name": "1"}, {"id": r.size["2"], "name": "2"}, {"id": r.size["3"], "name": "3"}, {"id": r.size["4"], "name": "4"}, {"name": "5"}}
		d := r.c.Put("/designs/"+r.design+"/sizes", revision, map[string]any{"sizes": sizes}).Want(200).Map()
		r.size["5"] = d["sizes"].([]any)[4].(map[string]any)["id"].(string)
		tester := r.tester("pebblewick")
		body := map[string]any{"person_id": tester.Person.ID, "size_id": r.size["5"]}
		r.c.Post("/calls/"+r.call+"/assignments", body).Names(409, "body.size_id")
		r.c.Patch("/calls/"+r.call, 1, map[string]any{"slots": []any{r.slot("5", 1, 1, 1)}}).Want(200)
		a := r.c.Post("/calls/"+r.call+"/assignments", body).Want(409)
		require.Contains(t, string(a.Body), "nothing for size 5")
		require.Nil(t, r.c.Get("/versions/" + r.version).Map()["given_out_at"])
	})
}

func TestSizeCanChangeUntilAReportIsIn(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		tester := r.tester("pebblewick")
		id := r.assign(tester, "1")
		tester.Post("/assignments/"+id+"/accept", nil).Want(200)
		m := r.c.Patch("/assignments/"+id, 2, map[string]any{"size_id": r.size["2"]}).Want(200).Map()
		require.Equal(t, "asked", m["state"], "the yes was for the other size")
		require.Equal(t, "2", m["size"].(map[string]any)["name"])
		require.Equal(t, "2027-03-15", m["due_on"])
		r.c.Patch("/assignments/"+id, 2, map[string]any{"size_id": r.size["3"]}).Want(412)
		r.c.Do("PATCH", "/assignments/"+id, map[string]any{"size_id": r.size["3"]}, nil).Want(428)
		r.c.Patch("/assignments/"+id, 3, map[string]any{"size_id": models.NewID()}).Names(422, "body.size_id")

		r.report(tester, id, false)
		r.c.Patch("/assignments/"+id, 3, map[string]any{"size_id": r.size["3"]}).Want(409)
		require.Equal(t, "2027-04-01", r.c.Patch("/assignments/"+id, 3, map[string]any{"due_on": "2027-04-01"}).Want(200).Map()["due_on"])
		require.Equal(t, "2", r.c.Get("/assignments/" + id).Map()["size"].(map[string]any)["name"])
		tester.Post("/assignments/"+id+"/withdraw", map[string]any{"why": "too late"}).Want(409)
	})
}

// The screen of the tester may be older than the designer's last change.
func TestNobodyAcceptsAnotherSizeThanTheySaw(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		tester := r.tester("pebblewick")
		id := r.assign(tester, "1")
		r.c.Patch("/assignments/"+id, 1, map[string]any{"size_id": r.size["2"]}).Want(200)
		tester.Do("POST", "/assignments/"+id+"/accept", map[string]any{}, servertest.IfMatch(1)).Want(412)
		tester.Do("POST", "/assignments/"+id+"/withdraw", map[string]any{"why": "size 1 was fine"}, servertest.IfMatch(1)).Want(412)
		require.Equal(t, "asked", r.c.Get("/assignments/" + id).Map()["state"])
		require.Equal(t, "accepted", tester.Do("POST", "/assignments/"+id+"/accept", map[string]any{}, servertest.IfMatch(2)).Want(200).Map()["state"])
	})
}

func TestWithdrawingNeedsAReasonAndEndsIt(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		tester := r.tester("pebblewick")
		id := r.assign(tester, "1")
		tester.Post("/assignments/"+id+"/withdraw", map[string]any{"why": "  "}).Names(422, "body.why")
		m := tester.Post("/assignments/"+id+"/withdraw", map[string]any{"why": " broke a finger "}).Want(200).Map()
		require.Equal(t, "withdrawn", m["state"])
		require.Equal(t, "broke a finger", m["withdrawn_why"])
		require.Equal(t, "broke a finger", r.c.Post("/assignments/"+id+"/withdraw", map[string]any{"why": "another"}).Want(200).Map()["withdrawn_why"])
		tester.Post("/assignments/"+id+"/accept", nil).Want(409)
		r.c.Patch("/assignments/"+id, 2, map[string]any{"due_on": "2027-04-01"}).Want(409)
		r.c.Post("/assignments/"+id+"/invitation", nil).Want(409)

		require.Empty(t, tester.Get("/assignments/" + id).Want(200).Map()["counts"], "who has withdrawn no longer gets the pattern's numbers")
		require.Len(t, r.c.Get("/assignments/" + id).Want(200).Map()["counts"], 2)

		second := r.tester("mossgrave")
		other := r.assign(second, "1")
		require.Equal(t, "withdrawn", r.c.Post("/assignments/"+other+"/withdraw", map[string]any{"why": "no answer for two weeks"}).Want(200).Map()["state"])
	})
}

func TestInvitationOfAnAssignment(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		tester := r.tester("pebblewick")
		id := r.assign(tester, "1")
		inv := r.c.Post("/assignments/"+id+"/invitation", nil).Want(201).Map()
		require.Contains(t, inv["link"], "/join#")
		require.True(t, strings.HasPrefix(inv["qr_svg"].(string), "<svg "))
		look := s.Nobody().Post("/invitations/look", map[string]any{"token": inv["token"]}).Want(200).Map()
		require.Equal(t, "Saltmarsh pullover", look["design_name"])
		require.Equal(t, "1", look["size_name"])

		invited := r.c.Get("/assignments/" + id).Map()["invited"].(map[string]any)
		require.Equal(t, inv["expires_at"], invited["expires_at"])
		require.Nil(t, invited["used_at"])
		s.Nobody().Post("/invitations/accept", map[string]any{"token": inv["token"], "password": "eleven green kettles", "unit": "in"}).Want(200)
		invited = r.c.Get("/assignments/" + id).Map()["invited"].(map[string]any)
		require.NotNil(t, invited["used_at"])
	})
}

func TestATesterSeesNothingOfOthers(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		one, two := r.tester("pebblewick"), r.tester("mossgrave")
		mine, theirs := r.assign(one, "1"), r.assign(two, "2")
		items := one.Get("/me/assignments").Want(200).Map()["items"].([]any)
		require.Len(t, items, 1)
		require.Equal(t, mine, items[0].(map[string]any)["id"])

		one.Get("/assignments/" + theirs).Want(404)
		one.Post("/assignments/"+theirs+"/accept", nil).Want(404)
		one.Post("/assignments/"+theirs+"/withdraw", map[string]any{"why": "not mine"}).Want(404)
		one.Get("/calls/" + r.call).Want(403)
		one.Get("/calls/" + r.call + "/assignments").Want(403)
		one.Get("/calls/" + r.call + "/applications").Want(403)
		one.Post("/assignments/"+mine+"/invitation", nil).Want(403)
		one.Patch("/assignments/"+mine, 1, map[string]any{"size_id": r.size["2"]}).Want(403)
		require.Equal(t, "asked", r.c.Get("/assignments/" + theirs).Map()["state"])
		r.c.Post("/assignments/"+mine+"/accept", nil).Want(403) // the yes is the tester's own

		require.Len(t, r.As("editor", models.TechEditor).Get("/calls/" + r.call + "/assignments").Want(200).Map()["items"], 2)
	})
}
