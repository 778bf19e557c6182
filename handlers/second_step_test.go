package handlers_test

import (
	"encoding/base32"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/pquerna/otp/totp"
	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/server/servertest"
)

// device makes codes as a person's own program does.
type device struct {
	t      *testing.T
	s      *servertest.Studio
	secret string
}

func (d *device) code() string {
	d.t.Helper()
	code, err := totp.GenerateCode(d.secret, d.s.Clock.Now())
	require.NoError(d.t, err)
	return code
}

// next lets the next 30 seconds begin: a code is taken once.
func (d *device) next() string { d.t.Helper(); d.s.Clock.Advance(30 * time.Second); return d.code() }

// signedInAs signs somebody in with the tests' password.
func signedInAs(t *testing.T, s *servertest.Studio, handle string) *servertest.Client {
	t.Helper()
	return s.Nobody().With(signIn(s.Nobody(), handle, password).Want(200).Map()["access_token"].(string))
}

func setUp(t *testing.T, s *servertest.Studio, c *servertest.Client) (*device, []string) {
	t.Helper()
	made := c.Post("/me/second-step", map[string]any{"password": password}).Want(200)
	require.Equal(t, "no-store", made.Header.Get("Cache-Control"))
	secret := made.Map()["secret"].(string)
	raw, err := base32.StdEncoding.WithPadding(base32.NoPadding).DecodeString(secret)
	require.NoError(t, err)
	require.Len(t, raw, 20)
	require.Contains(t, made.Map()["qr_svg"], "<svg")
	require.Contains(t, made.Map()["link"], "secret="+secret)
	d := &device{t, s, secret}
	c.Post("/me/second-step/confirm", map[string]any{"code": "000000"}).Names(422, "body.code")
	var codes struct{ Codes []string }
	c.Post("/me/second-step/confirm", map[string]any{"code": d.code()}).Want(200).Into(&codes)
	require.Len(t, codes.Codes, 8)
	return d, codes.Codes
}

// half signs in as far as the password goes.
func half(t *testing.T, s *servertest.Studio, handle string) string {
	t.Helper()
	a := signIn(s.Nobody(), handle, password).Want(200)
	require.Empty(t, a.Header.Values("Set-Cookie"))
	for _, none := range []string{"access_token", "refresh_token", "person"} {
		require.NotContains(t, a.Map(), none)
	}
	return a.Map()["second_step"].(map[string]any)["token"].(string)
}

func TestSecondStep(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		withPassword(t, s, "odile", models.Designer)
		c, elsewhere := signedInAs(t, s, "odile"), signedInAs(t, s, "odile")
		c.Post("/me/second-step", map[string]any{"password": "not it at all"}).Names(422, "body.password")
		require.Nil(t, c.Get("/me/second-step").Want(200).Map()["since"])
		d, codes := setUp(t, s, c)
		state := c.Get("/me/second-step").Want(200).Map()
		require.NotNil(t, state["since"])
		require.EqualValues(t, 8, state["recovery_left"])
		elsewhere.Get("/me").Want(401)
		c.Post("/me/second-step", map[string]any{"password": password}).Want(409)

		step := func(token, code string) *servertest.Answer {
			return s.Nobody().Post("/auth/second-step", map[string]any{"token": token, "code": code})
		}
		token := half(t, s, "odile")
		s.Nobody().Do("GET", "/me", nil, bearer(token)).Want(401)
		step(token, d.code()).Names(422, "body.code") // set up with this very code
		step(token, "").Names(422, "body.code")
		code := d.next()
		a := step(token, code[:3]+" "+code[3:]).Want(200)
		require.Len(t, a.Header.Values("Set-Cookie"), 2)
		s.Nobody().Do("GET", "/me", nil, bearer(a.Map()["access_token"].(string))).Want(200)
		step(token, d.next()).Want(401) // the token is used up
		token = half(t, s, "odile")
		step(token, code).Names(422, "body.code") // the code is used up
		step("never issued", d.code()).Want(401)

		s.Clock.Advance(5 * time.Minute)
		step(token, d.code()).Want(401) // too late
		token = half(t, s, "odile")
		step(token, strings.ToLower(strings.ReplaceAll(codes[0], "-", ""))).Want(200)
		token = half(t, s, "odile")
		step(token, codes[0]).Names(422, "body.code") // once
		require.EqualValues(t, 7, c.Get("/me/second-step").Want(200).Map()["recovery_left"])
		all := fmt.Sprint(everyTextOf(t, s))
		require.NotContains(t, all, d.secret)
		require.NotContains(t, all, strings.ReplaceAll(codes[1], "-", ""))

		fresh := c.Post("/me/second-step/recovery-codes", map[string]any{"password": password}).Want(200).Map()["codes"].([]any)
		step(token, codes[1]).Names(422, "body.code")
		step(token, fresh[0].(string)).Want(200)
		c.Post("/me/second-step/remove", map[string]any{"password": "not it at all"}).Names(422, "body.password")
		c.Post("/me/second-step/remove", map[string]any{"password": password}).Want(204)
		signIn(s.Nobody(), "odile", password).Want(200)
		require.Equal(t, []string{"second step taken away", "recovery code used", "recovery codes renewed", "recovery code used", "second step set up"}, actionsOf(c))
	})
}

func everyTextOf(t *testing.T, s *servertest.Studio) map[string]string {
	t.Helper()
	pool, err := s.Store.SQL()
	require.NoError(t, err)
	return everyText(t, s.Store, pool)
}

// actionsOf are what a person is told happened to their sign-in.
func actionsOf(c *servertest.Client) []string {
	var out []string
	for _, n := range c.Get("/me/sign-ins").Want(200).Map()["notices"].([]any) {
		out = append(out, n.(map[string]any)["action"].(string))
	}
	return out
}

// TestWrongCodesWait: after five of them nothing but a recovery code is taken
// for a while, from whatever address, and the right code afterwards.
func TestWrongCodesWait(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		withPassword(t, s, "odile", models.Designer)
		c := signedInAs(t, s, "odile")
		d, codes := setUp(t, s, c)
		token := half(t, s, "odile")
		step := func(code string) *servertest.Answer {
			return s.Nobody().Post("/auth/second-step", map[string]any{"token": token, "code": code})
		}
		for range 5 {
			step("000000").Want(422)
		}
		a := step(d.next()).Want(429)
		require.NotEmpty(t, a.Header.Get("Retry-After"))
		require.Contains(t, actionsOf(c), "wrong codes")
		s.Clock.Advance(31 * time.Second)
		step(d.code()).Want(200)
		token = half(t, s, "odile")
		for range 5 {
			step("000000").Want(422)
		}
		step("000000").Want(429)
		step(codes[3]).Want(200)
	})
}

// TestLostDevice: the designer takes the step away with their own password,
// and the person is told who did.
func TestLostDevice(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		withPassword(t, s, "odile", models.Designer)
		bram := withPassword(t, s, "bram", models.Maker)
		designer, c := signedInAs(t, s, "odile"), signedInAs(t, s, "bram")
		setUp(t, s, c)
		path := "/people/" + bram.ID
		require.Equal(t, true, designer.Get(path + "/sign-in").Want(200).Map()["second_step"])
		c.Post(path+"/second-step/remove", map[string]any{"password": password}).Want(403)
		designer.Post(path+"/second-step/remove", map[string]any{"password": "not it at all"}).Names(422, "body.password")
		c.Get("/me").Want(200)
		designer.Post(path+"/second-step/remove", map[string]any{"password": password}).Want(204)
		c.Get("/me").Want(401)
		c = signedInAs(t, s, "bram")
		news := c.Get("/me/sign-ins").Want(200).Map()["notices"].([]any)
		require.Equal(t, "second step taken away", news[0].(map[string]any)["action"])
		require.Equal(t, "odile", news[0].(map[string]any)["by"])
		designer.Post(path+"/second-step/remove", map[string]any{"password": password}).Want(409)
	})
}

// TestLinkIsNoWayAround: a link sets another password, and the code is asked
// for all the same.
func TestLinkIsNoWayAround(t *testing.T) {
	s := servertest.OnSQLite(t)
	bram := withPassword(t, s, "bram", models.Maker)
	setUp(t, s, signedInAs(t, s, "bram"))
	link := s.Designer().Post("/people/"+bram.ID+"/invitation", nil).Want(201).Map()["token"]
	a := s.Nobody().Post("/invitations/accept", map[string]any{"token": link, "password": "another four plain words"}).Want(200)
	require.NotContains(t, a.Map(), "access_token")
	require.NotEmpty(t, a.Map()["second_step"])
}

// TestStudioWantsTheSecondStep: the studio's people can do nothing else first.
func TestStudioWantsTheSecondStep(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		withPassword(t, s, "odile", models.Designer)
		withPassword(t, s, "bram", models.Maker)
		withPassword(t, s, "tess", models.Tester)
		odile, bram, tess := signedInAs(t, s, "odile"), signedInAs(t, s, "bram"), signedInAs(t, s, "tess")
		want := func() *servertest.Answer {
			return odile.Do("PATCH", "/studio/settings", map[string]any{"staff_second_step": true}, servertest.IfMatch(int(odile.Get("/studio/settings").Map()["revision"].(float64))))
		}
		want().Want(409) // it would shut them out
		setUp(t, s, odile)
		bram.Get("/designs").Want(200)
		want().Want(200)
		require.NotContains(t, tess.Get("/studio/settings").Want(200).Map(), "staff_second_step")
		odile.Get("/designs").Want(200)
		tess.Get("/me/assignments").Want(200)
		bram.Get("/designs").Want(403)
		bram.Get("/studio").Want(403)
		require.Equal(t, true, bram.Get("/me").Want(200).Map()["set_up_first"])
		require.Equal(t, true, bram.Get("/me/second-step").Want(200).Map()["wanted"])
		setUp(t, s, bram)
		bram.Get("/designs").Want(200)
	})
}
