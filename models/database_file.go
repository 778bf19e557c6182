package models

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"time"

	modernc "modernc.org/sqlite"
)

// fileAddress is the driver's address of a database file.
func fileAddress(path string) string {
	return (&url.URL{Scheme: "file", Opaque: (&url.URL{Path: path}).EscapedPath()}).String()
}

// Contents is what a database file holds, to be compared with another.
type Contents struct {
	Schema    int64            // level of the migrations
	Rows      map[string]int64 // by table
	LastEvent string           // id; "" when nothing was ever recorded
	LastAt    time.Time        // of that event
}

// Total counts the rows of all tables.
func (c Contents) Total() (n int64) {
	for _, rows := range c.Rows {
		n += rows
	}
	return n
}

// openFile opens an existing database file with one connection. It is never
// created, and only a still file, which nobody writes, is opened as one.
func openFile(ctx context.Context, path, parameters string) (*sql.DB, error) {
	if info, err := os.Stat(path); err != nil {
		return nil, fmt.Errorf("open the database: %w", err)
	} else if !info.Mode().IsRegular() {
		return nil, fmt.Errorf("open the database: %s is not a file", path)
	}
	db, err := sql.Open("sqlite", fileAddress(path)+"?"+parameters)
	if err != nil {
		return nil, fmt.Errorf("open %s: %w", path, err)
	}
	db.SetMaxOpenConns(1)
	if err := db.PingContext(ctx); err != nil {
		return nil, errors.Join(fmt.Errorf("open %s: %w", path, damaged(err)), db.Close())
	}
	return db, nil
}

const (
	servedFile = "mode=ro&_busy_timeout=10000&_time_format=sqlite"          // others may be writing
	stillFile  = "mode=ro&immutable=1&_foreign_keys=on&_time_format=sqlite" // nobody is
)

// SoundFile opens a database file that nobody writes, checks that it is sound
// and that it is one of Tenter's, and tells what it holds.
func SoundFile(ctx context.Context, path string) (*Contents, error) {
	parameters := stillFile
	if info, err := os.Stat(path + "-wal"); err == nil && info.Size() > 0 {
		parameters = servedFile // an immutable file's log would be left out
	}
	db, err := openFile(ctx, path, parameters)
	if err != nil {
		return nil, err
	}
	held, err := soundContents(ctx, db)
	if err = errors.Join(err, db.Close()); err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return held, nil
}

func soundContents(ctx context.Context, db *sql.DB) (*Contents, error) {
	wrong, err := unsound(ctx, db)
	if err != nil {
		return nil, err
	}
	if len(wrong) > 0 {
		return nil, fmt.Errorf("the database is damaged: %s", strings.Join(wrong, "; "))
	}
	return contentsOf(ctx, db)
}

// mostFaults bounds how many faults of one kind are told one by one (chosen).
const mostFaults = 20

// unsound asks SQLite itself what is wrong with the file and which rows point
// at nothing.
func unsound(ctx context.Context, db *sql.DB) ([]string, error) {
	var wrong []string
	err := eachRow(ctx, db, fmt.Sprintf("PRAGMA integrity_check(%d)", mostFaults), func(rows *sql.Rows) error {
		var line string
		if err := rows.Scan(&line); err != nil {
			return err
		}
		if line != "ok" {
			wrong = append(wrong, line)
		}
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("check the database: %w", damaged(err))
	}
	err = eachRow(ctx, db, `SELECT "table", parent, count(*) FROM pragma_foreign_key_check GROUP BY 1, 2 ORDER BY 1, 2`, func(rows *sql.Rows) error {
		var table, parent string
		var n int
		if err := rows.Scan(&table, &parent, &n); err != nil {
			return err
		}
		wrong = append(wrong, fmt.Sprintf("%s of %s point at nothing in %s", counted(n, "row"), table, parent))
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("check what rows point at: %w", damaged(err))
	}
	return wrong, nil
}

// damaged says in words that a file can't be read as a database.
func damaged(err error) error {
	var e *modernc.Error
	if errors.As(err, &e) {
		switch e.Code() & primaryCode {
		case sqliteNotADatabase:
			return fmt.Errorf("this is not a database: %w", err)
		case sqliteCorrupt:
			return fmt.Errorf("the database is damaged: %w", err)
		}
	}
	return err
}

// contentsOf counts everything in one read transaction.
func contentsOf(ctx context.Context, db *sql.DB) (*Contents, error) {
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return nil, fmt.Errorf("count rows: %w", damaged(err))
	}
	defer tx.Rollback() //nolint:errcheck // nothing was written
	held := &Contents{Rows: map[string]int64{}}
	var tables []string
	err = eachRow(ctx, tx, `SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name`, func(rows *sql.Rows) error {
		var name string
		err := rows.Scan(&name)
		tables = append(tables, name)
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("list tables: %w", damaged(err))
	}
	for _, table := range tables {
		var n int64
		if err := tx.QueryRowContext(ctx, `SELECT count(*) FROM "`+table+`"`).Scan(&n); err != nil {
			return nil, fmt.Errorf("count %s: %w", table, err)
		}
		held.Rows[table] = n
	}
	return held, held.readMarks(ctx, tx)
}

// readMarks reads the schema's level and the last event; a database without
// them is not one of Tenter's.
func (c *Contents) readMarks(ctx context.Context, tx *sql.Tx) error {
	for _, table := range []string{"goose_db_version", "events", "people"} {
		if _, there := c.Rows[table]; !there {
			return fmt.Errorf("this is a database, but not one of Tenter's: it has no table %s", table)
		}
	}
	if err := tx.QueryRowContext(ctx, `SELECT coalesce(max(version_id), 0) FROM goose_db_version WHERE is_applied`).Scan(&c.Schema); err != nil {
		return fmt.Errorf("level of the schema: %w", err)
	}
	err := tx.QueryRowContext(ctx, `SELECT id, at FROM events ORDER BY id DESC LIMIT 1`).Scan(&c.LastEvent, &c.LastAt)
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return fmt.Errorf("last event: %w", err)
	}
	return nil
}

// rowsOf is a pool or a transaction.
type rowsOf interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
}

func eachRow(ctx context.Context, db rowsOf, query string, read func(*sql.Rows) error) error {
	rows, err := db.QueryContext(ctx, query)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		if err := read(rows); err != nil {
			return err
		}
	}
	return rows.Err()
}

// syncFolder makes a rename in a folder last through a power cut.
func syncFolder(path string) error {
	folder, err := os.Open(filepath.Dir(path))
	if err != nil {
		return fmt.Errorf("folder of %s: %w", path, err)
	}
	if err := errors.Join(folder.Sync(), folder.Close()); err != nil {
		return fmt.Errorf("folder of %s: %w", path, err)
	}
	return nil
}
