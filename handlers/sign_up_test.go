package handlers_test

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/server/servertest"
)

// openPage opens the public page of the round's call and returns its secret.
func (r *round) openPage() string {
	r.T.Helper()
	link := r.c.Do("PUT", "/calls/"+r.call+"/sign-up", map[string]any{"introduction": "We would be glad of your help.", "open": true}, nil).Want(200).Map()["link"].(string)
	_, token, found := strings.Cut(link, "/apply#")
	require.True(r.T, found, link)
	return token
}

// answers is what somebody fills in.
func (r *round) answers(token string, change map[string]any) map[string]any {
	hash := sha256.Sum256([]byte("No pictures before release."))
	body := map[string]any{"token": token, "handle": "meadow", "name": "Meadow Vale", "email": "meadow@testers.example", "unit": "in", "terms": "uk",
		"sizes": []string{r.size["2"], r.size["1"]}, "accepted": 3, "finished": 2, "yarn": "a grey worsted", "remarks": "I work tightly.", "agreed": hex.EncodeToString(hash[:])}
	for k, v := range change {
		body[k] = v
	}
	return body
}

func (r *round) applications() []map[string]any {
	r.T.Helper()
	var list struct{ Items []map[string]any }
	r.c.Get("/calls/" + r.call + "/applications").Want(200).Into(&list)
	return list.Items
}

func TestStrangerAppliesByThePublicLink(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		require.Equal(t, "", r.c.Get("/calls/" + r.call + "/sign-up").Want(200).Map()["link"], "not opened yet")
		r.c.Get("/calls/" + r.version + "/sign-up").Want(404)
		token := r.openPage()
		nobody := s.Nobody()
		look := nobody.Post("/sign-up/look", map[string]any{"token": token}).Want(200)
		form := look.Map()
		require.Equal(t, "Saltmarsh pullover", form["design"])
		require.Equal(t, "No pictures before release.", form["confidentiality"])
		require.Len(t, form["sizes"], 4)
		for _, hidden := range []string{`\b136\b`, `\b97\.125\b`, "expr", r.version} { // whole numbers: an id may hold any three digits
			require.NotRegexp(t, hidden, string(look.Body), "the page tells nothing of the counts")
		}
		require.Equal(t, map[string]any{"design": "Saltmarsh pullover", "title": "Spring round"}, nobody.Post("/sign-up/apply", r.answers(token, nil)).Want(200).Map())
		list := r.applications()
		require.Len(t, list, 1)
		a := list[0]
		require.Equal(t, []any{r.size["2"], r.size["1"]}, a["sizes"])
		require.Equal(t, "a grey worsted", a["yarn"])
		require.Equal(t, true, a["elsewhere"])
		require.Equal(t, "meadow@testers.example", a["person"].(map[string]any)["email"])
		require.Equal(t, "uk", a["person"].(map[string]any)["terms"])
		agreed := a["agreed"].(map[string]any)
		require.Equal(t, []any{1., true}, []any{agreed["version"], agreed["present"]})
		require.NotEmpty(t, agreed["at"])

		// Again, by the same address: the answers are replaced, nobody is added.
		nobody.Post("/sign-up/apply", r.answers(token, map[string]any{"handle": "other", "sizes": []string{r.size["3"]}, "unit": "cm"})).Want(200)
		list = r.applications()
		require.Len(t, list, 1)
		require.Equal(t, []any{r.size["3"]}, list[0]["sizes"])
		require.Equal(t, "in", list[0]["person"].(map[string]any)["unit"], "what is on file stays")

		// The wording changes: who agreed to the first keeps that.
		r.c.Patch("/calls/"+r.call, 1, map[string]any{"confidentiality": "No pictures, and no counts."}).Want(200)
		require.Equal(t, false, r.applications()[0]["agreed"].(map[string]any)["present"])
		nobody.Post("/sign-up/apply", r.answers(token, nil)).Names(422, "body.agreed")
		second := sha256.Sum256([]byte("No pictures, and no counts."))
		nobody.Post("/sign-up/apply", r.answers(token, map[string]any{"agreed": hex.EncodeToString(second[:])})).Want(200)
		require.Equal(t, map[string]any{"version": 2., "present": true}, without(r.applications()[0]["agreed"].(map[string]any), "at"))
	})
}

func without(m map[string]any, key string) map[string]any { delete(m, key); return m }

func TestPublicPageRefusesWhatItCannotTake(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		r.As("threadbare", models.Maker)
		_, err := s.Store.AddPerson(context.Background(), models.System("test"), models.NewPerson{Handle: "keel", Email: new("keel@studio.example"), Roles: []models.Role{models.Maker}})
		require.NoError(t, err)
		token := r.openPage()
		nobody := s.Nobody()
		for name, row := range map[string]struct {
			change map[string]any
			field  string
		}{
			"no handle":                {map[string]any{"handle": ""}, "body.handle"},
			"another's handle":         {map[string]any{"handle": "Threadbare"}, "body.handle"},
			"one of the staff":         {map[string]any{"email": "keel@studio.example"}, "body.email"},
			"no address":               {map[string]any{"email": " "}, "body.email"},
			"no size":                  {map[string]any{"sizes": []string{}}, "body.sizes"},
			"a size of nobody":         {map[string]any{"sizes": []string{models.NewID()}}, "body.sizes[0]"},
			"more finished than taken": {map[string]any{"finished": 9}, "body.finished"},
			"no consent":               {map[string]any{"agreed": ""}, "body.agreed"},
			"a body of nobody":         {map[string]any{"body": []any{map[string]any{"dimension": "bust", "value": 900, "unit": "cm"}}}, "body.body[0]"},
			"remarks without end":      {map[string]any{"remarks": strings.Repeat("a", 20_000)}, "body.remarks"},
		} {
			t.Run(name, func(t *testing.T) {
				s.Clock.Advance(7 * time.Second) // the page is throttled
				nobody.Post("/sign-up/apply", r.answers(token, row.change)).Names(422, row.field)
				require.Empty(t, r.applications())
			})
		}
		nobody.Post("/sign-up/apply", r.answers("no such token", nil)).Want(404)
	})
}

func TestLinkIsReplacedClosedAndRunsOut(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		first := r.openPage()
		look := func(token string) int {
			s.Clock.Advance(10 * time.Second)
			return s.Nobody().Post("/sign-up/look", map[string]any{"token": token}).Status
		}
		require.Equal(t, 200, look(first))
		page := "/calls/" + r.call + "/sign-up"
		r.c.Do("POST", page+"/link", nil, nil).Want(428)
		r.c.Do("POST", page+"/link", nil, servertest.IfMatch(7)).Want(412)
		_, second, _ := strings.Cut(r.c.Do("POST", page+"/link", nil, servertest.IfMatch(1)).Want(200).Map()["link"].(string), "#")
		require.Equal(t, []int{404, 200}, []int{look(first), look(second)})
		r.c.Put(page, 2, map[string]any{"open": false}).Want(200)
		require.Equal(t, 404, look(second))
		r.c.Put(page, 3, map[string]any{"open": true, "closes_on": "2027-02-09"}).Want(200)
		require.Equal(t, 200, look(second), "the last day is a day")
		r.c.Put(page, 4, map[string]any{"open": true, "closes_on": "soon"}).Names(422, "body.closes_on")
		s.Clock.Advance(48 * time.Hour)
		require.Equal(t, 404, look(second))
		r.c = s.For(r.c.Person)
		r.c.Put(page, 4, map[string]any{"open": true}).Want(200)
		r.c.Patch("/calls/"+r.call, 1, map[string]any{"closed": true}).Want(200)
		require.Equal(t, 404, look(second), "a closed call takes nobody")
		require.NotContains(t, s.Log.String(), second, "the secret is in no log")
	})
}

func TestPublicPageIsThrottled(t *testing.T) {
	s := servertest.OnSQLite(t)
	statuses := map[int]int{}
	for range 30 {
		statuses[s.Nobody().Post("/sign-up/look", map[string]any{"token": "guess"}).Status]++
	}
	require.Equal(t, 20, statuses[404])
	require.Equal(t, 10, statuses[429])
}

func TestSizeIsAdvisedFromABodyThatNobodyElseSees(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		var intended []any
		for i, name := range []string{"1", "2", "3", "4"} {
			intended = append(intended, map[string]any{"size_id": r.size[name], "value": 80 + 10*i, "unit": "cm"})
		}
		r.c.Put("/designs/"+r.design+"/points", 3, map[string]any{"points": []any{map[string]any{"name": "bust", "axis": "stitch", "expr": "body", "tolerance": cm(2),
			"body_dimension": "bust", "ease_low_cm": 5, "ease_high_cm": 10, "intended": intended}}}).Want(200)
		token := r.openPage()
		body := []any{map[string]any{"dimension": "bust", "value": 36, "unit": "in"}} // 91.44 cm: 8.56 cm of ease in size 3
		look := s.Nobody().Post("/sign-up/look", map[string]any{"token": token}).Want(200).Map()
		require.Equal(t, []any{"bust"}, look["dimensions"])
		advice := s.Nobody().Post("/sign-up/advice", map[string]any{"token": token, "body": body}).Want(200).Map()["advice"].(map[string]any)
		require.Equal(t, "3", advice["size"])
		require.Equal(t, true, advice["fits"])
		require.Equal(t, "size 3 is nearest: bust 100.0 cm finished on 91.4 cm leaves 8.6 cm of ease, within the 5.0 to 10.0 cm intended", advice["why"])
		require.Nil(t, s.Nobody().Post("/sign-up/advice", map[string]any{"token": token, "body": []any{map[string]any{"dimension": "foot", "value": 24, "unit": "cm"}}}).Want(200).Map()["advice"])
		require.Empty(t, r.applications(), "advice keeps nothing")

		s.Nobody().Post("/sign-up/apply", r.answers(token, map[string]any{"body": body})).Want(200)
		app := r.applications()[0]
		id := app["id"].(string)
		var own models.Person
		own.ID = app["person"].(map[string]any)["id"].(string)
		self := s.For(&own)
		told := r.c.Get("/applications/" + id + "/body").Want(200)
		require.Equal(t, "3", told.Map()["advice"].(map[string]any)["size"])
		require.Equal(t, told.Body, self.Get("/applications/"+id+"/body").Want(200).Body)
		require.Len(t, self.Get("/me/body").Want(200).Map()["items"], 1)
		other := r.tester("other")
		other.Get("/applications/" + id + "/body").Want(404)
		require.Empty(t, other.Get("/me/body").Want(200).Map()["items"])
		for _, role := range []models.Role{models.TechEditor, models.Maker, models.Filmer} {
			staff := s.As("a-"+strings.ReplaceAll(string(role), "_", "-"), role)
			staff.Get("/applications/" + id + "/body").Want(403)
			require.NotContains(t, string(staff.Get("/calls/"+r.call+"/applications").Want(200).Body), "91.44")
			require.NotContains(t, string(staff.Get("/designs/"+r.design+"/history").Want(200).Body), "91.44", "the log doesn't tell")
		}
		other.Do("DELETE", "/applications/"+id+"/body", nil, nil).Want(404)
		self.Do("DELETE", "/applications/"+id+"/body", nil, nil).Want(204)
		require.Empty(t, r.c.Get("/applications/" + id + "/body").Want(200).Map()["body"])
	})
}

// TestCourseOfACall follows testers from being asked to the thank-you.
func TestCourseOfACall(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		r.c.Patch("/calls/"+r.call, 1, map[string]any{"sections": []string{"yoke", "body", "sleeves"}, "answer_days": 4}).Want(200)
		quick, slow := r.tester("quick"), r.tester("slow")
		a, b := r.assign(quick, "1"), r.assign(slow, "1")
		declined := r.apply("declined", 0, 0, "1")
		app := r.applications()[0]
		r.c.Patch("/applications/"+app["id"].(string), 1, map[string]any{"declined": true, "declined_why": "All places are taken."}).Want(200)
		due := func() (kinds []string) {
			r.c = s.For(r.c.Person)
			var list struct {
				Items []struct{ Kind, Handle, Text, About string }
			}
			r.c.Get("/calls/" + r.call + "/reminders").Want(200).Into(&list)
			for _, x := range list.Items {
				require.NotContains(t, x.Text, "%!")
				kinds = append(kinds, x.Kind+" "+x.Handle)
			}
			return kinds
		}
		require.ElementsMatch(t, []string{"asked quick", "asked slow", "declined declined"}, due())
		var letter struct {
			Items []struct {
				Kind, Handle, Text, Subject, About string
				PersonID                           string `json:"person_id"`
			}
		}
		r.c.Get("/calls/" + r.call + "/reminders").Into(&letter)
		for _, x := range letter.Items {
			if x.Kind == "declined" {
				require.Equal(t, declined, x.PersonID)
				require.Equal(t, "Saltmarsh pullover: your offer to test", x.Subject)
				require.Equal(t, "Dear declined,\n\nthank you for offering to test Saltmarsh pullover. This time we have no size for you.\n\nAll places are taken.\n\nWe hope that you offer again.\n\nThe test studio", x.Text)
			}
			told := map[string]any{"person_id": x.PersonID, "kind": x.Kind, "about": x.About}
			r.c.Post("/calls/"+r.call+"/reminders/told", told).Want(204)
			r.c.Post("/calls/"+r.call+"/reminders/told", told).Want(204)
		}
		require.Empty(t, due(), "what was told is not due again")
		r.c.Post("/calls/"+r.call+"/reminders/told", map[string]any{"person_id": declined, "kind": "shout", "about": "x"}).Names(422, "body.kind")

		quick.Post("/assignments/"+a+"/check-ins", map[string]any{"done": 1}).Want(409) // not accepted yet
		quick.Post("/assignments/"+a+"/accept", nil).Want(200)
		s.Clock.Advance(72 * time.Hour)
		require.Equal(t, []string{"answer slow"}, due(), "a day before the answer is due")
		slow = s.For(slow.Person)
		slow.Post("/assignments/"+b+"/accept", nil).Want(200)
		quick = s.For(quick.Person)
		quick.Post("/assignments/"+a+"/check-ins", map[string]any{"done": 4}).Names(422, "body.done")
		slow.Post("/assignments/"+a+"/check-ins", map[string]any{"done": 1}).Want(404)
		p := quick.Post("/assignments/"+a+"/check-ins", map[string]any{"done": 2, "note": "The body went fast."}).Want(200).Map()["progress"].(map[string]any)
		require.Equal(t, []any{2., 3., "body", "The body went fast."}, []any{p["done"], p["of"], p["section"], p["note"]})
		work := quick.Get("/assignments/" + a).Want(200).Map()
		require.Equal(t, []any{"yoke", "body", "sleeves"}, work["sections"])
		require.Len(t, work["check_ins"], 1)

		// More time.
		slow.Post("/assignments/"+b+"/more-time", map[string]any{"wanted_on": "2027-03-15", "why": "A cold."}).Names(422, "body.wanted_on")
		slow.Post("/assignments/"+b+"/more-time", map[string]any{"wanted_on": "2027-04-01", "why": ""}).Names(422, "body.why")
		quick.Post("/assignments/"+b+"/more-time", map[string]any{"wanted_on": "2027-04-01", "why": "A cold."}).Want(404)
		slow.Post("/assignments/"+b+"/more-time", map[string]any{"wanted_on": "2027-04-01", "why": "A cold."}).Want(200)
		m := slow.Post("/assignments/"+b+"/more-time", map[string]any{"wanted_on": "2027-03-29", "why": "A cold, but better."}).Want(200).Map()
		require.Equal(t, "2027-03-29", m["more_time"].(map[string]any)["wanted_on"], "asking again replaces it")
		r.c.Do("POST", "/assignments/"+b+"/more-time/answer", map[string]any{"granted": true}, nil).Want(428)
		granted := r.c.Do("POST", "/assignments/"+b+"/more-time/answer", map[string]any{"granted": true}, servertest.IfMatch(int(m["revision"].(float64)))).Want(200).Map()
		require.Equal(t, "2027-03-29", granted["due_on"])
		require.Nil(t, granted["more_time"])
		r.c.Do("POST", "/assignments/"+b+"/more-time/answer", map[string]any{"granted": true}, servertest.IfMatch(int(granted["revision"].(float64)))).Want(404)
		require.Equal(t, []string{"more time slow"}, due())

		// Yarn.
		rev := int(granted["revision"].(float64))
		r.c.Patch("/assignments/"+b, rev, map[string]any{"yarn_sent_on": "yesterday"}).Names(422, "body.yarn_sent_on")
		sent := r.c.Patch("/assignments/"+b, rev, map[string]any{"yarn_sent_on": "2027-02-11", "yarn_sent_note": "eight balls"}).Want(200).Map()
		require.Equal(t, "2027-02-11", sent["yarn_sent_on"])
		require.ElementsMatch(t, []string{"more time slow", "yarn slow"}, due())

		// 16 March: quick is a day late and was heard of last on 11 February.
		s.Clock.Advance(33 * 24 * time.Hour)
		require.ElementsMatch(t, []string{"more time slow", "yarn slow", "overdue quick", "check-in slow"}, due())
		late := r.c.Get("/assignments/" + a).Map()
		require.Equal(t, []any{true, 1., true}, []any{late["late"], late["days_late"], late["quiet"]})
		r.report(s.For(quick.Person), a, true)
		require.Equal(t, 1., r.c.Get("/assignments/" + a).Map()["days_late"])
		quick = s.For(quick.Person)
		quick.Post("/assignments/"+a+"/check-ins", map[string]any{"done": 3}).Want(409)

		// The end.
		r.c.Patch("/calls/"+r.call, 2, map[string]any{"closed": true, "thanks": "It will be out in May."}).Want(200)
		require.ElementsMatch(t, []string{"thanks quick"}, due())
		r.c.Get("/calls/" + r.call + "/reminders").Into(&letter)
		require.Contains(t, letter.Items[0].Text, "It will be out in May.")
		sum := r.c.Get("/calls/" + r.call + "/summary").Want(200).Map()
		require.Equal(t, "1 tester applied, 2 were asked, 2 accepted, 0 withdrew; 1 report in, 0 of them in time, 1 approved; usually 1 day late; too few reports for size 2, 3.", sum["sentence"])
		require.Equal(t, map[string]any{"name": "1", "fewest": 1., "asked": 2., "withdrawn": 0., "reported": 1., "in_time": 0., "approved": 1., "awaited": 1.}, sum["sizes"].([]any)[0])
	})
}

func TestAcceptingKeepsWhatWasAgreedTo(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		tester := r.tester("pebblewick")
		r.apply("pebblewick", 0, 0, "1")
		require.Nil(t, r.applications()[0]["agreed"])
		tester.Post("/assignments/"+r.assign(tester, "1")+"/accept", nil).Want(200)
		require.Equal(t, 1., r.applications()[0]["agreed"].(map[string]any)["version"])
		r.c.Patch("/applications/"+fmt.Sprint(r.applications()[0]["id"]), 1, map[string]any{"declined": true}).Want(409)
	})
}

func TestSectionsAreChecked(t *testing.T) {
	s := servertest.OnSQLite(t)
	r := newRound(t, s)
	for name, row := range map[string]struct {
		change map[string]any
		field  string
	}{
		"twice":     {map[string]any{"sections": []string{"yoke", "Yoke"}}, "body.sections"},
		"too long":  {map[string]any{"sections": []string{strings.Repeat("y", 81)}}, "body.sections"},
		"no days":   {map[string]any{"answer_days": 0}, "body.answer_days"},
		"long days": {map[string]any{"answer_days": 61}, "body.answer_days"},
	} {
		t.Run(name, func(t *testing.T) { r.c.Patch("/calls/"+r.call, 1, row.change).Names(422, row.field) })
	}
	require.Equal(t, []any{"swatch", "first half", "second half", "finishing", "washed and measured"}, r.c.Get("/calls/" + r.call).Map()["sections"])
	require.Equal(t, 5., r.c.Get("/calls/" + r.call).Map()["answer_days"])
}
