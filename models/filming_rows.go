package models

import (
	"context"
	"fmt"
	"math"
	"slices"
	"time"

	"gorm.io/gorm"
)

// filmingRows is what a filming plan is made of.
type filmingRows struct {
	today   Date
	design  *Design
	run     []InstallmentNow
	samples []Sample
	sheet   *Sheet
	speeds  *speeds
	makers  []string // ids of people who make
	work    map[string]PersonWork
	ripped  map[string]time.Time // when each sample was last ripped back
}

func (s *Store) filmingRows(ctx context.Context, idOrSlug string) (*filmingRows, error) {
	db := s.read(ctx)
	r := &filmingRows{}
	var err error
	if r.design, err = designIn(db, idOrSlug); err != nil {
		return nil, err
	}
	if r.today, err = s.Today(ctx); err != nil {
		return nil, err
	}
	if r.samples, err = samplesWhere(db, "samples.design_id = ?", r.design.ID); err != nil {
		return nil, err
	}
	if r.run, err = s.InstallmentsWith(ctx, r.design.ID, r.today, r.samples); err != nil {
		return nil, err
	}
	latest, err := latestVersion(db, r.design.ID)
	if err != nil {
		return nil, err
	}
	return r, r.readMaking(db, *latest)
}

// readMaking reads what making rests on: the counts, who makes, how fast and
// when, and what was ripped back.
func (r *filmingRows) readMaking(db *gorm.DB, latest Version) error {
	var err error
	if r.sheet, err = sheetIn(db, latest); err != nil {
		return err
	}
	if r.speeds, err = speedsIn(db, r.design.Craft); err != nil {
		return err
	}
	if r.makers, err = peopleWith(db, Maker); err != nil {
		return err
	}
	if r.ripped, err = rippedIn(db, r.design.ID); err != nil {
		return err
	}
	held := map[string]bool{}
	for _, id := range r.makers {
		held[id] = true
	}
	for _, z := range r.samples {
		if z.HeldBy != nil {
			held[*z.HeldBy] = true
		}
	}
	r.work, err = workIn(db, keysOf(held))
	return err
}

// peopleWith lists the people of a role who take part, by id.
func peopleWith(db *gorm.DB, role Role) ([]string, error) {
	var ids []string
	err := db.Table("people").Joins("JOIN person_roles r ON r.person_id = people.id").
		Where("r.role = ? AND people.disabled_at IS NULL", role).Order("people.id").Pluck("people.id", &ids).Error
	if err != nil {
		return nil, fmt.Errorf("people of a role: %w", err)
	}
	return ids, nil
}

// pace is how fast samples are made: by who holds the camera samples, else by
// the makers, else as usual.
func (r *filmingRows) pace(samples []Sample) (MakingSpeed, float64) {
	var who []string
	for _, z := range samples {
		if z.HeldBy != nil && !slices.Contains(who, *z.HeldBy) && slices.Contains(r.makers, *z.HeldBy) {
			who = append(who, *z.HeldBy)
		}
	}
	if len(who) == 0 {
		who = r.makers
	}
	if len(who) == 0 {
		return r.speeds.of(nil), math.Round(usualWork("").HoursPerWeek()/7*100) / 100
	}
	var hours float64
	for _, id := range who {
		hours += r.work[id].HoursPerWeek() / 7
	}
	perDay := math.Round(hours/float64(len(who))*100) / 100
	if len(who) == 1 {
		return r.speeds.of(&who[0]), perDay
	}
	var sum float64
	for _, id := range who {
		sum += r.speeds.of(&id).StitchesPerHour
	}
	speed := r.speeds.of(nil)
	speed.StitchesPerHour = sum / float64(len(who))
	return speed, perDay
}
