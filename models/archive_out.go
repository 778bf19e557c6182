package models

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"time"

	"gorm.io/gorm"

	"tenter/models/archive"
)

// WriteArchive writes the whole studio as one archive, from one state of the
// database, while others go on writing. Memory holds a few rows at a time.
// passwords puts in the hashes of people's passwords.
func (s *Store) WriteArchive(ctx context.Context, to io.Writer, passwords bool) (m *archive.Manifest, err error) {
	err = s.snapshot(ctx, func(db *gorm.DB) error {
		conn, ok := db.Statement.ConnPool.(rowsOf)
		if !ok {
			return fmt.Errorf("archive: no connection to read from")
		}
		tables, err := heldTables(ctx, conn, s.dialect)
		if err != nil {
			return err
		}
		var level int64
		if err := db.Raw(`SELECT coalesce(max(version_id), 0) FROM goose_db_version WHERE is_applied`).Scan(&level).Error; err != nil {
			return fmt.Errorf("level of the schema: %w", err)
		}
		var leftOut []string
		if !passwords {
			leftOut = append(leftOut, passwordColumn)
		}
		w := archive.NewWriter(to, level, s.Now(), leftOut)
		for _, t := range tables {
			if err := t.write(ctx, conn, w, s.dialect, leftOut); err != nil {
				return err
			}
		}
		if err := s.writePhotos(ctx, db, w); err != nil {
			return err
		}
		m, err = w.Close()
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("archive: %w", err)
	}
	return m, nil
}

// writePhotos puts in the files that the rows name, each held against its row.
// One that is lost is noted: a studio can leave with what it has. One whose
// photo was removed meanwhile is gone; a store that does not answer is no loss,
// and there is no archive then.
func (s *Store) writePhotos(ctx context.Context, db *gorm.DB, w *archive.Writer) error {
	if !db.Migrator().HasTable(&PhotoFile{}) {
		return nil // an earlier level
	}
	var files []PhotoFile
	if err := db.Order("photo_id, size").Find(&files).Error; err != nil {
		return fmt.Errorf("files of photos: %w", err)
	}
	for _, f := range files {
		content, err := s.PhotoContent(ctx, f)
		switch {
		case err == nil:
			if err := w.Photo(f.Key(), bytes.NewReader(content)); err != nil {
				return err
			}
		case !IsLost(err):
			return fmt.Errorf("photo %s: %w", f.Key(), err)
		case !errors.Is(err, fs.ErrNotExist) || !s.photoGone(ctx, f):
			s.log.WarnContext(ctx, "a photo is lost, and not in the archive; tenter check lists all that are", "photo", f.PhotoID, "size", f.Size, "error", err)
			w.Missing(f.Key(), f.Bytes, f.Hash)
		}
	}
	return nil
}

// LostPhotos counts the files of photos that are not in the store, or not as
// long as they should be, without reading any.
func (s *Store) LostPhotos(ctx context.Context) (int, error) {
	rows, err := s.PhotoFileRows(ctx)
	if err != nil || len(rows) == 0 {
		return 0, err
	}
	wanted := make(map[string]int64, len(rows))
	for _, f := range rows {
		wanted[f.Key()] = f.Bytes
	}
	err = s.photoFiles().List(ctx, func(p StoredPhoto) error {
		if bytes, known := wanted[p.Key]; known && bytes == p.Bytes {
			delete(wanted, p.Key)
		}
		return nil
	})
	return len(wanted), err
}

func (t heldTable) write(ctx context.Context, conn rowsOf, w *archive.Writer, dialect string, leftOut []string) error {
	columns := slices.DeleteFunc(slices.Clone(t.columns), func(c archive.Column) bool { return slices.Contains(leftOut, t.name+"."+c.Name) })
	return w.Table(t.name, columns, func(row func([]any) error) error {
		cells, into := make([]any, len(columns)), make([]any, len(columns))
		for i := range cells {
			into[i] = &cells[i]
		}
		return eachRow(ctx, conn, t.sorted(columns, dialect), func(rows *sql.Rows) error {
			if err := rows.Scan(into...); err != nil {
				return err
			}
			for i, c := range columns {
				cells[i] = asKind(cells[i], c.Kind)
			}
			return row(cells)
		})
	})
}

// asKind gives a cell the one type of its kind, whichever database it is from.
// What can't be it stays, and is refused by the writer.
func asKind(cell any, kind archive.Kind) any {
	switch v := cell.(type) {
	case int64:
		switch kind {
		case archive.Boolean:
			return v != 0
		case archive.Number:
			return float64(v)
		}
	case int32:
		return asKind(int64(v), kind)
	case float64:
		if kind == archive.Integer && v == float64(int64(v)) {
			return int64(v)
		}
	case []byte:
		if kind == archive.Text {
			return string(v)
		}
		if v == nil {
			return []byte{}
		}
	case string:
		switch kind {
		case archive.Bytes:
			return []byte(v)
		case archive.Moment:
			if at, err := time.Parse("2006-01-02 15:04:05.999999999-07:00", v); err == nil {
				return at
			}
		}
	}
	return cell
}
