package models

import (
	"context"
	"fmt"
	"sort"
	"time"

	"gorm.io/gorm"
)

// TakeShot is a shot in a take: where it begins and ends there, whether it was
// accepted, and which numbers were said in it for the filmed size.
type TakeShot struct {
	TakeID     string     `gorm:"primaryKey" json:"-"`
	ShotID     string     `gorm:"primaryKey"`
	AtMS       *TimeCode  `gorm:"column:at_ms"`    // nil: not stamped
	UntilMS    *TimeCode  `gorm:"column:until_ms"` // nil: to the next shot, or the take's end
	AcceptedAt *time.Time // nil: not looked at yet, or not good enough

	Said []SaidNumber `gorm:"-"`
}

// SaidNumber is what was said for a count in a shot.
type SaidNumber struct {
	TakeID    string `gorm:"primaryKey" json:"-"`
	ShotID    string `gorm:"primaryKey" json:"-"`
	CountName string `gorm:"primaryKey"`
	Said      float64
}

// TableName names the table after what the numbers belong to.
func (SaidNumber) TableName() string { return "take_numbers" }

// TakeShotWish is a shot as it is to stand in a take. Said nil keeps what was
// noted, or notes what the take's version gives for the filmed size when the
// shot is new in the take.
type TakeShotWish struct {
	ShotID   string
	At       *TimeCode
	Until    *TimeCode
	Accepted bool
	Said     *[]SaidNumber
}

// within returns where a shot begins and ends in its take; ok is false when it
// was not stamped.
func (k Take) within(shotID string) (from, until TimeCode, ok bool) {
	until = LongestRecording
	if k.Seconds != nil {
		until = TimeCode((*k.Seconds + 1) * second)
	}
	var own *TakeShot
	for i := range k.Shots {
		if k.Shots[i].ShotID == shotID {
			own = &k.Shots[i]
		}
	}
	if own == nil || own.AtMS == nil {
		return 0, until, false
	}
	for _, other := range k.Shots {
		if other.AtMS != nil && *other.AtMS > *own.AtMS && *other.AtMS < until {
			until = *other.AtMS
		}
	}
	if own.UntilMS != nil {
		until = *own.UntilMS
	}
	return *own.AtMS, until, true
}

// shotAgain tells whether a slip that waits to be recorded again spoils a shot
// of the take: one within it, or any when the shot was not stamped.
func (k Take) shotAgain(shotID string) bool {
	from, until, stamped := k.within(shotID)
	for _, s := range k.Slips {
		if s.Remedy == RecordAgain && s.MendedAt == nil && (!stamped || s.AtMS >= from && s.AtMS < until) {
			return true
		}
	}
	return false
}

// acceptedShot returns the latest accepted recording of a shot that can be
// used as it is, nil when there is none.
func acceptedShot(shotID string, takes []Take) (take *Take, in *TakeShot) {
	for i := range takes {
		k := &takes[i]
		if k.SetAsideAt != nil || k.shotAgain(shotID) {
			continue
		}
		for j := range k.Shots {
			s := &k.Shots[j]
			if s.ShotID == shotID && s.AcceptedAt != nil && (in == nil || s.AcceptedAt.After(*in.AcceptedAt)) {
				take, in = k, s
			}
		}
	}
	return take, in
}

// recordedAt returns when the recording of an installment became whole, nil
// while it is not. With shots, each of them needs an accepted take; without,
// one accepted take that counts is enough.
func (in Installment) recordedAt(takes []Take) *time.Time {
	if len(in.Shots) == 0 {
		return lastCounting(takes)
	}
	var last *time.Time
	for _, shot := range in.Shots {
		_, s := acceptedShot(shot.ID, takes)
		if s == nil {
			return nil
		}
		if last == nil || s.AcceptedAt.After(*last) {
			last = s.AcceptedAt
		}
	}
	return last
}

// unrecorded lists the shots of an installment without an accepted take.
func (in Installment) unrecorded(takes []Take) []Shot {
	var out []Shot
	for _, shot := range in.Shots {
		if _, s := acceptedShot(shot.ID, takes); s == nil {
			out = append(out, shot)
		}
	}
	return out
}

// PutTakeShots says which shots a take holds, where, and which are accepted.
func (s *Store) PutTakeShots(ctx context.Context, actor Actor, takeID string, revision *int, wishes []TakeShotWish) (*Take, error) {
	err := s.change(ctx, actor, func(t *tx) error {
		found, err := first[Take](t.DB, "take", "id = ?", takeID)
		if err != nil {
			return err
		}
		in, _, err := t.lockShots(found.InstallmentID)
		if err != nil {
			return err
		}
		before, _, err := t.lockTake(takeID)
		if err != nil {
			return err
		}
		if err := checkRevision("take", before.Revision, revision); err != nil {
			return err
		}
		if err := withSaid(t.DB, []*Take{before}, "take_id = ?", takeID); err != nil {
			return err
		}
		after := *before
		if after.Shots, err = t.takeShots(in, before, wishes); err != nil {
			return err
		}
		if err := t.keepsTheEdit(in, &after); err != nil {
			return err
		}
		if err := t.replaceTakeShots(&after); err != nil {
			return err
		}
		if err := t.bump("take", &Take{}, takeID, before.Revision, map[string]any{}); err != nil {
			return err
		}
		after.Revision, after.UpdatedAt = before.Revision+1, t.now
		return t.record(in.DesignID, "take", takeID, "shots noted", before, after)
	})
	if err != nil {
		return nil, err
	}
	return s.Take(ctx, takeID)
}

// takeShots checks the wishes and fills in what they leave open.
func (t *tx) takeShots(in *Installment, before *Take, wishes []TakeShotWish) ([]TakeShot, error) {
	var p problems
	was := map[string]TakeShot{}
	for _, s := range before.Shots {
		was[s.ShotID] = s
	}
	shots := append([]Shot(nil), in.Shots...)
	if err := withShotLists(t.DB, shots, "shot_id IN (SELECT id FROM shots WHERE installment_id = ?)", in.ID); err != nil {
		return nil, err
	}
	of := map[string]*Shot{}
	for i := range shots {
		of[shots[i].ID] = &shots[i]
	}
	said, err := t.spokenNumbers(in.DesignID, before.VersionID)
	if err != nil {
		return nil, err
	}
	seen := map[string]bool{}
	out := make([]TakeShot, 0, len(wishes))
	for i, w := range wishes {
		at := fmt.Sprintf("shots[%d]", i)
		shot := of[w.ShotID]
		switch {
		case shot == nil:
			p.addf(at+".shot_id", "is not a shot of this take's installment; choose one of its shots")
			continue
		case seen[w.ShotID]:
			p.addf(at+".shot_id", "is there twice")
		}
		seen[w.ShotID] = true
		w.check(&p, at, before)
		row := TakeShot{TakeID: before.ID, ShotID: w.ShotID, AtMS: w.At, UntilMS: w.Until}
		old, known := was[w.ShotID]
		row.AcceptedAt = stamp(w.Accepted, old.AcceptedAt, t.now)
		switch {
		case w.Said != nil:
			row.Said = *w.Said
			for j, n := range row.Said {
				p.text(fmt.Sprintf("%s.said[%d].count", at, j), n.CountName, true, shortText)
				if !(n.Said >= 0 && n.Said <= largestCount) {
					p.addf(fmt.Sprintf("%s.said[%d].said", at, j), "has to lie between 0 and %d", largestCount)
				}
			}
		case known:
			row.Said = old.Said
		default:
			for _, n := range shot.Numbers {
				if v, ok := said[n.CountName]; ok {
					row.Said = append(row.Said, SaidNumber{CountName: n.CountName, Said: v})
				}
			}
		}
		out = append(out, row)
	}
	return out, p.err()
}

func (w TakeShotWish) check(p *problems, at string, take *Take) {
	bound := func(field string, c *TimeCode) {
		switch {
		case c == nil:
		case *c < 0 || *c > LongestRecording:
			p.addf(at+"."+field, "has to lie between 0 and 24 hours")
		case take.endsBefore(*c):
			p.addf(at+"."+field, "is %s, after the end of the take (%s); check the time code or the take's length", *c, TimeCode(*take.Seconds*second))
		}
	}
	bound("at", w.At)
	bound("until", w.Until)
	switch {
	case w.Until != nil && w.At == nil:
		p.addf(at+".at", "is missing; say where the shot begins too")
	case w.Until != nil && *w.Until <= *w.At:
		p.addf(at+".until", "is not after the beginning; check the time codes")
	}
	if w.Said != nil && len(*w.Said) > mostShotNumbers {
		p.addf(at+".said", "has to hold at most %d counts", mostShotNumbers)
	}
}

// spokenNumbers are the counts of the filmed size in a version.
func (t *tx) spokenNumbers(designID string, versionID *string) (map[string]float64, error) {
	var id string
	set(&id, versionID)
	v, err := versionOf(t.DB, designID, id, "version_id")
	if err != nil {
		return nil, err
	}
	sheet, err := sheetIn(t.DB, *v)
	if err != nil {
		return nil, err
	}
	if z := filmedSize(sheet.Sizes); z != nil {
		return sheet.ValuesFor(z.ID), nil
	}
	return nil, nil
}

// filmedSize is the size whose numbers are spoken, the only one when there is
// no other; nil when none is marked.
func filmedSize(sizes []Size) *Size {
	for i := range sizes {
		if sizes[i].Filmed || len(sizes) == 1 {
			return &sizes[i]
		}
	}
	return nil
}

func (t *tx) replaceTakeShots(k *Take) error {
	for _, old := range []any{&SaidNumber{}, &TakeShot{}} {
		if err := t.Where("take_id = ?", k.ID).Delete(old).Error; err != nil {
			return fmt.Errorf("clear shots of take: %w", err)
		}
	}
	if err := createAll(t.DB, k.Shots); err != nil {
		return fmt.Errorf("shots of take: %w", err)
	}
	var said []SaidNumber
	for _, s := range k.Shots {
		for _, n := range s.Said {
			said = append(said, SaidNumber{k.ID, s.ShotID, n.CountName, n.Said})
		}
	}
	if err := createAll(t.DB, said); err != nil {
		return fmt.Errorf("numbers said: %w", err)
	}
	return nil
}

// withTakeShots fills the shots of takes, by their place in the take, in one
// query.
func withTakeShots(db *gorm.DB, at map[string]*Take, where string, arg any) error {
	var rows []TakeShot
	err := db.Table("take_shots").Select("take_shots.*").Joins("JOIN takes ON takes.id = take_shots.take_id").
		Joins("JOIN installments ON installments.id = takes.installment_id").Where(where, arg).Order("take_shots.take_id, take_shots.shot_id").Find(&rows).Error
	if err != nil {
		return fmt.Errorf("shots of takes: %w", err)
	}
	for _, s := range rows {
		if k := at[s.TakeID]; k != nil {
			k.Shots = append(k.Shots, s)
		}
	}
	for _, k := range at {
		sort.SliceStable(k.Shots, func(i, j int) bool {
			a, b := k.Shots[i].AtMS, k.Shots[j].AtMS
			return a != nil && (b == nil || *a < *b)
		})
	}
	return nil
}

// withSaid fills the numbers that were said, in one query.
func withSaid(db *gorm.DB, takes []*Take, where string, arg any) error {
	at := map[[2]string]*TakeShot{}
	for _, k := range takes {
		for i := range k.Shots {
			k.Shots[i].Said = nil
			at[[2]string{k.ID, k.Shots[i].ShotID}] = &k.Shots[i]
		}
	}
	var rows []SaidNumber
	if err := db.Where(where, arg).Order("take_id, shot_id, count_name").Find(&rows).Error; err != nil {
		return fmt.Errorf("numbers said: %w", err)
	}
	for _, n := range rows {
		if s := at[[2]string{n.TakeID, n.ShotID}]; s != nil {
			s.Said = append(s.Said, n)
		}
	}
	return nil
}
