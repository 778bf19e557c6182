package models

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"

	"gorm.io/gorm"

	"tenter/models/photo"
)

// NewPhoto is a photo as it is sent.
type NewPhoto struct {
	Place   PhotoPlace
	Caption string
	Content io.Reader
}

// AddPhoto reads a file to its end, writes its picture anew in three sizes, and
// keeps it. Its files are on the disk before its row is: a crash between the
// two leaves files that nobody knows of, which the sweep removes, never a row
// without its files. The second result tells whether it was there already,
// sent before.
func (s *Store) AddPhoto(ctx context.Context, actor Actor, in NewPhoto) (*Photo, bool, error) {
	var bad problems
	bad.text("caption", in.Caption, false, LongestCaption)
	if err := bad.err(); err != nil {
		return nil, false, err
	}
	if err := photoPlaceFor(s.read(ctx), actor, in.Place); err != nil {
		return nil, false, err // before anything of it is read
	}
	file, hash, err := receive(in.Content)
	if err != nil {
		return nil, false, s.withRoom(ctx, err)
	}
	defer file.Discard()
	if known, err := s.photoSent(s.read(ctx), in.Place, hash); known != nil || err != nil {
		return known, known != nil, err
	}
	if err := photoRoom(s.read(ctx), actor, in.Place); err != nil {
		return nil, false, err // before it costs anything
	}
	pictures, err := s.rewritePhoto(ctx, file.File)
	if err != nil {
		return nil, false, err
	}
	row := Photo{ID: NewID(), Caption: in.Caption, SentHash: hash, Width: pictures[0].Width, Height: pictures[0].Height, Revision: 1}
	if row.Files, err = s.putPictures(ctx, row.ID, pictures); err != nil {
		return nil, false, err
	}
	out, again, err := s.addPhotoRow(ctx, actor, in.Place, row)
	if err != nil || again {
		s.removePhotoFiles(ctx, row.Files)
	}
	return out, again, err
}

// receive reads a photo within its bound into a file without a name.
func receive(from io.Reader) (_ NamelessFile, hash string, err error) {
	file, err := NewNamelessFile("photo")
	if err != nil {
		return NamelessFile{}, "", fmt.Errorf("receive a photo: %w", err)
	}
	defer func() {
		if err != nil {
			file.Discard()
		}
	}()
	h := sha256.New()
	n, err := io.Copy(io.MultiWriter(file, h), io.LimitReader(from, MostPhotoBytes+1))
	if err != nil {
		return NamelessFile{}, "", fmt.Errorf("receive a photo: %w", err)
	}
	if n > MostPhotoBytes {
		return NamelessFile{}, "", failf(TooLarge, "A photo may have %d MiB at most; make this one smaller and send that.", MostPhotoBytes>>20)
	}
	return file, hex.EncodeToString(h.Sum(nil)), nil
}

// rewritePhoto decodes and writes anew when there is memory to spare: those
// that come at the same moment wait for each other.
func (s *Store) rewritePhoto(ctx context.Context, file *os.File) ([]photo.Picture, error) {
	header, err := photo.Look(file)
	if err != nil {
		return nil, unreadablePhoto(err)
	}
	need := min(header.Bytes(), decodingMemory)
	if err := s.decoding.Acquire(ctx, need); err != nil {
		return nil, err
	}
	defer s.decoding.Release(need)
	pictures, err := photo.Rewrite(file, header)
	if err != nil {
		return nil, unreadablePhoto(err)
	}
	return pictures, nil
}

// putPictures writes all of a photo's files or none.
func (s *Store) putPictures(ctx context.Context, id string, pictures []photo.Picture) ([]PhotoFile, error) {
	var files []PhotoFile
	for _, p := range pictures {
		sum := sha256.Sum256(p.JPEG)
		f := PhotoFile{PhotoID: id, Size: p.Size, Hash: hex.EncodeToString(sum[:]), Bytes: int64(len(p.JPEG)), Width: p.Width, Height: p.Height}
		files = append(files, f)
		if err := s.photoFiles().Put(ctx, f.Key(), p.JPEG); err != nil {
			s.removePhotoFiles(ctx, files)
			return nil, s.withRoom(ctx, err)
		}
	}
	return files, nil
}

// addPhotoRow keeps a photo whose files are written.
func (s *Store) addPhotoRow(ctx context.Context, actor Actor, place PhotoPlace, row Photo) (*Photo, bool, error) {
	err := s.change(ctx, actor, func(t *tx) error {
		if err := photoRoom(t.DB, actor, place); err != nil {
			return err
		}
		row.CreatedAt, row.UpdatedAt = t.now, t.now
		if actor.PersonID != "" {
			row.AddedBy = &actor.PersonID
		}
		if place.SampleID != "" {
			row.SampleID = &place.SampleID
		} else {
			row.AssignmentID = &place.AssignmentID
		}
		if err := t.Create(&row).Error; err != nil {
			return fmt.Errorf("add photo: %w", err)
		}
		if err := createAll(t.DB, row.Files); err != nil {
			return fmt.Errorf("files of the photo: %w", err)
		}
		return t.recordPhoto(&row, "added", nil, &row)
	})
	if err == nil {
		return &row, false, nil
	}
	// The same file may have come twice at the same moment.
	if errors.Is(err, gorm.ErrDuplicatedKey) || KindOf(err) == Conflict {
		if known, also := s.photoSent(s.read(ctx), place, row.SentHash); also == nil && known != nil {
			return known, true, nil
		}
	}
	return nil, false, err
}

// photoRoom refuses a photo where there are enough, or where the actor may not
// add any.
func photoRoom(db *gorm.DB, actor Actor, place PhotoPlace) error {
	if err := photoPlaceFor(db, actor, place); err != nil {
		return err
	}
	where, id := place.where()
	var count struct{ There, Ever int }
	err := db.Raw(`SELECT count(*) AS ever, coalesce(sum(CASE WHEN removed_at IS NULL THEN 1 ELSE 0 END), 0) AS there FROM photos WHERE `+where, id).Scan(&count).Error
	if err != nil {
		return fmt.Errorf("count photos: %w", err)
	}
	switch {
	case count.There >= place.Most():
		return failf(Conflict, "There are %d photos here, which is the most that there can be; remove one first.", place.Most())
	case count.Ever >= mostPhotosEver:
		return failf(Conflict, "%d photos were added here by now, removed ones too, which is the most that there can be.", mostPhotosEver)
	}
	return nil
}

// photoPlaceFor refuses a place that there is not or that is not the actor's.
func photoPlaceFor(db *gorm.DB, actor Actor, place PhotoPlace) error {
	if place.SampleID != "" {
		_, err := first[Sample](db, "sample", "id = ?", place.SampleID)
		return err
	}
	a, err := assignmentFor(db, actor, place.AssignmentID)
	switch {
	case err != nil:
		return err
	case a.PersonID != actor.PersonID:
		return failf(Forbidden, "Only the tester adds photos of this piece.")
	case a.WithdrawnAt != nil:
		return failf(Conflict, "This assignment was withdrawn; ask the designer to assign the size again.")
	}
	return nil
}

// photoSent returns the photo that a file has become when it was sent before.
func (s *Store) photoSent(db *gorm.DB, place PhotoPlace, hash string) (*Photo, error) {
	where, id := place.where()
	rows, err := photosWhere(db, "sent_hash = ? AND "+where, hash, id)
	if err != nil || len(rows) == 0 {
		return nil, err
	}
	return &rows[0], nil
}
