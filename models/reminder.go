package models

import (
	"context"
	"time"

	"gorm.io/gorm/clause"
)

// Reminder is something that is due to be told to somebody, with the words for
// it. It is computed from how things stand; only that it was told is stored.
type Reminder struct {
	Kind     ReminderKind
	PersonID string
	Handle   string
	Name     string
	Email    *string
	SizeName string
	DueOn    Date   // since when it is due
	About    string // what it is about, so that the same is not due twice
	Subject  string
	Text     string

	DesignID, AssignmentID string     // "" without an assignment
	Link                   LetterLink // below the words, were it sent by e-mail
	ByHandOnly             string     // why it can't go by e-mail; "": it can
	Doubtful               bool       // a mail server did not know the address
	NotSent                string     // why the latest letter about it did not arrive, or that it was withdrawn; "": there was none
}

// ReminderKind is what a reminder is about.
type ReminderKind string

// The kinds of reminders, in the order in which a call runs.
const (
	RemindAsked    ReminderKind = "asked"     // you are asked to make a size
	RemindDeclined ReminderKind = "declined"  // there is no size for you this time
	RemindAnswer   ReminderKind = "answer"    // please say yes or no
	RemindYarn     ReminderKind = "yarn"      // yarn is on its way
	RemindCheckIn  ReminderKind = "check-in"  // how far are you?
	RemindTime     ReminderKind = "more time" // your wish was answered
	RemindDueSoon  ReminderKind = "due soon"
	RemindOverdue  ReminderKind = "overdue"
	RemindMeasure  ReminderKind = "measure again"
	RemindThanks   ReminderKind = "thanks"

	RemindCorrection ReminderKind = "correction" // of a text that you make
)

// ReminderKinds lists them. Who adds one adds it here: letters, settings and
// pages go by this list.
func ReminderKinds() []ReminderKind {
	return []ReminderKind{RemindAsked, RemindDeclined, RemindAnswer, RemindYarn, RemindCheckIn, RemindTime, RemindDueSoon, RemindOverdue, RemindMeasure, RemindThanks, RemindCorrection}
}

func reminderKindNames() []string {
	var out []string
	for _, k := range ReminderKinds() {
		out = append(out, string(k))
	}
	return out
}

// How long before and after a day something is told (chosen).
const (
	answerAhead  = 1 // day before the answer is due
	dueAhead     = 3 // days before the report is due
	overdueEvery = 7 // days between two reminders of the same overdue report
)

// Told is a reminder that was passed on.
type Told struct {
	ID         string `gorm:"primaryKey"`
	TestCallID string
	PersonID   string
	Kind       ReminderKind
	About      string
	ToldAt     time.Time
}

// TableName names the table.
func (Told) TableName() string { return "told" }

// remindable is somebody who has or had a size, with how to reach them.
type remindable struct {
	AssignmentLine
	Name  string
	Email *string
	Terms string
}

// Reminders lists what is due to be told in a call and was not told yet, the
// longest due first.
func (s *Store) Reminders(ctx context.Context, callID string) ([]Reminder, error) {
	db := s.read(ctx)
	call, err := callIn(db, callID)
	if err != nil {
		return nil, err
	}
	return s.dueIn(db, call)
}

// MarkTold keeps that a reminder was passed on; telling it again changes
// nothing.
func (s *Store) MarkTold(ctx context.Context, actor Actor, callID string, personID string, kind ReminderKind, about string) error {
	var p problems
	p.text("about", about, false, shortText)
	p.oneOf("kind", string(kind), reminderKindNames()...)
	if _, _, ok := readAboutCorrections(about); kind == RemindCorrection && !ok {
		p.addf("about", "is not what the reminder said; send that back unchanged")
	}
	if err := p.err(); err != nil {
		return err
	}
	return s.change(ctx, actor, func(t *tx) error {
		if _, err := first[Person](t.DB, "person", "id = ?", personID); err != nil {
			return err
		}
		return t.markTold(callID, ReminderKey{personID, kind, about})
	})
}

func (t *tx) markTold(callID string, key ReminderKey) error {
	call, err := first[TestCall](t.DB, "test call", "id = ?", callID)
	if err != nil {
		return err
	}
	row := Told{ID: NewID(), TestCallID: callID, PersonID: key.PersonID, Kind: key.Kind, About: key.About, ToldAt: t.now}
	res := t.Clauses(clause.OnConflict{DoNothing: true}).Create(&row)
	if res.Error != nil || res.RowsAffected == 0 {
		return res.Error
	}
	return t.record(call.DesignID, "reminder", row.ID, "told", nil, row)
}
