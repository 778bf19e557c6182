package handlers_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/server/servertest"
)

type designCautionsBody struct {
	Features []string
	ToldAt   *string `json:"told_at"`
	Cautions []struct {
		ID, Level, Title string
		HoldsRelease     bool `json:"holds_release"`
		Rules            []struct{ Instrument, Covers, Says string }
		Acknowledged     *struct {
			Name, At, Note string
			By             struct{ Handle string }
		}
	}
	Offered  []struct{ ID, Label string }
	Deferral string
}

func TestCautionsHoldReleaseUntilSomebodyHasReadThem(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c, maker := s.Designer(), s.As("distaff", models.Maker)
		body := pullover()
		body["audience"] = "baby"
		id := c.Post("/designs", body).Want(201).ID()
		path := "/designs/" + id + "/cautions"
		gate := func() string {
			var b boardBody
			c.Get("/designs/" + id + "/board").Want(200).Into(&b)
			for _, g := range b.Gates {
				if g.Name == "Cautions" {
					require.Equal(t, "/d/saltmarsh-pullover/setup#cautions", g.Where)
					return g.Why
				}
			}
			return "no gate"
		}
		require.Contains(t, gate(), "Nobody has said yet")

		c.Put("/designs/"+id+"/features", 1, map[string]any{"features": []any{"neck_cord", "wings"}}).Names(422, "body.features[1]")
		require.Contains(t, gate(), "Nobody has said yet", "a bad list changes nothing")
		maker.Put("/designs/"+id+"/features", 1, map[string]any{"features": []any{}}).Want(403)
		var d designCautionsBody
		c.Put("/designs/"+id+"/features", 1, map[string]any{"features": []any{"neck_cord", "small_parts"}}).Want(200).Into(&d)
		c.Put("/designs/"+id+"/features", 1, map[string]any{"features": []any{}}).Want(412)
		require.Equal(t, []string{"neck_cord", "small_parts"}, d.Features)
		require.NotNil(t, d.ToldAt)
		require.NotEmpty(t, d.Offered)
		require.Contains(t, d.Deferral, "Check your local rules")
		require.Equal(t, "neck_cord", d.Cautions[0].ID)
		require.NotEmpty(t, d.Cautions[0].Rules[0].Covers)
		require.Contains(t, gate(), "not acknowledged")

		maker.Post(path+"/neck_cord/acknowledge", map[string]any{}).Want(403)
		c.Post(path+"/hood/acknowledge", map[string]any{}).Want(404)
		for _, caution := range d.Cautions {
			require.True(t, caution.HoldsRelease)
			c.Post(path+"/"+caution.ID+"/acknowledge", map[string]any{"note": "ties are sewn on"}).Want(200).Into(&d)
		}
		require.Equal(t, "designer", d.Cautions[0].Acknowledged.By.Handle)
		require.NotEmpty(t, d.Cautions[0].Acknowledged.At)
		require.Equal(t, "ties are sewn on", d.Cautions[0].Acknowledged.Note)
		require.Empty(t, gate())
		c.Post(path+"/neck_cord/acknowledge", map[string]any{}).Want(409)

		c.Post(path+"/neck_cord/take-back", map[string]any{}).Want(200)
		require.Contains(t, gate(), "1 caution is not acknowledged")
		c.Post(path+"/neck_cord/take-back", map[string]any{}).Want(409)

		// A garment without the cord has no such caution.
		c.Put("/designs/"+id+"/features", 2, map[string]any{"features": []any{"small_parts"}}).Want(200)
		require.Empty(t, gate())
	})
}

func TestNotesHoldNoAdultDesign(t *testing.T) {
	s := servertest.OnSQLite(t)
	c := s.Designer()
	id := c.Post("/designs", pullover()).Want(201).ID() // unisex
	var d designCautionsBody
	c.Get("/designs/" + id + "/cautions").Want(200).Into(&d)
	for _, caution := range d.Cautions {
		require.False(t, caution.HoldsRelease)
	}
	var b boardBody
	c.Get("/designs/" + id + "/board").Into(&b)
	for _, g := range b.Gates {
		if g.Name == "Cautions" {
			require.False(t, g.Shut)
		}
	}
}
