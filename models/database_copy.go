package models

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// Copied is a verified copy of a database file.
type Copied struct {
	Path   string
	Bytes  int64
	SHA256 string // hex; also in the file of SumPath
	Contents
}

// SumPath is where the checksum of a copy stands, in the form that sha256sum
// writes and checks.
func SumPath(path string) string { return path + ".sha256" }

// copyTries is how often a copy is made anew because the studio's own writing
// made it impossible to hold it against the original (chosen).
const copyTries = 3

// CopyDatabase makes a consistent copy of a SQLite database while others read
// and write it, by VACUUM INTO on a connection of its own. The copy is opened,
// checked by SQLite itself and held against the original, row counts and last
// event, before it gets its name; it is on the disk when this returns. An
// existing file is never overwritten.
func CopyDatabase(ctx context.Context, from, to string) (*Copied, error) {
	if _, err := os.Lstat(to); err == nil {
		return nil, fmt.Errorf("%s exists already: %w", to, fs.ErrExist)
	}
	if err := os.MkdirAll(filepath.Dir(to), 0o700); err != nil {
		return nil, fmt.Errorf("folder of the copy: %w", err)
	}
	for try := 1; ; try++ {
		copied, err := copyOnce(ctx, from, to)
		if errors.Is(err, errMovedOn) && try < copyTries && ctx.Err() == nil {
			continue
		}
		return copied, err
	}
}

// errMovedOn tells that the copy and what was read of the original around it
// do not fit together. Busy writing can do that, or a copy that lacks rows.
var errMovedOn = errors.New("the copy does not hold what the database held while it was made")

func copyOnce(ctx context.Context, from, to string) (copied *Copied, err error) {
	db, err := openFile(ctx, from, servedFile)
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	before, err := contentsOf(ctx, db)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", from, err)
	}
	part, err := privateFile(to)
	if err != nil {
		return nil, err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, gone(part))
		}
	}()
	if _, err := db.ExecContext(ctx, "VACUUM INTO ?", part); err != nil {
		return nil, fmt.Errorf("copy %s: %w", from, damaged(err))
	}
	after, err := contentsOf(ctx, db)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", from, err)
	}
	copied = &Copied{Path: to}
	if copied.SHA256, copied.Bytes, err = toDisk(part); err != nil {
		return nil, err
	}
	held, err := SoundFile(ctx, part)
	if err != nil {
		return nil, fmt.Errorf("the copy is not sound: %w", err)
	}
	if err := held.between(before, after); err != nil {
		return nil, err
	}
	copied.Contents = *held
	return copied, giveName(part, copied)
}

// privateFile makes an empty file beside to that nobody else may read: a copy
// holds people's addresses.
func privateFile(to string) (string, error) {
	f, err := os.CreateTemp(filepath.Dir(to), filepath.Base(to)+".*.part") // with mode 0600
	if err != nil {
		return "", fmt.Errorf("make the copy: %w", err)
	}
	return f.Name(), f.Close()
}

// toDisk brings a file to the disk and returns its checksum and size.
func toDisk(path string) (sum string, size int64, err error) {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return "", 0, fmt.Errorf("copy: %w", err)
	}
	h := sha256.New()
	size, err = io.Copy(h, f)
	if err := errors.Join(err, f.Sync(), f.Close()); err != nil {
		return "", 0, fmt.Errorf("write the copy: %w", err)
	}
	return hex.EncodeToString(h.Sum(nil)), size, nil
}

// giveName gives a verified copy its name and its checksum a file. A link fails
// where a rename would overwrite.
func giveName(part string, c *Copied) error {
	if err := os.WriteFile(SumPath(c.Path), []byte(c.SHA256+"  "+filepath.Base(c.Path)+"\n"), 0o600); err != nil {
		return fmt.Errorf("checksum of the copy: %w", err)
	}
	if err := os.Link(part, c.Path); errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s exists already: %w", c.Path, err)
	} else if err != nil { // a file system without links
		if err := os.Rename(part, c.Path); err != nil {
			return fmt.Errorf("name the copy: %w", err)
		}
	}
	if err := gone(part); err != nil {
		return err
	}
	return syncFolder(c.Path)
}

func gone(path string) error {
	if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}

// between holds a copy against the original as it was just before and just
// after. When nobody wrote meanwhile the three are the same; the log of events
// only grows; any other table lies between the two.
func (c Contents) between(before, after *Contents) error {
	if c.Schema != before.Schema && c.Schema != after.Schema {
		return fmt.Errorf("%w: its schema is at level %d, not %d", errMovedOn, c.Schema, before.Schema)
	}
	for table, n := range before.Rows {
		low, high := min(n, after.Rows[table]), max(n, after.Rows[table])
		if have, there := c.Rows[table]; !there || have < low || have > high {
			return fmt.Errorf("%w: %d rows of %s, not %d", errMovedOn, have, table, n)
		}
	}
	if c.LastEvent < before.LastEvent || c.LastEvent > after.LastEvent {
		return fmt.Errorf("%w: its last event is another one", errMovedOn)
	}
	return nil
}

// checkSum holds a file against the checksum beside it, when there is one.
// SQLite's own check does not see a letter that was changed within a text.
func checkSum(path string) error {
	raw, err := os.ReadFile(SumPath(path))
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("checksum: %w", err)
	}
	want, _, _ := strings.Cut(strings.TrimSpace(string(raw)), " ")
	f, err := os.Open(path)
	if err != nil {
		return fmt.Errorf("checksum: %w", err)
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return fmt.Errorf("checksum of %s: %w", path, err)
	}
	if have := hex.EncodeToString(h.Sum(nil)); have != want {
		return fmt.Errorf("%s is not the file that was written: its checksum is not the one in %s", path, SumPath(path))
	}
	return nil
}
