package models

import (
	"context"
	"fmt"
	"strings"

	"gorm.io/gorm"
)

// Size is one graded size of a design. Positions run from the smallest, 1.
// At most one size of a design is the one whose numbers are spoken on camera.
type Size struct {
	ID       string `gorm:"primaryKey"`
	DesignID string
	Position int
	Name     string
	Filmed   bool

	Body []BodyMeasurement `gorm:"-"`
}

// BodyMeasurement is a measurement of the body that a size is for.
type BodyMeasurement struct {
	SizeID    string `gorm:"primaryKey"`
	Dimension string `gorm:"primaryKey"`
	Length    Length `gorm:"embedded"`
}

const (
	longestSizeName = 24
	mostDimensions  = 20
)

func validateSizes(sizes []Size) error {
	var p problems
	if len(sizes) == 0 || len(sizes) > mostPerDesign {
		p.addf("sizes", "has to hold 1 to %d sizes", mostPerDesign)
	}
	seen := map[string]int{}
	filmed := 0
	for i, z := range sizes {
		at := fmt.Sprintf("sizes[%d]", i)
		p.line(at+".name", z.Name, true, longestSizeName)
		if j, twice := seen[strings.ToLower(z.Name)]; twice {
			p.addf(at+".name", "is the same as that of sizes[%d]; every size needs its own name", j)
		}
		seen[strings.ToLower(z.Name)] = i
		if z.Filmed {
			filmed++
		}
		if len(z.Body) > mostDimensions {
			p.addf(at+".body", "has more than %d measurements", mostDimensions)
		}
		dimensions := map[string]bool{}
		for j, b := range z.Body {
			field := fmt.Sprintf("%s.body[%d]", at, j)
			p.text(field+".dimension", b.Dimension, true, shortText)
			if dimensions[b.Dimension] {
				p.addf(field+".dimension", "is given twice for this size")
			}
			dimensions[b.Dimension] = true
			p.length(field, b.Length)
		}
	}
	if filmed > 1 {
		p.addf("sizes", "marks %d sizes as the filmed one; only one can be", filmed)
	}
	return p.err()
}

// PutSizes replaces a design's sizes by the given ones, in order. A size with
// an id keeps its counts, samples and testers; one that is left out must not
// be in use.
func (s *Store) PutSizes(ctx context.Context, actor Actor, idOrSlug string, revision *int, sizes []Size) (*Design, error) {
	if err := validateSizes(sizes); err != nil {
		return nil, err
	}
	var design *Design
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if design, err = designIn(t.DB, idOrSlug); err != nil {
			return err
		}
		if err := checkRevision("design", design.Revision, revision); err != nil {
			return err
		}
		before, err := sizesIn(t.DB, []string{design.ID})
		if err != nil {
			return err
		}
		if err := t.replaceSizes(design.ID, before, sizes); err != nil {
			return err
		}
		if err := t.touchDesign(design); err != nil {
			return err
		}
		return t.record(design.ID, "sizes", design.ID, "changed", before, sizes)
	})
	return design, err
}

func (t *tx) replaceSizes(designID string, before, after []Size) error {
	gone, err := leftOut("sizes", "size", before, after)
	if err != nil {
		return err
	}
	for _, z := range gone {
		if err := t.removeSize(z); err != nil {
			return err
		}
	}
	if err := t.freeNames("sizes", designID); err != nil {
		return err
	}
	for i := range after {
		z := &after[i]
		z.DesignID, z.Position = designID, i+1
		if z.ID == "" {
			z.ID = NewID()
			if err := t.Create(z).Error; err != nil {
				return fmt.Errorf("add size: %w", err)
			}
		} else if err := t.Model(&Size{}).Where("id = ?", z.ID).Updates(map[string]any{"position": z.Position, "name": z.Name, "filmed": z.Filmed}).Error; err != nil {
			return fmt.Errorf("change size: %w", err)
		}
		if err := t.replaceBody(z); err != nil {
			return err
		}
	}
	return nil
}

func (t *tx) replaceBody(z *Size) error {
	if err := t.Where("size_id = ?", z.ID).Delete(&BodyMeasurement{}).Error; err != nil {
		return fmt.Errorf("body measurements: %w", err)
	}
	if len(z.Body) == 0 {
		return nil
	}
	for i := range z.Body {
		z.Body[i].SizeID = z.ID
	}
	if err := t.Create(&z.Body).Error; err != nil {
		return fmt.Errorf("body measurements: %w", err)
	}
	return nil
}

// removeSize refuses to take away a size that anything stands on.
func (t *tx) removeSize(z Size) error {
	var used int64
	err := t.Raw(`SELECT (SELECT count(*) FROM samples WHERE size_id = @id) + (SELECT count(*) FROM assignments WHERE size_id = @id)
		+ (SELECT count(*) FROM application_sizes WHERE size_id = @id) + (SELECT count(*) FROM correction_sizes WHERE size_id = @id)
		+ (SELECT count(*) FROM count_values v JOIN counts c ON c.id = v.count_id JOIN versions n ON n.id = c.version_id
		   WHERE v.size_id = @id AND n.given_out_at IS NOT NULL)`, map[string]any{"id": z.ID}).Row().Scan(&used)
	if err != nil {
		return fmt.Errorf("look for uses of size: %w", err)
	}
	if used > 0 {
		return failf(Conflict, "Size %s can't be left out: samples, testers, corrections or a version given to testers stand on it.", z.Name)
	}
	if err := t.Where("size_id = ?", z.ID).Delete(&Slot{}).Error; err != nil {
		return fmt.Errorf("remove slots: %w", err)
	}
	if err := t.Where("id = ?", z.ID).Delete(&Size{}).Error; err != nil {
		return fmt.Errorf("remove size: %w", err)
	}
	return nil
}

// Sizes returns a design's sizes with their body measurements, the smallest first.
func (s *Store) Sizes(ctx context.Context, designID string) ([]Size, error) {
	return sizesIn(s.read(ctx), []string{designID})
}

func sizesIn(db *gorm.DB, designIDs []string) ([]Size, error) {
	var sizes []Size
	if err := db.Where("design_id IN ?", designIDs).Order("design_id, position").Find(&sizes).Error; err != nil {
		return nil, fmt.Errorf("sizes: %w", err)
	}
	var body []BodyMeasurement
	err := db.Table("body_measurements").Select("body_measurements.*").Joins("JOIN sizes ON sizes.id = body_measurements.size_id").
		Where("sizes.design_id IN ?", designIDs).Order("size_id, dimension").Find(&body).Error
	if err != nil {
		return nil, fmt.Errorf("body measurements: %w", err)
	}
	at := make(map[string]*Size, len(sizes))
	for i := range sizes {
		at[sizes[i].ID] = &sizes[i]
	}
	for _, b := range body {
		at[b.SizeID].Body = append(at[b.SizeID].Body, b)
	}
	return sizes, nil
}

// sizeOf returns a size by id, and refuses one of another design.
func sizeOf(db *gorm.DB, designID, sizeID, field string) (*Size, error) {
	z, err := first[Size](db, "size", "id = ? AND design_id = ?", sizeID, designID)
	if KindOf(err) == NotFound {
		return nil, &Error{Kind: Invalid, Message: "That is not a size of this design.", Fields: []FieldProblem{{field, "is not a size of this design; choose one of its sizes"}}}
	}
	return z, err
}
