package server

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"tenter/models"
	"tenter/server/photostore"
)

// Backup is a verified copy of a database and of the photos that it speaks of,
// which lie beside it in a folder named after it.
type Backup struct {
	*models.Copied
	Photos int      // files
	Lost   []string // keys of files that the store of photos lacks or that are not what was written
}

// PhotosBeside is the folder of the photos of a database file.
func PhotosBeside(database string) string { return database + photosBehind }

// BackUp makes a verified copy of a SQLite database and its photos. Photos are
// gathered before the database is copied and again after it, so that one which
// is removed meanwhile is there as well; what the copy does not speak of is
// left out at the end. Files are linked where they lie on the same disk, for
// their content never changes, and each is held against its row. earlier is a
// backup to link from when the photos lie elsewhere; "" for none.
func BackUp(ctx context.Context, database, to string, photos models.PhotoFiles, earlier string) (made *Backup, err error) {
	folder, part := PhotosBeside(to), PhotosBeside(to)+".part"
	if _, err := os.Lstat(folder); err == nil {
		return nil, fmt.Errorf("%s exists already: %w", folder, fs.ErrExist)
	}
	defer func() {
		err = errors.Join(err, os.RemoveAll(part))
		if err != nil && made != nil {
			err = errors.Join(err, gone(to), gone(models.SumPath(to)))
		}
	}()
	g := gathering{photos: photos, earlier: PhotosBeside(earlier), into: photostore.NewFolder(part)}
	rows, err := models.PhotoRowsOf(ctx, database)
	if err != nil {
		return nil, err
	}
	if err := g.all(ctx, rows); err != nil {
		return nil, err
	}
	copied, err := models.CopyDatabase(ctx, database, to)
	if err != nil {
		return nil, err
	}
	made = &Backup{Copied: copied}
	if rows, err = models.PhotoRowsOf(ctx, to); err != nil {
		return made, err
	}
	g.lost = nil
	if err := g.all(ctx, rows); err != nil {
		return made, err
	}
	made.Lost, made.Photos = g.lost, len(rows)-len(g.lost)
	if made.Photos == 0 {
		return made, nil
	}
	return made, errors.Join(onlyThese(ctx, g.into, rows), os.Rename(part, folder))
}

// gathering brings photos together in a folder.
type gathering struct {
	photos  models.PhotoFiles
	earlier string
	into    *photostore.Folder
	lost    []string
}

func (g *gathering) all(ctx context.Context, rows []models.PhotoFile) error {
	for _, f := range rows {
		if _, err := models.ReadPhotoFile(ctx, g.into, f); err == nil {
			continue // gathered before
		}
		if err := g.one(ctx, f); models.IsLost(err) {
			g.lost = append(g.lost, f.Key())
		} else if err != nil {
			return fmt.Errorf("copy the photos: %w", err)
		}
	}
	return nil
}

func (g *gathering) one(ctx context.Context, f models.PhotoFile) error {
	sources := []models.PhotoFiles{g.photos}
	if g.earlier != photosBehind {
		sources = append(sources, photostore.NewFolder(g.earlier))
	}
	for _, source := range sources {
		folder, ok := source.(*photostore.Folder)
		if !ok || folder.LinkInto(g.into, f.Key()) != nil {
			continue // another disk, or not there
		}
		if _, err := models.ReadPhotoFile(ctx, g.into, f); err == nil {
			return nil
		}
		if err := g.into.Remove(ctx, f.Key()); err != nil {
			return err
		}
	}
	content, err := models.ReadPhotoFile(ctx, g.photos, f)
	if err != nil {
		return err
	}
	return g.into.Put(ctx, f.Key(), content)
}

// onlyThese removes from a folder what the rows don't speak of.
func onlyThese(ctx context.Context, folder *photostore.Folder, rows []models.PhotoFile) error {
	keep := map[string]bool{}
	for _, f := range rows {
		keep[f.Key()] = true
	}
	var others []string
	err := folder.List(ctx, func(f models.StoredPhoto) error {
		if !keep[f.Key] {
			others = append(others, f.Key)
		}
		return nil
	})
	for _, key := range others {
		err = errors.Join(err, folder.Remove(ctx, key))
	}
	return err
}

// KeepPhotosAside keeps all files of a folder of photos in another one, by
// links or copies, before an older copy of the database takes the place of the
// one that they belong to. An object store keeps earlier versions by itself
// where that is turned on.
func KeepPhotosAside(ctx context.Context, photos models.PhotoFiles, aside string) error {
	from, ok := photos.(*photostore.Folder)
	if !ok {
		return nil
	}
	to := photostore.NewFolder(PhotosBeside(aside))
	return from.List(ctx, func(f models.StoredPhoto) error {
		if from.LinkInto(to, f.Key) == nil {
			return nil
		}
		r, err := from.Open(ctx, f.Key)
		if err != nil {
			return nil //nolint:nilerr // half a file of a crash, or gone meanwhile
		}
		content, err := io.ReadAll(r)
		if err := errors.Join(err, r.Close()); err != nil {
			return fmt.Errorf("keep the photos: %w", err)
		}
		return to.Put(ctx, f.Key, content)
	})
}

// RestorePhotos puts the photos that a restored database speaks of back from
// the folder beside its copy, as far as they are not there. It returns how many
// were put back, and those that are neither here nor there.
func RestorePhotos(ctx context.Context, store *models.Store, photos models.PhotoFiles, copied string) (put int, lost []string, err error) {
	rows, err := store.PhotoFileRows(ctx)
	if err != nil {
		return 0, nil, err
	}
	from := photostore.NewFolder(PhotosBeside(copied))
	for _, f := range rows {
		if _, err := models.ReadPhotoFile(ctx, photos, f); err == nil {
			continue
		}
		content, err := models.ReadPhotoFile(ctx, from, f)
		if models.IsLost(err) {
			lost = append(lost, f.Key())
			continue
		}
		if err == nil {
			err = photos.Put(ctx, f.Key(), content)
		}
		if err != nil {
			return put, lost, fmt.Errorf("put the photos back: %w", err)
		}
		put++
	}
	return put, lost, nil
}

// newestIn is the newest backup in a folder, or "".
func newestIn(folder string) (string, error) {
	names, err := backupsIn(folder)
	if err != nil || len(names) == 0 {
		return "", err
	}
	return filepath.Join(folder, names[len(names)-1]), nil
}
