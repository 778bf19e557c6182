// Package modelstest gives each test a fresh store on each database. Only tests
// import it.
package modelstest

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	_ "github.com/jackc/pgx/v5/stdlib" // registers "pgx"
	"github.com/stretchr/testify/require"
	"gorm.io/driver/postgres"
	"gorm.io/driver/sqlite"
	"gorm.io/gorm"

	"tenter/migrations"
	"tenter/models"
	"tenter/server/photostore"
)

// PostgresVariable names a server in which tests may create databases.
const PostgresVariable = "TENTER_TEST_POSTGRES"

// requireVariable lists what may not be skipped: "postgres,browser" in CI.
const requireVariable = "TENTER_TEST_REQUIRE"

// Missing skips a test for want of something, or fails it where that something
// is required.
func Missing(t testing.TB, what, how string) {
	t.Helper()
	if slices.Contains(strings.Split(os.Getenv(requireVariable), ","), what) {
		t.Fatalf("%s is required here (%s) and missing: %s", what, requireVariable, how)
	}
	t.Skipf("skipped without %s: %s", what, how)
}

// Start is the moment at which a test's clock stands when it begins.
var Start = time.Date(2027, 2, 8, 9, 30, 0, 0, time.UTC)

// Clock is a test's clock. It moves only when told, and by a microsecond at
// each reading, so that nothing happens at the same moment twice.
type Clock struct {
	mu  sync.Mutex
	now time.Time
}

// NewClock returns a clock that stands at Start.
func NewClock() *Clock { return &Clock{now: Start} }

// Now reads the clock.
func (c *Clock) Now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.now = c.now.Add(time.Microsecond)
	return c.now
}

// Advance moves the clock.
func (c *Clock) Advance(d time.Duration) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.now = c.now.Add(d)
}

// Each runs f on a fresh store on SQLite and, where a server is at hand, on
// PostgreSQL.
func Each(t *testing.T, f func(t *testing.T, store *models.Store, clock *Clock)) {
	t.Helper()
	t.Run("sqlite", func(t *testing.T) {
		t.Parallel()
		clock := NewClock()
		f(t, Open(t, SQLite(t), models.Options{Now: clock.Now}), clock)
	})
	t.Run("postgres", func(t *testing.T) {
		t.Parallel()
		clock := NewClock()
		f(t, Open(t, Postgres(t), models.Options{Now: clock.Now}), clock)
	})
}

// Open opens a database that SQLite or Postgres made and closes it with the test.
func Open(t testing.TB, target string, options models.Options) *models.Store {
	t.Helper()
	if options.Photos == nil {
		options.Photos = photostore.NewFolder(filepath.Join(t.TempDir(), "photos"))
	}
	store, err := models.Open(target, options)
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, store.Close()) })
	require.NoError(t, store.EnsureStudio(context.Background(), "The test studio", "UTC", false))
	return store
}

// sqliteTemplate is the file of an empty database with the whole schema.
var sqliteTemplate = sync.OnceValues(func() (file []byte, err error) {
	dir, err := os.MkdirTemp("", "tenter-template-")
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(dir)) }()
	path := filepath.Join(dir, "template.db")
	if err := migrated(path); err != nil {
		return nil, err
	}
	return os.ReadFile(path)
})

// SQLite returns the path of a fresh database with the whole schema.
func SQLite(t testing.TB) string {
	t.Helper()
	template, err := sqliteTemplate()
	require.NoError(t, err)
	path := filepath.Join(t.TempDir(), "tenter.db")
	require.NoError(t, os.WriteFile(path, template, 0o600))
	return path
}

// migrated makes a database with the whole schema at target and closes it, so
// that nothing is left in a write-ahead log beside it.
func migrated(target string) error {
	store, err := models.Open(target, models.Options{})
	if err != nil {
		return err
	}
	db, err := store.SQL()
	if err == nil {
		_, err = migrations.Up(context.Background(), store.Dialect(), db)
	}
	if cerr := store.Close(); err == nil {
		err = cerr
	}
	return err
}

var postgresTemplate = sync.OnceValues(func() (string, error) {
	name := fmt.Sprintf("tenter_template_%d_%d", os.Getpid(), time.Now().UnixNano())
	if err := admin("CREATE DATABASE " + name); err != nil {
		return "", err
	}
	return name, migrated(databaseURL(name))
})

// Postgres returns the address of a fresh database with the whole schema, and
// drops it after the test.
func Postgres(t testing.TB) string {
	t.Helper()
	if os.Getenv(PostgresVariable) == "" {
		Missing(t, "postgres", "set "+PostgresVariable+" to the postgres:// address of a server in which databases may be created")
	}
	template, err := postgresTemplate()
	require.NoError(t, err)
	name := fmt.Sprintf("tenter_test_%d_%d", os.Getpid(), serial())
	require.NoError(t, admin("CREATE DATABASE "+name+" TEMPLATE "+template))
	t.Cleanup(func() { require.NoError(t, admin("DROP DATABASE "+name+" WITH (FORCE)")) })
	return databaseURL(name)
}

var (
	serialMu sync.Mutex
	lastName int
)

func serial() int {
	serialMu.Lock()
	defer serialMu.Unlock()
	lastName++
	return lastName
}

// admin carries out a statement on the test server itself.
func admin(statement string) error {
	db, err := sql.Open("pgx", os.Getenv(PostgresVariable))
	if err != nil {
		return err
	}
	defer db.Close()
	// A template can be copied by one connection at a time.
	serialAdmin.Lock()
	defer serialAdmin.Unlock()
	_, err = db.Exec(statement)
	return err
}

var serialAdmin sync.Mutex

func databaseURL(name string) string {
	u, err := url.Parse(os.Getenv(PostgresVariable))
	if err != nil {
		return ""
	}
	u.Path = "/" + name
	return u.String()
}

// Rows gives a test the store's tables themselves.
func Rows(t testing.TB, store *models.Store) *gorm.DB {
	t.Helper()
	pool, err := store.SQL()
	require.NoError(t, err)
	var dialector gorm.Dialector = sqlite.Dialector{Conn: pool}
	if store.Dialect() == migrations.Postgres {
		dialector = postgres.New(postgres.Config{Conn: pool})
	}
	db, err := gorm.Open(dialector, &gorm.Config{SkipDefaultTransaction: true})
	require.NoError(t, err)
	return db
}
