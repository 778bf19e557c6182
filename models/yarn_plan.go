package models

import (
	"context"
	"errors"
	"fmt"
	"math"
	"time"

	"gorm.io/gorm"

	"tenter/models/gauge"
)

// YarnPlan is what a design states of its yarn: the ball as it is sold, for how
// many makers the amounts should last, how many stitches a size has, and the
// amount that the text states for each size. Only the designer changes it. A
// design that has none yet is at revision 0.
type YarnPlan struct {
	DesignID   string `gorm:"primaryKey"`
	BallLength Amount `gorm:"embedded;embeddedPrefix:length_"` // m or yd
	BallWeight Amount `gorm:"embedded;embeddedPrefix:weight_"` // g or oz
	Share      float64
	Stitches   string // expression over counts; "" to take them from two points
	Revision   int
	CreatedAt  time.Time
	UpdatedAt  time.Time

	Stated []StatedYarn `gorm:"-"`
}

// StatedYarn is the amount that the text states for a size.
type StatedYarn struct {
	DesignID string `gorm:"primaryKey"`
	SizeID   string `gorm:"primaryKey"`
	Value    float64
	Unit     string // "m" or "yd"
	Metres   float64
}

// usualShare is the share of makers for whom the amounts last: 9 of 10 (chosen).
const usualShare = 0.90

// metres is a length of yarn in metres; ok is false for grams and ounces.
func (a Amount) metres() (m float64, ok bool) {
	if a.Value == nil || a.Unit == nil {
		return 0, false
	}
	l := gauge.YarnLength{Value: *a.Value, Unit: gauge.YarnUnit(*a.Unit)}
	return l.Metres(), l.Unit.Valid()
}

// grams is a mass of yarn in grams; ok is false for metres and yards.
func (a Amount) grams() (g float64, ok bool) {
	if a.Value == nil || a.Unit == nil {
		return 0, false
	}
	m := gauge.Mass{Value: *a.Value, Unit: gauge.MassUnit(*a.Unit)}
	return m.Grams(), m.Unit.Valid()
}

func (plan YarnPlan) validate(sizes map[string]bool) error {
	var p problems
	plan.validateBall(&p)
	if !(plan.Share >= 0.5 && plan.Share <= 0.99) {
		p.addf("share", "has to lie between 0.5 and 0.99, such as 0.9 for 9 of 10 makers")
	}
	p.text("stitches", plan.Stitches, false, longestExpression)
	seen := map[string]bool{}
	for i, z := range plan.Stated {
		at := fmt.Sprintf("sizes[%d]", i)
		if !sizes[z.SizeID] || seen[z.SizeID] {
			p.addf(at+".size_id", "is not a size of this design, or is given twice")
		}
		seen[z.SizeID] = true
		p.oneOf(at+".unit", z.Unit, "m", "yd")
		if !(z.Value > 0 && z.Value <= mostYarn) {
			p.addf(at+".value", "has to lie between 0 and %d; leave the size out when nothing is stated", mostYarn)
		}
	}
	return p.err()
}

func (plan YarnPlan) validateBall(p *problems) {
	for _, part := range []struct {
		field  string
		amount Amount
		units  []string
	}{{"ball.length", plan.BallLength, []string{"m", "yd"}}, {"ball.weight", plan.BallWeight, []string{"g", "oz"}}} {
		if part.amount.Value == nil && part.amount.Unit == nil {
			continue
		}
		if part.amount.Value == nil || part.amount.Unit == nil {
			p.addf(part.field, "needs a value and a unit")
			continue
		}
		p.oneOf(part.field+".unit", *part.amount.Unit, part.units...)
		if v := *part.amount.Value; !(v > 0 && v <= mostYarn) || math.IsNaN(v) {
			p.addf(part.field+".value", "has to lie between 0 and %d; check the label", mostYarn)
		}
	}
	m, hasLength := plan.BallLength.metres()
	g, hasWeight := plan.BallWeight.grams()
	switch {
	case hasWeight && !hasLength:
		p.addf("ball.length", "is missing; a ball's weight tells nothing without its length")
	case hasLength && m > 0 && m < 1:
		p.addf("ball.length.value", "is less than a metre; check the label")
	case hasWeight && g > 0 && g < 1:
		p.addf("ball.weight.value", "is less than a gram; check the label")
	}
}

// PutYarnPlan replaces what a design states of its yarn.
func (s *Store) PutYarnPlan(ctx context.Context, actor Actor, idOrSlug string, revision *int, plan YarnPlan) error {
	return s.change(ctx, actor, func(t *tx) error {
		design, err := designIn(t.DB, idOrSlug)
		if err != nil {
			return err
		}
		before, err := yarnPlanIn(t.DB, design.ID)
		if err != nil {
			return err
		}
		if err := checkRevision("yarn", before.Revision, revision); err != nil {
			return err
		}
		sizes, err := sizesIn(t.DB, []string{design.ID})
		if err != nil {
			return err
		}
		known := map[string]bool{}
		for _, z := range sizes {
			known[z.ID] = true
		}
		if err := plan.validate(known); err != nil {
			return err
		}
		if err := t.checkStitches(design.ID, plan.Stitches); err != nil {
			return err
		}
		plan.DesignID, plan.Revision = design.ID, before.Revision+1
		if err := t.writeYarnPlan(before, &plan); err != nil {
			return err
		}
		return t.record(design.ID, "yarn", design.ID, "changed", before, plan)
	})
}

// checkStitches compiles the expression against the latest version's counts.
func (t *tx) checkStitches(designID, expr string) error {
	if expr == "" {
		return nil
	}
	latest, err := latestVersion(t.DB, designID)
	if err != nil {
		return err
	}
	sheet, err := sheetIn(t.DB, *latest)
	if err != nil {
		return err
	}
	var p problems
	_, err = t.store.expressions.compile(expr, joinNames(sheet.Names()))
	p.calculation("stitches", err)
	return p.err()
}

func (t *tx) writeYarnPlan(before, plan *YarnPlan) error {
	plan.UpdatedAt = t.now
	if before.Revision == 0 {
		plan.CreatedAt = t.now
		if err := t.Create(plan).Error; errors.Is(err, gorm.ErrDuplicatedKey) {
			return staleError("yarn", 1)
		} else if err != nil {
			return fmt.Errorf("state yarn: %w", err)
		}
	} else {
		plan.CreatedAt = before.CreatedAt
		res := t.Model(&YarnPlan{}).Where("design_id = ? AND revision = ?", plan.DesignID, before.Revision).
			Select("*").Omit("design_id", "created_at").Updates(plan)
		if res.Error != nil {
			return fmt.Errorf("state yarn: %w", res.Error)
		}
		if res.RowsAffected == 0 {
			return staleError("yarn", before.Revision+1)
		}
	}
	if err := t.Where("design_id = ?", plan.DesignID).Delete(&StatedYarn{}).Error; err != nil {
		return fmt.Errorf("stated yarn: %w", err)
	}
	for i := range plan.Stated {
		z := &plan.Stated[i]
		z.DesignID = plan.DesignID
		z.Metres = gauge.YarnLength{Value: z.Value, Unit: gauge.YarnUnit(z.Unit)}.Metres()
	}
	if err := createAll(t.DB, plan.Stated); err != nil {
		return fmt.Errorf("stated yarn: %w", err)
	}
	return nil
}

// yarnPlanIn reads a design's plan, or the empty one at revision 0.
func yarnPlanIn(db *gorm.DB, designID string) (*YarnPlan, error) {
	plan, err := first[YarnPlan](db, "yarn", "design_id = ?", designID)
	if KindOf(err) == NotFound {
		return &YarnPlan{DesignID: designID, Share: usualShare}, nil
	}
	if err != nil {
		return nil, err
	}
	err = db.Table("stated_yarns").Select("stated_yarns.*").Joins("JOIN sizes ON sizes.id = stated_yarns.size_id").
		Where("stated_yarns.design_id = ?", designID).Order("sizes.position").Scan(&plan.Stated).Error
	if err != nil {
		return nil, fmt.Errorf("stated yarn: %w", err)
	}
	return plan, nil
}

// YarnRevision is the revision of what a design states of its yarn.
func (s *Store) YarnRevision(ctx context.Context, idOrSlug string) (int, error) {
	db := s.read(ctx)
	design, err := designIn(db, idOrSlug)
	if err != nil {
		return 0, err
	}
	plan, err := yarnPlanIn(db, design.ID)
	if err != nil {
		return 0, err
	}
	return plan.Revision, nil
}
