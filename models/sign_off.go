package models

import (
	"context"
	"fmt"
	"time"

	"gorm.io/gorm"

	"tenter/models/counts"
)

// SignOff is a tech editor's word that the counts of a version may go out. It
// is possible only when every rule holds and every point lies where it should,
// or each failure is answered in writing. Any later change of the counts, or of
// what they are checked against, withdraws it for good: it has to be given anew.
type SignOff struct {
	ID           string `gorm:"primaryKey"`
	DesignID     string
	VersionID    string
	Revision     int // of the version when it was signed
	Note         string
	SignedBy     *string // nil: somebody who was forgotten
	SignedAt     time.Time
	WithdrawnBy  *string
	WithdrawnAt  *time.Time
	WithdrawnWhy string

	Answers []FailureAnswer `gorm:"-"`
	Name    string          `gorm:"-"` // of who signed
	Handle  string          `gorm:"-"`
}

// Failure is something that the check of a count sheet found wrong. Steps that
// look out of line are not among them: they are a hint, and may be meant.
type Failure struct {
	Kind    string // as in a finding, or FailureUnchecked
	Name    string // of the rule or point
	Size    string // "" where it is about no one size
	Message string
}

// FailureUnchecked is a rule or point that could not be computed.
const FailureUnchecked = "unchecked"

// FailureAnswer is a failure with the reason why it may stand.
type FailureAnswer struct {
	SignOffID string `gorm:"primaryKey"`
	Position  int    `gorm:"primaryKey"`
	Failure   `gorm:"embedded"`
	Answer    string
}

// TableName names the table after what the answers belong to.
func (FailureAnswer) TableName() string { return "sign_off_answers" }

// key tells failures apart.
func (f Failure) key() [3]string { return [3]string{f.Kind, f.Name, f.Size} }

// Failures returns what a sign-off has to answer, in the order of the check.
func (c SheetCheck) Failures() []Failure {
	failures := []Failure{}
	for _, f := range c.Findings {
		if f.Kind != counts.FindingStep {
			failures = append(failures, Failure{f.Kind, f.Name, f.Size, f.Message})
		}
	}
	for _, u := range c.Unchecked {
		failures = append(failures, Failure{FailureUnchecked, u.Field, "", sentence("the " + u.Field + " " + u.Problem)})
	}
	return failures
}

// SignOffs is how a version stands with the tech editor.
type SignOffs struct {
	Version  Version
	Standing *SignOff
	Earlier  []SignOff // withdrawn ones, the latest first
	Failures []Failure // of the sheet as it is now
	Counts   int       // lines of the sheet
}

// SignOffs returns the standing sign-off of a version, the earlier ones, and
// what a new one would have to answer.
func (s *Store) SignOffs(ctx context.Context, versionID string) (*SignOffs, error) {
	db := s.read(ctx)
	sheet, err := s.Sheet(ctx, versionID)
	if err != nil {
		return nil, err
	}
	check, err := s.CheckSheet(ctx, sheet)
	if err != nil {
		return nil, err
	}
	out := &SignOffs{Version: sheet.Version, Failures: check.Failures(), Counts: len(sheet.Counts)}
	rows, err := signOffsWhere(db, "sign_offs.version_id = ?", versionID)
	if err != nil {
		return nil, err
	}
	for _, r := range rows {
		if r.WithdrawnAt == nil {
			out.Standing = &r
		} else {
			out.Earlier = append(out.Earlier, r)
		}
	}
	return out, nil
}

// signOffsWhere reads sign-offs with their answers and names, the latest first.
func signOffsWhere(db *gorm.DB, where string, args ...any) ([]SignOff, error) {
	var rows []struct {
		SignOff
		PersonName, PersonHandle *string
	}
	err := db.Table("sign_offs").Select("sign_offs.*, people.name AS person_name, people.handle AS person_handle").
		Joins("LEFT JOIN people ON people.id = sign_offs.signed_by").Where(where, args...).Order("sign_offs.id DESC").Find(&rows).Error
	if err != nil {
		return nil, fmt.Errorf("sign-offs: %w", err)
	}
	out := make([]SignOff, len(rows))
	at := map[string]*SignOff{}
	ids := []string{""}
	for i, r := range rows {
		out[i] = r.SignOff
		set(&out[i].Name, r.PersonName)
		set(&out[i].Handle, r.PersonHandle)
		at[r.ID] = &out[i]
		ids = append(ids, r.ID)
	}
	var answers []FailureAnswer
	if err := db.Where("sign_off_id IN ?", ids).Order("sign_off_id, position").Find(&answers).Error; err != nil {
		return nil, fmt.Errorf("answers: %w", err)
	}
	for _, a := range answers {
		at[a.SignOffID].Answers = append(at[a.SignOffID].Answers, a)
	}
	return out, nil
}
