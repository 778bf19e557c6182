package models

import (
	"context"
	"fmt"
	"time"

	"gorm.io/gorm"

	"tenter/models/letters"
)

// LetterLine is a letter with whom it is to.
type LetterLine struct {
	Letter
	Handle   string
	Name     string
	Email    *string
	Doubtful bool
	Sending  bool // at this moment
}

// Letters lists letters in a state, the newest first; "" lists all.
func (s *Store) Letters(ctx context.Context, state LetterState, page Page) ([]LetterLine, string, error) {
	db := s.read(ctx)
	q := db.Order("letters.id DESC").Limit(page.limit() + 1)
	if state != "" {
		q = q.Where("letters.state = ?", state)
	}
	if page.After != "" {
		q = q.Where("letters.id < ?", page.After)
	}
	rows, err := s.letterLines(q)
	if err != nil {
		return nil, "", err
	}
	rows, next := cut(rows, page, func(l LetterLine) string { return l.ID })
	return rows, next, nil
}

// Letter returns one letter.
func (s *Store) Letter(ctx context.Context, id string) (*LetterLine, error) {
	rows, err := s.letterLines(s.read(ctx).Where("letters.id = ?", id))
	if err != nil {
		return nil, err
	}
	if len(rows) == 0 {
		return nil, notFound("letter")
	}
	return &rows[0], nil
}

func (s *Store) letterLines(q *gorm.DB) ([]LetterLine, error) {
	var rows []LetterLine
	err := q.Table("letters").Joins("JOIN people h ON h.id = letters.person_id").
		Select("letters.*, h.handle, h.name, h.email, h.email_doubtful_at IS NOT NULL AS doubtful").Scan(&rows).Error
	if err != nil {
		return nil, fmt.Errorf("letters: %w", err)
	}
	now := s.Now()
	for i := range rows {
		rows[i].Secret, rows[i].StopHash = "", nil // nobody reads these
		rows[i].Sending = rows[i].LeasedUntil != nil && now.Before(*rows[i].LeasedUntil)
	}
	return rows, nil
}

// CountLetters counts letters by their states.
func (s *Store) CountLetters(ctx context.Context) (map[LetterState]int, error) {
	var rows []struct {
		State LetterState
		N     int
	}
	if err := s.read(ctx).Model(&Letter{}).Select("state, count(*) AS n").Group("state").Scan(&rows).Error; err != nil {
		return nil, fmt.Errorf("count letters: %w", err)
	}
	out := map[LetterState]int{}
	for _, r := range rows {
		out[r.State] = r.N
	}
	return out, nil
}

// WithdrawLetter takes back a letter that has not gone yet, and its link.
func (s *Store) WithdrawLetter(ctx context.Context, actor Actor, id string) error {
	return s.change(ctx, actor, func(t *tx) error {
		l, err := first[Letter](t.DB, "letter", "id = ?", id)
		switch {
		case err != nil:
			return err
		case l.State == LetterWithdrawn:
			return nil
		case l.State == LetterSent:
			return failf(Conflict, "This letter has gone already.")
		case l.LeasedUntil != nil && t.now.Before(*l.LeasedUntil):
			return failf(Conflict, "This letter is being sent at this moment.")
		}
		return t.withdraw(l, "")
	})
}

func (t *tx) withdraw(l *Letter, why string) error {
	if l.Link == JoinLink && l.Secret != "" {
		err := t.Model(&Invitation{}).Where("token_hash = ? AND used_at IS NULL AND revoked_at IS NULL", hashToken(l.joinToken())).Update("revoked_at", t.now).Error
		if err != nil {
			return fmt.Errorf("end the letter's link: %w", err)
		}
	}
	return t.endLetter(l, LetterWithdrawn, why)
}

// withdrawWaiting takes back letters that no process is sending.
func (t *tx) withdrawWaiting(why, where string, args ...any) error {
	var rows []Letter
	err := t.Where("state = ? AND (leased_until IS NULL OR leased_until < ?)", LetterWaiting, t.now).Where(where, args...).Find(&rows).Error
	if err != nil {
		return fmt.Errorf("letters that wait: %w", err)
	}
	for i := range rows {
		if err := t.withdraw(&rows[i], why); err != nil {
			return err
		}
	}
	return nil
}

// TryLetterAgain sends a letter that failed or was withdrawn once more, or one
// that waits for its next try at once. It keeps its name among letters, so that
// a mail program that has it after all shows it once; its links are new.
func (s *Store) TryLetterAgain(ctx context.Context, actor Actor, id string) error {
	return s.change(ctx, actor, func(t *tx) error {
		l, err := first[Letter](t.DB, "letter", "id = ?", id)
		switch {
		case err != nil:
			return err
		case l.State == LetterSent:
			return failf(Conflict, "This letter has gone already.")
		case l.ErasedAt != nil:
			return failf(Conflict, "The words of this letter were erased; write it anew.")
		case l.State == LetterWaiting:
			err = t.Model(&Letter{}).Where("id = ? AND leased_until IS NULL", id).Update("next_try_at", t.now).Error
			if err != nil {
				return fmt.Errorf("try again: %w", err)
			}
			return t.recordLetter(l, "put out again")
		}
		if _, err := t.reachable(l.PersonID); err != nil {
			return err
		}
		return t.putAgain(l)
	})
}

// putAgain puts an ended letter out anew.
func (t *tx) putAgain(l *Letter) error {
	if l.TestCallID != nil && l.Kind != LetterInvitation {
		var on int64
		err := t.Model(&Letter{}).Where("test_call_id = ? AND person_id = ? AND kind = ? AND about = ? AND state IN ?", l.TestCallID, l.PersonID, l.Kind, l.About,
			[]LetterState{LetterWaiting, LetterSent}).Count(&on).Error
		if err != nil {
			return fmt.Errorf("look for the same letter: %w", err)
		}
		if on > 0 {
			return failf(Conflict, "The same was written anew since; that letter is on its way or has gone.")
		}
	}
	l.Secret, _ = newToken()
	l.State, l.Tries, l.NextTryAt, l.GiveUpAt, l.EndedAt = LetterWaiting, 0, t.now, t.now.Add(letters.GiveUpAfter), nil
	if l.StopHash != nil {
		hash := hashToken(l.stopToken())
		l.StopHash = &hash
	}
	err := t.Model(&Letter{}).Where("id = ?", l.ID).Updates(map[string]any{"secret": l.Secret, "stop_hash": l.StopHash, "state": l.State, "tries": 0,
		"next_try_at": l.NextTryAt, "give_up_at": l.GiveUpAt, "ended_at": nil, "said": ""}).Error
	if err != nil {
		return fmt.Errorf("put the letter out again: %w", err)
	}
	if l.Link == JoinLink {
		design := ""
		set(&design, l.DesignID)
		if _, err := t.inviteWith(l.joinToken(), l.PersonID, l.assignment(t.DB), design); err != nil {
			return err
		}
	}
	return t.recordLetter(l, "put out again")
}

// assignment is what a letter with a link is about, nil where that is over or
// it is about the studio.
func (l *Letter) assignment(db *gorm.DB) *string {
	if l.TestCallID == nil {
		return nil
	}
	a, err := first[Assignment](db, "assignment", "test_call_id = ? AND person_id = ? AND withdrawn_at IS NULL", *l.TestCallID, l.PersonID)
	if err != nil {
		return nil
	}
	return &a.ID
}

// EraseOldLetters erases the words of letters that ended longer ago than the
// studio keeps them, and returns how many those were. That one was sent, to
// whom and when, stays.
func (s *Store) EraseOldLetters(ctx context.Context) (int, error) {
	studio, err := s.Studio(ctx)
	if err != nil {
		return 0, err
	}
	before := s.Now().Add(-time.Duration(studio.LettersKeepDays) * 24 * time.Hour)
	old := "state <> ? AND ended_at < ? AND erased_at IS NULL"
	var n int64
	if err := s.read(ctx).Model(&Letter{}).Where(old, LetterWaiting, before).Count(&n).Error; err != nil || n == 0 {
		return 0, err
	}
	err = s.change(ctx, System("retention"), func(t *tx) error {
		res := t.Model(&Letter{}).Where(old, LetterWaiting, before).Updates(map[string]any{"subject": "", "body": "", "said": "", "erased_at": t.now})
		n = res.RowsAffected
		return res.Error
	})
	return int(n), err
}
