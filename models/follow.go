package models

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
)

// Several servers on one PostgreSQL database tell each other what they
// committed by NOTIFY, which PostgreSQL delivers when, and only when, the
// transaction is committed (its manual, "NOTIFY").
const (
	channel          = "tenter_changes"
	changesPerNotice = 16          // a payload has to stay under 8,000 bytes
	followAgain      = time.Second // after a connection was lost
	followOverlap    = time.Minute // ids are as old as their transaction's beginning, not its commit
	mostMissed       = 1000        // designs told to read again after a break
)

// notice is what one server tells the others.
type notice struct {
	From    string   `json:"from"` // the store that wrote it, which has heard already
	Changes []Change `json:"changes"`
}

// tellOthers hands the transaction's changes to the other servers on this
// database. On SQLite there are none.
func (t *tx) tellOthers() error {
	if t.store.dialect != "postgres" {
		return nil
	}
	for part := range slices.Chunk(t.changes, changesPerNotice) {
		payload, err := json.Marshal(notice{From: t.store.id, Changes: part})
		if err != nil {
			return fmt.Errorf("tell other servers: %w", err)
		}
		if err := t.Exec("SELECT pg_notify(?, ?)", channel, string(payload)).Error; err != nil {
			return fmt.Errorf("tell other servers: %w", err)
		}
	}
	return nil
}

// Follow brings what other servers commit on the same database into the live
// feed, until ctx ends. On SQLite, which one server has to itself, it returns
// at once. What was committed while the connection was lost is caught up with.
func (s *Store) Follow(ctx context.Context) {
	if s.dialect != "postgres" {
		return
	}
	seen := ""
	for ctx.Err() == nil {
		err := s.followOnce(ctx, &seen)
		if ctx.Err() != nil {
			return
		}
		s.log.WarnContext(ctx, "other servers' changes can't be heard; trying again", "error", err)
		select {
		case <-ctx.Done():
		case <-time.After(followAgain):
		}
	}
}

// followOnce listens on a connection of its own until it is lost. seen is the
// newest event that is known to have been heard of.
func (s *Store) followOnce(ctx context.Context, seen *string) (err error) {
	conn, err := pgx.Connect(ctx, s.target)
	if err != nil {
		return fmt.Errorf("connect: %w", err)
	}
	defer func() {
		closing, cancel := context.WithTimeout(context.WithoutCancel(ctx), followAgain)
		defer cancel()
		err = errors.Join(err, conn.Close(closing))
	}()
	if *seen == "" {
		if err := s.catchUp(ctx, seen); err != nil {
			return err
		}
	}
	if _, err := conn.Exec(ctx, "LISTEN "+channel); err != nil {
		return fmt.Errorf("listen: %w", err)
	}
	if err := s.catchUp(ctx, seen); err != nil {
		return err
	}
	for {
		n, err := conn.WaitForNotification(ctx)
		if err != nil {
			return fmt.Errorf("wait: %w", err)
		}
		var told notice
		if err := json.Unmarshal([]byte(n.Payload), &told); err != nil {
			return fmt.Errorf("read a notice: %w", err)
		}
		if told.From != s.id {
			s.feed.publish(told.Changes)
		}
	}
}

// catchUp tells the feed which designs changed since the event seen, and moves
// it to the newest. Telling too much is harmless: a change says "read again".
func (s *Store) catchUp(ctx context.Context, seen *string) error {
	db := s.read(ctx)
	var newest *string
	if err := db.Table("events").Select("max(id)").Scan(&newest).Error; err != nil {
		return fmt.Errorf("newest event: %w", err)
	}
	if *seen != "" {
		var missed []Change
		err := db.Table("events").Select("coalesce(design_id, '') AS design_id, entity, max(at) AS at").
			Where("id > ?", idBefore(*seen, followOverlap)).Group("design_id, entity").Limit(mostMissed).Scan(&missed).Error
		if err != nil {
			return fmt.Errorf("events missed: %w", err)
		}
		s.feed.publish(missed)
	}
	if newest != nil {
		*seen = *newest
	} else if *seen == "" {
		*seen = uuid.Nil.String()
	}
	return nil
}

// idBefore returns the smallest id that could have been made the given time
// before id (RFC 9562, 5.7: a UUIDv7 begins with 48 bits of milliseconds).
func idBefore(id string, by time.Duration) string {
	parsed, err := uuid.Parse(id)
	if err != nil {
		return uuid.Nil.String()
	}
	var ms int64
	for _, b := range parsed[:6] {
		ms = ms<<8 | int64(b)
	}
	ms = max(0, ms-by.Milliseconds())
	var out uuid.UUID
	for i := 5; i >= 0; i-- {
		out[i] = byte(ms)
		ms >>= 8
	}
	return out.String()
}
