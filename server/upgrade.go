package server

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"

	"tenter/migrations"
	"tenter/models"
)

// Open opens the database and brings its schema up to date. Before an existing
// SQLite file is changed, a verified copy of it is made beside it; without the
// copy nothing is changed. PostgreSQL is copied by its own tools.
func Open(ctx context.Context, target string, options models.Options) (*models.Store, error) {
	store, err := models.Open(target, options)
	if err != nil {
		return nil, err
	}
	db, err := store.SQL()
	if err == nil {
		err = upgrade(ctx, store, db, target)
	}
	if err != nil {
		return nil, errors.Join(err, store.Close())
	}
	return store, nil
}

func upgrade(ctx context.Context, store *models.Store, db *sql.DB, target string) error {
	at, newest, err := migrations.Standing(ctx, store.Dialect(), db)
	if err != nil {
		return err
	}
	if at > newest {
		return fmt.Errorf("the database was made by a later version of Tenter: its schema is at level %d, and this version knows %d. Nothing was changed", at, newest)
	}
	if store.Dialect() == migrations.SQLite && at > 0 && at < newest {
		if _, err := models.CopyDatabase(ctx, target, besideName(target, at, store)); err != nil {
			return fmt.Errorf("the schema has to be brought from level %d to %d, and the copy to be made first failed. Nothing was changed: %w", at, newest, err)
		}
	}
	_, err = migrations.Up(ctx, store.Dialect(), db)
	return err
}

// besideName is where the copy before an upgrade lies.
func besideName(target string, level int64, store *models.Store) string {
	return fmt.Sprintf("%s.level-%d.%s", target, level, store.Now().Format(models.CopyTime))
}

// IsPostgres tells whether a database setting names a PostgreSQL server.
func IsPostgres(target string) bool {
	return strings.HasPrefix(target, "postgres://") || strings.HasPrefix(target, "postgresql://")
}

// OpenAsIs opens a database to look at it, without changing anything in it, and
// refuses one whose schema is not this version's.
func OpenAsIs(ctx context.Context, target string, options models.Options) (*models.Store, error) {
	options.LookOnly = true
	store, err := models.Open(target, options)
	if err != nil {
		return nil, err
	}
	db, err := store.SQL()
	if err == nil {
		var at, newest int64
		if at, newest, err = migrations.Standing(ctx, store.Dialect(), db); err == nil && at != newest {
			err = fmt.Errorf("the schema is at level %d and this version's is %d; bring it up to date with tenter migrate, which makes a copy first", at, newest)
		}
	}
	if err != nil {
		return nil, errors.Join(err, store.Close())
	}
	return store, nil
}
