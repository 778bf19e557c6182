package handlers_test

import (
	"context"
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/handlers"
	"tenter/models"
	"tenter/server/servertest"
)

// TestEachRoleSeesWhatThePrivacyPageSays reads everything that each role can
// read and holds what it finds of a tester against the page, both ways: nobody
// sees more, and what the page says is seen.
func TestEachRoleSeesWhatThePrivacyPageSays(t *testing.T) {
	s := servertest.OnSQLite(t)
	w := newWholeTester(t, s)
	clients := map[models.Role]*servertest.Client{"": s.Nobody(), "self": w.self, models.Designer: w.designer, models.Tester: s.As("another", models.Tester)}
	for _, role := range []models.Role{models.TechEditor, models.Maker, models.Filmer} {
		clients[role] = s.As("the-"+strings.ReplaceAll(string(role), "_", "-"), role)
	}
	var page handlers.Privacy
	s.Nobody().Get("/privacy").Want(200).Into(&page)
	says := map[string][]models.Role{}
	for _, f := range page.Facts {
		says[f.Name] = f.SeenBy
		require.NotEmpty(t, f.What)
		require.NotEmpty(t, f.Why)
	}
	fill := map[string]string{"design": w.pullover.ID, "version": w.pullover.VersionID, "call": w.pullover.CallID, "application": w.application,
		"assignment": w.assignment, "person": w.person.ID, "report": w.report, "remark": w.remark, "correction": w.correction, "photo": w.photo, "letter": w.letter, "size": "screen"}
	for role, c := range clients {
		answers := readEverything(t, s, c, fill)
		for fact, words := range itsWords {
			require.Contains(t, says, fact)
			seen := ""
			for _, word := range words {
				for route, body := range answers {
					if strings.Contains(body, word) {
						seen = route
					}
				}
			}
			if slices.Contains(says[fact], role) {
				require.NotEmpty(t, seen, "the page says that %q sees %s, and nothing shows it", role, fact)
			} else {
				require.Empty(t, seen, "%q sees %s, which the page does not say", role, fact)
			}
		}
	}
}

// readEverything reads every address of the API, for the things of one tester,
// and returns the answers by route.
func readEverything(t *testing.T, s *servertest.Studio, c *servertest.Client, fill map[string]string) map[string]string {
	t.Helper()
	out := map[string]string{}
	read := 0
	for _, r := range routes(t, s) {
		if r.method != http.MethodGet || strings.HasSuffix(r.path, "/live") {
			continue
		}
		a := c.Do(r.method, r.address(fill)+readAll[r.id], nil, nil)
		require.NotEqual(t, 500, a.Status, "%s = %s", r.id, a.Body)
		require.True(t, a.Status != 422 || slices.Contains(aboutNobody, r.id), "%s needs a query to be read here: %s", r.id, a.Body)
		out[r.id] = string(a.Body)
		if a.Status == 200 {
			read++
		}
	}
	require.Greater(t, read, 1)
	return out
}

// readAll are the queries without which a route answers nothing.
var readAll = map[string]string{
	"list-idle-testers": "?months=1",
	"get-changed-count": "?count=body",
}

// aboutNobody are routes over published tables, which take queries of many kinds.
var aboutNobody = []string{"cover-sizes", "hint-gauge", "list-terms", "rewrite-terms", "select-cautions", "list-size-codes"}

// TestMyDataIsWhole: what is known is in the download, each in its section.
func TestMyDataIsWhole(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		w := newWholeTester(t, s)
		a := w.self.Get("/me/data").Want(200)
		require.Contains(t, a.Header.Get("Content-Disposition"), "attachment")
		require.Equal(t, "no-store", a.Header.Get("Cache-Control"))
		var data handlers.PersonData
		a.Into(&data)
		sections := map[string][]map[string]any{}
		for _, section := range data.Sections {
			sections[section.Name] = section.Rows
			require.NotEmpty(t, section.Says)
		}
		require.Equal(t, itsHandle, data.Handle)
		require.Equal(t, itsEmail, sections["person"][0]["email"])
		require.Equal(t, true, sections["person"][0]["has_password"])
		require.Equal(t, true, sections["applications"][0]["elsewhere"])
		_, err := time.Parse(time.RFC3339, sections["person"][0]["created_at"].(string))
		require.NoError(t, err)
		require.Equal(t, []map[string]any{{"role": "tester"}}, sections["roles"])
		require.Equal(t, "an unusual browser", sections["sign_ins"][0]["agent"])
		require.Equal(t, "remarks from an application", sections["applications"][0]["remarks"])
		require.InDelta(t, 93.71, sections["body"][0]["value"], 0)
		require.Equal(t, "hush until the day", sections["consents"][0]["text"])
		require.EqualValues(t, 1, sections["consents"][0]["version"])
		require.Len(t, sections["assignments"], 2)
		require.Equal(t, "the section note", sections["check_ins"][0]["note"])
		require.Equal(t, "the reason for more time", sections["extensions"][0]["why"])
		require.Contains(t, sections["letters"][0]["body"], "to see whether e-mail from")
		require.Equal(t, "a note with a report", sections["reports"][0]["note"])
		require.Len(t, sections["measurements"], 2)
		require.Equal(t, "row 12 does not add up", sections["remarks"][0]["body"])
		require.Equal(t, "a caption under a sleeve", sections["photos"][0]["caption"])
		require.NotEmpty(t, sections["changes"])
		require.NotContains(t, string(a.Body), "argon2id")
		require.NotContains(t, string(a.Body), w.designer.Person.ID, "it tells of others")

		require.JSONEq(t, withoutMoment(a), withoutMoment(w.designer.Get("/people/"+w.person.ID+"/data").Want(200)))
		s.As("another", models.Tester).Get("/people/" + w.person.ID + "/data").Want(403)
		w.designer.Get("/people/018f0000-0000-7000-8000-000000000000/data").Want(404)
	})
}

func withoutMoment(a *servertest.Answer) string {
	_, rest, _ := strings.Cut(string(a.Body), `"handle"`)
	return `{"handle"` + rest
}

// TestEveryPlaceOfAPersonIsTold walks the schema: whatever refers to a person,
// in this or a later migration, has to be in what they are told.
func TestEveryPlaceOfAPersonIsTold(t *testing.T) {
	s := servertest.OnSQLite(t)
	pool, err := s.Store.SQL()
	require.NoError(t, err)
	rows, err := pool.QueryContext(context.Background(), `SELECT m.name, f."from" FROM sqlite_master m JOIN pragma_foreign_key_list(m.name) f
		WHERE m.type = 'table' AND f."table" = 'people' ORDER BY 1, 2`)
	require.NoError(t, err)
	defer rows.Close()
	var places []string
	for rows.Next() {
		var table, column string
		require.NoError(t, rows.Scan(&table, &column))
		places = append(places, table+"."+column)
	}
	require.NoError(t, rows.Err())
	// Told as rows of their own, or, for what the studio's people did, among
	// what they changed.
	require.Equal(t, []string{
		"applications.person_id", "assignments.person_id", "calendar_links.person_id", "caution_acknowledgements.acknowledged_by", "consents.person_id", "corrections.found_by",
		"designs.released_by", "feature_lists.told_by", "finding_decisions.decided_by", "gate_overrides.opened_by", "gate_overrides.taken_back_by", "half_sign_ins.person_id",
		"idempotency_keys.person_id", "installments.aired_by", "invitations.created_by", "invitations.person_id", "letter_refusals.person_id", "letters.person_id",
		"measure_requests.asked_by", "person_away.person_id", "person_roles.person_id", "person_work.person_id", "photos.added_by", "recovery_codes.person_id",
		"refresh_tokens.person_id", "release_ticks.taken_back_by", "release_ticks.ticked_by", "remarks.person_id", "reports.approved_by", "reports.sent_by",
		"sample_moves.by_person", "sample_moves.held_by", "samples.held_by", "second_factors.person_id", "sign_ins.person_id", "sign_offs.signed_by",
		"sign_offs.withdrawn_by", "told.person_id",
	}, places, "a new place refers to a person: add it to dataSources and to forgetting in models, then here")
}
