// Package photostore keeps the pictures of photos: in a folder, or in an
// object store that speaks the S3 protocol.
package photostore

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"

	"tenter/models"
)

// fileKey is what every key looks like; nothing else ever becomes a path.
var fileKey = regexp.MustCompile(`^[0-9a-f]{2}/[0-9a-f-]{36}-[a-z]+\.jpg$`)

// partEnding is on the names of files that are not whole yet.
const partEnding = ".part"

// ours tells whether a file was written by a store of photos, whole or not.
// Whatever else lies in the same place is somebody else's: it is neither
// listed nor removed.
func ours(key string) bool {
	whole, behind, _ := strings.Cut(key, ".jpg.")
	return fileKey.MatchString(key) ||
		fileKey.MatchString(whole+".jpg") && strings.HasSuffix(behind, partEnding) && !strings.Contains(behind, "/") && filepath.IsLocal(key)
}

// Folder keeps photos as files. Others on the machine may not read them.
type Folder struct{ path string }

var _ models.PhotoFiles = (*Folder)(nil)

// NewFolder keeps photos in a folder, which is made when the first one comes.
func NewFolder(path string) *Folder { return &Folder{path} }

func (f *Folder) file(key string) (string, error) {
	if !fileKey.MatchString(key) {
		return "", fmt.Errorf("%q is no key of a photo", key)
	}
	return filepath.Join(f.path, filepath.FromSlash(key)), nil
}

// Put writes a file beside its place, brings it to the disk, and gives it its
// name in one step.
func (f *Folder) Put(_ context.Context, key string, content []byte) (err error) {
	path, err := f.file(key)
	if err != nil {
		return err
	}
	if err := f.makeFolder(filepath.Dir(path)); err != nil {
		return err
	}
	part, err := os.CreateTemp(filepath.Dir(path), filepath.Base(path)+".*"+partEnding) // with mode 0600
	if err != nil {
		return fmt.Errorf("keep a photo: %w", err)
	}
	defer func() {
		if err != nil {
			os.Remove(part.Name()) //nolint:errcheck // what is left the sweep finds
		}
	}()
	_, err = part.Write(content)
	if err := errors.Join(err, part.Sync(), part.Close()); err != nil {
		return fmt.Errorf("keep a photo: %w", err)
	}
	if err := os.Rename(part.Name(), path); err != nil {
		return fmt.Errorf("keep a photo: %w", err)
	}
	return syncFolder(filepath.Dir(path))
}

// makeFolder makes one of the folders within, so that it lasts.
func (f *Folder) makeFolder(path string) error {
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		return nil
	}
	if err := os.MkdirAll(path, 0o700); err != nil {
		return fmt.Errorf("folder of photos: %w", err)
	}
	return errors.Join(syncFolder(f.path), syncFolder(filepath.Dir(f.path)))
}

// syncFolder makes new names in a folder last through a power cut.
func syncFolder(path string) error {
	folder, err := os.Open(path)
	if err != nil {
		return fmt.Errorf("folder of photos: %w", err)
	}
	if err := errors.Join(folder.Sync(), folder.Close()); err != nil {
		return fmt.Errorf("folder of photos: %w", err)
	}
	return nil
}

// Open reads a file.
func (f *Folder) Open(_ context.Context, key string) (io.ReadCloser, error) {
	path, err := f.file(key)
	if err != nil {
		return nil, err
	}
	file, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("read a photo: %w", err)
	}
	return file, nil
}

// Remove removes a file.
func (f *Folder) Remove(_ context.Context, key string) error {
	if !ours(key) {
		return fmt.Errorf("%q is no key of a photo", key)
	}
	if err := os.Remove(filepath.Join(f.path, filepath.FromSlash(key))); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("remove a photo: %w", err)
	}
	return nil
}

// List goes through all photos, those that a crash left half written too.
func (f *Folder) List(ctx context.Context, each func(models.StoredPhoto) error) error {
	return filepath.WalkDir(f.path, func(path string, entry fs.DirEntry, err error) error {
		if errors.Is(err, fs.ErrNotExist) { // no photo yet, or gone meanwhile
			return nil
		}
		if err := errors.Join(err, ctx.Err()); err != nil {
			return fmt.Errorf("look through the photos: %w", err)
		}
		if !entry.Type().IsRegular() {
			return nil
		}
		key, err := filepath.Rel(f.path, path)
		if err != nil {
			return fmt.Errorf("look through the photos: %w", err)
		}
		if key = filepath.ToSlash(key); !ours(key) {
			return nil
		}
		info, err := entry.Info()
		if errors.Is(err, fs.ErrNotExist) {
			return nil
		}
		if err != nil {
			return fmt.Errorf("look through the photos: %w", err)
		}
		return each(models.StoredPhoto{Key: key, Bytes: info.Size(), Written: info.ModTime()})
	})
}

// LinkInto gives a file a second name in another folder, so that a backup on
// the same disk takes no room. Content never changes under a key, so the two
// can't come to differ.
func (f *Folder) LinkInto(other *Folder, key string) error {
	path, err := f.file(key)
	if err != nil {
		return err
	}
	to, err := other.file(key)
	if err != nil {
		return err
	}
	if err := other.makeFolder(filepath.Dir(to)); err != nil {
		return err
	}
	return errors.Join(os.Link(path, to), syncFolder(filepath.Dir(to)))
}
