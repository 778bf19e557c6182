package models_test

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/modelstest"
)

// TestAGateIsDecidedOnOneConnection: whoever decides on a gate while nothing is
// computed yet reads it all on the connection that the change has. With a
// second one, as many decisions at once as there are connections would wait for
// each other until they are given up.
func TestAGateIsDecidedOnOneConnection(t *testing.T) {
	modelstest.Each(t, func(t *testing.T, store *models.Store, _ *modelstest.Clock) {
		ctx, stop := context.WithTimeout(context.Background(), time.Minute)
		defer stop()
		modelstest.FillDesigns(t, store, 3, modelstest.Round{Sizes: 2, Points: 2, Reports: 4})
		var seen []models.Gate
		for _, slug := range []string{"design-1", "design-2", "design-3"} {
			r, err := store.Release(ctx, slug)
			require.NoError(t, err)
			seen = append(seen, shutGate(t, r.Gates.Design))
		}
		rows := modelstest.Rows(t, store)
		require.NoError(t, rows.Exec("UPDATE designs SET revision = revision + 1").Error) // nothing that is kept is of this state
		pool, err := store.SQL()
		require.NoError(t, err)
		pool.SetMaxOpenConns(1)

		done := make(chan error)
		for i, slug := range []string{"design-1", "design-2", "design-3"} {
			go func() {
				_, err := store.OpenGate(ctx, models.System("test"), slug, models.NewOverride{Gate: seen[i].Key, Reason: "Everybody has seen it.", Seen: seen[i].Seen()})
				done <- err
			}()
		}
		for range seen {
			require.NoError(t, <-done)
		}
		for i, slug := range []string{"design-1", "design-2", "design-3"} {
			r, err := store.Release(ctx, slug)
			require.NoError(t, err)
			for _, g := range r.Gates.Design {
				if g.Key == seen[i].Key {
					require.False(t, g.Shut)
				}
			}
		}
	})
}

func shutGate(t *testing.T, gates []models.Gate) models.Gate {
	t.Helper()
	for _, g := range gates {
		if g.Shut {
			return g
		}
	}
	require.Fail(t, "no gate is shut")
	return models.Gate{}
}
