package models

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"
	"time"

	"gorm.io/gorm"
	"gorm.io/gorm/clause"
)

// ConfidentialityText is a wording that somebody has agreed to. It is kept as
// it was, under a number of its call and the hash of its words; it never
// changes.
type ConfidentialityText struct {
	ID         string `gorm:"primaryKey"`
	TestCallID string
	Number     int    // 1 = the first wording that somebody agreed to
	Hash       string // SHA-256 of Body, hex
	Body       string
	CreatedAt  time.Time
}

// Consent is somebody's yes to a wording.
type Consent struct {
	TextID   string `gorm:"primaryKey"`
	PersonID string `gorm:"primaryKey"`
	AgreedAt time.Time
}

// ConfidentialityHash names the call's present wording; "" when there is none.
func (c TestCall) ConfidentialityHash() string {
	if strings.TrimSpace(c.Confidentiality) == "" {
		return ""
	}
	sum := sha256.Sum256([]byte(c.Confidentiality))
	return hex.EncodeToString(sum[:])
}

// agree keeps that somebody agrees to the call's present wording. Agreeing
// again keeps the first day. The call has to be held by lockCall, so that
// numbers don't collide.
func (t *tx) agree(call *TestCall, personID string) error {
	hash := call.ConfidentialityHash()
	if hash == "" {
		return nil
	}
	text, err := first[ConfidentialityText](t.DB, "text", "test_call_id = ? AND hash = ?", call.ID, hash)
	if KindOf(err) == NotFound {
		var n int64
		if err := t.Model(&ConfidentialityText{}).Where("test_call_id = ?", call.ID).Count(&n).Error; err != nil {
			return fmt.Errorf("count texts: %w", err)
		}
		text = &ConfidentialityText{ID: NewID(), TestCallID: call.ID, Number: int(n) + 1, Hash: hash, Body: call.Confidentiality, CreatedAt: t.now}
		if err := t.Create(text).Error; err != nil {
			return fmt.Errorf("keep text: %w", err)
		}
	} else if err != nil {
		return err
	}
	row := Consent{TextID: text.ID, PersonID: personID, AgreedAt: t.now}
	if err := t.Clauses(clause.OnConflict{DoNothing: true}).Create(&row).Error; err != nil {
		return fmt.Errorf("keep consent: %w", err)
	}
	return nil
}

// Agreed is what somebody agreed to last in a call.
type Agreed struct {
	Number   int
	AgreedAt time.Time
	Present  bool // the call still says the same
}

// agreedIn reads who agreed to which wording of a call, by person.
func agreedIn(db *gorm.DB, callID string) (map[string]*Agreed, error) {
	var rows []struct {
		PersonID string
		AgreedAt time.Time
		Number   int
		Present  bool
	}
	err := db.Table("consents").Select("consents.person_id, consents.agreed_at, t.number, t.body = c.confidentiality AS present").
		Joins("JOIN confidentiality_texts t ON t.id = consents.text_id").
		Joins("JOIN test_calls c ON c.id = t.test_call_id").
		Where("t.test_call_id = ?", callID).Order("consents.agreed_at").Find(&rows).Error
	if err != nil {
		return nil, fmt.Errorf("consents: %w", err)
	}
	out := make(map[string]*Agreed, len(rows))
	for _, r := range rows {
		out[r.PersonID] = &Agreed{r.Number, r.AgreedAt, r.Present}
	}
	return out, nil
}
