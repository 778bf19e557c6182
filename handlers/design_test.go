package handlers_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/server/servertest"
)

func pullover() map[string]any {
	return map[string]any{"name": "Saltmarsh pullover", "craft": "crochet", "audience": "unisex", "terms": "us", "unit": "cm",
		"gauge": map[string]any{"stitches": 14, "rows": 11, "span": 10, "unit": "cm"}, "grouping": "1,3,3,2"}
}

func TestDesignIsCreatedReadAndChanged(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c := s.Designer()
		a := c.Post("/designs", pullover()).Want(201)
		require.Equal(t, `"1"`, a.Header.Get("ETag"))
		require.Equal(t, "/api/v1/designs/"+a.ID(), a.Header.Get("Location"))
		d := c.Get("/designs/saltmarsh-pullover").Want(200).Map()
		require.Equal(t, a.ID(), d["id"])
		require.Len(t, d["versions"], 1)

		c.Patch("/designs/saltmarsh-pullover", 1, map[string]any{"note": "no seams", "tool_mm": 5.5}).Want(200)
		c.Patch("/designs/saltmarsh-pullover", 1, map[string]any{"note": "lost"}).Want(412)
		d = c.Get("/designs/" + a.ID()).Want(200).Map()
		require.Equal(t, "no seams", d["note"])
		require.InDelta(t, 5.5, d["tool_mm"], 0)
		c.Patch("/designs/"+a.ID(), 2, map[string]any{"tool_mm": nil}).Want(200)
		require.Nil(t, c.Get("/designs/" + a.ID()).Map()["tool_mm"])

		c.Post("/designs", pullover()).Names(409, "body.slug")
	})
}
