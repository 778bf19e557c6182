package handlers_test

import (
	"context"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/golang-jwt/jwt/v5"
	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/server/servertest"
)

const password = "four plain words here"

func withPassword(t *testing.T, s *servertest.Studio, handle string, roles ...models.Role) *models.Person {
	t.Helper()
	hash, err := models.HashPassword(password)
	require.NoError(t, err)
	email := handle + "@studio.example"
	p, err := s.Store.AddPerson(context.Background(), models.System("test"), models.NewPerson{Handle: handle, Email: &email, Roles: roles, PasswordHash: &hash})
	require.NoError(t, err)
	return p
}

func signIn(c *servertest.Client, login, password string) *servertest.Answer {
	return c.Post("/auth/sign-in", map[string]any{"login": login, "password": password})
}

func bearer(token string) http.Header { return http.Header{"Authorization": {"Bearer " + token}} }

func TestSignIn(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		withPassword(t, s, "odile", models.Designer)
		nobody := s.Nobody()
		for _, login := range []string{"odile", "ODILE", "odile@studio.example"} {
			a := signIn(nobody, login, password).Want(200)
			require.Len(t, a.Header.Values("Set-Cookie"), 2)
			for _, cookie := range a.Header.Values("Set-Cookie") {
				require.Contains(t, cookie, "HttpOnly")
				require.Contains(t, cookie, "SameSite=Strict")
			}
			token := a.Map()["access_token"].(string)
			me := nobody.Do("GET", "/me", nil, bearer(token)).Want(200).Map()
			require.Equal(t, "odile", me["handle"])
			require.NotContains(t, me, "password_hash")
		}
		wrong := signIn(nobody, "odile", "not it at all").Want(401)
		unknown := signIn(nobody, "nobody-here", password).Want(401)
		require.Equal(t, wrong.Map()["detail"], unknown.Map()["detail"], "the answer tells who exists")
		nobody.Get("/me").Want(401)
	})
}

func TestAccessTokenIsPinned(t *testing.T) {
	s := servertest.OnSQLite(t)
	p := withPassword(t, s, "odile", models.Designer)
	good := signIn(s.Nobody(), "odile", password).Want(200).Map()["access_token"].(string)
	keys, err := s.Store.SigningKeys(context.Background())
	require.NoError(t, err)
	parsed, _, err := jwt.NewParser().ParseUnverified(good, jwt.MapClaims{})
	require.NoError(t, err)

	forge := func(method jwt.SigningMethod, key any, change func(jwt.MapClaims, map[string]any)) string {
		c := jwt.MapClaims{}
		for k, v := range parsed.Claims.(jwt.MapClaims) {
			c[k] = v
		}
		token := jwt.NewWithClaims(method, c)
		token.Header["kid"] = parsed.Header["kid"]
		change(c, token.Header)
		text, err := token.SignedString(key)
		require.NoError(t, err)
		return text
	}
	secret := keys[0].Secret
	same := func(jwt.MapClaims, map[string]any) {}
	for _, row := range []struct {
		name, token string
		want        int
	}{
		{"the token itself", good, 200},
		{"the same, signed again", forge(jwt.SigningMethodHS256, secret, same), 200},
		{"another algorithm with the right key", forge(jwt.SigningMethodHS512, secret, same), 401},
		{"no signature", forge(jwt.SigningMethodNone, jwt.UnsafeAllowNoneSignatureType, same), 401},
		{"another key", forge(jwt.SigningMethodHS256, []byte(strings.Repeat("k", 32)), same), 401},
		{"another issuer", forge(jwt.SigningMethodHS256, secret, func(c jwt.MapClaims, _ map[string]any) { c["iss"] = "elsewhere" }), 401},
		{"another audience", forge(jwt.SigningMethodHS256, secret, func(c jwt.MapClaims, _ map[string]any) { c["aud"] = "elsewhere" }), 401},
		{"no end", forge(jwt.SigningMethodHS256, secret, func(c jwt.MapClaims, _ map[string]any) { delete(c, "exp") }), 401},
		{"run out", forge(jwt.SigningMethodHS256, secret, func(c jwt.MapClaims, _ map[string]any) { c["exp"] = 1 }), 401},
		{"an unknown key id", forge(jwt.SigningMethodHS256, secret, func(_ jwt.MapClaims, h map[string]any) { h["kid"] = "x" }), 401},
		{"somebody else's sign-in", forge(jwt.SigningMethodHS256, secret, func(c jwt.MapClaims, _ map[string]any) { c["sub"] = models.NewID() }), 401},
		{"no token at all", "", 401},
	} {
		t.Run(row.name, func(t *testing.T) {
			s.Nobody().Do("GET", "/me", nil, bearer(row.token)).Want(row.want)
		})
	}
	s.Clock.Advance(11 * time.Minute)
	s.Nobody().Do("GET", "/me", nil, bearer(good)).Want(401)
	_ = p
}

func TestRefreshTokensRotateAndReuseEndsTheFamily(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		withPassword(t, s, "odile", models.Designer)
		nobody := s.Nobody()
		start := signIn(nobody, "odile", password).Want(200).Map()
		other := signIn(nobody, "odile", password).Want(200).Map()
		refresh := func(token any) *servertest.Answer {
			return nobody.Post("/auth/refresh", map[string]any{"refresh_token": token})
		}
		second := refresh(start["refresh_token"]).Want(200).Map()
		require.NotEqual(t, start["refresh_token"], second["refresh_token"])

		refresh(start["refresh_token"]).Want(401) // used before: stolen or copied
		refresh(second["refresh_token"]).Want(401)
		nobody.Do("GET", "/me", nil, bearer(second["access_token"].(string))).Want(401)

		third := refresh(other["refresh_token"]).Want(200).Map() // another sign-in is not touched
		nobody.Do("POST", "/auth/sign-out", nil, bearer(third["access_token"].(string))).Want(204)
		nobody.Do("GET", "/me", nil, bearer(third["access_token"].(string))).Want(401)
		refresh(third["refresh_token"]).Want(401)
		refresh("never issued").Want(401)

		db, err := s.Store.SQL()
		require.NoError(t, err)
		var plain int
		require.NoError(t, db.QueryRow("SELECT count(*) FROM refresh_tokens WHERE token_hash = '"+third["refresh_token"].(string)+"'").Scan(&plain))
		require.Zero(t, plain, "a token is stored as it is")
	})
}

func TestRefreshRunsOut(t *testing.T) {
	s := servertest.OnSQLite(t)
	withPassword(t, s, "odile", models.Designer)
	start := signIn(s.Nobody(), "odile", password).Want(200).Map()
	s.Clock.Advance(31 * 24 * time.Hour)
	s.Nobody().Post("/auth/refresh", map[string]any{"refresh_token": start["refresh_token"]}).Want(401)
}

func TestBrowserGoesByCookie(t *testing.T) {
	s := servertest.OnSQLite(t)
	withPassword(t, s, "odile", models.Designer)
	nobody := s.Nobody()
	a := signIn(nobody, "odile", password).Want(200)
	var pair []string
	for _, c := range a.Header.Values("Set-Cookie") {
		pair = append(pair, strings.SplitN(c, ";", 2)[0])
	}
	cookies := http.Header{"Cookie": {strings.Join(pair, "; ")}}
	nobody.Do("GET", "/me", nil, cookies).Want(200)
	nobody.Do("POST", "/auth/refresh", nil, cookies).Want(200)

	fromElsewhere := http.Header{"Cookie": cookies["Cookie"], "Sec-Fetch-Site": {"cross-site"}, "Origin": {"https://elsewhere.example"}}
	nobody.Do("POST", "/designs", pullover(), fromElsewhere).Want(403)
	oldBrowser := http.Header{"Cookie": cookies["Cookie"], "Origin": {"https://elsewhere.example"}}
	nobody.Do("POST", "/designs", pullover(), oldBrowser).Want(403)
}

func TestGuessingIsSlowedDown(t *testing.T) {
	s := servertest.OnSQLite(t)
	withPassword(t, s, "odile", models.Designer)
	refused := 0
	for range 40 {
		if signIn(s.Nobody(), "nobody-here", "wrong").Status == 429 {
			refused++
		}
	}
	require.Positive(t, refused, "40 guesses in a row went through")
	signIn(s.Nobody(), "odile", password).Want(429) // the same address
	s.Clock.Advance(time.Hour)
	signIn(s.Nobody(), "odile", password).Want(200)
}

func TestPasswordChangeEndsOtherSignIns(t *testing.T) {
	s := servertest.OnSQLite(t)
	withPassword(t, s, "odile", models.Designer)
	here := signIn(s.Nobody(), "odile", password).Want(200).Map()["access_token"].(string)
	there := signIn(s.Nobody(), "odile", password).Want(200).Map()["access_token"].(string)
	change := func(current, next string) *servertest.Answer {
		return s.Nobody().Do("POST", "/me/password", map[string]any{"current": current, "new": next}, bearer(here))
	}
	change("not it at all", "another four plain words").Names(422, "body.current")
	change(password, "short").Names(422, "body.new")
	change(password, "another four plain words").Want(204)
	s.Nobody().Do("GET", "/me", nil, bearer(here)).Want(200)
	s.Nobody().Do("GET", "/me", nil, bearer(there)).Want(401)
	signIn(s.Nobody(), "odile", "another four plain words").Want(200)
}

func TestSecretsNeverComeBackOrIntoTheLog(t *testing.T) {
	s := servertest.OnSQLite(t)
	withPassword(t, s, "odile", models.Designer)
	s.Nobody().Post("/auth/sign-in", map[string]any{"login": "odile", "password": "hunter-two-secret", "extra": "hunter-two-secret"}).Want(422)
	a := s.Nobody().Post("/auth/sign-in", map[string]any{"login": "odile", "password": strings.Repeat("hunter-two-secret", 20)}).Want(422)
	require.NotContains(t, string(a.Body), "hunter-two-secret")
	signIn(s.Nobody(), "odile", "hunter-two-secret").Want(401)
	require.NotContains(t, s.Log.String(), "hunter-two-secret")
	require.NotContains(t, s.Log.String(), "odile@studio.example")
}
