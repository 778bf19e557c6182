package server_test

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/server/servertest"
)

// TestUncheckedIsNotSignedOut: when the database can't say whether a sign-in is
// good, whoever asks is told so and stays signed in; what is open to everybody
// stays open, and who brings no sign-in is told to sign in.
func TestUncheckedIsNotSignedOut(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c := s.Designer()
		db, err := s.Store.SQL()
		require.NoError(t, err)
		rename := func(from, to string) {
			_, err := db.Exec("ALTER TABLE " + from + " RENAME TO " + to)
			require.NoError(t, err)
		}
		rename("sign_ins", "sign_ins_away")
		asked := map[string]*servertest.Answer{
			"reading":             c.Get("/me"),
			"writing":             c.Post("/designs", newDesign("Lost", nil)),
			"writing under a key": c.Do("POST", "/designs", newDesign("Lost", nil), under("k")),
			"signing out":         c.Post("/auth/sign-out", nil),
		}
		for name, a := range asked {
			doc := isProblem(t, a, http.StatusServiceUnavailable, "")
			require.Contains(t, doc.Detail, "still signed in", name)
			require.Equal(t, "2", a.Header.Get("Retry-After"), name)
			require.Empty(t, a.Header.Values("Set-Cookie"), name)
			require.NotContains(t, string(a.Body), "sign_ins", name)
			require.Contains(t, s.Log.String(), a.Header.Get("X-Request-Id"), name)
		}
		c.Get("/openapi.json").Want(200)
		s.Nobody().Get("/me").Want(401)

		rename("sign_ins_away", "sign_ins")
		c.Get("/me").Want(200)
		require.Empty(t, c.Get("/designs").Want(200).Map()["items"])
	})
}
