package server_test

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/gin-gonic/gin"
	"github.com/pquerna/otp/totp"
	"github.com/stretchr/testify/require"

	"tenter/server/servertest"
)

// TestLogTellsNothing goes through a sign-in, its failures, links, the second
// step, what is refused, what fails inside and a panic, and then looks in the
// log for every secret, address and name that was used.
func TestLogTellsNothing(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		const (
			name, email, handle = "Ysolde Markerby", "ysolde@marker.example", "hawthorn-y"
			password, another   = "seven plain words for a marker", "eight other words for the marker"
			guessed             = "otter-under-ice-9"
		)
		secrets := []string{name, "Markerby", email, handle, password, another, guessed}
		keep := func(a *servertest.Answer, fields ...string) {
			for _, f := range fields {
				secrets = append(secrets, a.Map()[f].(string))
			}
		}
		designer, nobody := s.Designer(), s.Nobody()
		who := designer.Post("/people", body("handle", handle, "name", name, "email", email, "roles", list("maker"))).Want(201).ID()
		link := designer.Post("/people/"+who+"/invitation", nil).Want(201)
		keep(link, "token", "link")
		nobody.Post("/invitations/look", body("token", link.Map()["token"])).Want(200)
		nobody.Post("/invitations/accept", body("token", link.Map()["token"], "password", "short")).Want(422)
		joined := nobody.Post("/invitations/accept", body("token", link.Map()["token"], "password", password)).Want(200)
		keep(joined, "access_token", "refresh_token")
		c := nobody.With(joined.Map()["access_token"].(string))
		for _, login := range []string{handle, email, name, guessed} {
			nobody.Post("/auth/sign-in", body("login", login, "password", guessed)).Want(401)
		}
		nobody.Post("/auth/sign-in", body("login", handle, "password", guessed, "extra", guessed)).Want(422)
		nobody.Post("/auth/sign-in", `{"login": "`+handle+`", "password": "`+guessed).Want(400)
		nobody.Get("/designs/" + guessed + "?after=" + guessed).Want(401)
		c.Get("/designs/" + handle + "?" + guessed + "=" + guessed).Want(422)
		nobody.Do("GET", "/me", nil, http.Header{"Authorization": {"Bearer " + guessed}, "Cookie": {"tenter_access=" + guessed}, "User-Agent": {guessed}, "Referer": {"https://" + guessed}, "X-Forwarded-For": {guessed}}).Want(401)
		nobody.Post("/auth/refresh", body("refresh_token", guessed)).Want(401)
		keep(nobody.Post("/auth/refresh", body("refresh_token", joined.Map()["refresh_token"])).Want(200), "access_token", "refresh_token")

		made := c.Post("/me/second-step", body("password", password)).Want(200)
		keep(made, "secret", "link")
		code, err := totp.GenerateCode(made.Map()["secret"].(string), s.Clock.Now())
		require.NoError(t, err)
		codes := c.Post("/me/second-step/confirm", body("code", code)).Want(200).Map()["codes"].([]any)
		half := nobody.Post("/auth/sign-in", body("login", email, "password", password)).Want(200).Map()["second_step"].(map[string]any)["token"].(string)
		secrets = append(secrets, half, codes[0].(string), codes[1].(string))
		nobody.Post("/auth/second-step", body("token", half, "code", codes[0].(string)+"X")).Want(422)
		nobody.Post("/auth/second-step", body("token", half, "code", codes[0])).Want(200)
		c.Post("/me/password", body("current", guessed, "new", another)).Want(422)
		c.Post("/me/password", body("current", password, "new", another)).Want(204)
		c.Do("POST", "/me/calendar", nil, nil)
		designer.Do("PATCH", "/people/"+who, body("email", "not "+guessed), servertest.IfMatch(1)).Want(422)
		nobody.Do("GET", "/designs/a%0Alevel=ERROR%20msg="+guessed, nil, nil)

		failing(t, s)
		designer.Post("/designs", newDesign("name", guessed)).Want(500)
		db, err := s.Store.SQL()
		require.NoError(t, err)
		_, err = db.Exec("DROP TABLE half_sign_ins")
		require.NoError(t, err)
		nobody.Post("/auth/second-step", body("token", half, "code", codes[1])).Want(500)
		s.Clock.Advance(time.Hour)
		nobody.Post("/auth/sign-in", body("login", email, "password", another)).Want(500)

		engine := s.Server.Handler().(*gin.Engine)
		engine.GET("/breaks", func(*gin.Context) { panic("the password is " + guessed) })
		isProblem(t, nobody.Do("GET", "//breaks", nil, nil), 500, "")
		require.Contains(t, s.Log.String(), "panic", "whoever runs the server has to find it")
		require.Contains(t, s.Log.String(), "half_sign_ins", "so is what fails inside")

		logged := s.Log.String()
		for _, secret := range secrets {
			require.NotContains(t, strings.ToLower(logged), strings.ToLower(secret))
		}
		require.NotContains(t, logged, "\nlevel=ERROR")
	})
}
