package main

import (
	"context"
	"errors"
	"fmt"
	"time"

	"tenter/models"
	"tenter/server"
)

type backupCommand struct {
	File     string `arg:"" optional:"" help:"The copy to make; an existing file is left alone."`
	Folder   string `help:"Make the copy in this folder, under the moment as its name."`
	Keep     int    `help:"With --folder: remove the oldest copies beyond so many. 0 keeps them all."`
	Database string `default:"data/tenter.db" env:"TENTER_DATABASE" help:"The database file; a server may be serving it."`
	server.PhotoSettings
}

// errOwnTools is for the databases that are copied by others.
//
//lint:ignore ST1005 it is read by a person, who has commands to type
var errOwnTools = errors.New("this database is PostgreSQL, which is copied and put back by its own tools while it serves:\n" +
	"  pg_dump --format=custom --file=tenter.dump \"$TENTER_DATABASE\"\n" +
	"  pg_restore --clean --if-exists --single-transaction --dbname=\"$TENTER_DATABASE\" tenter.dump\n" +
	"Photos lie where TENTER_PHOTOS says; copy them after the database. Then run tenter check.")

func (c *backupCommand) Run(ctx context.Context, io streams) error {
	if server.IsPostgres(c.Database) {
		return errOwnTools
	}
	if (c.File == "") == (c.Folder == "") {
		return invalid("FILE", "give either the file to make or --folder")
	}
	if c.Keep < 0 || c.Keep > 0 && c.Folder == "" {
		return invalid("keep", "is a number of copies in a folder, above zero")
	}
	photos, err := c.PhotoSettings.Open(c.Database)
	if err != nil {
		return err
	}
	var made *server.Backup
	if c.Folder != "" {
		made, err = server.BackUpInto(ctx, c.Database, c.Folder, photos, c.Keep, time.Now())
	} else {
		made, err = server.BackUp(ctx, c.Database, c.File, photos, "")
	}
	if err != nil {
		return err
	}
	fmt.Fprintf(io.out, "Copied to %s and checked: %d rows in %d tables, schema level %d, %s.\nSHA-256 %s\n",
		made.Path, made.Total(), len(made.Rows), made.Schema, lastChange(made.Contents), made.SHA256)
	if made.Photos > 0 {
		fmt.Fprintf(io.out, "%d files of photos are in %s and were checked; keep the two together.\n", made.Photos, server.PhotosBeside(made.Path))
	}
	return lostPhotos(made.Lost)
}

// lostPhotos fails when pictures are lost, after all else was done.
func lostPhotos(keys []string) error {
	if len(keys) == 0 {
		return nil
	}
	return fmt.Errorf("all else is done, but photos are lost: of their files, %d are not where photos are kept or not what was written; the first is %s", len(keys), keys[0])
}

func lastChange(c models.Contents) string {
	if c.LastEvent == "" {
		return "nothing changed yet"
	}
	return "last change " + c.LastAt.UTC().Format(time.RFC3339)
}

type restoreCommand struct {
	File     string `arg:"" help:"The copy to put back."`
	Replace  bool   `help:"Put it in the place of the database that is there, which is kept beside it under another name."`
	Database string `default:"data/tenter.db" env:"TENTER_DATABASE" help:"The database file; no server may be serving it."`
	server.PhotoSettings
}

func (c *restoreCommand) Run(ctx context.Context, io streams) (err error) {
	if server.IsPostgres(c.Database) {
		return errOwnTools
	}
	photos, err := c.PhotoSettings.Open(c.Database)
	if err != nil {
		return err
	}
	done, err := models.RestoreDatabase(ctx, c.File, c.Database, c.Replace, time.Now())
	if err != nil {
		return err
	}
	fmt.Fprintf(io.out, "Restored %s from %s: %d rows in %d tables, %s.\n", c.Database, c.File, done.Total(), len(done.Rows), lastChange(done.Contents))
	if done.Aside != "" {
		fmt.Fprintf(io.out, "What was there before is kept as %s; remove it when you don't need it.\n", done.Aside)
	}
	if done.Aside != "" {
		if err := server.KeepPhotosAside(ctx, photos, done.Aside); err != nil {
			return err
		}
	}
	store, err := server.Open(ctx, c.Database, models.Options{Photos: photos})
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, store.Close()) }()
	put, lost, err := server.RestorePhotos(ctx, store, photos, c.File)
	if err != nil {
		return err
	}
	if put > 0 {
		fmt.Fprintf(io.out, "%d files of photos were put back.\n", put)
	}
	again, err := store.ForgetAgain(ctx, models.System("tenter restore"), done.Forgotten)
	if err != nil {
		return err
	}
	if again > 0 {
		fmt.Fprintf(io.out, "%d of the people in it had asked to be forgotten since, and were forgotten again.\n", again)
	}
	return errors.Join(lostPhotos(lost), checked(ctx, store, io))
}
