package models

import (
	"context"
	"fmt"
	"time"

	"gorm.io/gorm"
)

// Bounds of the months after which testers are forgotten unasked.
const fewestMonths, mostMonths = 1, 240

// Idle are the testers who have not taken part since a moment.
type Idle struct {
	Since  time.Time
	People []IdlePerson
}

// IdlePerson is one of them.
type IdlePerson struct{ ID, Handle string }

// idleTesters are testers, and nothing else, of whom there is no sign since
// @since: they were added before, and since then did not offer, were not asked,
// are not expected to send anything, did not say how far they are, did not send
// or remark, and did not sign in.
const idleTesters = `SELECT p.id, p.handle FROM people p WHERE p.forgotten_at IS NULL AND p.created_at < @since
	AND EXISTS (SELECT 1 FROM person_roles r WHERE r.person_id = p.id AND r.role = 'tester')
	AND NOT EXISTS (SELECT 1 FROM person_roles r WHERE r.person_id = p.id AND r.role <> 'tester')
	AND NOT EXISTS (SELECT 1 FROM applications x WHERE x.person_id = p.id AND x.applied_at >= @since)
	AND NOT EXISTS (SELECT 1 FROM assignments x WHERE x.person_id = p.id AND (x.assigned_at >= @since OR x.accepted_at >= @since OR x.due_on >= @day))
	AND NOT EXISTS (SELECT 1 FROM check_ins c JOIN assignments x ON x.id = c.assignment_id WHERE x.person_id = p.id AND c.at >= @since)
	AND NOT EXISTS (SELECT 1 FROM reports r JOIN assignments x ON x.id = r.assignment_id WHERE x.person_id = p.id AND r.sent_at >= @since)
	AND NOT EXISTS (SELECT 1 FROM remarks m WHERE m.person_id = p.id AND m.created_at >= @since)
	AND NOT EXISTS (SELECT 1 FROM sign_ins f WHERE f.person_id = p.id AND f.used_at >= @since)
	ORDER BY p.id`

// IdleTesters tells who would be forgotten if testers were kept for so many
// months after they last took part.
func (s *Store) IdleTesters(ctx context.Context, months int) (*Idle, error) {
	if months < fewestMonths || months > mostMonths {
		var p problems
		p.addf("months", "has to lie between %d and %d", fewestMonths, mostMonths)
		return nil, p.err()
	}
	return s.idleIn(s.read(ctx), months)
}

func (s *Store) idleIn(db *gorm.DB, months int) (*Idle, error) {
	studio, err := studioIn(db)
	if err != nil {
		return nil, err
	}
	out := &Idle{Since: s.Now().AddDate(0, -months, 0)}
	err = db.Raw(idleTesters, map[string]any{"since": out.Since, "day": DateOf(out.Since, studio.Location())}).Scan(&out.People).Error
	if err != nil {
		return nil, fmt.Errorf("testers who have not taken part: %w", err)
	}
	return out, nil
}

// ForgetIdle forgets the testers who have not taken part for as long as the
// studio's settings say, and returns how many those were. Where they don't say,
// nobody is.
func (s *Store) ForgetIdle(ctx context.Context, actor Actor) (int, error) {
	studio, err := s.Studio(ctx)
	if err != nil || studio.ForgetAfterMonths == nil {
		return 0, err
	}
	idle, err := s.IdleTesters(ctx, *studio.ForgetAfterMonths)
	if err != nil {
		return 0, err
	}
	for i, p := range idle.People {
		if err := s.forget(ctx, actor, p.ID); err != nil && KindOf(err) != Conflict { // forgotten by another process
			return i, err
		}
	}
	return len(idle.People), nil
}
