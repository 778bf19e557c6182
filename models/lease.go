package models

import (
	"context"
	"fmt"
	"time"

	"gorm.io/gorm"
)

// What is sent to the outside goes through tables of one shape: due_at (NULL
// when there is nothing more to do), leased_until, lease and tries. A server
// takes what is due for a while; should it die, another takes it up when that
// while is over. So each is sent at least once, and twice only after a crash.

// Backing off: half a minute, doubled at each try, six hours at most; after
// twelve tries, some 14 hours after the first, it is given up (chosen).
const (
	firstBackoff   = 30 * time.Second
	longestBackoff = 6 * time.Hour
	mostTries      = 12
)

// Backoff is how long after its n-th try, which failed, something is due again.
func Backoff(tries int) time.Duration {
	wait := firstBackoff
	for range max(tries, 1) - 1 {
		if wait *= 2; wait >= longestBackoff {
			return longestBackoff
		}
	}
	return wait
}

// takeDue takes up to n due rows of a table for a while and returns the name
// of the lease by which the taker knows them, "" when none was due. where
// narrows them down.
func (s *Store) takeDue(ctx context.Context, table, where string, n int, hold time.Duration) (string, error) {
	now, lease := s.Now(), NewID()
	skip := ""
	if s.dialect == "postgres" {
		skip = " FOR UPDATE SKIP LOCKED" // SQLite has one writer at a time
	}
	due := `due_at <= ? AND (leased_until IS NULL OR leased_until < ?) AND ` + where
	taken := int64(0)
	if err := s.read(ctx).Table(table).Where(due, now, now).Limit(1).Count(&taken).Error; err != nil {
		return "", fmt.Errorf("what is due of %s: %w", table, err)
	}
	if taken == 0 {
		return "", nil // nothing is written while there is nothing to do
	}
	err := s.writer.WithContext(ctx).Transaction(func(db *gorm.DB) error {
		next := `SELECT id FROM ` + table + ` WHERE ` + due + ` ORDER BY due_at, id LIMIT ?` + skip
		res := db.Exec(`UPDATE `+table+` SET lease = ?, leased_until = ? WHERE id IN (`+next+`)`, lease, now.Add(hold), now, now, n)
		taken = res.RowsAffected
		return res.Error
	})
	if err != nil {
		return "", s.withRoom(ctx, fmt.Errorf("take what is due of %s: %w", table, err))
	}
	if taken == 0 {
		return "", nil
	}
	return lease, nil
}
