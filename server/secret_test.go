package server_test

import (
	"net/http"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/server/servertest"
)

// planted is what an internal error carries and nobody outside may read.
const planted = "hunter-two-secret"

// failing makes every new design fail inside the database, in words that tell
// too much.
func failing(t *testing.T, s *servertest.Studio) {
	t.Helper()
	db, err := s.Store.SQL()
	require.NoError(t, err)
	statements := []string{`CREATE TRIGGER refuse BEFORE INSERT ON designs BEGIN SELECT RAISE(ABORT, '` + planted + `'); END`}
	if s.Store.Dialect() == "postgres" {
		statements = []string{
			`CREATE FUNCTION refuse() RETURNS trigger AS $$ BEGIN RAISE EXCEPTION '` + planted + `'; END $$ LANGUAGE plpgsql`,
			`CREATE TRIGGER refuse BEFORE INSERT ON designs FOR EACH ROW EXECUTE FUNCTION refuse()`,
		}
	}
	for _, statement := range statements {
		_, err = db.Exec(statement)
		require.NoError(t, err)
	}
}

func TestInternalErrorTellsNothing(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c := s.Designer()
		failing(t, s)
		untouched(t, s, func() {
			for _, header := range []http.Header{nil, under("k")} {
				a := c.Do("POST", "/designs", newDesign("", nil), header)
				isProblem(t, a, 500, "")
				require.NotContains(t, string(a.Body), planted)
				require.NotContains(t, string(a.Body), "designs")
				require.Contains(t, s.Log.String(), planted, "whoever runs the server has to find it")
				require.Contains(t, s.Log.String(), a.Header.Get("X-Request-Id"))
			}
		})
	})
}

// TestLinksThatAreOver: used, run out, replaced, of somebody who was shut out,
// and never made are told in the same words, and change nothing.
func TestLinksThatAreOver(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c, mara := s.Designer(), s.As("mara", models.Tester).Person
		nobody := s.Nobody()
		invite := func() string {
			return c.Post("/people/"+mara.ID+"/invitation", nil).Want(201).Map()["token"].(string)
		}
		accept := func(token string) *servertest.Answer {
			return nobody.Post("/invitations/accept", body("token", token, "password", "four plain words here"))
		}
		over := func(name, token string) {
			t.Run(name, func(t *testing.T) {
				untouched(t, s, func() {
					look := isProblem(t, nobody.Post("/invitations/look", body("token", token)), 404, "")
					use := isProblem(t, accept(token), 404, "")
					require.Equal(t, look.Detail, use.Detail)
					require.Contains(t, use.Detail, "Ask the designer for a new link.")
				})
			})
		}
		replaced := invite()
		used := invite()
		over("replaced", replaced)
		untouched(t, s, func() {
			isProblem(t, nobody.Post("/invitations/accept", body("token", used, "password", "short")), 422, "body.password")
			isProblem(t, nobody.Post("/invitations/accept", body("token", used, "password", "four plain words here", "unit", "ell")), 422, "body.unit")
			isProblem(t, nobody.Post("/invitations/accept", body("token", used, "password", "four plain words here", "roles", list("designer"))), 422, "body.roles")
		})
		accept(used).Want(200)
		over("used", used)
		over("never made", "never-made")
		over("empty", "")
		shut := invite()
		c.Patch("/people/"+mara.ID, revisionOf(t, c, mara.ID), body("disabled", true)).Want(200)
		isProblem(t, accept(shut), 404, "")
		c.Patch("/people/"+mara.ID, revisionOf(t, c, mara.ID), body("disabled", false)).Want(200)
		last := s.For(c.Person).Post("/people/"+mara.ID+"/invitation", nil).Want(201).Map()["token"].(string)
		s.Clock.Advance(14*24*time.Hour + time.Second)
		over("run out", last)
	})
}

func revisionOf(t *testing.T, c *servertest.Client, person string) int {
	t.Helper()
	return int(c.Get("/people/" + person).Want(200).Map()["revision"].(float64))
}
