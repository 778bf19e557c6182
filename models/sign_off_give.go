package models

import (
	"context"
	"fmt"
)

// SignOffVersion gives a tech editor's word on a version as it was read. Each
// failure of the sheet needs an answer; an answer to what does not fail is
// refused, since it was written about another sheet.
func (s *Store) SignOffVersion(ctx context.Context, actor Actor, versionID string, revision *int, note string, answers []FailureAnswer) (*SignOff, error) {
	var p problems
	p.text("note", note, false, longText)
	if err := p.err(); err != nil {
		return nil, err
	}
	var out SignOff
	err := s.change(ctx, actor, func(t *tx) error {
		v, err := first[Version](t.DB, "version", "id = ?", versionID)
		if err != nil {
			return err
		}
		if err := checkRevision("count sheet", v.Revision, revision); err != nil {
			return err
		}
		failures, err := s.failuresToSign(t, v)
		if err != nil {
			return err
		}
		out = SignOff{ID: NewID(), DesignID: v.DesignID, VersionID: v.ID, Revision: v.Revision, Note: note, SignedAt: t.now}
		if t.actor.PersonID != "" {
			out.SignedBy = &t.actor.PersonID
		}
		if out.Answers, err = matchAnswers(failures, answers); err != nil {
			return err
		}
		if err := t.Create(&out).Error; err != nil {
			return fmt.Errorf("sign off: %w", err)
		}
		for i := range out.Answers {
			out.Answers[i].SignOffID, out.Answers[i].Position = out.ID, i+1
		}
		if err := createAll(t.DB, out.Answers); err != nil {
			return fmt.Errorf("answers: %w", err)
		}
		return t.record(v.DesignID, "sign-off", out.ID, "signed", nil, out)
	})
	if err != nil {
		return nil, err
	}
	return s.signOff(ctx, out.ID)
}

func (s *Store) signOff(ctx context.Context, id string) (*SignOff, error) {
	rows, err := signOffsWhere(s.read(ctx), "sign_offs.id = ?", id)
	if err != nil {
		return nil, err
	}
	if len(rows) == 0 {
		return nil, notFound("sign-off")
	}
	return &rows[0], nil
}

// failuresToSign checks the sheet within the change, so that nothing can slip
// in between, and refuses what cannot be signed at all.
func (s *Store) failuresToSign(t *tx, v *Version) ([]Failure, error) {
	var standing int64
	if err := t.Model(&SignOff{}).Where("version_id = ? AND withdrawn_at IS NULL", v.ID).Count(&standing).Error; err != nil {
		return nil, fmt.Errorf("look for a sign-off: %w", err)
	}
	if standing > 0 {
		return nil, failf(Conflict, "Version %d is signed off already.", v.Number)
	}
	sheet, err := sheetIn(t.DB, *v)
	if err != nil {
		return nil, err
	}
	if len(sheet.Counts) == 0 || len(sheet.Sizes) == 0 {
		return nil, failf(Conflict, "Version %d has no counts yet: there is nothing to sign off.", v.Number)
	}
	design, err := designIn(t.DB, v.DesignID)
	if err != nil {
		return nil, err
	}
	check, err := s.checkSheet(t.DB, design, sheet)
	if err != nil {
		return nil, err
	}
	return check.Failures(), nil
}

// matchAnswers puts the answers into the order of the failures.
func matchAnswers(failures []Failure, answers []FailureAnswer) ([]FailureAnswer, error) {
	var p problems
	given := map[[3]string]int{}
	failing := map[[3]string]bool{}
	for _, f := range failures {
		failing[f.key()] = true
	}
	for i, a := range answers {
		at := fmt.Sprintf("answers[%d]", i)
		p.text(at+".answer", a.Answer, true, longText)
		if !failing[a.key()] {
			p.addf(at, "answers what does not fail in this sheet; leave it out")
		}
		if _, twice := given[a.key()]; twice {
			p.addf(at, "answers a failure that is answered above")
		}
		given[a.key()] = i
	}
	var out []FailureAnswer
	for _, f := range failures {
		i, answered := given[f.key()]
		if !answered {
			p.addf("answers", "leaves this without an answer: %s Mend the counts, or say in writing why it may stand", f.Message)
			continue
		}
		out = append(out, FailureAnswer{Failure: f, Answer: answers[i].Answer})
	}
	return out, p.err()
}

// WithdrawSignOff takes a standing sign-off back, and says why.
func (s *Store) WithdrawSignOff(ctx context.Context, actor Actor, versionID, why string) error {
	var p problems
	p.text("why", why, true, longText)
	if err := p.err(); err != nil {
		return err
	}
	return s.change(ctx, actor, func(t *tx) error {
		v, err := first[Version](t.DB, "version", "id = ?", versionID)
		if err != nil {
			return err
		}
		n, err := t.withdrawSignOffs(why, "version_id = ?", v.ID)
		if err == nil && n == 0 {
			return failf(Conflict, "Version %d is not signed off.", v.Number)
		}
		return err
	})
}

// withdrawSignOffs takes back the standing sign-offs that where picks, because
// what they were about has changed. It returns how many there were.
func (t *tx) withdrawSignOffs(why, where string, arg any) (int, error) {
	var standing []SignOff
	if err := t.Where(where, arg).Where("withdrawn_at IS NULL").Find(&standing).Error; err != nil {
		return 0, fmt.Errorf("standing sign-offs: %w", err)
	}
	for _, before := range standing {
		after := before
		after.WithdrawnAt, after.WithdrawnWhy = &t.now, why
		if t.actor.PersonID != "" {
			after.WithdrawnBy = &t.actor.PersonID
		}
		err := t.Model(&SignOff{}).Where("id = ?", before.ID).
			Updates(map[string]any{"withdrawn_at": t.now, "withdrawn_by": after.WithdrawnBy, "withdrawn_why": why}).Error
		if err != nil {
			return 0, fmt.Errorf("withdraw sign-off: %w", err)
		}
		if err := t.record(before.DesignID, "sign-off", before.ID, "withdrawn", before, after); err != nil {
			return 0, err
		}
	}
	return len(standing), nil
}
