package handlers_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/server/servertest"
)

func TestInvitationLinkWorksOnce(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c := s.Designer()
		person := c.Post("/people", map[string]any{"handle": "agrimony", "roles": []string{"tester"}}).Want(201).ID()
		made := c.Post("/people/"+person+"/invitation", nil).Want(201).Map()
		link, token := made["link"].(string), made["token"].(string)
		require.Equal(t, s.URL+"/join#"+token, link)
		require.True(t, strings.HasPrefix(made["qr_svg"].(string), "<svg "))

		nobody := s.Nobody()
		look := nobody.Post("/invitations/look", map[string]any{"token": token}).Want(200).Map()
		require.Equal(t, "agrimony", look["handle"])
		accept := func(password string) *servertest.Answer {
			return nobody.Post("/invitations/accept", map[string]any{"token": token, "password": password, "unit": "in", "terms": "uk"})
		}
		accept("short").Names(422, "body.password")
		access := accept("four plain words here").Want(200).Map()["access_token"].(string)
		me := nobody.Do("GET", "/me", nil, bearer(access)).Want(200).Map()
		require.Equal(t, "in", me["unit"])
		require.Equal(t, "uk", me["terms"])

		accept("another four plain words").Want(404)
		nobody.Post("/invitations/look", map[string]any{"token": token}).Want(404)
		signIn(nobody, "agrimony", "four plain words here").Want(200)
		require.NotContains(t, s.Log.String(), token)
	})
}

func TestInvitationRunsOutAndIsReplaced(t *testing.T) {
	s := servertest.OnSQLite(t)
	c := s.Designer()
	p := s.As("agrimony", models.Tester).Person
	invite := func() string {
		return c.Post("/people/"+p.ID+"/invitation", nil).Want(201).Map()["token"].(string)
	}
	look := func(token string) *servertest.Answer {
		return s.Nobody().Post("/invitations/look", map[string]any{"token": token})
	}
	open := func() any { return s.For(c.Person).Get("/people/" + p.ID + "/sign-in").Want(200).Map()["open_link"] }
	require.Nil(t, open())
	first := invite()
	told := open().(map[string]any)
	made, err := time.Parse(time.RFC3339Nano, told["made_at"].(string))
	require.NoError(t, err)
	require.WithinDuration(t, s.Clock.Now(), made, time.Second, "whoever makes another is told of this one")
	require.Equal(t, made.Add(14*24*time.Hour).Format(time.RFC3339Nano), told["expires_at"])
	second := invite()
	look(first).Want(404)
	look(second).Want(200)
	require.NotEqual(t, told, open())
	s.Clock.Advance(15 * 24 * time.Hour)
	look(second).Want(404)
	require.Nil(t, open())
	look("never made").Want(404)
}
