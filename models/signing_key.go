package models

import (
	"context"
	"fmt"
	"time"

	"gorm.io/gorm/clause"
)

// SigningKey signs access tokens. The first start makes one; a retired key
// still checks the tokens that it signed, until they run out.
type SigningKey struct {
	ID        string `gorm:"primaryKey"`
	Secret    []byte `json:"-"`
	CreatedAt time.Time
	RetiredAt *time.Time
}

const signingKeyBytes = 32 // as long as HMAC-SHA256's output, RFC 7518 section 3.2

// SigningKeys returns the keys, the one that signs first. It makes one when
// there is none.
func (s *Store) SigningKeys(ctx context.Context) ([]SigningKey, error) {
	var keys []SigningKey
	list := func() error {
		return s.read(ctx).Order("CASE WHEN retired_at IS NULL THEN 0 ELSE 1 END, id DESC").Find(&keys).Error
	}
	if err := list(); err != nil {
		return nil, fmt.Errorf("signing keys: %w", err)
	}
	if len(keys) > 0 && keys[0].RetiredAt == nil {
		return keys, nil
	}
	// Several servers may start at this moment on one empty database. One key
	// is made, whoever makes it, and each of them reads it back.
	err := s.change(ctx, System("first start"), func(t *tx) error {
		key := SigningKey{ID: NewID(), Secret: randomBytes(signingKeyBytes), CreatedAt: t.now}
		res := t.Clauses(clause.OnConflict{DoNothing: true}).Create(&key)
		if res.Error != nil {
			return fmt.Errorf("make signing key: %w", res.Error)
		}
		if res.RowsAffected == 0 {
			return nil
		}
		return t.record("", "signing key", key.ID, "made", nil, nil)
	})
	if err != nil {
		return nil, err
	}
	if err := list(); err != nil {
		return nil, fmt.Errorf("signing keys: %w", err)
	}
	return keys, nil
}
