package models

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"log/slog"
	"time"

	"golang.org/x/sync/semaphore"
	"gorm.io/gorm"
)

// Store is the studio's database. It is safe for concurrent use; the server
// keeps no other state.
type Store struct {
	dialect     string
	target      string   // the address of a PostgreSQL database
	id          string   // of this store, among those on one database
	writer      *gorm.DB // one connection on SQLite
	reader      *gorm.DB // cannot write on SQLite
	pools       []*sql.DB
	now         func() time.Time
	log         *slog.Logger
	feed        *Feed
	expressions *expressionCache
	sheets      *sheetCache
	records     *recordCache
	drawing     chan struct{} // a place for each schedule that is being drawn
	diagnoses   *diagnosisCache
	photos      PhotoFiles          // nil: none is at hand
	decoding    *semaphore.Weighted // bytes of memory for pictures that are being decoded
	sealer      *sealer             // nil outside a server
}

// schedulesAtOnce is how many schedules are drawn at the same moment (chosen).
const schedulesAtOnce = 2

// Dialect returns "sqlite" or "postgres".
func (s *Store) Dialect() string { return s.dialect }

// SQL returns the pool that may write, for migrations and copies.
func (s *Store) SQL() (*sql.DB, error) { return s.writer.DB() }

// Now returns the time as the database keeps it: UTC, to the microsecond,
// which is all that PostgreSQL stores.
func (s *Store) Now() time.Time { return s.now().UTC().Truncate(time.Microsecond) }

// Feed returns the live feed of committed changes.
func (s *Store) Feed() *Feed { return s.feed }

// Ping tells whether the database answers.
func (s *Store) Ping(ctx context.Context) error {
	for _, p := range s.pools {
		if err := p.PingContext(ctx); err != nil {
			return fmt.Errorf("database: %w", err)
		}
	}
	return nil
}

// Close ends the live feed and closes the database.
func (s *Store) Close() error {
	s.feed.Close()
	var errs []error
	for _, p := range s.pools {
		errs = append(errs, p.Close())
	}
	return errors.Join(errs...)
}

// read returns a handle for queries outside a transaction.
func (s *Store) read(ctx context.Context) *gorm.DB { return s.reader.WithContext(ctx) }

// tx is one change being made: its transaction, its time, who makes it, and
// what will be told to the live feed once it is committed.
type tx struct {
	*gorm.DB
	store   *Store
	now     time.Time
	actor   Actor
	changes []Change
	events  []*Event // of which other programs may want to hear
}

// change runs f in one transaction. The events that f records and the
// request's idempotency key are committed with it or not at all; the live feed
// hears of it only after the commit.
func (s *Store) change(ctx context.Context, actor Actor, f func(*tx) error) error {
	var done []Change
	err := s.writer.WithContext(ctx).Transaction(func(db *gorm.DB) error {
		t := &tx{DB: db, store: s, now: s.Now(), actor: actor}
		if err := t.claimKey(); err != nil {
			return err
		}
		if err := f(t); err != nil {
			return err
		}
		done = t.changes
		if err := t.tellWebhooks(); err != nil {
			return err
		}
		return t.tellOthers()
	})
	if err != nil {
		return s.withRoom(ctx, err)
	}
	if actor.Key != nil {
		actor.Key.claimed = true
	}
	s.feed.publish(done)
	return nil
}

// first loads one row or answers "not found" in the words of what.
func first[T any](db *gorm.DB, what string, query any, args ...any) (*T, error) {
	var row T
	err := db.Where(query, args...).Take(&row).Error
	if errors.Is(err, gorm.ErrRecordNotFound) {
		return nil, notFound(what)
	}
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", what, err)
	}
	return &row, nil
}

// bump raises the revision of a row from the one that the writer had read to
// the next, and refuses when somebody else was there first. The caller has
// already filled the row with its new values; columns names what changes.
func (t *tx) bump(what string, row any, id string, revision int, values map[string]any) error {
	values["revision"] = revision + 1
	values["updated_at"] = t.now
	res := t.Model(row).Where("id = ? AND revision = ?", id, revision).Updates(values)
	if res.Error != nil {
		return fmt.Errorf("change %s: %w", what, res.Error)
	}
	if res.RowsAffected == 0 {
		return staleError(what, revision+1)
	}
	return nil
}

// checkRevision compares the revision that a writer read with the one in the
// database. want is nil when the request did not say.
func checkRevision(what string, have int, want *int) error {
	switch {
	case want == nil:
		return failf(NeedRevision, "Say which revision of this %s you read, in an If-Match header: it is at revision %d.", what, have)
	case *want != have:
		return staleError(what, have)
	}
	return nil
}
