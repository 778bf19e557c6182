package models

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
)

// PhotoRowsOf reads from a database file, which a server may be serving, what
// its store of photos has to hold. A file from before there were photos has
// none.
func PhotoRowsOf(ctx context.Context, path string) (files []PhotoFile, err error) {
	db, err := openFile(ctx, path, servedFile)
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	var tables int
	if err := db.QueryRowContext(ctx, `SELECT count(*) FROM sqlite_master WHERE type = 'table' AND name = 'photo_files'`).Scan(&tables); err != nil {
		return nil, fmt.Errorf("look for photos: %w", damaged(err))
	}
	if tables == 0 {
		return nil, nil
	}
	err = eachRow(ctx, db, `SELECT photo_id, size, hash, bytes, width, height FROM photo_files ORDER BY photo_id, size`, func(rows *sql.Rows) error {
		var f PhotoFile
		err := rows.Scan(&f.PhotoID, &f.Size, &f.Hash, &f.Bytes, &f.Width, &f.Height)
		files = append(files, f)
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("files of photos: %w", damaged(err))
	}
	return files, nil
}
