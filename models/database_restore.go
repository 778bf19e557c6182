package models

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"time"

	modernc "modernc.org/sqlite"
)

// Restored is what a restore came to.
type Restored struct {
	Copied
	Aside     string   // where the database that was there before lies now; "" when there was none
	Forgotten []string // ids of people whom that database had forgotten
}

// RestoreDatabase puts a copy that CopyDatabase made, or any sound database
// file of Tenter's, in the place of a database. An existing one is only
// replaced when replace says so, and is kept beside the new one under another
// name; while a program holds it, nothing is done. The copy is checked before
// and, in its place, after. At no moment is there no database: the new one
// takes the name of the old one in one step.
func RestoreDatabase(ctx context.Context, from, to string, replace bool, now time.Time) (*Restored, error) {
	if err := checkSum(from); err != nil {
		return nil, err
	}
	held, err := SoundFile(ctx, from)
	if err != nil {
		return nil, err
	}
	_, err = os.Stat(to)
	switch there := err == nil; {
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return nil, fmt.Errorf("look at the database: %w", err)
	case there && !replace:
		return nil, fmt.Errorf("%s exists already and was left alone; to put the copy in its place, say --replace", to)
	}
	ready := to + ".restored-" + now.UTC().Format(CopyTime)
	copied, err := CopyDatabase(ctx, from, ready)
	if err != nil {
		return nil, err
	}
	out := &Restored{Copied: *copied}
	if err := errors.Join(out.takePlace(ctx, ready, to, now), gone(ready), gone(SumPath(ready))); err != nil {
		return nil, err
	}
	out.Path = to
	after, err := SoundFile(ctx, to)
	if err != nil {
		return nil, fmt.Errorf("the restored database is not sound; what was there before lies at %s: %w", out.Aside, err)
	}
	if err := after.between(held, held); err != nil {
		return nil, fmt.Errorf("the restored database differs from the copy; what was there before lies at %s: %w", out.Aside, err)
	}
	return out, nil
}

// CopyTime is how a moment is written in the name of a copy.
const CopyTime = "20060102T150405.000000Z"

// takePlace gives the verified file at ready the name to.
func (r *Restored) takePlace(ctx context.Context, ready, to string, now time.Time) (err error) {
	if _, err := os.Stat(to); err == nil {
		r.Forgotten, _ = forgottenIn(ctx, to) // a damaged one can't say
		alone, err := holdAlone(ctx, to)
		if err != nil {
			return err
		}
		defer func() { err = errors.Join(err, alone.release()) }()
		r.Aside = to + ".replaced-" + now.UTC().Format(CopyTime)
		if err := moveAside(to, r.Aside, alone == nil); err != nil {
			return err
		}
	}
	if err := os.Rename(ready, to); err != nil {
		return fmt.Errorf("put the copy in its place: %w", err)
	}
	return syncFolder(to)
}

// moveAside keeps a database under a second name, until the new one takes the
// first. A sound one has been folded into a single file; a damaged one takes
// its log along.
func moveAside(path, aside string, damaged bool) error {
	for _, ending := range []string{"-wal", "-shm", "-journal"} {
		var err error
		if damaged {
			err = os.Rename(path+ending, aside+ending)
		} else {
			err = os.Remove(path + ending)
		}
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("keep what was there before: %w", err)
		}
	}
	if os.Link(path, aside) == nil {
		return nil
	}
	if err := os.Rename(path, aside); err != nil { // a file system without links
		return fmt.Errorf("keep what was there before: %w", err)
	}
	return nil
}

// ErrHeld tells that another program has the database open.
var ErrHeld = errors.New("a server or another program holds this database; stop it first. Nothing was changed")

// alone is a database that nobody else has open or can open.
type alone struct {
	db   *sql.DB
	conn *sql.Conn
}

// holdAlone locks a database against everybody, folds its log into it, and
// refuses when anybody has it open: in WAL mode every open connection holds a
// shared lock, busy or not (https://www.sqlite.org/wal.html, section 4 and
// locking mode exclusive). It returns nil for a file that SQLite can't read:
// no server can be serving that.
func holdAlone(ctx context.Context, path string) (*alone, error) {
	a, err := lockAlone(ctx, path)
	var e *modernc.Error
	if errors.As(err, &e) {
		switch e.Code() & primaryCode {
		case sqliteBusy, sqliteLocked:
			return nil, ErrHeld
		case sqliteNotADatabase, sqliteCorrupt:
			return nil, nil
		}
	}
	return a, err
}

func lockAlone(ctx context.Context, path string) (*alone, error) {
	db, err := openFile(ctx, path, "mode=rw&_busy_timeout=0")
	if err != nil {
		return nil, err
	}
	conn, err := db.Conn(ctx)
	if err != nil {
		return nil, errors.Join(err, db.Close())
	}
	a := &alone{db, conn}
	// A journal in memory: one on the disk would bear the name of the next
	// database's.
	err = a.all(ctx, "PRAGMA locking_mode = EXCLUSIVE", "PRAGMA journal_mode = DELETE", "PRAGMA journal_mode = MEMORY", "BEGIN EXCLUSIVE")
	if err != nil {
		return nil, errors.Join(fmt.Errorf("hold the database: %w", err), conn.Close(), db.Close())
	}
	return a, nil
}

func (a *alone) all(ctx context.Context, statements ...string) error {
	for _, statement := range statements {
		if _, err := a.conn.ExecContext(ctx, statement); err != nil {
			return err
		}
	}
	return nil
}

func (a *alone) release() error {
	if a == nil {
		return nil
	}
	_, err := a.conn.ExecContext(context.Background(), "ROLLBACK")
	return errors.Join(err, a.conn.Close(), a.db.Close())
}

// forgottenIn reads who was forgotten in a database, so that an older copy
// does not bring them back.
func forgottenIn(ctx context.Context, path string) (ids []string, err error) {
	db, err := openFile(ctx, path, servedFile)
	if err != nil {
		return nil, err
	}
	err = eachRow(ctx, db, "SELECT id FROM people WHERE forgotten_at IS NOT NULL ORDER BY id", func(rows *sql.Rows) error {
		var id string
		err := rows.Scan(&id)
		ids = append(ids, id)
		return err
	})
	return ids, errors.Join(err, db.Close())
}
