// Package migrations holds the schema as numbered SQL files and applies them.
//
// One set of files serves both databases. Two words differ between them and
// are replaced on the way to PostgreSQL: TIMESTAMP becomes TIMESTAMPTZ (its
// plain TIMESTAMP drops the offset without a word) and BLOB becomes BYTEA.
// A file that has landed is never edited; the next change is the next number.
package migrations

import (
	"bytes"
	"context"
	"database/sql"
	"embed"
	"fmt"
	"io/fs"
	"regexp"

	"github.com/pressly/goose/v3"
	"github.com/pressly/goose/v3/lock"
)

//go:embed sql/*.sql
var files embed.FS

// The dialects, named as the store names its database.
const (
	SQLite   = "sqlite"
	Postgres = "postgres"
)

// New returns a goose provider over the embedded migrations. The caller owns
// db: closing the provider would close it too, so don't.
func New(dialect string, db *sql.DB) (*goose.Provider, error) {
	tree, err := fs.Sub(files, "sql")
	if err != nil {
		return nil, fmt.Errorf("embedded migrations: %w", err)
	}
	switch dialect {
	case SQLite:
		// Nothing to take a lock in: Up tries again when another process was
		// first.
		return goose.NewProvider(goose.DialectSQLite3, db, tree)
	case Postgres:
		locker, err := lock.NewPostgresSessionLocker()
		if err != nil {
			return nil, fmt.Errorf("migration lock: %w", err)
		}
		return goose.NewProvider(goose.DialectPostgres, db, postgresFS{tree}, goose.WithSessionLocker(locker))
	}
	return nil, fmt.Errorf("migrations for unknown database %q", dialect)
}

// Up applies every migration that db lacks and returns how many ran.
func Up(ctx context.Context, dialect string, db *sql.DB) (int, error) {
	provider, err := New(dialect, db)
	if err != nil {
		return 0, err
	}
	ran := 0
	for attempt := 0; ; attempt++ {
		results, err := provider.Up(ctx)
		ran += len(results)
		if err == nil {
			return ran, nil
		}
		if dialect != SQLite || ctx.Err() != nil || attempt > len(provider.ListSources()) {
			return ran, fmt.Errorf("migrate: %w", err)
		}
		// Two commands may open one new file at the same moment. Each migration
		// is one transaction, so the one that came second has changed nothing
		// and goes on behind the first. It can come second once for each
		// migration and once for the table of versions; a migration that is at
		// fault fails every time.
	}
}

// Standing returns the level that db's schema is at, 0 for an empty database,
// and the level that these migrations lead to.
func Standing(ctx context.Context, dialect string, db *sql.DB) (at, newest int64, err error) {
	provider, err := New(dialect, db)
	if err != nil {
		return 0, 0, err
	}
	at, newest, err = provider.GetVersions(ctx)
	if err != nil {
		return 0, 0, fmt.Errorf("level of the schema: %w", err)
	}
	return at, newest, nil
}

// postgresFS serves the same files in PostgreSQL's words.
type postgresFS struct{ fs.FS }

var postgresWords = []struct {
	word *regexp.Regexp
	with []byte
}{
	{regexp.MustCompile(`\bTIMESTAMP\b`), []byte("TIMESTAMPTZ")},
	{regexp.MustCompile(`\bBLOB\b`), []byte("BYTEA")},
}

func (p postgresFS) Open(name string) (fs.File, error) {
	file, err := p.FS.Open(name)
	if err != nil {
		return nil, err
	}
	info, err := file.Stat()
	if err != nil || info.IsDir() {
		return file, err
	}
	defer file.Close()
	text, err := fs.ReadFile(p.FS, name)
	if err != nil {
		return nil, err
	}
	for _, w := range postgresWords {
		text = w.word.ReplaceAll(text, w.with)
	}
	return &memoryFile{Reader: bytes.NewReader(text), info: info, size: int64(len(text))}, nil
}

// memoryFile is a rewritten file: the original's name and times, its own size.
type memoryFile struct {
	*bytes.Reader
	info fs.FileInfo
	size int64
}

func (f *memoryFile) Stat() (fs.FileInfo, error) { return sized{f.info, f.size}, nil }
func (f *memoryFile) Close() error               { return nil }

type sized struct {
	fs.FileInfo
	size int64
}

func (s sized) Size() int64 { return s.size }

// UpTo brings an empty database to a level, which has to be one of ours.
func UpTo(ctx context.Context, dialect string, db *sql.DB, level int64) error {
	provider, err := New(dialect, db)
	if err != nil {
		return err
	}
	_, newest, err := provider.GetVersions(ctx)
	if err != nil {
		return fmt.Errorf("level of the schema: %w", err)
	}
	known := false
	for _, source := range provider.ListSources() {
		known = known || source.Version == level
	}
	switch {
	case level > newest:
		return fmt.Errorf("it was made by a later version, and this one knows levels up to %d", newest)
	case !known:
		return fmt.Errorf("this version knows no level %d", level)
	}
	if _, err := provider.UpTo(ctx, level); err != nil {
		return fmt.Errorf("migrate: %w", err)
	}
	return nil
}

// Empty takes every table away again.
func Empty(ctx context.Context, dialect string, db *sql.DB) error {
	provider, err := New(dialect, db)
	if err != nil {
		return err
	}
	if _, err := provider.DownTo(ctx, 0); err != nil {
		return fmt.Errorf("migrate down: %w", err)
	}
	return nil
}
