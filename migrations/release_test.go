package migrations_test

import (
	"context"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/migrations"
	"tenter/models"
	"tenter/models/modelstest"
)

// TestWhatWasOutStaysOut: before level 14 a text was out when its day had come,
// and an installment went out in the latest version that there was.
func TestWhatWasOutStaysOut(t *testing.T) {
	for _, kind := range []string{"sqlite", "postgres"} {
		t.Run(kind, func(t *testing.T) {
			target := filepath.Join(t.TempDir(), "old.db")
			if kind == "postgres" {
				target = modelstest.Postgres(t)
			}
			store, err := models.Open(target, models.Options{})
			require.NoError(t, err)
			defer store.Close()
			db, err := store.SQL()
			require.NoError(t, err)
			ctx := context.Background()
			provider, err := migrations.New(store.Dialect(), db)
			require.NoError(t, err)
			_, err = migrations.Up(ctx, store.Dialect(), db)
			require.NoError(t, err)
			_, err = provider.DownTo(ctx, 13)
			require.NoError(t, err)
			for _, statement := range []string{
				`INSERT INTO designs (id, slug, name, craft, audience, terms, unit, gauge_stitches, gauge_rows, gauge_span, gauge_unit, yarn, tool, grouping, note, released_on, revision, created_at, updated_at)
					SELECT n.id, n.id, n.id, 'knit', 'unisex', 'us', 'cm', 20, 30, 10, 'cm', '', '', '', '', n.released_on, 1, '2026-01-01 10:00:00+00:00', '2026-01-02 10:00:00+00:00'
					FROM (SELECT 'out' AS id, '2026-01-02' AS released_on UNION ALL SELECT 'later', '2999-01-01' UNION ALL SELECT 'never', NULL) n`,
				`INSERT INTO versions (id, design_id, number, note, revision, created_at, updated_at) VALUES ('v1', 'out', 1, '', 1, '2026-01-01 10:00:00+00:00', '2026-01-01 10:00:00+00:00'),
					('v2', 'out', 2, '', 1, '2026-03-01 10:00:00+00:00', '2026-03-01 10:00:00+00:00')`,
				`INSERT INTO installments (id, design_id, position, title, covers, link, aired_at, revision, created_at, updated_at) VALUES
					('first', 'out', 1, 'First', '', '', '2026-02-01 10:00:00+00:00', 1, '2026-01-01 10:00:00+00:00', '2026-01-01 10:00:00+00:00'),
					('second', 'out', 2, 'Second', '', '', NULL, 1, '2026-01-01 10:00:00+00:00', '2026-01-01 10:00:00+00:00')`,
			} {
				_, err = db.Exec(statement)
				require.NoError(t, err, statement)
			}
			_, err = migrations.Up(ctx, store.Dialect(), db)
			require.NoError(t, err)
			for slug, out := range map[string]bool{"out": true, "later": false, "never": false} {
				d, err := store.Design(ctx, slug)
				require.NoError(t, err)
				require.Equal(t, out, d.IsOut(), slug)
			}
			var first, second *int
			require.NoError(t, db.QueryRow(`SELECT out_version FROM installments WHERE id = 'first'`).Scan(&first))
			require.NoError(t, db.QueryRow(`SELECT out_version FROM installments WHERE id = 'second'`).Scan(&second))
			require.Equal(t, 1, *first, "version 2 was not there yet")
			require.Nil(t, second)
		})
	}
}
