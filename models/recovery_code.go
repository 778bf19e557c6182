package models

import (
	"encoding/base32"
	"fmt"
	"strings"
	"time"
)

// RecoveryCode stands in for a one-time code once, for whoever has lost the
// device. Only its hash is kept: at 120 random bits it needs no slow one
// (OWASP ASVS 5.0.0, 6.5.2, asks for 112).
type RecoveryCode struct {
	PersonID string `gorm:"primaryKey"`
	CodeHash string `gorm:"primaryKey"`
	UsedAt   *time.Time
}

const (
	recoveryCodes = 8  // given at once (chosen)
	recoveryBytes = 15 // 24 letters and digits
	recoveryGroup = 6
)

// recoveryLetters are Crockford's 32: no I, L, O or U, so that what was written
// down can be read again.
var recoveryLetters = base32.NewEncoding("0123456789ABCDEFGHJKMNPQRSTVWXYZ").WithPadding(base32.NoPadding)

// misread turns what is easily taken for another letter into the one meant.
var misread = strings.NewReplacer("I", "1", "L", "1", "O", "0", "-", "", " ", "")

// newRecoveryCode returns a code in groups, as it is read aloud.
func newRecoveryCode() string {
	text := recoveryLetters.EncodeToString(randomBytes(recoveryBytes))
	var groups []string
	for len(text) > 0 {
		groups, text = append(groups, text[:recoveryGroup]), text[recoveryGroup:]
	}
	return strings.Join(groups, "-")
}

func hashRecoveryCode(code string) string { return hashToken(misread.Replace(strings.ToUpper(code))) }

// renewRecoveryCodes ends the codes that a person has and returns new ones.
func (t *tx) renewRecoveryCodes(personID string) ([]string, error) {
	if err := t.Where("person_id = ?", personID).Delete(&RecoveryCode{}).Error; err != nil {
		return nil, fmt.Errorf("earlier recovery codes: %w", err)
	}
	codes := make([]string, recoveryCodes)
	rows := make([]RecoveryCode, recoveryCodes)
	for i := range codes {
		codes[i] = newRecoveryCode()
		rows[i] = RecoveryCode{PersonID: personID, CodeHash: hashRecoveryCode(codes[i])}
	}
	if err := t.Create(&rows).Error; err != nil {
		return nil, fmt.Errorf("recovery codes: %w", err)
	}
	return codes, nil
}

// useRecoveryCode uses one up and tells whether it was one.
func (t *tx) useRecoveryCode(personID, code string) (bool, error) {
	res := t.Model(&RecoveryCode{}).Where("person_id = ? AND code_hash = ? AND used_at IS NULL", personID, hashRecoveryCode(code)).Update("used_at", t.now)
	if res.Error != nil {
		return false, fmt.Errorf("use a recovery code: %w", res.Error)
	}
	if res.RowsAffected == 0 {
		return false, nil
	}
	return true, t.record("", "person", personID, "recovery code used", nil, nil)
}
