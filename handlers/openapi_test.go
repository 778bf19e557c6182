package handlers_test

import (
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
	"tenter/server/servertest"
)

// TestDescriptionInEveryForm asks for each several times at once, of a server
// that was never asked before: under the race detector, what is written twice
// is told.
func TestDescriptionInEveryForm(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		for _, row := range []struct{ ending, kind, version string }{
			{".json", "application/openapi+json", "3.1.0"},
			{".yaml", "application/openapi+yaml", "3.1.0"},
			{"-3.0.json", "application/openapi+json", "3.0.3"},
			{"-3.0.yaml", "application/openapi+yaml", "3.0.3"},
		} {
			var wg sync.WaitGroup
			got := make([]*servertest.Answer, 4)
			for i := range got {
				c := s.Nobody()
				wg.Go(func() { got[i] = c.Get("/openapi" + row.ending) })
			}
			wg.Wait()
			for _, a := range got {
				require.Equal(t, string(got[0].Want(200).Body), string(a.Want(200).Body))
				require.Equal(t, row.kind, a.Header.Get("Content-Type"))
			}
			if row.kind == "application/openapi+yaml" {
				require.Regexp(t, `(?m)^openapi: `+row.version+`$`, string(got[0].Body))
				require.Contains(t, string(got[0].Body), "\n  /api/v1/designs:\n")
				continue
			}
			doc := got[0].Map()
			require.Equal(t, row.version, doc["openapi"])
			require.Contains(t, doc["paths"], "/api/v1/designs")
		}
	})
}
