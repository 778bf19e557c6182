package server_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/modelstest"
	"tenter/server/browsertest"
	"tenter/server/servertest"
)

// boardWeight is what a whole board page may weigh, uncompressed, in bytes.
const boardWeight = 150_000

// TestBoardPageIsLight loads the board of a large design and adds up everything
// that it is made of, whether it came over the wire or was still good.
func TestBoardPageIsLight(t *testing.T) {
	store := modelstest.Open(t, modelstest.SQLite(t), models.Options{Now: modelstest.NewClock().Now})
	modelstest.FillDesigns(t, store, 1, modelstest.Round{Sizes: 9, Points: 8, Reports: 30})
	s := servertest.New(t, store, nil)
	p := signedIn(t, s, "odile", 1280, 900, models.Designer)
	p.At("/")
	p.Goto("/d/design-1")
	p.See("point 1")
	type resource struct {
		Name string
		Size float64
	}
	came := browsertest.Eval[[]resource](p, `[...performance.getEntriesByType('navigation'), ...performance.getEntriesByType('resource')].map((e) => ({ Name: e.name, Size: e.decodedBodySize }))`)
	total := 0.0
	for _, r := range came {
		require.True(t, strings.HasPrefix(r.Name, s.URL+"/"), "%s comes from elsewhere", r.Name)
		if !strings.Contains(r.Name, "/api/") {
			// What is still good from the page before is told as nothing.
			r.Size = float64(len(s.Nobody().Get("/" + strings.TrimPrefix(r.Name, s.URL)).Want(200).Body))
		}
		total += r.Size
		t.Logf("%7.0f %s", r.Size, strings.TrimPrefix(r.Name, s.URL))
	}
	require.Greater(t, len(came), 10)
	t.Logf("%7.0f in all", total)
	require.LessOrEqual(t, total, float64(boardWeight))
}
