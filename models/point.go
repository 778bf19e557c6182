package models

import (
	"context"
	"fmt"
	"strings"

	"gorm.io/gorm"
)

// Point is a point of measure: something that is measured on the finished
// piece, and what the counts promise for it: Expr over the counts, divided by
// the gauge of its axis, plus Add.
type Point struct {
	ID              string `gorm:"primaryKey"`
	DesignID        string
	Position        int
	Name            string
	Axis            string // "stitch" or "row"
	Expr            string
	Add             Length   `gorm:"embedded;embeddedPrefix:add_"` // an edging; may be negative
	Tolerance       Length   `gorm:"embedded;embeddedPrefix:tolerance_"`
	RepeatabilityCM *float64 `gorm:"column:repeatability_cm"` // standard uncertainty of measuring it
	Repeat          int      // stitch or row repeat in which the count can move
	Girth           bool     // a full circumference, usually measured flat and doubled
	HowToMeasure    string
	BodyDimension   *string  // which body measurement ease is counted from
	EaseLowCM       *float64 `gorm:"column:ease_low_cm"`
	EaseHighCM      *float64 `gorm:"column:ease_high_cm"`

	Intended []IntendedMeasurement `gorm:"-"`
}

// IntendedMeasurement is what a size is meant to measure at a point.
type IntendedMeasurement struct {
	PointID string `gorm:"primaryKey"`
	SizeID  string `gorm:"primaryKey"`
	Length  Length `gorm:"embedded"`
}

const (
	mostPoints         = 60
	longestExpression  = 500
	largestAddCM       = 100.0
	largestToleranceCM = 30.0
	largestRepeat      = 1000
)

func validatePoints(points []Point, sizes map[string]bool) error {
	var p problems
	if len(points) > mostPoints {
		p.addf("points", "has to hold at most %d points", mostPoints)
	}
	seen := map[string]int{}
	for i, q := range points {
		at := fmt.Sprintf("points[%d]", i)
		if j, twice := seen[strings.ToLower(q.Name)]; twice {
			p.addf(at+".name", "is the same as that of points[%d]; every point needs its own name", j)
		}
		seen[strings.ToLower(q.Name)] = i
		q.validate(&p, at, sizes)
	}
	return p.err()
}

func (q Point) validate(p *problems, at string, sizes map[string]bool) {
	p.text(at+".name", q.Name, true, shortText)
	p.oneOf(at+".axis", q.Axis, "stitch", "row")
	p.text(at+".expr", q.Expr, true, longestExpression)
	p.lengthBetween(at+".add", q.Add, -largestAddCM, largestAddCM)
	p.lengthBetween(at+".tolerance", q.Tolerance, 0, largestToleranceCM)
	if !(q.Tolerance.Value > 0) {
		p.addf(at+".tolerance.value", "has to be more than zero; a finished piece always varies a little")
	}
	if q.RepeatabilityCM != nil && !(*q.RepeatabilityCM > 0 && *q.RepeatabilityCM <= largestToleranceCM) {
		p.addf(at+".repeatability_cm", "has to lie between 0 and %g cm", largestToleranceCM)
	}
	if q.Repeat < 1 || q.Repeat > largestRepeat {
		p.addf(at+".repeat", "has to lie between 1 and %d", largestRepeat)
	}
	p.text(at+".how_to_measure", q.HowToMeasure, false, longText)
	if q.BodyDimension != nil {
		p.text(at+".body_dimension", *q.BodyDimension, true, shortText)
	}
	for name, v := range map[string]*float64{".ease_low_cm": q.EaseLowCM, ".ease_high_cm": q.EaseHighCM} {
		if v != nil && !(*v >= -largestAddCM && *v <= largestAddCM) {
			p.addf(at+name, "has to lie between %g and %g cm", -largestAddCM, largestAddCM)
		}
	}
	if q.EaseLowCM != nil && q.EaseHighCM != nil && *q.EaseLowCM > *q.EaseHighCM {
		p.addf(at+".ease_high_cm", "is less than the low end of the ease; swap them")
	}
	given := map[string]bool{}
	for j, m := range q.Intended {
		field := fmt.Sprintf("%s.intended[%d]", at, j)
		if !sizes[m.SizeID] || given[m.SizeID] {
			p.addf(field+".size_id", "is not a size of this design, or is given twice")
		}
		given[m.SizeID] = true
		p.length(field, m.Length)
	}
}

// PutPoints replaces a design's points of measure by the given ones, in order.
// A point that something was measured at can be renamed, not left out.
func (s *Store) PutPoints(ctx context.Context, actor Actor, idOrSlug string, revision *int, points []Point) (*Design, error) {
	var design *Design
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if design, err = designIn(t.DB, idOrSlug); err != nil {
			return err
		}
		if err := checkRevision("design", design.Revision, revision); err != nil {
			return err
		}
		sizes, err := sizesIn(t.DB, []string{design.ID})
		if err != nil {
			return err
		}
		ids := map[string]bool{}
		for _, z := range sizes {
			ids[z.ID] = true
		}
		if err := validatePoints(points, ids); err != nil {
			return err
		}
		before, err := pointsIn(t.DB, []string{design.ID})
		if err != nil {
			return err
		}
		if err := t.replacePoints(design.ID, before, points); err != nil {
			return err
		}
		if err := t.touchDesign(design); err != nil {
			return err
		}
		return t.record(design.ID, "points", design.ID, "changed", before, points)
	})
	return design, err
}

func (t *tx) replacePoints(designID string, before, after []Point) error {
	gone, err := leftOut("points", "point", before, after)
	if err != nil {
		return err
	}
	for _, q := range gone {
		if err := t.removePoint(q); err != nil {
			return err
		}
	}
	if err := t.freeNames("points", designID); err != nil {
		return err
	}
	for i := range after {
		if err := t.writePoint(designID, i+1, &after[i]); err != nil {
			return err
		}
	}
	return nil
}

func (t *tx) writePoint(designID string, position int, q *Point) error {
	q.DesignID, q.Position = designID, position
	var err error
	if q.ID == "" {
		q.ID = NewID()
		err = t.Create(q).Error
	} else {
		err = t.Model(&Point{}).Where("id = ?", q.ID).Select("*").Omit("id").Updates(q).Error
	}
	if err != nil {
		return fmt.Errorf("write point: %w", err)
	}
	if err := t.Where("point_id = ?", q.ID).Delete(&IntendedMeasurement{}).Error; err != nil {
		return fmt.Errorf("intended measurements: %w", err)
	}
	if len(q.Intended) == 0 {
		return nil
	}
	for i := range q.Intended {
		q.Intended[i].PointID = q.ID
	}
	if err := t.Create(&q.Intended).Error; err != nil {
		return fmt.Errorf("intended measurements: %w", err)
	}
	return nil
}

func (t *tx) removePoint(q Point) error {
	var used int64
	err := t.Raw(`SELECT (SELECT count(*) FROM measurements WHERE point_id = @id) + (SELECT count(*) FROM sample_measurements WHERE point_id = @id)`,
		map[string]any{"id": q.ID}).Row().Scan(&used)
	if err != nil {
		return fmt.Errorf("look for uses of point: %w", err)
	}
	if used > 0 {
		return failf(Conflict, "The point %q can't be left out: pieces have been measured there.", q.Name)
	}
	if err := t.Where("id = ?", q.ID).Delete(&Point{}).Error; err != nil {
		return fmt.Errorf("remove point: %w", err)
	}
	return nil
}

// Points returns a design's points with what each size is meant to measure.
func (s *Store) Points(ctx context.Context, designID string) ([]Point, error) {
	return pointsIn(s.read(ctx), []string{designID})
}

func pointsIn(db *gorm.DB, designIDs []string) ([]Point, error) {
	var points []Point
	if err := db.Where("design_id IN ?", designIDs).Order("design_id, position").Find(&points).Error; err != nil {
		return nil, fmt.Errorf("points: %w", err)
	}
	var intended []IntendedMeasurement
	err := db.Table("intended_measurements").Select("intended_measurements.*").
		Joins("JOIN points ON points.id = intended_measurements.point_id").Joins("JOIN sizes ON sizes.id = intended_measurements.size_id").
		Where("points.design_id IN ?", designIDs).Order("point_id, sizes.position").Find(&intended).Error
	if err != nil {
		return nil, fmt.Errorf("intended measurements: %w", err)
	}
	at := make(map[string]*Point, len(points))
	for i := range points {
		at[points[i].ID] = &points[i]
	}
	for _, m := range intended {
		at[m.PointID].Intended = append(at[m.PointID].Intended, m)
	}
	return points, nil
}
