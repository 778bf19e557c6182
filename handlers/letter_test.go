package handlers_test

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/modelstest"
	"tenter/server"
	"tenter/server/servertest"
)

// withPost runs a studio that sends e-mail. Nothing leaves it: the sender is
// not started, and the tests take letters out of the outbox as it would.
func withPost(t *testing.T, f func(t *testing.T, r *round)) {
	modelstest.Each(t, func(t *testing.T, store *models.Store, clock *modelstest.Clock) {
		f(t, newRound(t, servertest.With(t, store, clock, func(c *server.Config) {
			c.BaseURL = "https://tenter.example"
			c.Mail.Host, c.Mail.From = "mail.example", "Studio <post@studio.example>"
		})))
	})
}

// reachable gives somebody an address, for which the designer gives a password.
func (r *round) reachable(c *servertest.Client, address string) {
	r.T.Helper()
	r.c = r.For(r.c.Person)
	choosePassword(r.Studio, r.c)
	r.c = r.For(r.c.Person)
	r.c.Patch("/people/"+c.Person.ID, revisionOf(r.T, r.c, c.Person.ID), map[string]any{"email": address, "password": password}).Want(200)
}

func revisionOf(t testing.TB, c *servertest.Client, person string) int {
	t.Helper()
	return int(c.Get("/people/" + person).Want(200).Map()["revision"].(float64))
}

type letterRow struct {
	ID, Kind, State, Said, Subject, Text string
	About                                string
	PersonID                             string `json:"person_id"`
	ByHandOnly                           string `json:"by_hand_only"`
	NotSent                              string `json:"not_sent"`
	ByItself                             bool   `json:"by_itself"`
	Doubtful                             bool
	Person                               struct {
		ID, Handle string
		Doubtful   bool
	}
}

func (r *round) rows(path string) []letterRow {
	r.T.Helper()
	r.c = r.For(r.c.Person)
	var list struct{ Items []letterRow }
	r.c.Get(path).Want(200).Into(&list)
	return list.Items
}

func (r *round) send(rows ...letterRow) *servertest.Answer {
	refs := []any{}
	for _, x := range rows {
		refs = append(refs, map[string]any{"person_id": x.PersonID, "kind": x.Kind, "about": x.About})
	}
	return r.c.Post("/calls/"+r.call+"/reminders/letters", map[string]any{"letters": refs})
}

// take takes what waits, as the sender does.
func (r *round) take() []models.OutLetter {
	r.T.Helper()
	out, err := r.Store.ClaimLetters(r.T.Context(), "the test", 50)
	require.NoError(r.T, err)
	return out
}

func (r *round) sent(l models.OutLetter) {
	r.T.Helper()
	require.NoError(r.T, r.Store.LetterWasSent(r.T.Context(), l.ID))
}

// TestRemindersByEMail follows reminders from due to told.
func TestRemindersByEMail(t *testing.T) {
	withPost(t, func(t *testing.T, r *round) {
		mara, ash := r.tester("mara"), r.tester("ash")
		r.reachable(mara, "mara@reader.example")
		r.assign(mara, "1")
		r.assign(ash, "1")
		due := r.rows("/letters/due")
		require.Len(t, due, 2)
		byHand := map[string]string{}
		for _, d := range due {
			byHand[d.PersonID] = d.ByHandOnly
			require.False(t, d.ByItself, "everything waits for the designer until she says otherwise")
		}
		require.Equal(t, map[string]string{mara.Person.ID: "", ash.Person.ID: "has no e-mail address on file"}, byHand)

		written := r.send(due...).Want(200).Map()
		require.EqualValues(t, 1, written["written"])
		require.Equal(t, "has no e-mail address on file", written["left_out"].([]any)[0].(map[string]any)["why"])
		require.Len(t, r.rows("/calls/"+r.call+"/reminders"), 1, "what is on its way is not due")
		require.EqualValues(t, 0, r.send(due[0], due[1]).Want(200).Map()["written"], "nothing is written twice")

		waiting := r.rows("/letters?state=waiting")
		require.Len(t, waiting, 1)
		out := r.take()
		require.Len(t, out, 1)
		require.Equal(t, "mara@reader.example", out[0].Address)
		require.NotEmpty(t, out[0].JoinToken, "who has no password yet gets the way in with it")

		// Nobody reads what lets somebody in: not in the list, the letter, its
		// HTML, the log of changes or the download.
		for _, path := range []string{"/letters", "/letters/" + out[0].ID, "/letters/" + out[0].ID + "/html", "/designs/" + r.design + "/history?limit=500", "/people/" + mara.Person.ID + "/data"} {
			body := string(r.c.Get(path).Want(200).Body)
			require.NotContains(t, body, out[0].JoinToken, path)
			require.NotContains(t, body, out[0].Secret, path)
		}
		require.Contains(t, string(r.c.Get("/letters/"+out[0].ID).Want(200).Body), "nobody else is shown it")
		html := r.c.Get("/letters/" + out[0].ID + "/html").Want(200)
		require.Equal(t, "text/html; charset=utf-8", html.Header.Get("Content-Type"))
		require.Equal(t, []string{"default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'; frame-ancestors 'self'; sandbox"}, html.Header.Values("Content-Security-Policy"))

		r.sent(out[0])
		r.sent(out[0])
		require.Empty(t, r.rows("/letters?state=waiting"))
		require.Equal(t, "sent", r.rows("/letters?state=sent")[0].State)
		var kept models.Letter
		require.NoError(t, modelstest.Rows(t, r.Store).Take(&kept, "id = ?", out[0].ID).Error)
		require.Empty(t, kept.Secret, "what its links were made of is gone")
		require.Len(t, r.rows("/calls/"+r.call+"/reminders"), 1)
		r.Nobody().Post("/invitations/accept", map[string]any{"token": out[0].JoinToken, "password": "four plain words here"}).Want(200)
		faults, err := r.Store.Check(t.Context())
		require.NoError(t, err)
		require.Empty(t, faults)
	})
}

// TestLettersThatFail: refused for good, taken back, and tried again.
func TestLettersThatFail(t *testing.T) {
	withPost(t, func(t *testing.T, r *round) {
		mara := r.tester("mara")
		r.reachable(mara, "mara@reader.example")
		r.assign(mara, "1")
		r.send(r.rows("/letters/due")...).Want(200)
		first := r.take()[0]
		require.NoError(t, r.Store.LetterRefused(t.Context(), first.ID, "another process", "550 5.1.1 not mine", true))
		require.Equal(t, "waiting", r.rows("/letters")[0].State, "only who holds it may say so")
		require.NoError(t, r.Store.LetterRefused(t.Context(), first.ID, "the test", "550 5.1.1 no such mailbox", true))
		due := r.rows("/letters/due")
		require.Len(t, due, 1, "it was not told after all")
		require.Equal(t, "550 5.1.1 no such mailbox", due[0].NotSent)
		require.True(t, due[0].Doubtful)
		failed := r.rows("/letters?state=failed")
		require.True(t, failed[0].Person.Doubtful)
		const unsent = "1 letter could not be sent."
		needs := r.c.Get("/studio").Want(200).Map()["today_needs"].([]any)
		require.Equal(t, map[string]any{"sentence": unsent, "where": "/letters#failed"}, needs[0])
		require.NotContains(t, string(r.As("a-maker", models.Maker).Get("/studio").Want(200).Body), unsent, "it is for the designer")

		// It does not go by itself again, even where its kind does.
		r.byItself("asked")
		require.Zero(t, r.planLetters())
		r.reachable(mara, "mara@mended.example")
		require.False(t, r.rows("/letters/due")[0].Doubtful, "another address is not doubted")
		r.c.Post("/letters/"+first.ID+"/again", nil).Want(204)
		r.c.Post("/letters/"+first.ID+"/again", nil).Want(204)
		again := r.take()
		require.Len(t, again, 1)
		require.Equal(t, first.ID, again[0].ID, "under the same name")
		require.NotContains(t, string(r.c.Get("/studio").Want(200).Body), unsent)
		require.NotEqual(t, first.JoinToken, again[0].JoinToken, "with another link")
		r.c.Post("/letters/"+first.ID+"/withdraw", nil).Want(409)
		require.NoError(t, r.Store.LetterNotTaken(t.Context(), first.ID, "the test", "451 later", time.Minute))
		require.Empty(t, r.take(), "not before its time")
		r.c.Post("/letters/"+first.ID+"/withdraw", nil).Want(204)
		r.Nobody().Post("/invitations/look", map[string]any{"token": again[0].JoinToken}).Want(404)
		require.Equal(t, "withdrawn", r.rows("/letters?state=withdrawn")[0].State)
		r.c.Post("/letters/018f0000-0000-7000-8000-000000000000/withdraw", nil).Want(404)
		faults, err := r.Store.Check(t.Context())
		require.NoError(t, err)
		require.Empty(t, faults)
	})
}

func (r *round) byItself(kinds ...string) {
	r.T.Helper()
	settings := r.c.Get("/studio/settings").Want(200)
	r.c.Do("PATCH", "/studio/settings", map[string]any{"letters_by_itself": kinds}, http.Header{"If-Match": {settings.Header.Get("ETag")}}).Want(200)
}

func (r *round) planLetters() int {
	r.T.Helper()
	n, err := r.Store.PlanLetters(r.T.Context())
	require.NoError(r.T, err)
	return n
}

// TestLettersByThemselves: only the kinds that the designer named, once each,
// and no longer once they are not so.
func TestLettersByThemselves(t *testing.T) {
	withPost(t, func(t *testing.T, r *round) {
		mara := r.tester("mara")
		r.reachable(mara, "mara@reader.example")
		a := r.assign(mara, "1")
		require.Zero(t, r.planLetters(), "nothing goes unasked")
		settings := r.c.Get("/studio/settings").Want(200)
		for name, bad := range map[string]any{"letters_by_itself": []string{"shout"}, "letters_keep_days": 0} {
			field := map[string]string{"letters_by_itself": "body.letters_by_itself[0]", "letters_keep_days": "body.letters_keep_days"}[name]
			r.c.Do("PATCH", "/studio/settings", map[string]any{name: bad}, http.Header{"If-Match": {settings.Header.Get("ETag")}}).Names(422, field)
		}
		r.byItself("asked", "due soon")
		require.Equal(t, 1, r.planLetters())
		require.Zero(t, r.planLetters())
		r.sent(r.take()[0])
		require.Zero(t, r.planLetters(), "what was told is not due")

		r.For(mara.Person).Post("/assignments/"+a+"/accept", nil).Want(200)
		r.Clock.Advance(33 * 24 * time.Hour) // 13 March; due on 15 March
		require.Equal(t, 1, r.planLetters(), "of the two that are due, one goes by itself")
		soon := r.take()
		require.Len(t, soon, 1)
		require.Equal(t, models.LetterKind("due soon"), soon[0].Kind)
		require.NoError(t, r.Store.LetterNotTaken(t.Context(), soon[0].ID, "the test", "451 later", time.Minute))
		r.report(r.For(mara.Person), a, false)
		r.Clock.Advance(time.Hour)
		require.Empty(t, r.take(), "the report came while the letter waited")
		require.Equal(t, "it is not so any more, or they were told otherwise", r.rows("/letters?state=withdrawn")[0].Said)
	})
}

// TestEveryReminderKindCanGo: a kind that somebody adds is known to settings
// and groups without being told.
func TestEveryReminderKindCanGo(t *testing.T) {
	withPost(t, func(t *testing.T, r *round) {
		var names []string
		for _, k := range models.ReminderKinds() {
			names = append(names, string(k))
		}
		r.byItself(names...)
		require.Equal(t, models.GroupNews, models.LetterKind("a kind of tomorrow").Group(), "what is new can be declined")
	})
}

func TestMeasureAgainIsWritten(t *testing.T) {
	withPost(t, func(t *testing.T, r *round) {
		mara := r.tester("mara")
		r.reachable(mara, "mara@reader.example")
		a := r.assign(mara, "1")
		mara.Post("/assignments/"+a+"/accept", nil).Want(200)
		r.report(mara, a, false)
		r.c.Post("/designs/"+r.design+"/measure-requests", map[string]any{"assignment_id": a, "why": "It looks like half of it."}).Want(201)
		var about []string
		for _, d := range r.rows("/letters/due") {
			if d.Kind == "measure again" {
				require.Contains(t, d.Text, "- your swatch: stitches and rows. It looks like half of it.")
				require.Equal(t, "Saltmarsh pullover: please measure once more", d.Subject)
				about = append(about, d.About)
				r.send(d).Want(200)
			}
		}
		require.Len(t, about, 1)
	})
}

// TestOneClickEndsLetters holds the end of letters by their own link against
// RFC 8058 (from memory, by its sections).
func TestOneClickEndsLetters(t *testing.T) {
	withPost(t, func(t *testing.T, r *round) {
		mara, ash := r.tester("mara"), r.tester("ash")
		r.reachable(mara, "mara@reader.example")
		r.reachable(ash, "ash@reader.example")
		for _, c := range []*servertest.Client{mara, ash} {
			r.For(c.Person).Post("/assignments/"+r.assign(c, "1")+"/accept", nil).Want(200)
		}
		r.Clock.Advance(36 * 24 * time.Hour) // a day after the reports were due
		r.send(r.rows("/letters/due")...).Want(200)
		out := r.take()
		require.Len(t, out, 2)
		var token string
		for _, l := range out {
			require.NotEmpty(t, l.StopToken)
			if l.PersonID == mara.Person.ID {
				token = l.StopToken
			}
			r.sent(l)
		}
		path := "/letters/stop/" + token
		nobody := r.Nobody()
		form := http.Header{"Content-Type": {"application/x-www-form-urlencoded"}}
		refused := func(c *servertest.Client) (groups []string) {
			var mine struct {
				Groups []struct {
					Group  string
					Wanted bool
				}
			}
			r.For(c.Person).Get("/me/letters").Want(200).Into(&mine)
			for _, g := range mine.Groups {
				if !g.Wanted {
					groups = append(groups, g.Group)
				}
			}
			return groups
		}

		// Section 1: programs fetch every link in a letter; that ends nothing.
		for range 3 {
			page := nobody.Get(path).Want(200)
			require.Contains(t, string(page.Body), `<input type="hidden" name="List-Unsubscribe" value="One-Click">`)
			require.NotContains(t, string(page.Body), "mara", "whoever has the link reads no name")
		}
		require.Empty(t, refused(mara))
		// Section 3.2: the pair is in the body; without it nothing happens.
		for _, body := range []string{"List-Unsubscribe=Two-Clicks", "list=One-Click"} {
			nobody.Do("POST", path, body, form).Names(422, "body.List-Unsubscribe")
		}
		nobody.Do("POST", path, "List-Unsubscribe=One-Click", http.Header{"Content-Type": {"text/plain"}}).Want(422)
		nobody.Do("POST", path, "", form).Want(400)
		require.Empty(t, refused(mara))

		// Section 3.2: the body may be multipart/form-data; there are no cookies
		// and no sign-in. Section 3.1: no redirect.
		multipart := "--x\r\nContent-Disposition: form-data; name=\"List-Unsubscribe\"\r\n\r\nOne-Click\r\n--x--\r\n"
		nobody.Do("POST", path, multipart, http.Header{"Content-Type": {"multipart/form-data; boundary=x"}}).Want(200)
		require.Equal(t, []string{"reminders"}, refused(mara))
		require.Empty(t, refused(ash), "nobody else's")
		for range 2 {
			a := nobody.Do("POST", path, "List-Unsubscribe=One-Click", form).Want(200)
			require.Empty(t, a.Header.Values("Set-Cookie"))
		}
		require.Equal(t, []string{"reminders"}, refused(mara), "and nothing else of theirs")
		require.Contains(t, string(nobody.Get(path).Want(200).Body), "You get no more e-mail of this kind")

		// Section 6: the identifier is hard to forge.
		for _, wrong := range []string{token[:42] + "A", strings.Repeat("A", 43), mara.Person.ID} {
			if wrong != token {
				nobody.Do("POST", "/letters/stop/"+wrong, "List-Unsubscribe=One-Click", form).Want(404)
			}
		}

		// Another site's page can't press the button.
		cross := form.Clone()
		cross.Set("Sec-Fetch-Site", "cross-site")
		nobody.Do("POST", path, "List-Unsubscribe=One-Click", cross).Want(403)

		// The next one is not written, and the designer is told why.
		r.Clock.Advance(7 * 24 * time.Hour)
		for _, d := range r.rows("/letters/due") {
			require.Equal(t, d.PersonID == mara.Person.ID, d.ByHandOnly == "does not want this by e-mail", d.Kind)
		}
		self := r.For(mara.Person)
		self.Post("/me/letters", map[string]any{"refused": []string{"all of it"}}).Names(422, "body.refused[0]")
		self.Post("/me/letters", map[string]any{"refused": []string{}}).Want(200)
		require.Empty(t, refused(mara))
		// Trying links is throttled.
		status := 0
		for range 40 {
			status = nobody.Do("POST", "/letters/stop/guess", "List-Unsubscribe=One-Click", form).Status
		}
		require.Equal(t, 429, status)
	})
}

// TestNoPostSendsNothing: without a mail server nothing is put out, and what
// would be is shown.
func TestNoPostSendsNothing(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		mara := r.tester("mara")
		r.reachable(mara, "mara@reader.example")
		a := r.assign(mara, "1")
		require.Equal(t, false, r.c.Get("/letters/post").Want(200).Map()["on"])
		due := r.rows("/letters/due")
		require.Len(t, due, 1)
		require.Contains(t, string(r.send(due...).Want(409).Body), "TENTER_SMTP_HOST")
		for _, path := range []string{"/letters/test", "/people/" + mara.Person.ID + "/invitation/letter", "/assignments/" + a + "/invitation/letter"} {
			r.c.Post(path, nil).Want(409)
		}
		require.Empty(t, r.rows("/letters"))
		look := "?person=" + mara.Person.ID + "&kind=asked&about=" + strings.ReplaceAll(due[0].About, " ", "%20")
		require.Contains(t, string(r.c.Get("/calls/"+r.call+"/reminders/html"+look).Want(200).Body), "<p>Dear mara,</p>")
		require.Contains(t, r.c.Get("/calls/" + r.call + "/reminders/text" + look).Want(200).Map()["text"], "Dear mara,\n\nthank you for offering to test")
	})
}

// TestOldLettersAreErased: the words go, that it went stays.
func TestOldLettersAreErased(t *testing.T) {
	withPost(t, func(t *testing.T, r *round) {
		mara := r.tester("mara")
		r.reachable(mara, "mara@reader.example")
		r.c.Post("/people/"+mara.Person.ID+"/invitation/letter", nil).Want(201)
		r.sent(r.take()[0])
		r.Clock.Advance(89 * 24 * time.Hour)
		n, err := r.Store.EraseOldLetters(t.Context())
		require.NoError(t, err)
		require.Zero(t, n)
		r.Clock.Advance(2 * 24 * time.Hour)
		n, err = r.Store.EraseOldLetters(t.Context())
		require.NoError(t, err)
		require.Equal(t, 1, n)
		left := r.rows("/letters")
		require.Equal(t, []any{"invitation", "sent", ""}, []any{left[0].Kind, left[0].State, left[0].Subject})
		require.Empty(t, r.c.Get("/letters/" + left[0].ID).Want(200).Map()["text"])
		r.c.Get("/letters/" + left[0].ID + "/html").Want(404)
	})
}

// TestAnInvitationByEMail is one that nobody but its reader is shown.
func TestAnInvitationByEMail(t *testing.T) {
	withPost(t, func(t *testing.T, r *round) {
		mara := r.tester("mara")
		r.c.Post("/people/"+mara.Person.ID+"/invitation/letter", nil).Want(409) // no address
		r.reachable(mara, "mara@reader.example")
		r.c.Post("/people/"+mara.Person.ID+"/invitation/letter", nil).Want(201)
		r.c.Post("/people/"+mara.Person.ID+"/invitation/letter", nil).Want(201)
		out := r.take()
		require.Len(t, out, 1, "the newer one takes the older one's place")
		require.Empty(t, out[0].StopToken, "it can't be declined")
		require.Equal(t, "The test studio: your way in", out[0].Subject)
		r.Nobody().Post("/invitations/look", map[string]any{"token": out[0].JoinToken}).Want(200)
		byHand := r.c.Post("/people/"+mara.Person.ID+"/invitation", nil).Want(201).Map()["token"].(string)
		require.NoError(t, r.Store.LetterNotTaken(t.Context(), out[0].ID, "the test", "451 later", 0))
		require.Empty(t, r.take(), "its link was replaced while it waited")
		r.Nobody().Post("/invitations/look", map[string]any{"token": byHand}).Want(200)

		a := r.assign(mara, "2")
		r.c.Post("/assignments/"+a+"/invitation/letter", nil).Want(201)
		require.Equal(t, "Saltmarsh pullover: your way in", r.take()[0].Subject)
	})
}

// TestNamesOnOneLine: what may stand in a header is refused at its source.
func TestNamesOnOneLine(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c := s.Designer()
		for field, body := range map[string]map[string]any{
			"body.name":   {"handle": "mara", "name": "Mara\r\nBcc: all@reader.example", "roles": []string{"tester"}},
			"body.handle": {"handle": "ma\u2028ra", "roles": []string{"tester"}},
			"body.email":  {"handle": "mara", "email": "mara@reader.example\r\nBcc: all@reader.example", "roles": []string{"tester"}},
		} {
			c.Post("/people", body).Names(422, field)
		}
		c.Post("/designs", map[string]any{"name": "Pull\nover", "craft": "crochet", "audience": "unisex", "terms": "us", "unit": "cm",
			"gauge": map[string]any{"stitches": 14, "rows": 11, "span": 10, "unit": "cm"}}).Names(422, "body.name")
		settings := c.Get("/studio/settings").Want(200)
		c.Do("PATCH", "/studio/settings", map[string]any{"name": "Studio\nBcc: x"}, http.Header{"If-Match": {settings.Header.Get("ETag")}}).Names(422, "body.name")
	})
}
