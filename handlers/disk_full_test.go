package handlers_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/modelstest"
	"tenter/server/servertest"
)

// fill takes all room away and returns a function that gives it back: on
// SQLite by the largest number of pages of the file
// (https://www.sqlite.org/pragma.html#pragma_max_page_count), on PostgreSQL by
// its own error for a full disk, raised where the log is written.
func fill(t *testing.T, s *servertest.Studio, who *models.Person) (empty func()) {
	t.Helper()
	pool, err := s.Store.SQL()
	require.NoError(t, err)
	exec := func(statement string) {
		_, err := pool.Exec(statement)
		require.NoError(t, err)
	}
	if s.Store.Dialect() == "postgres" {
		exec(`CREATE FUNCTION no_room() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN RAISE EXCEPTION 'could not extend file' USING ERRCODE = '53100'; END $$`)
		exec(`CREATE TRIGGER no_room BEFORE INSERT ON events FOR EACH ROW EXECUTE FUNCTION no_room()`)
		exec(`CREATE TRIGGER no_room BEFORE INSERT ON refresh_tokens FOR EACH ROW EXECUTE FUNCTION no_room()`)
		return func() { exec(`DROP TRIGGER no_room ON events`); exec(`DROP TRIGGER no_room ON refresh_tokens`) }
	}
	exec(`PRAGMA max_page_count = 1`)                   // as many as there are, since there are more
	for kind := models.Kind(""); kind != models.Full; { // the last pages have room for a few
		_, _, err := s.Store.StartSignIn(t.Context(), models.System("test"), who.ID, "fills the last page")
		kind = models.KindOf(err)
	}
	return func() { exec(`PRAGMA max_page_count = 1073741823`) }
}

// TestDiskFull: changes are refused in words and leave nothing behind, reading
// and signed-in people go on, and with room again everything does.
func TestDiskFull(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		d := s.Designer()
		p := s.NewPullover(d, "Full")
		secret := refreshSecret(t, s, d.Person)
		empty := fill(t, s, d.Person)
		before := everyRow(t, s.Store)

		long := strings.Repeat("A note that needs a page of its own. ", 100)
		for i := range 60 {
			a := d.Do("POST", "/designs/"+p.ID+"/remarks", map[string]any{"place": fmt.Sprint(i), "body": long}, map[string][]string{"Idempotency-Key": {fmt.Sprintf("key %d", i)}})
			a.Want(507)
			require.Equal(t, "application/problem+json", a.Header.Get("Content-Type"))
			require.Contains(t, string(a.Body), "disk is full")
		}
		require.Equal(t, before, everyRow(t, s.Store), "half of something was written")

		d.Get("/designs/" + p.ID + "/board").Want(200)
		d.Get("/designs/" + p.ID + "/history").Want(200)
		// A refresh token still goes on; sooner or later there is no room to
		// replace it, and it stays the one it was.
		refresh := func() (next string) {
			a := s.Nobody().Post("/auth/refresh", map[string]any{"refresh_token": secret}).Want(200).Map()
			s.Nobody().Do("GET", "/me", nil, bearer(a["access_token"].(string))).Want(200)
			return a["refresh_token"].(string)
		}
		stays := func() bool {
			for range 5000 {
				next := refresh()
				if next == secret {
					return true
				}
				secret = next
				s.Clock.Advance(time.Minute) // the throttle's
			}
			return false
		}
		require.True(t, stays())

		empty()
		d = s.For(d.Person)
		d.Do("POST", "/designs/"+p.ID+"/remarks", map[string]any{"place": "again", "body": long}, map[string][]string{"Idempotency-Key": {"key 59"}}).Want(201)
		require.NotEqual(t, secret, refresh())
		s.Nobody().Post("/auth/refresh", map[string]any{"refresh_token": secret}).Want(401)
		faults, err := s.Store.Check(t.Context())
		require.NoError(t, err)
		require.Empty(t, faults)
	})
}

func refreshSecret(t *testing.T, s *servertest.Studio, p *models.Person) string {
	t.Helper()
	_, secret, err := s.Store.StartSignIn(t.Context(), models.System("test"), p.ID, "test")
	require.NoError(t, err)
	return secret
}

// everyRow counts the rows of every table that a request can change.
func everyRow(t *testing.T, store *models.Store) map[string]int64 {
	t.Helper()
	db := modelstest.Rows(t, store)
	tables, err := db.Migrator().GetTables()
	require.NoError(t, err)
	require.Greater(t, len(tables), 30)
	out := map[string]int64{}
	for _, table := range tables {
		var n int64
		require.NoError(t, db.Table(table).Count(&n).Error)
		out[table] = n
	}
	return out
}
