package server_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/server/browsertest"
	"tenter/server/servertest"
)

// signedIn opens a browser that is signed in with a password, as a person
// signs in.
func signedIn(t *testing.T, s *servertest.Studio, handle string, width, height int64, roles ...models.Role) *browsertest.Page {
	t.Helper()
	hash, err := models.HashPassword("four plain words here")
	require.NoError(t, err)
	_, err = s.Store.AddPerson(t.Context(), models.System("test"), models.NewPerson{Handle: handle, Roles: roles, PasswordHash: &hash})
	require.NoError(t, err)
	p := browsertest.Open(t, s.URL, width, height)
	p.Goto("/sign-in")
	p.Fill("Handle or e-mail", handle)
	p.Fill("Password", "four plain words here")
	p.Press("Sign in")
	return p
}

func TestSignInOnThePage(t *testing.T) {
	s := servertest.OnSQLite(t)
	p := signedIn(t, s, "odile", 1280, 800, models.Designer)
	p.At("/")
	p.See("Studio")
	p.Accessible()
	p.NoErrors()
}
