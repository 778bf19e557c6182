package models

import (
	"context"
	"fmt"
	"time"

	"gorm.io/gorm"
)

// Shot is one thing to be shown in an installment. It needs a sample in the
// state FromState and leaves it in ToState; both nil stand for the beginning.
// Attached, Marked and Live say what has to be in place when it starts. The
// designer and the filmers write shots.
type Shot struct {
	ID            string `gorm:"primaryKey"`
	InstallmentID string
	Position      int // within the installment, from 1 without gaps
	Title         string
	FromState     *string
	ToState       *string
	Attached      string // yarn that stays attached
	Marked        string // stitches that are marked
	Live          string // stitches left live
	Differs       string // where groups of sizes differ
	Note          string
	ChapterMS     *TimeCode `gorm:"column:chapter_ms"` // in the finished video; nil: reckoned from the takes
	Revision      int
	CreatedAt     time.Time
	UpdatedAt     time.Time

	Numbers []ShotNumber `gorm:"-"`
	Tails   []ShotTail   `gorm:"-"`
}

// ShotNumber is a count that is said in a shot, by its name in the count sheet.
type ShotNumber struct {
	ShotID    string `gorm:"primaryKey" json:"-"`
	Position  int    `gorm:"primaryKey" json:"-"`
	CountName string
	Words     string
}

// ShotTail is a tail left long for a seam, whose length is that of the seam in
// the filmed size.
type ShotTail struct {
	ShotID   string `gorm:"primaryKey" json:"-"`
	Position int    `gorm:"primaryKey" json:"-"`
	Seam     string
	Length   Length `gorm:"embedded"`
}

// A tail for a mattress-stitch seam is three to four times the seam's length
// and a bit (common practice, a rule of thumb; the bit is chosen).
const (
	tailTimesLow, tailTimesHigh = 3.0, 4.0
	tailExtraCM                 = 15.0
)

// TailCM gives the rule of thumb for the tail, in cm.
func (t ShotTail) TailCM() (low, high float64) {
	return tailTimesLow*t.Length.CM + tailExtraCM, tailTimesHigh*t.Length.CM + tailExtraCM
}

const (
	mostShots       = 60 // of one installment (chosen)
	mostShotNumbers = 30
	mostShotTails   = 10
)

func (s Shot) validate() error {
	var p problems
	p.text("title", s.Title, true, shortText)
	for field, value := range map[string]string{"attached": s.Attached, "marked": s.Marked, "live": s.Live, "differs": s.Differs, "note": s.Note} {
		p.text(field, value, false, longText)
	}
	if s.ChapterMS != nil && (*s.ChapterMS < 0 || *s.ChapterMS > LongestRecording) {
		p.addf("chapter", "has to lie between 0 and 24 hours")
	}
	if len(s.Numbers) > mostShotNumbers {
		p.addf("numbers", "has to hold at most %d counts", mostShotNumbers)
	}
	seen := map[string]bool{}
	for i, n := range s.Numbers {
		at := fmt.Sprintf("numbers[%d]", i)
		p.text(at+".count", n.CountName, true, shortText)
		p.text(at+".words", n.Words, false, shortText)
		if seen[n.CountName] {
			p.addf(at+".count", "is there twice")
		}
		seen[n.CountName] = true
	}
	if len(s.Tails) > mostShotTails {
		p.addf("tails", "has to hold at most %d tails", mostShotTails)
	}
	for i, t := range s.Tails {
		at := fmt.Sprintf("tails[%d]", i)
		p.text(at+".seam", t.Seam, true, shortText)
		p.length(at, t.Length)
	}
	return p.err()
}

// belongs refuses states of another design, a shot that would undo work, and
// counts that the latest sheet lacks.
func (s Shot) belongs(t *tx, designID string, run []Installment) error {
	var p problems
	states := statesOf(run)
	from, fromKnown := states.Rank(s.FromState)
	to, toKnown := states.Rank(s.ToState)
	if !fromKnown {
		p.addf("from_state", "is not a state of this design; choose one of its states, or null for the beginning")
	}
	if !toKnown {
		p.addf("to_state", "is not a state of this design; choose one of its states, or null for the beginning")
	}
	if fromKnown && toKnown && to < from {
		p.addf("to_state", "is before the state that the shot starts from; a sample only moves forward")
	}
	if len(s.Numbers) > 0 {
		latest, err := latestVersion(t.DB, designID)
		if err != nil {
			return err
		}
		var names []string
		if err := t.Model(&Count{}).Where("version_id = ?", latest.ID).Pluck("name", &names).Error; err != nil {
			return fmt.Errorf("names of counts: %w", err)
		}
		have := map[string]bool{}
		for _, n := range names {
			have[n] = true
		}
		for i, n := range s.Numbers {
			if !have[n.CountName] {
				p.addf(fmt.Sprintf("numbers[%d].count", i), "is not a count of version %d; choose one of its counts", latest.Number)
			}
		}
	}
	return p.err()
}

// AddShot adds a shot at a position, 0 for the end.
func (s *Store) AddShot(ctx context.Context, actor Actor, installmentID string, shot Shot) (*Shot, error) {
	shot.ID, shot.InstallmentID, shot.Revision = NewID(), installmentID, 1
	if err := shot.validate(); err != nil {
		return nil, err
	}
	err := s.change(ctx, actor, func(t *tx) error {
		in, run, err := t.lockShots(installmentID)
		if err != nil {
			return err
		}
		if err := shot.belongs(t, in.DesignID, run); err != nil {
			return err
		}
		if len(in.Shots) >= mostShots {
			return failf(Conflict, "This installment has %d shots, which is the most that one can have.", mostShots)
		}
		if shot.Position == 0 {
			shot.Position = len(in.Shots) + 1
		}
		if err := positionWithin(shot.Position, len(in.Shots)+1); err != nil {
			return err
		}
		if err := t.shiftShots(in.ID, shot.Position, mostShots, +1); err != nil {
			return err
		}
		shot.CreatedAt, shot.UpdatedAt = t.now, t.now
		if err := t.Create(&shot).Error; err != nil {
			return fmt.Errorf("add shot: %w", err)
		}
		if err := t.writeShotLists(&shot); err != nil {
			return err
		}
		return t.record(in.DesignID, "shot", shot.ID, "added", nil, shot)
	})
	if err != nil {
		return nil, err
	}
	return s.Shot(ctx, shot.ID)
}

// lockShots returns an installment as part of its run, with states and shots,
// which nobody else changes until this is committed.
func (t *tx) lockShots(installmentID string) (*Installment, []Installment, error) {
	row, err := first[Installment](t.DB, "installment", "id = ?", installmentID)
	if err != nil {
		return nil, nil, err
	}
	run, err := t.lockInstallments(row.DesignID)
	if err != nil {
		return nil, nil, err
	}
	for i := range run {
		if run[i].ID == installmentID {
			return &run[i], run, nil
		}
	}
	return nil, nil, notFound("installment")
}

func (t *tx) shiftShots(installmentID string, first, last, step int) error {
	err := t.Exec("UPDATE shots SET position = position + ? WHERE installment_id = ? AND position BETWEEN ? AND ?", step, installmentID, first, last).Error
	if err != nil {
		return fmt.Errorf("order shots: %w", err)
	}
	return nil
}

func (t *tx) writeShotLists(shot *Shot) error {
	for _, old := range []any{&ShotNumber{}, &ShotTail{}} {
		if err := t.Where("shot_id = ?", shot.ID).Delete(old).Error; err != nil {
			return fmt.Errorf("clear lists of shot: %w", err)
		}
	}
	for i := range shot.Numbers {
		shot.Numbers[i].ShotID, shot.Numbers[i].Position = shot.ID, i+1
	}
	for i := range shot.Tails {
		shot.Tails[i].ShotID, shot.Tails[i].Position = shot.ID, i+1
	}
	if err := createAll(t.DB, shot.Numbers); err != nil {
		return fmt.Errorf("numbers of shot: %w", err)
	}
	if err := createAll(t.DB, shot.Tails); err != nil {
		return fmt.Errorf("tails of shot: %w", err)
	}
	return nil
}

// Shot returns a shot with its numbers and tails.
func (s *Store) Shot(ctx context.Context, id string) (*Shot, error) {
	db := s.read(ctx)
	shot, err := first[Shot](db, "shot", "id = ?", id)
	if err != nil {
		return nil, err
	}
	shots := []Shot{*shot}
	if err := withShotLists(db, shots, "shot_id = ?", id); err != nil {
		return nil, err
	}
	return &shots[0], nil
}

// withShots fills the shots of installments in one query, without their lists.
func withShots(db *gorm.DB, run []Installment) error {
	if len(run) == 0 {
		return nil
	}
	at := make(map[string]*Installment, len(run))
	designs := map[string]bool{}
	for i := range run {
		at[run[i].ID] = &run[i]
		run[i].Shots = nil
		designs[run[i].DesignID] = true
	}
	var rows []Shot
	err := db.Table("shots").Select("shots.*").Joins("JOIN installments ON installments.id = shots.installment_id").
		Where("installments.design_id IN ?", keysOf(designs)).Order("shots.installment_id, shots.position").Find(&rows).Error
	if err != nil {
		return fmt.Errorf("shots: %w", err)
	}
	for _, shot := range rows {
		if in := at[shot.InstallmentID]; in != nil {
			in.Shots = append(in.Shots, shot)
		}
	}
	return nil
}

// withShotLists fills numbers and tails in two queries; where bounds the shots.
func withShotLists(db *gorm.DB, shots []Shot, where string, arg any) error {
	at := make(map[string]*Shot, len(shots))
	for i := range shots {
		at[shots[i].ID] = &shots[i]
	}
	var numbers []ShotNumber
	if err := db.Where(where, arg).Order("shot_id, position").Find(&numbers).Error; err != nil {
		return fmt.Errorf("numbers of shots: %w", err)
	}
	for _, n := range numbers {
		if shot := at[n.ShotID]; shot != nil {
			shot.Numbers = append(shot.Numbers, n)
		}
	}
	var tails []ShotTail
	if err := db.Where(where, arg).Order("shot_id, position").Find(&tails).Error; err != nil {
		return fmt.Errorf("tails of shots: %w", err)
	}
	for _, tail := range tails {
		if shot := at[tail.ShotID]; shot != nil {
			shot.Tails = append(shot.Tails, tail)
		}
	}
	return nil
}

// withShotsOf fills the shots of one installment.
func withShotsOf(db *gorm.DB, in *Installment) error {
	in.Shots = nil
	if err := db.Where("installment_id = ?", in.ID).Order("position").Find(&in.Shots).Error; err != nil {
		return fmt.Errorf("shots: %w", err)
	}
	return nil
}
