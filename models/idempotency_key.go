package models

import (
	"context"
	"errors"
	"fmt"
	"time"

	"gorm.io/gorm"
)

// IdempotencyKey is what a client sends with a creation so that a repeated
// request does not create twice. It is written in the transaction of the first
// change that the request makes; the answer is added when it is known.
type IdempotencyKey struct {
	PersonID    string `gorm:"primaryKey"`
	Key         string `gorm:"primaryKey"`
	RequestHash string // of method, path and body: another request with the same key is a mistake
	Status      int    // 0: committed, but the answer was lost on the way
	Headers     string // JSON
	Body        []byte
	CreatedAt   time.Time

	claimed bool // by an earlier change of the same request
}

// keyLife is how long a repeated request is recognised (chosen).
const keyLife = 7 * 24 * time.Hour

// claimKey writes the request's key. Only the first change of a request does.
func (t *tx) claimKey() error {
	key := t.actor.Key
	if key == nil || key.claimed {
		return nil
	}
	row := *key
	row.Headers, row.CreatedAt, row.Body = "{}", t.now, []byte{}
	err := t.Create(&row).Error
	if errors.Is(err, gorm.ErrDuplicatedKey) {
		return failf(Conflict, "A request with this Idempotency-Key is already being carried out; ask again in a moment.")
	}
	if err != nil {
		return fmt.Errorf("idempotency key: %w", err)
	}
	return nil
}

// FindKey returns what is kept under a person's key, or nil.
func (s *Store) FindKey(ctx context.Context, personID, key string) (*IdempotencyKey, error) {
	row, err := first[IdempotencyKey](s.read(ctx), "key", "person_id = ? AND key = ?", personID, key)
	if KindOf(err) == NotFound {
		return nil, nil
	}
	return row, err
}

// KeepAnswer adds the answer to a key that a change has claimed, and forgets
// keys that are too old to be repeated.
func (s *Store) KeepAnswer(ctx context.Context, key IdempotencyKey) error {
	return s.writer.WithContext(ctx).Transaction(func(db *gorm.DB) error {
		err := db.Model(&IdempotencyKey{}).
			Where("person_id = ? AND key = ?", key.PersonID, key.Key).
			Updates(map[string]any{"status": key.Status, "headers": key.Headers, "body": key.Body}).Error
		if err != nil {
			return fmt.Errorf("keep answer: %w", err)
		}
		return db.Where("created_at < ?", s.Now().Add(-keyLife)).Delete(&IdempotencyKey{}).Error
	})
}

// Claimed tells whether a change of this request was committed with the key.
func (k *IdempotencyKey) Claimed() bool { return k.claimed }
