package handlers_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/server/servertest"
)

// items reads a list and returns its rows.
func items(t *testing.T, a *servertest.Answer) []map[string]any {
	t.Helper()
	var in struct{ Items []map[string]any }
	a.Want(200).Into(&in)
	return in.Items
}

// A tester reads the tables; the numbers are those of the Craft Yarn Council's
// Standards & Guidelines, in inches.
func TestStandardsTables(t *testing.T) {
	s := servertest.OnSQLite(t)
	c := s.As("tessel", models.Tester)
	for _, row := range []struct {
		path string
		rows int
	}{
		{"/standards/body-charts", 6}, {"/standards/body-charts?chart=man", 1}, {"/standards/head-sizes", 13}, {"/standards/fits", 5},
		{"/standards/garment-lengths", 7}, {"/standards/body-dimensions", 20}, {"/standards/size-codes", 42}, {"/standards/garment-points", 25},
		{"/standards/tools", 87}, {"/standards/tools?kind=hook", 28}, {"/standards/tools?kind=hook&mm=5.1", 2}, {"/standards/tools?kind=hook&mm=5", 1},
		{"/standards/yarn-classes", 8}, {"/standards/terms", 14}, {"/standards/surveys", 2},
	} {
		require.Len(t, items(t, c.Get(row.path)), row.rows, row.path)
	}
	woman := items(t, c.Get("/standards/body-charts?chart=woman"))
	require.Equal(t, []any{"X-Small", "Small", "Medium", "Large", "1X", "2X", "3X", "4X", "5X"}, woman[0]["sizes"])
	cell := woman[0]["cells"].([]any)[2].(map[string]any)
	require.Equal(t, "Medium", cell["size"])
	require.Equal(t, map[string]any{"low": 36.0, "high": 38.0}, cell["in"])
	require.Equal(t, map[string]any{"low": 91.44, "high": 96.52}, cell["cm"])
	require.Equal(t, map[string]any{"low": 91.5, "high": 96.5}, cell["printed_cm"])
	require.Equal(t, "published", cell["source"].(map[string]any)["standing"])

	require.Len(t, items(t, c.Get("/standards/fits?ease_cm=0")), 1, "an ease of 0 is an ease")
	require.Equal(t, "close-fitting", items(t, c.Get("/standards/fits?ease_cm=0"))[0]["name"])
	require.Empty(t, items(t, c.Get("/standards/fits?ease_cm=-3")))
}

func TestGaugeHintRoute(t *testing.T) {
	c := servertest.OnSQLite(t).Designer()
	hint := c.Get("/standards/gauge-hint?craft=knit&class=2&stitches=18&span=10&unit=cm").Want(200).Map()
	require.Equal(t, "looser", hint["place"])
	require.Equal(t, []any{4.0}, hint["classes"])
	c.Get("/standards/gauge-hint?craft=knit&class=2&stitches=0&span=10&unit=cm").Names(422, "query.stitches")
	c.Get("/standards/gauge-hint?craft=knit&class=2&stitches=18&span=0.5&unit=cm").Names(422, "query.span")
	c.Get("/standards/gauge-hint?craft=knit&class=9&stitches=18&span=10&unit=cm").Names(422, "query.class")
	c.Get("/standards/gauge-hint?craft=knit&class=2&stitches=NaN&span=10&unit=cm").Names(422, "query.stitches")
	c.Get("/standards/tools?kind=hook&mm=0").Names(422, "query.mm")
	c.Get("/standards/tools?mm=4").Names(422, "query.kind")
}

func TestRewriteRoute(t *testing.T) {
	c := servertest.OnSQLite(t).As("tessel", models.Tester)
	body := func(text string) map[string]any {
		return map[string]any{"text": text, "craft": "crochet", "from": "us", "to": "uk"}
	}
	got := c.Post("/standards/rewrite", body("5 dc, trc")).Want(200).Map()
	require.Equal(t, "5 UK tr, US trc", got["text"])
	require.Equal(t, []any{map[string]any{"word": "trc", "line": 1.0}}, got["left"])
	c.Post("/standards/rewrite", body("3 htr")).Names(422, "body.text")
	c.Post("/standards/rewrite", body(strings.Repeat("x", 200001))).Names(422, "body.text")
	c.Post("/standards/rewrite", map[string]any{"text": "", "craft": "crochet", "from": "us", "to": "fr"}).Names(422, "body.to")
}

// Counts as in models/standards, computed from the survey's public file.
func TestCoverageRoute(t *testing.T) {
	s := servertest.OnSQLite(t)
	c := s.Designer()
	got := c.Get("/standards/coverage?survey=service_2012&dimension=chest&sizes_cm=90,100,110&step_cm=5").Want(200).Map()
	women := got["groups"].([]any)[0].(map[string]any)
	require.Equal(t, "women", women["sex"])
	require.Equal(t, 918.0, women["within"])
	require.Equal(t, 630.0, women["between"])
	require.Equal(t, "adults in US military service in 2012", got["who"])
	c.Get("/standards/coverage?survey=service_2012&dimension=chest&sizes_cm=90,80&step_cm=5").Names(422, "query.sizes_cm[1]")
	c.Get("/standards/coverage?survey=service_2012&dimension=chest&sizes_cm=NaN&step_cm=5").Names(422, "query.sizes_cm[0]")
	c.Get("/standards/coverage?survey=children_1977&dimension=waist&sizes_cm=60&step_cm=5").Names(422, "query.dimension")
	c.Get("/standards/coverage?survey=service_2012&dimension=chest&sizes_cm=90,ninety&step_cm=5").Names(422, "query.sizes_cm[1]")
	c.Get("/standards/coverage?survey=service_2012&dimension=chest&step_cm=5").Names(422, "query.sizes_cm")
	again := c.Get("/standards/coverage?survey=service_2012&dimension=chest&sizes_cm=90&sizes_cm=100,110&step_cm=5").Want(200).Map()
	require.Equal(t, got["groups"], again["groups"], "a parameter that is repeated is one list")
	s.As("tessel", models.Tester).Get("/standards/coverage?survey=service_2012&dimension=chest&sizes_cm=90&step_cm=5").Want(403)
}
