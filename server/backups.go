package server

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"time"

	"tenter/models"
)

// backupFile is what backups are called in their folder; nothing else in it is
// ever touched.
var backupFile = regexp.MustCompile(`^tenter-(\d{8}T\d{6}\.\d{6}Z)\.db$`)

// afterFailure is how soon a backup that failed is tried again (chosen).
const afterFailure = 5 * time.Minute

// BackUpInto makes a verified copy of a SQLite database and its photos in a
// folder, under the moment as its name, and then removes the oldest backups beyond keep; 0 keeps
// them all. Nothing is removed unless the new one is sound and on the disk.
func BackUpInto(ctx context.Context, database, folder string, photos models.PhotoFiles, keep int, now time.Time) (*Backup, error) {
	earlier, err := newestIn(folder)
	if err != nil {
		return nil, err
	}
	made, err := BackUp(ctx, database, filepath.Join(folder, "tenter-"+now.UTC().Format(models.CopyTime)+".db"), photos, earlier)
	if err != nil || keep == 0 {
		return made, err
	}
	names, err := backupsIn(folder)
	if err != nil {
		return made, err
	}
	for len(names) > keep {
		path := filepath.Join(folder, names[0])
		if err := errors.Join(gone(path), gone(models.SumPath(path)), os.RemoveAll(PhotosBeside(path))); err != nil {
			return made, fmt.Errorf("remove an old backup: %w", err)
		}
		names = names[1:]
	}
	return made, nil
}

func gone(path string) error {
	if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}

// backupsIn lists the backups in a folder, the oldest first.
func backupsIn(folder string) ([]string, error) {
	entries, err := os.ReadDir(folder)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("backups: %w", err)
	}
	var names []string
	for _, e := range entries {
		if e.Type().IsRegular() && backupFile.MatchString(e.Name()) {
			names = append(names, e.Name())
		}
	}
	slices.Sort(names)
	return names, nil
}

// nextBackup is how long it is until a backup is due: at once when there is
// none yet, or when the server did not run when it was.
func nextBackup(folder string, every time.Duration, now time.Time) (time.Duration, error) {
	names, err := backupsIn(folder)
	if err != nil || len(names) == 0 {
		return 0, err
	}
	last, err := time.Parse(models.CopyTime, backupFile.FindStringSubmatch(names[len(names)-1])[1])
	if err != nil {
		return 0, nil // a name like 20269999T…: no moment at all
	}
	return min(max(last.Add(every).Sub(now), 0), every), nil
}

// backUp makes backups as they come due, until ctx ends.
func (s *Server) backUp(ctx context.Context) {
	if s.config.Backups == "" {
		return
	}
	for {
		wait, err := nextBackup(s.config.Backups, s.config.BackupEvery, s.store.Now())
		if err == nil && wait == 0 {
			var made *Backup
			if made, err = BackUpInto(ctx, s.config.Database, s.config.Backups, s.photos, s.config.BackupKeep, s.store.Now()); err == nil {
				s.log.InfoContext(ctx, "backup made", "file", made.Path, "bytes", made.Bytes, "rows", made.Total(), "photo_files", made.Photos)
				if len(made.Lost) > 0 {
					s.log.ErrorContext(ctx, "the backup lacks photos that are lost; tenter check lists them", "files", len(made.Lost))
				}
				continue
			}
		}
		if ctx.Err() != nil {
			return
		}
		if err != nil {
			s.log.ErrorContext(ctx, "no backup was made", "error", err)
			wait = min(afterFailure, s.config.BackupEvery)
		}
		if !pause(ctx, wait) {
			return
		}
	}
}

// pause waits, and tells whether there is anything to go on for.
func pause(ctx context.Context, wait time.Duration) bool {
	timer := time.NewTimer(wait)
	defer timer.Stop()
	select {
	case <-ctx.Done():
		return false
	case <-timer.C:
		return true
	}
}
