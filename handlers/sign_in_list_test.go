package handlers_test

import (
	"bufio"
	"io"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/server"
	"tenter/server/servertest"
)

func behindTLS(c *server.Config) { c.BaseURL = "https://tenter.example" }

const firefox = "Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Gecko/20100101 Firefox/140.0"

type listed struct {
	ID, Device string
	This       bool
	EndsAt     time.Time `json:"ends_at"`
	Used       time.Time `json:"used_at"`
}

func signInsOf(c *servertest.Client) []listed {
	var in struct {
		SignIns []listed `json:"sign_ins"`
	}
	c.Get("/me/sign-ins").Want(200).Into(&in)
	return in.SignIns
}

func TestSignInsAreListedAndEnded(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		withPassword(t, s, "odile", models.Designer)
		withPassword(t, s, "bram", models.Maker)
		here, there, third := signedInAs(t, s, "odile"), signedInAs(t, s, "odile"), signedInAs(t, s, "odile")
		other := signedInAs(t, s, "bram")
		a := s.Nobody().Do("POST", "/auth/sign-in", map[string]any{"login": "odile", "password": password}, http.Header{"User-Agent": {firefox}}).Want(200)
		browser := s.Nobody().With(a.Map()["access_token"].(string))

		mine := signInsOf(here)
		require.Len(t, mine, 4)
		require.Equal(t, "Firefox on Linux", mine[0].Device)
		require.NotContains(t, string(here.Get("/me/sign-ins").Body), "Gecko")
		this := 0
		for _, m := range mine {
			if m.This {
				this++
			}
			require.Equal(t, m.Used.Add(30*24*time.Hour), m.EndsAt)
		}
		require.Equal(t, 1, this)

		theirs := signInsOf(other)
		here.Do("DELETE", "/me/sign-ins/"+theirs[0].ID, nil, nil).Want(404)
		other.Get("/me").Want(200)
		here.Do("DELETE", "/me/sign-ins/"+mine[0].ID, nil, nil).Want(204)
		browser.Get("/me").Want(401) // at once, whatever its token says
		s.Nobody().Post("/auth/refresh", map[string]any{"refresh_token": a.Map()["refresh_token"]}).Want(401)
		here.Do("DELETE", "/me/sign-ins/"+mine[0].ID, nil, nil).Want(404)
		there.Get("/me").Want(200)
		here.Post("/me/sign-ins/end-others", nil).Want(204)
		there.Get("/me").Want(401)
		third.Get("/me").Want(401)
		require.Len(t, signInsOf(here), 1)

		other.Post("/people/"+models.NewID()+"/sign-in/end", nil).Want(403)
		here.Post("/people/"+models.NewID()+"/sign-in/end", nil).Want(404)
		bram := other.Get("/me").Want(200).ID()
		require.EqualValues(t, 1, here.Get("/people/" + bram + "/sign-in").Want(200).Map()["sign_ins"])
		here.Post("/people/"+bram+"/sign-in/end", nil).Want(204)
		other.Get("/me").Want(401)
		require.Contains(t, actionsOf(signedInAs(t, s, "bram")), "sign-ins ended")
	})
}

// TestSignInLastsNinetyDays however much it is used, and 30 without.
func TestSignInLastsNinetyDays(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		withPassword(t, s, "odile", models.Designer)
		refresh := signIn(s.Nobody(), "odile", password).Want(200).Map()["refresh_token"]
		var access string
		for day := 20; day < 90; day += 20 {
			s.Clock.Advance(20 * 24 * time.Hour)
			a := s.Nobody().Post("/auth/refresh", map[string]any{"refresh_token": refresh}).Want(200).Map()
			refresh, access = a["refresh_token"], a["access_token"].(string)
		}
		s.Nobody().Do("GET", "/me", nil, bearer(access)).Want(200)
		s.Clock.Advance(10*24*time.Hour + time.Second)
		s.Nobody().Post("/auth/refresh", map[string]any{"refresh_token": refresh}).Want(401)

		// And 90 days after that nothing tells of it.
		s.Clock.Advance(89 * 24 * time.Hour)
		n, err := s.Store.DropOldSignIns(t.Context())
		require.NoError(t, err)
		require.Zero(t, n)
		s.Clock.Advance(2 * 24 * time.Hour)
		n, err = s.Store.DropOldSignIns(t.Context())
		require.NoError(t, err)
		require.Equal(t, 1, n)
		pool, err := s.Store.SQL()
		require.NoError(t, err)
		var left int
		require.NoError(t, pool.QueryRow(`SELECT (SELECT count(*) FROM refresh_tokens) + (SELECT count(*) FROM sign_ins)`).Scan(&left))
		require.Zero(t, left)
	})
}

// TestStreamEndsWithItsSignIn: whoever is signed out hears nothing more.
func TestStreamEndsWithItsSignIn(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		designer, maker := s.Designer(), s.As("bram", models.Maker)
		req, err := http.NewRequestWithContext(t.Context(), "GET", s.URL+"/api/v1/studio/live", nil)
		require.NoError(t, err)
		req.Header.Set("Authorization", "Bearer "+maker.Token())
		res, err := http.DefaultClient.Do(req)
		require.NoError(t, err)
		defer res.Body.Close()
		lines := bufio.NewReader(res.Body)
		first, err := lines.ReadString('\n')
		require.NoError(t, err)
		require.True(t, strings.HasPrefix(first, "retry:"))
		designer.Post("/people/"+maker.Person.ID+"/sign-in/end", nil).Want(204)
		_, err = io.ReadAll(lines) // returns when the server has closed the stream
		require.NoError(t, err)
	})
}

// TestCookieNamesOverTLS: RFC 6265bis, section 4.1.3: browsers take such names
// from this host over TLS only.
func TestCookieNamesOverTLS(t *testing.T) {
	s := servertest.OnSQLiteWith(t, behindTLS)
	withPassword(t, s, "odile", models.Designer)
	a := signIn(s.Nobody(), "odile", password).Want(200)
	set := a.Header.Values("Set-Cookie")
	require.Len(t, set, 2)
	require.Regexp(t, `^__Host-tenter_access=[^;]+; Path=/; Max-Age=\d+; HttpOnly; Secure; SameSite=Strict$`, set[0])
	require.Regexp(t, `^__Secure-tenter_refresh=[^;]+; Path=/api/v1/auth; Max-Age=\d+; HttpOnly; Secure; SameSite=Strict$`, set[1])
	pair := func(i int) string { return strings.SplitN(set[i], ";", 2)[0] }
	s.Nobody().Do("GET", "/me", nil, http.Header{"Cookie": {pair(0)}}).Want(200)
	s.Nobody().Do("GET", "/me", nil, http.Header{"Cookie": {strings.TrimPrefix(pair(0), "__Host-")}}).Want(401)
	s.Nobody().Do("POST", "/auth/refresh", nil, http.Header{"Cookie": {strings.TrimPrefix(pair(1), "__Secure-")}}).Want(401)
	s.Nobody().Do("POST", "/auth/refresh", nil, http.Header{"Cookie": {pair(1)}}).Want(200)
	require.Equal(t, "max-age=31536000; includeSubDomains", s.Nobody().Get("/privacy").Header.Get("Strict-Transport-Security"))
}
