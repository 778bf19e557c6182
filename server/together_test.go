package server_test

import (
	"context"
	"log/slog"
	"net/http/httptest"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/modelstest"
	"tenter/server"
)

// TestServersThatStartTogether: several servers open one empty database at the
// same moment. They have one key and one studio, and each takes the others'
// tokens.
func TestServersThatStartTogether(t *testing.T) {
	for _, dialect := range []string{"sqlite", "postgres"} {
		t.Run(dialect, func(t *testing.T) {
			var target string
			if dialect == "postgres" {
				target = modelstest.Postgres(t)
			} else {
				target = modelstest.SQLite(t)
			}
			config, err := server.DefaultConfig()
			require.NoError(t, err)
			servers := make([]*server.Server, 6)
			stores := make([]*models.Store, len(servers))
			failed := make([]error, len(servers))
			for i := range stores {
				store, err := models.Open(target, models.Options{})
				require.NoError(t, err)
				t.Cleanup(func() { require.NoError(t, store.Close()) })
				require.NoError(t, store.Ping(t.Context()))
				stores[i] = store
			}
			var together sync.WaitGroup
			start := make(chan struct{})
			for i := range servers {
				together.Go(func() {
					<-start
					servers[i], failed[i] = server.New(context.Background(), config, stores[i], slog.New(slog.DiscardHandler), "test")
				})
			}
			close(start)
			together.Wait()
			for _, err := range failed {
				require.NoError(t, err)
			}
			db, err := stores[0].SQL()
			require.NoError(t, err)
			require.EqualValues(t, 1, rowsIn(t, db, "signing_keys"))
			require.EqualValues(t, 1, rowsIn(t, db, "studio"))
			var made int
			require.NoError(t, db.QueryRow(`SELECT count(*) FROM events WHERE entity = 'signing key'`).Scan(&made))
			require.Equal(t, 1, made)

			person, err := stores[0].AddPerson(t.Context(), models.System("test"), models.NewPerson{Handle: "odile", Roles: []models.Role{models.Designer}})
			require.NoError(t, err)
			_, refresh, err := stores[0].StartSignIn(t.Context(), models.System("test"), person.ID, "test")
			require.NoError(t, err)
			token := tokenFrom(t, servers[0], refresh)
			for i, s := range servers {
				ask := httptest.NewRequest("GET", "/api/v1/me", nil)
				ask.Header.Set("Authorization", "Bearer "+token)
				answer := httptest.NewRecorder()
				s.Handler().ServeHTTP(answer, ask)
				require.Equal(t, 200, answer.Code, "server %d refuses the first one's token", i)
			}
		})
	}
}
