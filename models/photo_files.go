package models

import (
	"context"
	"errors"
	"fmt"
	"io"
	"time"
)

// PhotoFiles keeps the pictures of photos, under keys that PhotoKey makes. A
// key's content never changes: it is written once, whole or not at all, and
// may be removed. It is safe for concurrent use.
type PhotoFiles interface {
	// Put writes a file so that it lasts through a power cut; when it fails,
	// nothing is there.
	Put(ctx context.Context, key string, content []byte) error
	// Open reads a file; errors.Is(err, fs.ErrNotExist) when there is none.
	Open(ctx context.Context, key string) (io.ReadCloser, error)
	// Remove removes a file; that there is none is no error.
	Remove(ctx context.Context, key string) error
	// List calls each with every photo's file there is, in no order that
	// matters; what others keep in the same place is not among them.
	List(ctx context.Context, each func(StoredPhoto) error) error
}

// StoredPhoto is one file in the store of photos.
type StoredPhoto struct {
	Key     string
	Bytes   int64
	Written time.Time
}

// PhotoFile says what the store of photos has to hold under PhotoKey(PhotoID, Size).
type PhotoFile struct {
	PhotoID string `gorm:"primaryKey"`
	Size    string `gorm:"primaryKey"` // "thumb", "screen" or "large"
	Hash    string // SHA-256, hex
	Bytes   int64
	Width   int // pixels
	Height  int
}

// Key is where its content lies in the store.
func (f PhotoFile) Key() string { return PhotoKey(f.PhotoID, f.Size) }

// PhotoKey is the name of a file in the store of photos, in one of 256 folders:
// the end of an id is random, its beginning is the time.
func PhotoKey(photoID, size string) string {
	return photoID[max(len(photoID)-2, 0):] + "/" + photoID + "-" + size + ".jpg"
}

// errNoPhotoStore is for commands and tests that run without one.
var errNoPhotoStore = failf(Unavailable, "Photos are not kept here just now; ask whoever runs the server.")

// photoFiles is the store of photos, or one that says that there is none.
func (s *Store) photoFiles() PhotoFiles {
	if s.photos == nil {
		return noPhotos{}
	}
	return s.photos
}

type noPhotos struct{}

func (noPhotos) Put(context.Context, string, []byte) error           { return errNoPhotoStore }
func (noPhotos) Open(context.Context, string) (io.ReadCloser, error) { return nil, errNoPhotoStore }
func (noPhotos) Remove(context.Context, string) error                { return errNoPhotoStore }
func (noPhotos) List(context.Context, func(StoredPhoto) error) error { return errNoPhotoStore }

// PhotoFileRows returns what the store of photos has to hold.
func (s *Store) PhotoFileRows(ctx context.Context) ([]PhotoFile, error) {
	var rows []PhotoFile
	if err := s.read(ctx).Order("photo_id, size").Find(&rows).Error; err != nil {
		return nil, fmt.Errorf("files of photos: %w", err)
	}
	return rows, nil
}

// PhotoContent reads one file of the store of photos and holds it against its
// row, for copies of the whole studio; it asks nobody's leave.
func (s *Store) PhotoContent(ctx context.Context, f PhotoFile) ([]byte, error) {
	return ReadPhotoFile(ctx, s.photoFiles(), f)
}

// PutPhotoFile writes one file into the store of photos, for copies of the
// whole studio; its row comes after it.
func (s *Store) PutPhotoFile(ctx context.Context, f PhotoFile, content []byte) error {
	return s.withRoom(ctx, s.photoFiles().Put(ctx, f.Key(), content))
}

// removePhotoFiles removes files whose rows are gone. What it can't remove now
// the sweep removes later.
func (s *Store) removePhotoFiles(ctx context.Context, files []PhotoFile) {
	ctx = context.WithoutCancel(ctx)
	for _, f := range files {
		if err := s.photoFiles().Remove(ctx, f.Key()); err != nil && !errors.Is(err, errNoPhotoStore) {
			s.log.WarnContext(ctx, "a photo's file was not removed; the sweep tries again", "photo", f.PhotoID, "size", f.Size, "error", err)
		}
	}
}

// PhotoPicture returns one size of a photo to those who may see it.
func (s *Store) PhotoPicture(ctx context.Context, actor Actor, id, size string) (*PhotoFile, error) {
	p, err := s.Photo(ctx, actor, id)
	if err != nil {
		return nil, err
	}
	for _, f := range p.Files {
		if f.Size == size {
			return &f, nil
		}
	}
	return nil, notFound("picture")
}

// ReadPicture reads a picture's content, and says so when it is lost.
func (s *Store) ReadPicture(ctx context.Context, f PhotoFile) ([]byte, error) {
	content, err := s.PhotoContent(ctx, f)
	if IsLost(err) {
		s.log.ErrorContext(ctx, "a photo's file is lost; tenter check lists all that are", "photo", f.PhotoID, "size", f.Size, "error", err)
		return nil, failf(NotFound, "This picture's file is not there any more, or not as it was; tell whoever runs the server.")
	}
	return content, err
}

// PersonPictures returns the largest picture of every photo that somebody added.
func (s *Store) PersonPictures(ctx context.Context, personID string) ([]PhotoFile, error) {
	db := s.read(ctx)
	if _, err := personIn(db, personID); err != nil {
		return nil, err
	}
	var rows []PhotoFile
	if err := db.Where("size = 'large' AND photo_id IN "+ownPhotos, personID).Order("photo_id").Find(&rows).Error; err != nil {
		return nil, fmt.Errorf("somebody's pictures: %w", err)
	}
	return rows, nil
}

// SamplePhotos returns the photos of all samples of a design, by sample.
func (s *Store) SamplePhotos(ctx context.Context, designID string) (map[string][]Photo, error) {
	rows, err := photosWhere(s.read(ctx), "sample_id IN (SELECT id FROM samples WHERE design_id = ?)", designID)
	out := map[string][]Photo{}
	for _, p := range rows {
		out[*p.SampleID] = append(out[*p.SampleID], p)
	}
	return out, err
}
