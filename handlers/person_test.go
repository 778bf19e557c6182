package handlers_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/server/servertest"
)

// choosePassword gives somebody the tests' password, by a link as everybody
// gets one. It ends their sign-ins.
func choosePassword(s *servertest.Studio, c *servertest.Client) {
	s.T.Helper()
	_, token, err := s.Store.Invite(s.T.Context(), models.System("test"), c.Person.ID)
	require.NoError(s.T, err)
	s.Nobody().Post("/invitations/accept", map[string]any{"token": token, "password": password}).Want(200)
}

// TestAnotherAddressTakesTheOwnPassword: an open screen is not enough to send
// somebody's next link elsewhere (OWASP ASVS 5.0.0, 7.5.1).
func TestAnotherAddressTakesTheOwnPassword(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		odile, bram := withPassword(t, s, "odile", models.Designer), withPassword(t, s, "bram", models.Maker)
		designer := signedInAs(t, s, "odile")
		change := func(p *models.Person, body map[string]any) *servertest.Answer {
			return designer.Patch("/people/"+p.ID, revisionOf(t, designer, p.ID), body)
		}
		address := func(p *models.Person) any { return designer.Get("/people/" + p.ID).Want(200).Map()["email"] }
		for name, row := range map[string]struct {
			person *models.Person
			body   map[string]any
		}{
			"somebody's, without":       {bram, map[string]any{"email": "bram@elsewhere.example"}},
			"somebody's, a wrong one":   {bram, map[string]any{"email": "bram@elsewhere.example", "password": "not it at all"}},
			"taken away, without":       {bram, map[string]any{"email": nil}},
			"one's own, without":        {odile, map[string]any{"email": "odile@elsewhere.example"}},
			"one's own with other news": {odile, map[string]any{"name": "Odile Elsewhere", "email": "odile@elsewhere.example", "password": ""}},
		} {
			t.Run(name, func(t *testing.T) {
				before := revisionOf(t, designer, row.person.ID)
				change(row.person, row.body).Names(422, "body.password")
				require.Equal(t, row.person.Handle+"@studio.example", address(row.person))
				require.Equal(t, before, revisionOf(t, designer, row.person.ID), "nothing was changed")
			})
		}
		change(bram, map[string]any{"name": "Bram of the mill", "email": "bram@studio.example"}).Want(200) // the same address asks nothing
		change(bram, map[string]any{"email": "bram@elsewhere.example", "password": password}).Want(200)
		require.Equal(t, "bram@elsewhere.example", address(bram))
		change(odile, map[string]any{"email": "odile@elsewhere.example", "password": password}).Want(200)

		notices := signedInAs(t, s, "bram").Get("/me/sign-ins").Want(200).Map()["notices"].([]any)
		told := notices[0].(map[string]any)
		require.Equal(t, []any{"e-mail changed", "odile"}, []any{told["action"], told["by"]})
		require.NotContains(t, s.Log.String(), password)
	})
}

// TestGuessingAtTheOwnPasswordIsSlowed: changing an address is no way to try passwords.
func TestGuessingAtTheOwnPasswordIsSlowed(t *testing.T) {
	s := servertest.OnSQLite(t)
	odile := withPassword(t, s, "odile", models.Designer)
	designer := signedInAs(t, s, "odile")
	statuses := map[int]int{}
	for range 30 {
		statuses[designer.Patch("/people/"+odile.ID, 1, map[string]any{"email": "odile@elsewhere.example", "password": "not it at all"}).Status]++
	}
	require.Positive(t, statuses[429])
	require.Equal(t, 30, statuses[422]+statuses[429])
}
