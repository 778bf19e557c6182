package models

import (
	"context"
	"fmt"
	"time"

	"gorm.io/gorm"
)

// Take is one recording of an installment, numbered within it. It is accepted,
// set aside, or waits for a decision; it is never taken away. The designer and
// the filmers write takes.
type Take struct {
	ID            string `gorm:"primaryKey"`
	InstallmentID string
	Number        int
	RecordedOn    Date
	Seconds       *int    // length of the recording
	SampleID      *string // what was shown
	VersionID     *string // the text that was read from
	Note          string
	AcceptedAt    *time.Time
	SetAsideAt    *time.Time
	Revision      int
	CreatedAt     time.Time
	UpdatedAt     time.Time

	SampleLabel string     `gorm:"-"`
	Slips       []Slip     `gorm:"-"` // by time code
	Shots       []TakeShot `gorm:"-"` // by place in the take
}

const mostTakes = 100 // of one installment; chosen

func (k Take) validate(today Date) error {
	var p problems
	p.date("recorded_on", k.RecordedOn, true)
	if k.RecordedOn.Valid() && k.RecordedOn > today {
		p.addf("recorded_on", "is after today, %s; give the day on which it was recorded", today)
	}
	if k.Seconds != nil && (*k.Seconds < 1 || *k.Seconds > int(LongestRecording)/second) {
		p.addf("seconds", "has to lie between 1 and %d; that is 24 hours", int(LongestRecording)/second)
	}
	p.text("note", k.Note, false, longText)
	return p.err()
}

// counts tells whether the take was accepted and can be used as it is: no slip
// in it waits to be recorded again.
func (k Take) counts() bool { return k.AcceptedAt != nil && k.againSlip() == nil }

func (k Take) againSlip() *Slip {
	for i := range k.Slips {
		if s := &k.Slips[i]; s.Remedy == RecordAgain && s.MendedAt == nil {
			return s
		}
	}
	return nil
}

func (k Take) openSlips() []Slip {
	var out []Slip
	for _, s := range k.Slips {
		if s.MendedAt == nil {
			out = append(out, s)
		}
	}
	return out
}

// lastCounting returns when the last take that counts was accepted, nil when
// none does.
func lastCounting(takes []Take) *time.Time {
	var last *time.Time
	for _, k := range takes {
		if k.counts() && (last == nil || k.AcceptedAt.After(*last)) {
			last = k.AcceptedAt
		}
	}
	return last
}

// slipsToMend are the unmended slips in the takes that will be used: the
// accepted ones or, while none is, all that are not set aside.
func slipsToMend(takes []Take) []Slip {
	var accepted, waiting []Slip
	decided := false
	for _, k := range takes {
		switch {
		case k.AcceptedAt != nil || k.SetAsideAt == nil && k.holdsAccepted():
			accepted = append(accepted, k.openSlips()...)
			decided = true
		case k.SetAsideAt == nil:
			waiting = append(waiting, k.openSlips()...)
		}
	}
	if decided {
		return accepted
	}
	return waiting
}

// holdsAccepted tells whether any shot of the take was accepted.
func (k Take) holdsAccepted() bool {
	for _, s := range k.Shots {
		if s.AcceptedAt != nil {
			return true
		}
	}
	return false
}

// againSlip returns the accepted take that has to be recorded again, and why.
func againSlip(takes []Take) (*Take, *Slip) {
	for i := range takes {
		if s := takes[i].againSlip(); s != nil && takes[i].AcceptedAt != nil {
			return &takes[i], s
		}
	}
	return nil, nil
}

// undecided returns the latest take that is neither accepted nor set aside.
func undecided(takes []Take) *Take {
	for i := len(takes) - 1; i >= 0; i-- {
		if takes[i].AcceptedAt == nil && takes[i].SetAsideAt == nil {
			return &takes[i]
		}
	}
	return nil
}

// AddTake adds the next take of an installment, recorded today and read from
// the latest version unless the take says otherwise.
func (s *Store) AddTake(ctx context.Context, actor Actor, installmentID string, k Take) (*Take, error) {
	k = Take{ID: NewID(), InstallmentID: installmentID, RecordedOn: k.RecordedOn, Seconds: k.Seconds, SampleID: k.SampleID, VersionID: k.VersionID, Note: k.Note, Revision: 1}
	err := s.change(ctx, actor, func(t *tx) error {
		in, err := t.lockInstallment(installmentID)
		if err != nil {
			return err
		}
		today, err := t.today()
		if err != nil {
			return err
		}
		k.RecordedOn = Date(orElse(string(k.RecordedOn), string(today)))
		if err := k.validate(today); err != nil {
			return err
		}
		if err := t.takeBelongs(in.DesignID, &k); err != nil {
			return err
		}
		if err := t.Model(&Take{}).Where("installment_id = ?", in.ID).Select("coalesce(max(number), 0)").Row().Scan(&k.Number); err != nil {
			return fmt.Errorf("number of take: %w", err)
		}
		if k.Number++; k.Number > mostTakes {
			return failf(Conflict, "This installment has %d takes, which is the most that one can have.", mostTakes)
		}
		k.CreatedAt, k.UpdatedAt = t.now, t.now
		if err := t.Create(&k).Error; err != nil {
			return fmt.Errorf("add take: %w", err)
		}
		return t.record(in.DesignID, "take", k.ID, "added", nil, k)
	})
	if err != nil {
		return nil, err
	}
	return s.Take(ctx, k.ID)
}

// takeBelongs refuses a sample or version of another design, and fills in the
// latest version where none is named.
func (t *tx) takeBelongs(designID string, k *Take) error {
	if k.SampleID != nil {
		if _, err := sampleOf(t.DB, designID, *k.SampleID, "sample_id"); err != nil {
			return err
		}
	}
	var named string
	set(&named, k.VersionID)
	v, err := versionOf(t.DB, designID, named, "version_id")
	if err != nil {
		return err
	}
	k.VersionID = &v.ID
	return nil
}

// Take returns a take with its slips.
func (s *Store) Take(ctx context.Context, id string) (*Take, error) {
	takes, err := takesWhere(s.read(ctx), "takes.id = ?", id)
	if err != nil {
		return nil, err
	}
	if len(takes) == 0 {
		return nil, notFound("take")
	}
	return &takes[0], nil
}

// takesWhere returns takes with their slips and shots in three queries, in the order of
// their numbers within each installment.
func takesWhere(db *gorm.DB, where string, arg any) ([]Take, error) {
	var rows []struct {
		Take
		Label *string
	}
	err := db.Table("takes").Select("takes.*, samples.label AS label").Joins("JOIN installments ON installments.id = takes.installment_id").
		Joins("LEFT JOIN samples ON samples.id = takes.sample_id").Where(where, arg).
		Order("takes.installment_id, takes.number").Find(&rows).Error
	if err != nil {
		return nil, fmt.Errorf("takes: %w", err)
	}
	var slips []Slip
	err = db.Table("slips").Select("slips.*").Joins("JOIN takes ON takes.id = slips.take_id").
		Joins("JOIN installments ON installments.id = takes.installment_id").Where(where, arg).Order("slips.at_ms, slips.id").Find(&slips).Error
	if err != nil {
		return nil, fmt.Errorf("slips: %w", err)
	}
	takes := make([]Take, len(rows))
	at := make(map[string]*Take, len(rows))
	for i, r := range rows {
		takes[i] = r.Take
		set(&takes[i].SampleLabel, r.Label)
		at[r.ID] = &takes[i]
	}
	for _, slip := range slips {
		if k := at[slip.TakeID]; k != nil { // a take added between the two queries waits for the next reading
			k.Slips = append(k.Slips, slip)
		}
	}
	return takes, withTakeShots(db, at, where, arg)
}
