package models

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"time"

	"tenter/models/photo"
)

// PhotoGrace is how long a file may lie in the store of photos without a row
// (chosen): the row comes after the file, and after an older copy took the
// database's place somebody may think better of it.
const PhotoGrace = 7 * 24 * time.Hour

// SweepPhotos removes the files that no photo has: of those that were removed
// or erased, at once; of those that are not known at all, after PhotoGrace. It
// returns how many there were.
func (s *Store) SweepPhotos(ctx context.Context) (int, error) {
	strays, err := s.strayPhotos(ctx)
	if err != nil {
		return 0, err
	}
	for i, key := range strays {
		if err := s.photoFiles().Remove(ctx, key); err != nil {
			return i, err
		}
	}
	return len(strays), nil
}

// strayPhotos lists the files that nobody needs any more. The files are listed
// before the rows are read, so that one that comes meanwhile is not among them.
func (s *Store) strayPhotos(ctx context.Context) ([]string, error) {
	var found []StoredPhoto
	err := s.photoFiles().List(ctx, func(f StoredPhoto) error {
		found = append(found, f)
		return nil
	})
	if err != nil {
		return nil, err
	}
	rows, err := s.PhotoFileRows(ctx)
	if err != nil {
		return nil, err
	}
	var removed []string
	if err := s.read(ctx).Model(&Photo{}).Where("removed_at IS NOT NULL").Pluck("id", &removed).Error; err != nil {
		return nil, fmt.Errorf("removed photos: %w", err)
	}
	needed, gone := map[string]bool{}, map[string]bool{}
	for _, r := range rows {
		needed[r.Key()] = true
	}
	for _, id := range removed {
		for _, size := range photo.Sizes() {
			gone[PhotoKey(id, size)] = true
		}
	}
	old := s.Now().Add(-PhotoGrace)
	var strays []string
	for _, f := range found {
		if !needed[f.Key] && (gone[f.Key] || f.Written.Before(old)) {
			strays = append(strays, f.Key)
		}
	}
	slices.Sort(strays)
	return strays, nil
}

// CheckPhotos holds the store of photos against the rows: a file that is not
// there, one that is not what was written, and one that nobody needs. It reads
// every file.
func (s *Store) CheckPhotos(ctx context.Context) ([]Fault, error) {
	rows, err := s.PhotoFileRows(ctx)
	if err != nil {
		return nil, err
	}
	missing, other := Fault{Rule: "a photo's file is there"}, Fault{Rule: "a photo's file is what was written"}
	for _, f := range rows {
		_, err := s.PhotoContent(ctx, f)
		switch {
		case err == nil:
		case s.photoGone(ctx, f): // removed since the rows were read
		case errors.Is(err, fs.ErrNotExist):
			missing.add(f.Key())
		case errors.Is(err, errOtherContent):
			other.add(f.Key())
		default:
			return nil, err
		}
	}
	strays, err := s.strayPhotos(ctx)
	if err != nil {
		return nil, err
	}
	stray := Fault{Rule: "a file in the store of photos belongs to a photo; the server removes others by itself"}
	for _, key := range strays {
		stray.add(key)
	}
	var out []Fault
	for _, f := range []Fault{missing, other, stray} {
		if f.Many > 0 {
			out = append(out, f)
		}
	}
	return out, nil
}

func (f *Fault) add(id string) {
	if f.Many++; len(f.IDs) < mostFaults {
		f.IDs = append(f.IDs, id)
	}
}

// IsLost tells that a file is not in a store of photos, or is not what its row
// says.
func IsLost(err error) bool {
	return errors.Is(err, fs.ErrNotExist) || errors.Is(err, errOtherContent)
}

var errOtherContent = errors.New("the file is not what was written")

func (s *Store) photoGone(ctx context.Context, f PhotoFile) bool {
	_, err := first[PhotoFile](s.read(ctx), "file", "photo_id = ? AND size = ?", f.PhotoID, f.Size)
	return KindOf(err) == NotFound
}

// ReadPhotoFile reads a file from a store of photos and makes sure that it is
// what its row says.
func ReadPhotoFile(ctx context.Context, from PhotoFiles, f PhotoFile) (content []byte, err error) {
	r, err := from.Open(ctx, f.Key())
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, r.Close()) }()
	content, err = io.ReadAll(io.LimitReader(r, f.Bytes+1))
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", f.Key(), err)
	}
	if sum := sha256.Sum256(content); int64(len(content)) != f.Bytes || hex.EncodeToString(sum[:]) != f.Hash {
		return nil, fmt.Errorf("%s: %w", f.Key(), errOtherContent)
	}
	return content, nil
}
