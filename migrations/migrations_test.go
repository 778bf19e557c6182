package migrations_test

import (
	"context"
	"database/sql"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/migrations"
	"tenter/models"
	"tenter/models/modelstest"
)

// tables asks each database for its tables and columns in one form.
const tables = `SELECT m.name || '.' || p.name FROM sqlite_master m JOIN pragma_table_info(m.name) p
	WHERE m.type = 'table' AND m.name NOT LIKE 'sqlite_%' AND m.name NOT LIKE 'goose_%' ORDER BY 1`
const postgresTables = `SELECT table_name || '.' || column_name FROM information_schema.columns
	WHERE table_schema = 'public' AND table_name NOT LIKE 'goose_%' ORDER BY 1`

func columns(t *testing.T, db *sql.DB, query string) []string {
	t.Helper()
	rows, err := db.Query(query)
	require.NoError(t, err)
	defer rows.Close()
	var names []string
	for rows.Next() {
		var name string
		require.NoError(t, rows.Scan(&name))
		names = append(names, name)
	}
	require.NoError(t, rows.Err())
	return names
}

func TestUpDownUp(t *testing.T) {
	for _, c := range []struct{ name, query string }{{"sqlite", tables}, {"postgres", postgresTables}} {
		t.Run(c.name, func(t *testing.T) {
			target := filepath.Join(t.TempDir(), "empty.db")
			if c.name == "postgres" {
				target = modelstest.Postgres(t)
			}
			store, err := models.Open(target, models.Options{})
			require.NoError(t, err)
			defer store.Close()
			db, err := store.SQL()
			require.NoError(t, err)
			ctx := context.Background()
			_, err = migrations.Up(ctx, store.Dialect(), db)
			require.NoError(t, err)
			whole := columns(t, db, c.query)
			require.Contains(t, whole, "measurements.reading")
			require.Contains(t, whole, "designs.gauge_span")

			provider, err := migrations.New(store.Dialect(), db)
			require.NoError(t, err)
			_, err = provider.DownTo(ctx, 0)
			require.NoError(t, err)
			require.Empty(t, columns(t, db, c.query), "going down leaves something behind")

			ran, err := migrations.Up(ctx, store.Dialect(), db)
			require.NoError(t, err)
			require.Positive(t, ran)
			require.Equal(t, whole, columns(t, db, c.query))

			ran, err = migrations.Up(ctx, store.Dialect(), db)
			require.NoError(t, err)
			require.Zero(t, ran, "an up-to-date schema is left alone")
		})
	}
}

// TestBothDatabasesHaveTheSameColumns holds the word-for-word substitution to
// its promise.
func TestBothDatabasesHaveTheSameColumns(t *testing.T) {
	postgres := modelstest.Open(t, modelstest.Postgres(t), models.Options{})
	sqlite := modelstest.Open(t, modelstest.SQLite(t), models.Options{})
	p, err := postgres.SQL()
	require.NoError(t, err)
	s, err := sqlite.SQL()
	require.NoError(t, err)
	require.Equal(t, columns(t, s, tables), columns(t, p, postgresTables))
}

// TestTimesKeepTheirOffset would fail with PostgreSQL's plain TIMESTAMP.
func TestTimesKeepTheirOffset(t *testing.T) {
	postgres := modelstest.Open(t, modelstest.Postgres(t), models.Options{})
	db, err := postgres.SQL()
	require.NoError(t, err)
	var plain int
	require.NoError(t, db.QueryRow(`SELECT count(*) FROM information_schema.columns WHERE table_schema = 'public'
		AND table_name NOT LIKE 'goose_%' AND data_type = 'timestamp without time zone'`).Scan(&plain))
	require.Zero(t, plain)
}
