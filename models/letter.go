package models

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"time"

	"gorm.io/gorm/clause"

	"tenter/models/letters"
)

// Letter is an e-mail on its way out, or what became of it. It is written in
// the transaction of what causes it, and sent by nobody but the server's post.
// The words stand in it, the links don't: they are made of the secret at the
// moment of sending, the same ones each time, and the secret goes when the
// letter has. The address is the person's at that moment.
type Letter struct {
	ID          string `gorm:"primaryKey"`
	PersonID    string
	Kind        LetterKind
	TestCallID  *string
	DesignID    *string
	About       string // as in Told
	Subject     string `json:"-"`
	Body        string `json:"-"`
	Link        LetterLink
	Secret      string  `json:"-"`
	StopHash    *string `json:"-"`
	State       LetterState
	Tries       int
	NextTryAt   time.Time
	GiveUpAt    time.Time
	Lease       string `json:"-"` // '' for none; of letters written by earlier versions, NULL
	LeasedUntil *time.Time
	Said        string `json:"-"` // may name the address
	EndedAt     *time.Time
	ErasedAt    *time.Time
	CreatedAt   time.Time
}

// LetterKind is what a letter is about: one of the kinds of reminders or one
// of the two below.
type LetterKind string

// What letters are about beside reminders.
const (
	LetterInvitation LetterKind = "invitation"
	LetterTest       LetterKind = "test"
)

// LetterState is how far a letter is.
type LetterState string

// The states of a letter.
const (
	LetterWaiting   LetterState = "waiting"
	LetterSent      LetterState = "sent"
	LetterFailed    LetterState = "failed"
	LetterWithdrawn LetterState = "withdrawn"
)

// LetterStates lists them.
func LetterStates() []LetterState {
	return []LetterState{LetterWaiting, LetterSent, LetterFailed, LetterWithdrawn}
}

// LetterLink is the link below a letter's words.
type LetterLink string

// The links of letters.
const (
	NoLink   LetterLink = ""
	PageLink LetterLink = "page" // to the reader's own page
	JoinLink LetterLink = "join" // with which they choose a password
)

// newLetter makes a letter that is to go out at once.
func (t *tx) newLetter(personID string, kind LetterKind, subject, body string, link LetterLink) (*Letter, error) {
	if err := letters.Subject(subject); err != nil {
		return nil, &Error{Kind: Invalid, Message: "The letter can't be sent like this.", Fields: []FieldProblem{{"subject", err.Error()}}}
	}
	if len(body) > letters.LongestBody {
		return nil, failf(Invalid, "The letter is longer than %d kB.", letters.LongestBody>>10)
	}
	secret, _ := newToken()
	l := &Letter{ID: NewID(), PersonID: personID, Kind: kind, Subject: subject, Body: body, Link: link, Secret: secret, State: LetterWaiting,
		NextTryAt: t.now, GiveUpAt: t.now.Add(letters.GiveUpAfter), CreatedAt: t.now}
	if kind.Group() != "" {
		hash := hashToken(l.stopToken())
		l.StopHash = &hash
	}
	return l, nil
}

// put keeps a letter; kept is false when the same is on its way already, or
// was sent.
func (t *tx) put(l *Letter) (kept bool, err error) {
	res := t.Clauses(clause.OnConflict{DoNothing: true}).Create(l)
	if res.Error != nil {
		return false, fmt.Errorf("letter: %w", res.Error)
	}
	if res.RowsAffected == 0 {
		return false, nil
	}
	return true, t.recordLetter(l, "put out")
}

func (t *tx) recordLetter(l *Letter, action string) error {
	design := ""
	set(&design, l.DesignID)
	return t.record(design, "letter", l.ID, action, nil, l)
}

// token makes one of the letter's own tokens.
func (l *Letter) token(of string) string {
	mac := hmac.New(sha256.New, []byte(l.Secret))
	mac.Write([]byte(of)) //nolint:errcheck // a hash takes everything
	return base64.RawURLEncoding.EncodeToString(mac.Sum(nil))
}

func (l *Letter) joinToken() string { return l.token("join") }
func (l *Letter) stopToken() string { return l.token("stop") }
