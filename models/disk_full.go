package models

import (
	"context"
	"errors"
	"syscall"

	"github.com/jackc/pgx/v5/pgconn"
	modernc "modernc.org/sqlite"
)

// postgresFull is PostgreSQL's disk_full
// (https://www.postgresql.org/docs/current/errcodes-appendix.html, class 53).
const postgresFull = "53100"

var errFull = failf(Full, "The server's disk is full, so nothing can be written until there is room on it again. Nothing of this was kept; what is there can be read as before. Tell whoever runs the server.")

// withRoom turns a change that failed for want of room into words. It was
// rolled back whole; the next one is tried again, so that the studio writes on
// by itself as soon as there is room.
func (s *Store) withRoom(ctx context.Context, err error) error {
	if !isFull(err) {
		return err
	}
	s.log.ErrorContext(ctx, "no room to write: changes are refused, reading goes on", "error", err)
	return errFull
}

func isFull(err error) bool {
	var lite *modernc.Error
	if errors.As(err, &lite) {
		return lite.Code()&primaryCode == sqliteFull || lite.Code() == sqliteNoRoomForSharedFile
	}
	var pg *pgconn.PgError
	if errors.As(err, &pg) {
		return pg.Code == postgresFull
	}
	return errors.Is(err, syscall.ENOSPC)
}

// continueUnchanged goes on with a sign-in while nothing can be written: the
// refresh token stays the one it was. Without it nobody could read any more a
// few minutes after the disk ran full.
func (s *Store) continueUnchanged(ctx context.Context, secret string) (*Person, string, string, error) {
	db := s.read(ctx)
	row, err := first[RefreshToken](db, "token", "token_hash = ?", hashToken(secret))
	if KindOf(err) == NotFound {
		return nil, "", "", errSignInOver
	}
	if err != nil {
		return nil, "", "", err
	}
	if row.UsedAt != nil || row.RevokedAt != nil || !s.Now().Before(row.ExpiresAt) {
		return nil, "", "", errSignInOver
	}
	person, err := personIn(db, row.PersonID)
	if err != nil {
		return nil, "", "", err
	}
	if person.DisabledAt != nil {
		return nil, "", "", errSignInOver
	}
	return person, row.FamilyID, secret, nil
}
