package models

import (
	"context"
	"fmt"
	"sort"
	"time"

	"gorm.io/gorm"
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

// dueIn is what is due in a call: not told, and not in a letter on its way.
func (s *Store) dueIn(db *gorm.DB, call *TestCall) ([]Reminder, error) {
	m, err := s.mailroom(db, call)
	if err != nil {
		return nil, err
	}
	var told []Told
	if err := db.Where("test_call_id = ?", call.ID).Find(&told).Error; err != nil {
		return nil, fmt.Errorf("what was told: %w", err)
	}
	done := make(map[ReminderKey]bool, len(told))
	for _, t := range told {
		done[ReminderKey{t.PersonID, t.Kind, t.About}] = true
	}
	written, err := lettersOf(db, call.ID)
	if err != nil {
		return nil, err
	}
	out := []Reminder{}
	for _, r := range m.all() {
		letter := written[r.key()]
		if done[r.key()] || letter.State == LetterWaiting || letter.State == LetterSent {
			continue
		}
		if letter.State != "" {
			r.NotSent = orElse(letter.Said, string(letter.State))
		}
		out = append(out, r)
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].DueOn < out[j].DueOn })
	return out, withMail(db, out)
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

// mailroom is what reminders are written from.
type mailroom struct {
	studio    *Studio
	call      *TestCall
	design    *Design
	today     Date
	testers   []remindable
	declined  []ApplicationLine
	extension map[string]Extension        // the last that was answered, by assignment
	measure   map[string][]MeasureRequest // that wait for an answer, by assignment

	corrections *correctionBook
}

func (s *Store) mailroom(db *gorm.DB, call *TestCall) (*mailroom, error) {
	m := &mailroom{call: call, extension: map[string]Extension{}, measure: map[string][]MeasureRequest{}}
	var err error
	if m.studio, err = studioIn(db); err != nil {
		return nil, err
	}
	m.today = DateOf(s.Now(), m.studio.Location())
	if m.design, err = designIn(db, call.DesignID); err != nil {
		return nil, err
	}
	if m.corrections, err = correctionBookIn(db, m.design); err != nil {
		return nil, err
	}
	lines, err := assignmentLines(db, s.Now(), db.Where("assignments.test_call_id = ? AND assignments.withdrawn_at IS NULL", call.ID))
	if err != nil {
		return nil, err
	}
	var people []Person
	if err := db.Omit("password_hash").Where("id IN (SELECT person_id FROM assignments WHERE test_call_id = ?)", call.ID).Find(&people).Error; err != nil {
		return nil, fmt.Errorf("testers: %w", err)
	}
	byID := make(map[string]Person, len(people))
	for _, p := range people {
		byID[p.ID] = p
	}
	for _, l := range lines {
		if byID[l.PersonID].ForgottenAt != nil {
			continue // there is nobody left to tell
		}
		m.testers = append(m.testers, remindable{l, byID[l.PersonID].Name, byID[l.PersonID].Email, byID[l.PersonID].Terms})
	}
	var extensions []Extension
	err = db.Where("answered_at IS NOT NULL AND assignment_id IN (SELECT id FROM assignments WHERE test_call_id = ?)", call.ID).Order("answered_at").Find(&extensions).Error
	if err != nil {
		return nil, fmt.Errorf("answers about time: %w", err)
	}
	for _, e := range extensions {
		m.extension[e.AssignmentID] = e
	}
	requests, err := measureRequestsIn(db, "a.test_call_id = ? AND r.answered_at IS NULL AND r.withdrawn_at IS NULL", call.ID)
	if err != nil {
		return nil, err
	}
	for _, r := range requests {
		m.measure[r.AssignmentID] = append(m.measure[r.AssignmentID], r)
	}
	m.declined, err = applicationLines(db, s.Now(), db.Where("applications.test_call_id = ? AND applications.declined_at IS NOT NULL", call.ID))
	return m, err
}
