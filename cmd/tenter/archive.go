package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"

	"tenter/models"
	"tenter/models/archive"
	"tenter/server"
)

type archiveCommand struct {
	Out   archiveOutCommand   `cmd:"" help:"Write the whole studio as one archive, while it is served."`
	In    archiveInCommand    `cmd:"" help:"Make a database of an archive, where there is none yet."`
	Check archiveCheckCommand `cmd:"" help:"Read an archive whole and hold every file against its checksum."`
}

type archiveOutCommand struct {
	File     string `arg:"" help:"The archive to make; an existing file is left alone."`
	Database string `default:"data/tenter.db" env:"TENTER_DATABASE" help:"A file (SQLite) or a postgres:// address; a server may be serving it."`
	server.PhotoSettings
}

func (c *archiveOutCommand) Run(ctx context.Context, to streams) (err error) {
	store, err := openToLook(ctx, "archive", c.Database, c.PhotoSettings)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, store.Close()) }()
	m, err := writeArchive(ctx, store, c.File)
	if err != nil {
		return err
	}
	fmt.Fprintf(to.out, "Written to %s: %s.\nIt holds people's addresses and the hashes of their passwords: keep it as you keep the database.\n", c.File, held(m))
	tellMissing(to.out, m)
	return nil
}

// writeArchive makes a file that only its owner may read, and none at all when
// it fails.
func writeArchive(ctx context.Context, store *models.Store, path string) (m *archive.Manifest, err error) {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return nil, fmt.Errorf("archive: %w", err)
	}
	m, err = store.WriteArchive(ctx, f, true)
	if err = errors.Join(err, f.Sync(), f.Close()); err != nil {
		return nil, errors.Join(err, os.Remove(path))
	}
	return m, nil
}

func held(m *archive.Manifest) string {
	return fmt.Sprintf("%d rows in %d tables and %d photos, schema level %d, made at %s", m.Total(), len(m.Tables), len(m.Photos), m.Level, m.MadeAt.Format("2006-01-02 15:04:05Z"))
}

// tellMissing names the photos that the archive could not take along.
func tellMissing(out io.Writer, m *archive.Manifest) {
	if len(m.Missing) == 0 {
		return
	}
	fmt.Fprintf(out, "%d files of photos were lost before the archive was made, and are not in it:\n", len(m.Missing))
	for _, e := range m.Missing {
		fmt.Fprintf(out, "  %s\n", e.Name)
	}
}

type archiveInCommand struct {
	File     string `arg:"" help:"The archive."`
	Database string `default:"data/tenter.db" env:"TENTER_DATABASE" help:"A file that isn't there yet (SQLite), or the postgres:// address of an empty database."`
	server.PhotoSettings
}

func (c *archiveInCommand) Run(ctx context.Context, to streams) (err error) {
	photos, err := c.PhotoSettings.Open(c.Database)
	if err != nil {
		return err
	}
	return withArchive(c.File, func(f *os.File, size int64) error {
		m, err := server.ArchiveInto(ctx, f, size, c.Database, photos)
		if err != nil {
			return err
		}
		fmt.Fprintf(to.out, "Read %s: %s. Every rule holds.\nNobody is signed in, and webhooks have to be set up again.\n", c.File, held(m))
		tellMissing(to.out, m)
		return nil
	})
}

type archiveCheckCommand struct {
	File string `arg:"" help:"The archive."`
}

func (c *archiveCheckCommand) Run(to streams) error {
	return withArchive(c.File, func(f *os.File, size int64) error {
		a, err := archive.Open(f, size)
		if err == nil {
			err = a.Verify()
		}
		if err != nil {
			return err
		}
		fmt.Fprintf(to.out, "%s is whole: %s.\n", c.File, held(&a.Manifest))
		tellMissing(to.out, &a.Manifest)
		return nil
	})
}

func withArchive(path string, use func(*os.File, int64) error) (err error) {
	f, err := os.Open(path)
	if err != nil {
		return fmt.Errorf("archive: %w", err)
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	info, err := f.Stat()
	if err != nil {
		return fmt.Errorf("archive: %w", err)
	}
	return use(f, info.Size())
}
