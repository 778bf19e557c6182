package models

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"gorm.io/gorm"
)

// PersonWork is when somebody works for the studio: on which days of the week,
// how many hours on each, and how fast they make where they want to say so
// themselves. A person writes their own, the designer anybody's.
type PersonWork struct {
	PersonID        string `gorm:"primaryKey"`
	Days            string // "mon,tue,thu", in the week's order
	HoursPerDay     float64
	StitchesPerHour *float64 // nil: learned from logged hours

	Away []PersonAway `gorm:"-"`
}

// TableName keeps the table singular: a person has one.
func (PersonWork) TableName() string { return "person_work" }

// PersonAway is a stretch of days on which somebody does not work.
type PersonAway struct {
	PersonID string `gorm:"primaryKey" json:"-"`
	FromOn   Date   `gorm:"primaryKey"`
	UntilOn  Date   // the last day away
}

// TableName keeps the table singular, as its sister's.
func (PersonAway) TableName() string { return "person_away" }

// Who has not said when they work is taken to work so (chosen).
const (
	usualDays        = "mon,tue,wed,thu,fri"
	usualHoursPerDay = 3.0
	mostAway         = 100
	longestAway      = 366 // days of one absence
	slowestMaker     = 10.0
	fastestMaker     = 10_000.0
)

// WeekDays are the days of a week as they are written.
func WeekDays() []string { return []string{"mon", "tue", "wed", "thu", "fri", "sat", "sun"} }

// DayList returns the working days.
func (w PersonWork) DayList() []string {
	if w.Days == "" {
		return nil
	}
	return strings.Split(w.Days, ",")
}

// HoursPerWeek is how much somebody works in a week without absences.
func (w PersonWork) HoursPerWeek() float64 { return w.HoursPerDay * float64(len(w.DayList())) }

func usualWork(personID string) PersonWork {
	return PersonWork{PersonID: personID, Days: usualDays, HoursPerDay: usualHoursPerDay}
}

func (w PersonWork) validate() error {
	var p problems
	days := w.DayList()
	if len(days) == 0 {
		p.addf("days", "is empty; name at least one working day, or nothing can be planned for this person")
	}
	for i, d := range days {
		p.oneOf(fmt.Sprintf("days[%d]", i), d, WeekDays()...)
	}
	if !(w.HoursPerDay >= 0.25 && w.HoursPerDay <= 24) {
		p.addf("hours_per_day", "has to lie between 0.25 and 24 hours")
	}
	if w.StitchesPerHour != nil && !(*w.StitchesPerHour >= slowestMaker && *w.StitchesPerHour <= fastestMaker) {
		p.addf("stitches_per_hour", "has to lie between %g and %g; leave it out to have it learned from logged hours", slowestMaker, fastestMaker)
	}
	if len(w.Away) > mostAway {
		p.addf("away", "has to hold at most %d absences", mostAway)
	}
	seen := map[Date]bool{}
	for i, a := range w.Away {
		at := fmt.Sprintf("away[%d]", i)
		p.date(at+".from", a.FromOn, true)
		p.date(at+".until", a.UntilOn, true)
		if a.FromOn.Valid() && a.UntilOn.Valid() {
			switch {
			case a.UntilOn < a.FromOn:
				p.addf(at+".until", "is before the first day away")
			case a.FromOn.DaysUntil(a.UntilOn) > longestAway:
				p.addf(at+".until", "is more than a year after the first day away")
			}
		}
		if seen[a.FromOn] {
			p.addf(at+".from", "begins on the same day as another absence")
		}
		seen[a.FromOn] = true
	}
	return p.err()
}

// PutWork says when somebody works. A tester has no say in the studio's work;
// anybody else writes their own, the designer everybody's.
func (s *Store) PutWork(ctx context.Context, actor Actor, personID string, revision *int, w PersonWork) (*PersonWork, int, error) {
	if actor.PersonID != personID && !actor.Has(Designer) {
		return nil, 0, failf(Forbidden, "Only the designer says when others work; you can say when you do.")
	}
	w.PersonID = personID
	var days []string
	for _, d := range WeekDays() {
		if slices.Contains(w.DayList(), d) {
			days = append(days, d)
		}
	}
	if len(days) == len(w.DayList()) {
		w.Days = strings.Join(days, ",")
	}
	if err := w.validate(); err != nil {
		return nil, 0, err
	}
	after := 0
	err := s.change(ctx, actor, func(t *tx) error {
		person, err := personIn(t.DB, personID)
		if err != nil {
			return err
		}
		if err := checkRevision("person", person.Revision, revision); err != nil {
			return err
		}
		before, err := workIn(t.DB, []string{personID})
		if err != nil {
			return err
		}
		if err := t.replaceWork(w); err != nil {
			return err
		}
		after = person.Revision + 1
		if err := t.bump("person", &Person{}, personID, person.Revision, map[string]any{}); err != nil {
			return err
		}
		return t.record("", "work", personID, "changed", before[personID], w)
	})
	return &w, after, err
}

func (t *tx) replaceWork(w PersonWork) error {
	for _, old := range []any{&PersonAway{}, &PersonWork{}} {
		if err := t.Where("person_id = ?", w.PersonID).Delete(old).Error; err != nil {
			return fmt.Errorf("clear work: %w", err)
		}
	}
	if err := t.Create(&w).Error; err != nil {
		return fmt.Errorf("work: %w", err)
	}
	for i := range w.Away {
		w.Away[i].PersonID = w.PersonID
	}
	if err := createAll(t.DB, w.Away); err != nil {
		return fmt.Errorf("absences: %w", err)
	}
	return nil
}

// Work returns when somebody works, as said or as usual, and the revision of
// the person.
func (s *Store) Work(ctx context.Context, personID string) (*PersonWork, int, error) {
	db := s.read(ctx)
	person, err := personIn(db, personID)
	if err != nil {
		return nil, 0, err
	}
	all, err := workIn(db, []string{personID})
	if err != nil {
		return nil, 0, err
	}
	w := all[personID]
	return &w, person.Revision, nil
}

// workIn returns when people work, in two queries.
func workIn(db *gorm.DB, ids []string) (map[string]PersonWork, error) {
	out := make(map[string]PersonWork, len(ids))
	for _, id := range ids {
		out[id] = usualWork(id)
	}
	if len(ids) == 0 {
		return out, nil
	}
	var rows []PersonWork
	if err := db.Where("person_id IN ?", ids).Find(&rows).Error; err != nil {
		return nil, fmt.Errorf("work: %w", err)
	}
	for _, w := range rows {
		out[w.PersonID] = w
	}
	var away []PersonAway
	if err := db.Where("person_id IN ?", ids).Order("person_id, from_on").Find(&away).Error; err != nil {
		return nil, fmt.Errorf("absences: %w", err)
	}
	for _, a := range away {
		w := out[a.PersonID]
		w.Away = append(w.Away, a)
		out[a.PersonID] = w
	}
	return out, nil
}
