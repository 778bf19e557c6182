package models

import (
	"context"
	"errors"
	"fmt"
	"time"

	"gorm.io/gorm"

	"tenter/models/photo"
)

// Photo is a picture of a tester's piece or of a sample. A tester's is for
// their own eyes until they send their first report. Its pictures are files in the store of photos,
// written anew from what came, in three sizes. Removing one takes its files
// away for good and leaves the row, so that the log can tell that there was
// one. The same file sent to the same place again is the same photo.
type Photo struct {
	ID           string  `gorm:"primaryKey"`
	AssignmentID *string // of a tester's piece
	SampleID     *string // of a sample
	AddedBy      *string
	Caption      string // what it shows; also its text alternative
	SentHash     string `json:"-"` // SHA-256 of the file as it came; "" once it is removed
	Width        int    // pixels of the largest picture
	Height       int
	RemovedAt    *time.Time
	Revision     int
	CreatedAt    time.Time
	UpdatedAt    time.Time

	Files []PhotoFile `gorm:"-" json:"-"`
}

// Limits of photos (chosen), beside those of models/photo.
const (
	MostPhotoBytes     = 16 << 20 // of a file as it comes
	MostPhotosOfReport = 12
	MostPhotosOfSample = 24
	LongestCaption     = 300 // characters
	decodingMemory     = 384 << 20
	mostPhotosEver     = 200 // of one place, removed ones too: nobody adds and removes for ever
)

// PhotoPlace is what a photo belongs to: exactly one of the two.
type PhotoPlace struct{ AssignmentID, SampleID string }

func (p PhotoPlace) where() (string, string) {
	if p.SampleID != "" {
		return "sample_id = ?", p.SampleID
	}
	return "assignment_id = ?", p.AssignmentID
}

// Most is how many photos a place has room for.
func (p PhotoPlace) Most() int {
	if p.SampleID != "" {
		return MostPhotosOfSample
	}
	return MostPhotosOfReport
}

// sentPhotos picks the photos that the studio may see: of samples, and of
// testers who have sent a report.
const sentPhotos = `(sample_id IS NOT NULL OR EXISTS (SELECT 1 FROM reports r WHERE r.assignment_id = photos.assignment_id))`

// Photos returns a place's photos, the first one first: to staff what was sent,
// to a tester all of their own.
func (s *Store) Photos(ctx context.Context, actor Actor, place PhotoPlace) ([]Photo, error) {
	db := s.read(ctx)
	where, id := place.where()
	if place.SampleID != "" {
		if _, err := first[Sample](db, "sample", "id = ?", id); err != nil {
			return nil, err
		}
		return photosWhere(db, where, id)
	}
	a, err := assignmentFor(db, actor, id)
	if err != nil {
		return nil, err
	}
	if a.PersonID != actor.PersonID {
		where += " AND " + sentPhotos
	}
	return photosWhere(db, where, id)
}

// photosWhere reads photos that are there, with their files, in two queries.
func photosWhere(db *gorm.DB, where string, args ...any) ([]Photo, error) {
	var rows []Photo
	if err := db.Where("removed_at IS NULL").Where(where, args...).Order("id").Find(&rows).Error; err != nil {
		return nil, fmt.Errorf("photos: %w", err)
	}
	if len(rows) == 0 {
		return nil, nil
	}
	at, ids := make(map[string]*Photo, len(rows)), make([]string, len(rows))
	for i := range rows {
		at[rows[i].ID], ids[i] = &rows[i], rows[i].ID
	}
	var files []PhotoFile
	if err := db.Where("photo_id IN ?", ids).Order("photo_id, width DESC, size").Find(&files).Error; err != nil {
		return nil, fmt.Errorf("files of photos: %w", err)
	}
	for _, f := range files {
		at[f.PhotoID].Files = append(at[f.PhotoID].Files, f)
	}
	return rows, nil
}

// Photo returns one photo to those who may see it.
func (s *Store) Photo(ctx context.Context, actor Actor, id string) (*Photo, error) {
	return photoIn(s.read(ctx), actor, id)
}

// photoIn reads a photo as one of the studio's people or as its tester.
func photoIn(db *gorm.DB, actor Actor, id string) (*Photo, error) {
	may := `EXISTS (SELECT 1 FROM assignments a WHERE a.id = photos.assignment_id AND a.person_id = ?)`
	if actor.IsStaff() {
		may += " OR " + sentPhotos
	}
	rows, err := photosWhere(db, "id = ? AND ("+may+")", id, actor.PersonID)
	if err != nil {
		return nil, err
	}
	if len(rows) == 0 {
		return nil, notFound("photo")
	}
	return &rows[0], nil
}

// recordPhoto writes a photo's event. What a tester has not sent yet the studio
// does not read in the log either.
func (t *tx) recordPhoto(p *Photo, action string, before, after *Photo) error {
	design, sent := "", true
	if p.SampleID != nil {
		s, err := first[Sample](t.DB, "sample", "id = ?", *p.SampleID)
		if err != nil {
			return err
		}
		design = s.DesignID
	} else {
		a, err := first[Assignment](t.DB, "assignment", "id = ?", *p.AssignmentID)
		if err != nil {
			return err
		}
		if sent, err = t.reported(a.ID); err != nil {
			return err
		}
		design = a.DesignID
	}
	return t.record(design, "photo", p.ID, action, before.told(sent), after.told(sent))
}

// told is a photo as the log may keep it.
func (p *Photo) told(sent bool) any {
	if p == nil {
		return nil
	}
	kept := *p
	if !sent {
		kept.Caption = ""
	}
	return kept
}

// reported tells whether a tester has sent a report.
func (t *tx) reported(assignmentID string) (bool, error) {
	var n int64
	if err := t.Model(&Report{}).Where("assignment_id = ?", assignmentID).Count(&n).Error; err != nil {
		return false, fmt.Errorf("count reports: %w", err)
	}
	return n > 0, nil
}

// CaptionPhoto says what a photo shows. Whoever added it may, and the designer.
func (s *Store) CaptionPhoto(ctx context.Context, actor Actor, id string, revision *int, caption *string) (*Photo, error) {
	var out *Photo
	err := s.change(ctx, actor, func(t *tx) error {
		before, err := t.ownPhoto(id)
		if err != nil {
			return err
		}
		if err := checkRevision("photo", before.Revision, revision); err != nil {
			return err
		}
		after := *before
		set(&after.Caption, caption)
		var p problems
		if p.text("caption", after.Caption, false, LongestCaption); p.err() != nil {
			return p.err()
		}
		out = &after
		if unchanged(before, &after) {
			return nil
		}
		if err := t.bump("photo", &Photo{}, id, before.Revision, map[string]any{"caption": after.Caption}); err != nil {
			return err
		}
		after.Revision, after.UpdatedAt = before.Revision+1, t.now
		return t.recordPhoto(before, "captioned", before, &after)
	})
	return out, err
}

// MayChange tells whether somebody who sees a photo may caption and remove it:
// whoever added it, and the designer.
func (p Photo) MayChange(actor Actor) bool {
	return p.AddedBy != nil && *p.AddedBy == actor.PersonID || actor.Has(Designer)
}

// ownPhoto returns a photo that the actor may change.
func (t *tx) ownPhoto(id string) (*Photo, error) {
	p, err := photoIn(t.DB, t.actor, id)
	if err != nil {
		return nil, err
	}
	if !p.MayChange(t.actor) {
		return nil, failf(Forbidden, "Somebody else added this photo; ask them or the designer.")
	}
	return p, nil
}

// RemovePhoto takes a photo away for good: its files are gone with it. A
// tester may until their report is approved, whoever added a sample's and the
// designer at any time.
func (s *Store) RemovePhoto(ctx context.Context, actor Actor, id string) error {
	var files []PhotoFile
	err := s.change(ctx, actor, func(t *tx) error {
		before, err := t.ownPhoto(id)
		if err != nil {
			return err
		}
		if err := t.removableBy(before); err != nil {
			return err
		}
		files = before.Files
		if err := t.bump("photo", &Photo{}, id, before.Revision, map[string]any{"removed_at": t.now, "caption": "", "sent_hash": ""}); err != nil {
			return err
		}
		if err := t.Where("photo_id = ?", id).Delete(&PhotoFile{}).Error; err != nil {
			return fmt.Errorf("remove photo: %w", err)
		}
		return t.recordPhoto(before, "removed", before, nil)
	})
	if err == nil {
		s.removePhotoFiles(ctx, files)
	}
	return err
}

func (t *tx) removableBy(p *Photo) error {
	if p.AssignmentID == nil || t.actor.Has(Designer) {
		return nil
	}
	var approved int64
	err := t.Model(&Report{}).Where("assignment_id = ? AND superseded_at IS NULL AND approved_at IS NOT NULL", *p.AssignmentID).Count(&approved).Error
	if err != nil {
		return fmt.Errorf("approved reports: %w", err)
	}
	if approved > 0 {
		return failf(Conflict, "The report is approved, and its photos with it; ask the designer to remove this one.")
	}
	return nil
}

// unreadablePhoto turns what is wrong with a file into an error of ours.
func unreadablePhoto(err error) error {
	var u *photo.Unreadable
	if errors.As(err, &u) {
		return &Error{Kind: Invalid, Message: "This file was not taken as a photo; nothing was changed.", Fields: []FieldProblem{{"photo", u.Says}}}
	}
	return err
}
