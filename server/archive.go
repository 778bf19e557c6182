package server

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"tenter/migrations"
	"tenter/models"
	"tenter/models/archive"
)

// ArchiveInto makes a database of an archive, where there is none yet: at the
// archive's own level of the schema, and then brought up to date. Every
// checksum is held against its file before anything is written. When anything
// fails, what was begun is taken away again.
func ArchiveInto(ctx context.Context, from io.ReaderAt, size int64, target string, photos models.PhotoFiles) (*archive.Manifest, error) {
	a, err := archive.Open(from, size)
	if err == nil {
		err = a.Verify()
	}
	if err != nil {
		return nil, err
	}
	if IsPostgres(target) {
		err = intoPostgres(ctx, a, target, photos)
	} else {
		err = intoFile(ctx, a, target, photos)
	}
	return &a.Manifest, err
}

var errNotFresh = errors.New("an archive goes into a fresh database only, and this one is in use. " +
	"Name a file that isn't there yet or an empty PostgreSQL database with --database; nothing was changed")

// intoFile fills a file beside the target, which gets its name when it is whole.
func intoFile(ctx context.Context, a *archive.Archive, target string, photos models.PhotoFiles) (err error) {
	if _, err := os.Lstat(target); err == nil {
		return errNotFresh
	}
	if err := os.MkdirAll(filepath.Dir(target), 0o700); err != nil {
		return fmt.Errorf("folder of the database: %w", err)
	}
	folder, err := os.MkdirTemp(filepath.Dir(target), filepath.Base(target)+".*.part")
	if err != nil {
		return fmt.Errorf("make the database: %w", err)
	}
	defer func() { err = errors.Join(err, os.RemoveAll(folder)) }()
	part := filepath.Join(folder, "tenter.db")
	if err := fill(ctx, a, part, photos); err != nil {
		return err
	}
	if _, err := models.SoundFile(ctx, part); err != nil {
		return err
	}
	if err := os.Link(part, target); errors.Is(err, fs.ErrExist) {
		return errNotFresh
	} else if err != nil { // a file system without links
		return os.Rename(part, target)
	}
	return nil
}

// intoPostgres fills a database that has no tables yet.
func intoPostgres(ctx context.Context, a *archive.Archive, target string, photos models.PhotoFiles) error {
	store, err := models.Open(target, models.Options{})
	if err != nil {
		return err
	}
	db, err := store.SQL()
	if err == nil {
		var tables int
		err = db.QueryRowContext(ctx, `SELECT count(*) FROM information_schema.tables WHERE table_schema = current_schema() AND table_name <> 'goose_db_version'`).Scan(&tables)
		if err == nil && tables > 0 {
			err = errNotFresh
		}
	}
	if err = errors.Join(err, store.Close()); err != nil {
		return err
	}
	if err := fill(ctx, a, target, photos); err != nil {
		return errors.Join(err, emptied(context.WithoutCancel(ctx), target))
	}
	return nil
}

// emptied takes the tables away again that fill had made.
func emptied(ctx context.Context, target string) error {
	store, err := models.Open(target, models.Options{})
	if err != nil {
		return err
	}
	db, err := store.SQL()
	if err == nil {
		err = migrations.Empty(ctx, store.Dialect(), db)
	}
	return errors.Join(err, store.Close())
}

// fill makes the schema, reads the archive into it and checks what came of it.
func fill(ctx context.Context, a *archive.Archive, target string, photos models.PhotoFiles) (err error) {
	store, err := models.Open(target, models.Options{})
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, store.Close()) }()
	db, err := store.SQL()
	if err != nil {
		return err
	}
	if err := migrations.UpTo(ctx, store.Dialect(), db, a.Manifest.Level); err != nil {
		return fmt.Errorf("the archive's schema is at level %d: %w", a.Manifest.Level, err)
	}
	if err := store.ReadArchive(ctx, a); err != nil {
		return err
	}
	if _, err := migrations.Up(ctx, store.Dialect(), db); err != nil {
		return err
	}
	faults, err := store.Check(ctx)
	if err != nil {
		return err
	}
	if len(faults) == 0 {
		return putPhotos(ctx, a, photos)
	}
	said := make([]string, len(faults))
	for i, f := range faults {
		said[i] = f.String()
	}
	return fmt.Errorf("what the archive holds breaks the studio's rules: %s", strings.Join(said, "; "))
}

// putPhotos writes the photos, and none when one of them fails. They come
// before the database has its name, as they do when they are added.
func putPhotos(ctx context.Context, a *archive.Archive, to models.PhotoFiles) (err error) {
	var put []string
	defer func() {
		if err == nil {
			return
		}
		for _, key := range put {
			err = errors.Join(err, to.Remove(context.WithoutCancel(ctx), key))
		}
	}()
	for _, e := range a.Manifest.Photos {
		if to == nil {
			return errors.New("the archive holds photos, and there is nowhere to keep them")
		}
		if e.Bytes > models.MostPhotoBytes {
			return fmt.Errorf("%s is larger than any photo that is kept", e.Name)
		}
		in, err := a.Photo(e)
		if err != nil {
			return err
		}
		content, err := io.ReadAll(in)
		if err := errors.Join(err, in.Close()); err != nil {
			return fmt.Errorf("%s: %w", e.Name, err)
		}
		key := strings.TrimPrefix(e.Name, "photos/")
		if err := to.Put(ctx, key, content); err != nil {
			return fmt.Errorf("%s: %w", e.Name, err)
		}
		put = append(put, key)
	}
	return nil
}
