package main

import (
	"context"
	"errors"
	"fmt"
	"os"

	"tenter/models"
	"tenter/server"
)

type checkCommand struct {
	Database string `default:"data/tenter.db" env:"TENTER_DATABASE" help:"A file (SQLite) or a postgres:// address; a server may be serving it."`
	server.PhotoSettings
}

func (c *checkCommand) Run(ctx context.Context, io streams) (err error) {
	store, err := openToLook(ctx, "check the database", c.Database, c.PhotoSettings)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, store.Close()) }()
	return checked(ctx, store, io)
}

// openToLook opens a database that is there, with its photos, and changes
// nothing in it. to is what is being done, for the error.
func openToLook(ctx context.Context, to, database string, settings server.PhotoSettings) (*models.Store, error) {
	if !server.IsPostgres(database) {
		if _, err := os.Stat(database); err != nil {
			return nil, fmt.Errorf("%s: %w", to, err)
		}
	}
	photos, err := settings.Open(database)
	if err != nil {
		return nil, err
	}
	return server.OpenAsIs(ctx, database, models.Options{Photos: photos})
}

// checked prints what is wrong with a database and fails when anything is.
func checked(ctx context.Context, store *models.Store, io streams) error {
	faults, err := store.Check(ctx)
	if err != nil {
		return err
	}
	photos, err := store.CheckPhotos(ctx)
	if err != nil {
		return err
	}
	faults = append(faults, photos...)
	if len(faults) == 0 {
		fmt.Fprintln(io.out, "The database is sound and every rule holds.")
		return nil
	}
	for _, f := range faults {
		fmt.Fprintf(io.out, "Broken: %s.\n", f)
	}
	return fmt.Errorf("the database breaks %d of the rules; put back a copy from before, or find out what wrote this", len(faults))
}
