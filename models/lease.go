package models

import (
	"context"
	"fmt"
	"time"

	"gorm.io/gorm"
)

// queue is a table of what goes out to somewhere else, and how it is shared out
// among the servers of one database. Its rows have tries, lease and
// leased_until. A server takes what is due for a while; should it die, another
// takes it up when that while is over. So each is sent at least once, and twice
// only after a crash. A try is counted when it is taken.
type queue struct {
	table string
	due   string        // the column of when a row is due
	waits string        // the condition that a row is still to be sent; a constant
	hold  time.Duration // longer than a server can be at what it takes at once
}

func (q queue) free() string {
	return q.waits + ` AND ` + q.due + ` <= ? AND (leased_until IS NULL OR leased_until < ?)`
}

// takeDue takes up to n rows that are due, the longest due first, under a name
// by which the taker knows them, and reads them in the same change.
func (s *Store) takeDue(ctx context.Context, who Actor, q queue, lease string, n int, read func(*tx) error) error {
	now, due := s.Now(), int64(0)
	if err := s.read(ctx).Table(q.table).Where(q.free(), now, now).Limit(1).Count(&due).Error; err != nil {
		return fmt.Errorf("what is due of %s: %w", q.table, err)
	}
	if due == 0 {
		return nil // nothing is written while there is nothing to do
	}
	skip := ""
	if s.dialect == "postgres" {
		skip = " FOR UPDATE SKIP LOCKED" // SQLite has one writer at a time
	}
	return s.change(ctx, who, func(t *tx) error {
		next := `SELECT id FROM ` + q.table + ` WHERE ` + q.free() + ` ORDER BY ` + q.due + `, id LIMIT ?` + skip
		res := t.Exec(`UPDATE `+q.table+` SET lease = ?, leased_until = ?, tries = tries + 1 WHERE id IN (`+next+`)`, lease, t.now.Add(q.hold), t.now, t.now, n)
		if res.Error != nil {
			return fmt.Errorf("take what is due of %s: %w", q.table, res.Error)
		}
		if res.RowsAffected == 0 {
			return nil // another server was quicker
		}
		return read(t)
	})
}

// giveBack lets go of what was taken under a lease and is not settled: it was
// not tried, so the try does not count.
func (s *Store) giveBack(ctx context.Context, who Actor, q queue, lease string) error {
	return s.change(ctx, who, func(t *tx) error {
		err := t.Table(q.table).Where("lease = ?", lease).Updates(settled(map[string]any{"tries": gorm.Expr("tries - 1")})).Error
		if err != nil {
			return fmt.Errorf("give %s back: %w", q.table, err)
		}
		return nil
	})
}

// settled adds to what changes of a row that its lease is over.
func settled(values map[string]any) map[string]any {
	values["lease"], values["leased_until"] = "", nil
	return values
}
