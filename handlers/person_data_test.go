package handlers_test

import (
	"database/sql"
	"fmt"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/modelstest"
	"tenter/server/servertest"
)

// TestForgetMe erases a tester and then looks into every text of every table.
func TestForgetMe(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		w := newWholeTester(t, s)
		w.mention()
		refused := func(field string, body map[string]any) {
			w.self.Post("/me/forget", body).Names(422, field)
		}
		refused("body.confirm", map[string]any{"confirm": "somebody", "password": itsPassword})
		refused("body.password", map[string]any{"confirm": itsHandle, "password": "not the password"})
		w.self.Get("/me").Want(200)
		findings := w.designer.Get("/designs/" + w.pullover.ID + "/comparison").Want(200)
		require.Contains(t, string(findings.Body), itsHandle)

		a := w.self.Post("/me/forget", map[string]any{"confirm": " " + strings.ToUpper(itsHandle), "password": itsPassword}).Want(204)
		require.Len(t, a.Header.Values("Set-Cookie"), 2)
		w.self.Get("/me").Want(401)
		signIn(s.Nobody(), itsHandle, itsPassword).Want(401)
		w.mustBeForgotten(t)

		// What they measured stays, as the work of nobody.
		var row struct {
			Rows []struct {
				Handle string
				Cells  []struct {
					Point    string
					Measured *struct{ CM float64 }
				}
			}
		}
		w.designer.Get("/designs/" + w.pullover.ID + "/comparison").Want(200).Into(&row)
		require.Len(t, row.Rows, 1)
		require.Equal(t, "forgotten-1", row.Rows[0].Handle)
		report := w.designer.Get("/reports/" + w.report).Want(200).Map()
		require.InDelta(t, 21.375, report["hours"], 0)
		require.Len(t, report["measurements"], 2)
		require.Equal(t, "", report["note"])

		// Whoever comes back is somebody new.
		back, err := s.Store.AddPerson(t.Context(), models.System("test"), models.NewPerson{Handle: itsHandle, Roles: []models.Role{models.Tester}})
		require.NoError(t, err)
		require.NotEqual(t, w.person.ID, back.ID)
	})
}

// mustBeForgotten looks for anything of the person in the whole database.
func (w *wholeTester) mustBeForgotten(t *testing.T) {
	t.Helper()
	pool, err := w.s.Store.SQL()
	require.NoError(t, err)
	for table, text := range everyText(t, w.s.Store, pool) {
		for _, word := range []string{itsHandle, itsName, itsEmail, "argon2id"} {
			at := strings.Index(strings.ToLower(text), strings.ToLower(word))
			if at >= 0 && word == itsHandle && strings.HasPrefix(text[at:], "hawthorn-yard") {
				at = strings.Index(strings.ToLower(strings.ReplaceAll(text, "hawthorn-yard", "")), itsHandle)
			}
			require.Negative(t, at, "%s still tells %s: …%s…", table, word, around(text, at))
		}
		for fact, words := range itsWords {
			for _, word := range words {
				if fact == "consent" || fact == "correction" {
					continue // the wording is the studio's
				}
				if word == "21.375" {
					continue // hours are a measurement
				}
				if fact != "handle" {
					require.NotContains(t, text, word, "%s still tells %s", table, fact)
				}
			}
		}
	}
	var n int64
	require.NoError(t, pool.QueryRow(`SELECT count(*) FROM events WHERE actor_id = '`+w.person.ID+`'`).Scan(&n))
	require.Zero(t, n)
	for _, table := range []string{"refresh_tokens", "sign_ins", "half_sign_ins", "recovery_codes", "second_factors", "invitations", "consents", "person_roles", "told", "idempotency_keys"} {
		require.NoError(t, pool.QueryRow(`SELECT count(*) FROM `+table+` WHERE person_id = '`+w.person.ID+`'`).Scan(&n))
		require.Zero(t, n, table)
	}
	require.NoError(t, pool.QueryRow(`SELECT count(*) FROM corrections WHERE found_by = '`+w.person.ID+`'`).Scan(&n))
	require.Zero(t, n, "what was corrected stays as the find of nobody")
	faults, err := w.s.Store.Check(t.Context())
	require.NoError(t, err)
	require.Empty(t, faults)
	history := w.designer.Get("/designs/" + w.pullover.ID + "/history?limit=500").Want(200)
	require.NotContains(t, strings.ToLower(strings.ReplaceAll(string(history.Body), "hawthorn-yard", "")), itsHandle)
}

func around(text string, at int) string {
	if at < 0 {
		return ""
	}
	return text[max(at-60, 0):min(at+60, len(text))]
}

// everyText returns everything that the database holds, table by table, as it
// stands there.
func everyText(t *testing.T, store *models.Store, pool *sql.DB) map[string]string {
	t.Helper()
	tables, err := modelstest.Rows(t, store).Migrator().GetTables()
	require.NoError(t, err)
	out := map[string]string{}
	for _, table := range tables {
		rows, err := pool.Query(`SELECT * FROM "` + table + `"`)
		require.NoError(t, err)
		columns, err := rows.Columns()
		require.NoError(t, err)
		var b strings.Builder
		for rows.Next() {
			values, into := make([]any, len(columns)), make([]any, len(columns))
			for i := range values {
				into[i] = &values[i]
			}
			require.NoError(t, rows.Scan(into...))
			for _, v := range values {
				if raw, ok := v.([]byte); ok {
					v = string(raw)
				}
				fmt.Fprintf(&b, "%v\n", v)
			}
		}
		require.NoError(t, rows.Err())
		require.NoError(t, rows.Close())
		out[table] = b.String()
	}
	return out
}

func TestDesignerForgetsSomebody(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		w := newWholeTester(t, s)
		w.mention()
		path := "/people/" + w.person.ID + "/forget"
		// An answer that the studio keeps for a repeated request tells the name.
		s.Nobody().Get("/privacy").Want(200)
		w.designer.Do("PATCH", "/people/"+w.person.ID, map[string]any{"name": itsName + " of the coast"}, servertest.IfMatch(1)).Want(200)
		w.designer.Do("PATCH", "/people/"+w.person.ID, map[string]any{"name": itsName}, servertest.IfMatch(2)).Want(200)
		w.designer.Do("POST", "/people/"+w.person.ID+"/invitation", nil, http.Header{"Idempotency-Key": {"one"}}).Want(201)

		w.designer.Post(path, map[string]any{"confirm": ""}).Names(422, "body.confirm")
		w.self.Post(path, map[string]any{"confirm": itsHandle}).Want(403)
		for _, role := range []models.Role{models.TechEditor, models.Maker, models.Filmer, models.Tester} {
			s.As("a-"+strings.ReplaceAll(string(role), "_", "-"), role).Post(path, map[string]any{"confirm": itsHandle}).Want(403)
		}
		w.designer.Post(path, map[string]any{"confirm": itsHandle}).Want(204)
		w.mustBeForgotten(t)
		w.self.Get("/me").Want(401)

		w.designer.Post(path, map[string]any{"confirm": "forgotten-1"}).Want(409)
		person := w.designer.Get("/people/" + w.person.ID).Want(200)
		require.Equal(t, "Forgotten", person.Map()["name"])
		w.designer.Do("PATCH", "/people/"+w.person.ID, map[string]any{"disabled": false}, http.Header{"If-Match": {person.Header.Get("ETag")}}).Want(409)
		require.NotContains(t, string(w.designer.Get("/people").Want(200).Body), w.person.ID)
		w.designer.Post("/people/"+w.designer.Person.ID+"/forget", map[string]any{"confirm": "designer"}).Want(409) // the only one
	})
}

// TestForgettingFreesTheirPlace: who has not sent anything won't.
func TestForgettingFreesTheirPlace(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c := s.Designer()
		p := s.NewPullover(c, "Saltmarsh pullover")
		s.OpenCall(c, p)
		tester, assignment := assign(t, s, c, p, "agrimony", "1")
		c.Post("/people/"+tester.Person.ID+"/forget", map[string]any{"confirm": "agrimony"}).Want(204)
		a := c.Get("/assignments/" + assignment).Want(200).Map()
		require.Equal(t, "withdrawn", a["state"])
		require.Equal(t, "forgotten-1", a["person"].(map[string]any)["handle"])
	})
}

func TestIdleTestersAreForgotten(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		w := newWholeTester(t, s) // due on 2027-03-12, with the last word in February
		both := s.As("both", models.Tester, models.Maker)
		never, err := s.Store.AddPerson(t.Context(), models.System("test"), models.NewPerson{Handle: "never", Roles: []models.Role{models.Tester}})
		require.NoError(t, err)
		idle := func(months string) []string {
			var got struct{ People []struct{ Handle string } }
			w.designer = s.For(w.designer.Person)
			w.designer.Get("/studio/idle-testers?months=" + months).Want(200).Into(&got)
			handles := []string{}
			for _, p := range got.People {
				handles = append(handles, p.Handle)
			}
			return handles
		}
		forgotten := func() int {
			n, err := s.Store.ForgetIdle(t.Context(), models.System("test"))
			require.NoError(t, err)
			return n
		}
		require.Empty(t, idle("1"))
		s.Clock.Advance(50 * 24 * time.Hour) // 30 March
		require.Equal(t, []string{"never"}, idle("1"), "one of them is due within the month")
		require.Zero(t, forgotten(), "nobody is forgotten unless the studio says so")
		s.Clock.Advance(60 * 24 * time.Hour) // end of May
		require.Equal(t, []string{itsHandle, "never"}, idle("2"))
		require.Empty(t, idle("12"))
		w.designer.Get("/studio/idle-testers?months=0").Want(422)
		both.Get("/studio/idle-testers?months=1").Want(401)

		settings := w.designer.Get("/studio/settings").Want(200)
		require.NotContains(t, settings.Map(), "forget_after_months")
		w.designer.Do("PATCH", "/studio/settings", map[string]any{"forget_after_months": 0}, http.Header{"If-Match": {settings.Header.Get("ETag")}}).Names(422, "body.forget_after_months")
		changed := w.designer.Do("PATCH", "/studio/settings", map[string]any{"forget_after_months": 2}, http.Header{"If-Match": {settings.Header.Get("ETag")}}).Want(200)
		require.EqualValues(t, 2, changed.Map()["forget_after_months"])
		require.EqualValues(t, 2, s.Nobody().Get("/privacy").Want(200).Map()["forget_after_months"])
		require.Equal(t, 2, forgotten())
		require.Zero(t, forgotten())
		w.mustBeForgotten(t)
		p, err := s.Store.Person(t.Context(), never.ID)
		require.NoError(t, err)
		require.NotNil(t, p.ForgottenAt)
		p, err = s.Store.Person(t.Context(), both.Person.ID)
		require.NoError(t, err)
		require.Nil(t, p.ForgottenAt, "the studio's own people are never forgotten unasked")
		w.designer.Do("PATCH", "/studio/settings", map[string]any{"forget_after_months": nil}, http.Header{"If-Match": {changed.Header.Get("ETag")}}).Want(200)
		require.NotContains(t, w.designer.Get("/studio/settings").Want(200).Map(), "forget_after_months")
	})
}

// TestConsentIsKeptAtAcceptance: with the wording, its number and the moment,
// also of somebody who never applied.
func TestConsentIsKeptAtAcceptance(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		w := newWholeTester(t, s)
		tester := s.As("agrimony", models.Tester)
		c, p := w.designer, w.pullover
		id := c.Post("/calls/"+p.CallID+"/assignments", map[string]any{"person_id": tester.Person.ID, "size_id": p.Sizes["1"]}).Want(201).ID()
		consents := func() (out []map[string]any) {
			var data struct {
				Sections []struct {
					Name string
					Rows []map[string]any
				}
			}
			tester.Get("/me/data").Want(200).Into(&data)
			for _, section := range data.Sections {
				if section.Name == "consents" {
					out = section.Rows
				}
			}
			return out
		}
		require.Empty(t, consents())
		tester.Post("/assignments/"+id+"/accept", nil).Want(200)
		got := consents()
		require.Len(t, got, 1)
		require.Equal(t, "hush until the day", got[0]["text"])
		require.EqualValues(t, 1, got[0]["version"])
		at := got[0]["agreed_at"]
		tester.Post("/assignments/"+id+"/accept", nil).Want(200)
		require.Equal(t, at, consents()[0]["agreed_at"])
	})
}
