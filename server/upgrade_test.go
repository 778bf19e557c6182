package server_test

import (
	"context"
	"database/sql"
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/migrations"
	"tenter/models"
	"tenter/models/modelstest"
	"tenter/server"
)

// earlier are rows as they were written at each level of the schema, by the
// level that they need. Each refers to what stands above it.
var earlier = map[int64][]string{
	1: {
		`INSERT INTO studio (id, name, zone, lead_days, demo, revision, created_at, updated_at) VALUES (1, 'Old studio', 'UTC', 4, FALSE, 1, '2026-01-01 10:00:00+00:00', '2026-01-01 10:00:00+00:00')`,
		`INSERT INTO people (id, handle, name, email, unit, terms, revision, created_at, updated_at) VALUES ('person', 'odile', 'Odile Old', 'odile@studio.example', 'cm', 'us', 1, '2026-01-01 10:00:00+00:00', '2026-01-01 10:00:00+00:00')`,
		`INSERT INTO person_roles (person_id, role) VALUES ('person', 'designer')`,
		`INSERT INTO person_roles (person_id, role) VALUES ('person', 'tester')`,
		// A sign-in that was gone on with once, one that was ended, and the two keys of two servers that started together.
		`INSERT INTO refresh_tokens (id, family_id, person_id, token_hash, agent, created_at, expires_at, used_at) VALUES ('token1', 'family', 'person', 'hash1', 'a browser', '2026-01-01 10:00:00+00:00', '2026-01-31 10:00:00+00:00', '2026-01-02 10:00:00+00:00')`,
		`INSERT INTO refresh_tokens (id, family_id, person_id, token_hash, agent, created_at, expires_at) VALUES ('token2', 'family', 'person', 'hash2', 'a browser', '2026-01-02 10:00:00+00:00', '2026-02-01 10:00:00+00:00')`,
		`INSERT INTO refresh_tokens (id, family_id, person_id, token_hash, agent, created_at, expires_at, revoked_at) VALUES ('token3', 'ended', 'person', 'hash3', 'a browser', '2026-01-01 10:00:00+00:00', '2026-01-31 10:00:00+00:00', '2026-01-03 10:00:00+00:00')`,
		`INSERT INTO signing_keys (id, secret, created_at) VALUES ('key1', 'one', '2026-01-01 10:00:00+00:00')`,
		`INSERT INTO signing_keys (id, secret, created_at) VALUES ('key2', 'two', '2026-01-01 10:00:00+00:00')`,
		`INSERT INTO events (id, at, actor_id, request_id, entity, entity_id, action) VALUES ('event', '2026-01-01 10:00:00+00:00', 'person', 'first', 'person', 'person', 'added')`,
	},
	2: {
		`INSERT INTO designs (id, slug, name, craft, audience, terms, unit, gauge_stitches, gauge_rows, gauge_span, gauge_unit, yarn, tool, grouping, note, revision, created_at, updated_at)
			VALUES ('design', 'old', 'Old pullover', 'crochet', 'woman', 'us', 'cm', 14, 11, 10, 'cm', '', '', '', 'kept', 1, '2026-01-01 10:00:00+00:00', '2026-01-01 10:00:00+00:00')`,
		`INSERT INTO sizes (id, design_id, position, name, filmed) VALUES ('size', 'design', 1, 'M', TRUE)`,
		`INSERT INTO points (id, design_id, position, name, axis, expr, add_value, add_unit, add_cm, tolerance_value, tolerance_unit, tolerance_cm, repeat, girth, how_to_measure)
			VALUES ('point', 'design', 1, 'bust', 'stitch', 'body', 0, 'cm', 0, 1, 'in', 2.54, 1, TRUE, '')`,
		`INSERT INTO versions (id, design_id, number, note, given_out_at, revision, created_at, updated_at) VALUES ('version', 'design', 1, '', '2026-01-02 10:00:00+00:00', 2, '2026-01-01 10:00:00+00:00', '2026-01-02 10:00:00+00:00')`,
		`INSERT INTO counts (id, version_id, position, name, unit, note) VALUES ('count', 'version', 1, 'body', 'stitch', '')`,
		`INSERT INTO count_values (count_id, size_id, value) VALUES ('count', 'size', 122)`,
	},
	3: {
		`INSERT INTO installments (id, design_id, position, title, covers, air_on, link, revision, created_at, updated_at) VALUES ('installment', 'design', 1, 'Part 1', '', '2026-03-01', '', 1, '2026-01-01 10:00:00+00:00', '2026-01-01 10:00:00+00:00')`,
	},
	4: {
		`INSERT INTO samples (id, design_id, size_id, version_id, label, purpose, worked_through, worked_note, held_by, held_note, revision, created_at, updated_at)
			VALUES ('sample', 'design', 'size', 'version', 'the grey one', 'camera', 'installment', '', 'person', '', 1, '2026-01-01 10:00:00+00:00', '2026-01-01 10:00:00+00:00')`,
	},
	5: {
		`INSERT INTO test_calls (id, design_id, version_id, title, opens_on, due_on, confidentiality, revision, created_at, updated_at) VALUES ('call', 'design', 'version', 'Call', '2026-01-01', '2026-02-01', 'hush', 1, '2026-01-01 10:00:00+00:00', '2026-01-01 10:00:00+00:00')`,
		`INSERT INTO assignments (id, test_call_id, design_id, person_id, size_id, version_id, due_on, assigned_at, withdrawn_why, revision, created_at, updated_at)
			VALUES ('assignment', 'call', 'design', 'person', 'size', 'version', '2026-02-01', '2026-01-02 10:00:00+00:00', '', 1, '2026-01-01 10:00:00+00:00', '2026-01-01 10:00:00+00:00')`,
		`INSERT INTO reports (id, assignment_id, number, sent_at, source, note, revision, created_at, updated_at) VALUES ('report', 'assignment', 1, '2026-01-20 10:00:00+00:00', 'tester', 'fine', 1, '2026-01-20 10:00:00+00:00', '2026-01-20 10:00:00+00:00')`,
		`INSERT INTO measurements (report_id, point_id, reading, value, unit, cm) VALUES ('report', 'point', 1, 34.5, 'in', 87.63)`,
	},
}

// atLevel makes a database as it was at an earlier level, with rows in it, and
// returns how many rows each table has.
func atLevel(t *testing.T, target string, level int64) map[string]int64 {
	t.Helper()
	store, err := models.Open(target, models.Options{})
	require.NoError(t, err)
	db, err := store.SQL()
	require.NoError(t, err)
	provider, err := migrations.New(store.Dialect(), db)
	require.NoError(t, err)
	rows := map[string]int64{}
	for at := int64(1); at <= level; at++ {
		_, err = provider.UpTo(context.Background(), at)
		require.NoError(t, err)
		for _, statement := range earlier[at] {
			_, err = db.Exec(statement)
			require.NoError(t, err, statement)
			rows[strings.Fields(statement)[2]]++
		}
	}
	require.NoError(t, store.Close())
	return rows
}

func rowsIn(t *testing.T, db *sql.DB, table string) (n int64) {
	t.Helper()
	require.NoError(t, db.QueryRow("SELECT count(*) FROM "+table).Scan(&n))
	return n
}

// earlierLevels lists the levels before the newest; a number may be missing.
func earlierLevels(t *testing.T) []int64 {
	t.Helper()
	store := modelstest.Open(t, modelstest.SQLite(t), models.Options{})
	db, err := store.SQL()
	require.NoError(t, err)
	provider, err := migrations.New(store.Dialect(), db)
	require.NoError(t, err)
	var levels []int64
	for _, source := range provider.ListSources() {
		levels = append(levels, source.Version)
	}
	require.Greater(t, len(levels), 12)
	return levels[:len(levels)-1]
}

// copiesBeside lists what upgrades have left beside a database.
func copiesBeside(t *testing.T, target string) []string {
	t.Helper()
	found, err := filepath.Glob(target + ".level-*Z")
	require.NoError(t, err)
	return found
}

// TestUpgradeFromEveryLevel starts on a database of each earlier level: every
// row is still there, the rules hold, and the database as it was lies beside.
func TestUpgradeFromEveryLevel(t *testing.T) {
	for _, level := range earlierLevels(t) {
		t.Run(fmt.Sprintf("sqlite from %d", level), func(t *testing.T) {
			t.Parallel()
			target := filepath.Join(t.TempDir(), "old.db")
			rows := atLevel(t, target, level)
			upgraded(t, target, rows)
			copies := copiesBeside(t, target)
			require.Len(t, copies, 1, "no copy from before")
			require.Contains(t, copies[0], fmt.Sprintf(".level-%d.", level))
			held, err := models.SoundFile(context.Background(), copies[0])
			require.NoError(t, err)
			require.Equal(t, level, held.Schema)
			require.Equal(t, "event", held.LastEvent)
			for table, n := range rows {
				require.Equal(t, n, held.Rows[table], "%s in the copy", table)
			}
			upgraded(t, target, rows)
			require.Len(t, copiesBeside(t, target), 1, "a start that changes nothing copies nothing")
		})
		t.Run(fmt.Sprintf("postgres from %d", level), func(t *testing.T) {
			t.Parallel()
			target := modelstest.Postgres(t)
			emptied(t, target)
			upgraded(t, target, atLevel(t, target, level))
		})
	}
}

// emptied takes a fresh database back to nothing.
func emptied(t *testing.T, target string) {
	t.Helper()
	store, err := models.Open(target, models.Options{})
	require.NoError(t, err)
	defer store.Close()
	db, err := store.SQL()
	require.NoError(t, err)
	provider, err := migrations.New(store.Dialect(), db)
	require.NoError(t, err)
	_, err = provider.DownTo(context.Background(), 0)
	require.NoError(t, err)
}

func upgraded(t *testing.T, target string, rows map[string]int64) {
	t.Helper()
	store, err := server.Open(context.Background(), target, models.Options{})
	require.NoError(t, err)
	defer store.Close()
	db, err := store.SQL()
	require.NoError(t, err)
	for table, n := range rows {
		require.Equal(t, n, rowsIn(t, db, table), table)
	}
	faults, err := store.Check(context.Background())
	require.NoError(t, err)
	require.Empty(t, faults)
	if rows["refresh_tokens"] > 0 {
		signInsAreKept(t, store, db)
	}
	if rows["measurements"] > 0 {
		var cm float64
		require.NoError(t, db.QueryRow(`SELECT cm FROM measurements`).Scan(&cm))
		require.InDelta(t, 87.63, cm, 1e-9)
	}
}

// signInsAreKept: families of refresh tokens became sign-ins, and one key signs.
func signInsAreKept(t *testing.T, store *models.Store, db *sql.DB) {
	t.Helper()
	var key string
	require.NoError(t, db.QueryRow(`SELECT id FROM signing_keys WHERE retired_at IS NULL`).Scan(&key))
	require.Equal(t, "key2", key)
	var rows []models.SignIn
	require.NoError(t, modelstest.Rows(t, store).Order("id").Find(&rows).Error)
	require.Len(t, rows, 2)
	require.Equal(t, "ended", rows[0].ID)
	require.Equal(t, time.Date(2026, 1, 3, 10, 0, 0, 0, time.UTC), rows[0].EndedAt.UTC())
	require.Equal(t, "family", rows[1].ID)
	require.Nil(t, rows[1].EndedAt)
	require.Equal(t, time.Date(2026, 1, 1, 10, 0, 0, 0, time.UTC), rows[1].BegunAt.UTC())
	require.Equal(t, time.Date(2026, 1, 2, 10, 0, 0, 0, time.UTC), rows[1].UsedAt.UTC())
	require.Equal(t, "a browser", rows[1].Agent)
}

func TestNewFileNeedsNoCopy(t *testing.T) {
	target := filepath.Join(t.TempDir(), "new.db")
	upgraded(t, target, nil)
	require.Empty(t, copiesBeside(t, target))
}

// TestNoUpgradeWithoutItsCopy: where the copy can't be made, the schema stays.
func TestNoUpgradeWithoutItsCopy(t *testing.T) {
	target := filepath.Join(t.TempDir(), "old.db")
	atLevel(t, target, 5)
	db, err := sql.Open("sqlite", "file:"+target)
	require.NoError(t, err)
	_, err = db.Exec(`PRAGMA foreign_keys = OFF; INSERT INTO person_roles (person_id, role) VALUES ('nobody', 'maker')`)
	require.NoError(t, err)
	require.NoError(t, db.Close())

	_, err = server.Open(context.Background(), target, models.Options{})
	require.ErrorContains(t, err, "1 row of person_roles point at nothing in people")
	require.ErrorContains(t, err, "Nothing was changed")
	held, err := sql.Open("sqlite", "file:"+target)
	require.NoError(t, err)
	defer held.Close()
	var level int64
	require.NoError(t, held.QueryRow(`SELECT max(version_id) FROM goose_db_version`).Scan(&level))
	require.EqualValues(t, 5, level)
	require.Empty(t, copiesBeside(t, target))
}

// TestLaterDatabaseIsRefused: an older program never touches a newer studio.
func TestLaterDatabaseIsRefused(t *testing.T) {
	for _, dialect := range []string{"sqlite", "postgres"} {
		t.Run(dialect, func(t *testing.T) {
			target := modelstest.SQLite(t)
			if dialect == "postgres" {
				target = modelstest.Postgres(t)
			}
			store, err := models.Open(target, models.Options{})
			require.NoError(t, err)
			db, err := store.SQL()
			require.NoError(t, err)
			_, err = db.Exec(`INSERT INTO goose_db_version (version_id, is_applied) VALUES (999, TRUE)`)
			require.NoError(t, err)
			require.NoError(t, store.Close())
			_, err = server.Open(context.Background(), target, models.Options{})
			require.ErrorContains(t, err, "made by a later version of Tenter")
			_, err = server.OpenAsIs(context.Background(), target, models.Options{})
			require.ErrorContains(t, err, "level 999")
		})
	}
}
