package models

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"slices"
	"strings"

	"tenter/models/archive"
)

// ReadArchive fills a fresh database, whose schema is at the archive's level,
// in one transaction. It is for a database that nobody uses yet: what the
// schema itself may have put into a table gives way.
func (s *Store) ReadArchive(ctx context.Context, a *archive.Archive) (err error) {
	pool, err := s.SQL()
	if err != nil {
		return fmt.Errorf("archive: %w", err)
	}
	tx, err := pool.BeginTx(ctx, nil)
	if err != nil {
		return fmt.Errorf("archive: %w", err)
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, tx.Rollback())
		}
	}()
	tables, err := heldTables(ctx, tx, s.dialect)
	if err != nil {
		return err
	}
	if err := fits(tables, a.Manifest); err != nil {
		return err
	}
	for _, t := range slices.Backward(tables) {
		if _, err := tx.ExecContext(ctx, "DELETE FROM "+quotedName(t.name)); err != nil {
			return fmt.Errorf("empty %s: %w", t.name, err)
		}
	}
	for _, t := range tables {
		if err := fillTable(ctx, tx, s.dialect, a, archivedTable(a.Manifest, t.name)); err != nil {
			return err
		}
	}
	if err := tx.Commit(); err != nil {
		return fmt.Errorf("archive: %w", err)
	}
	return nil
}

func archivedTable(m archive.Manifest, name string) archive.Table {
	i := slices.IndexFunc(m.Tables, func(t archive.Table) bool { return t.Table == name })
	return m.Tables[i]
}

// fits holds the archive's tables and columns against the schema's: the same,
// but for what it says it has left out.
func fits(tables []heldTable, m archive.Manifest) error {
	if len(tables) != len(m.Tables) {
		return fmt.Errorf("the archive has %d tables, and the schema at its level %d has %d", len(m.Tables), m.Level, len(tables))
	}
	for _, t := range tables {
		i := slices.IndexFunc(m.Tables, func(in archive.Table) bool { return in.Table == t.name })
		if i < 0 {
			return fmt.Errorf("the archive lacks the table %s", t.name)
		}
		want := slices.DeleteFunc(slices.Clone(t.columns), func(c archive.Column) bool { return slices.Contains(m.LeftOut, t.name+"."+c.Name) })
		byName := func(a, b archive.Column) int { return strings.Compare(a.Name, b.Name) }
		have := slices.SortedFunc(slices.Values(m.Tables[i].Columns), byName)
		if slices.SortFunc(want, byName); !slices.Equal(want, have) {
			return fmt.Errorf("the columns of %s in the archive are not those of the schema at level %d", t.name, m.Level)
		}
	}
	return nil
}

const (
	cellsInOneInsert = 16_000 // below both databases' limits of parameters
	mostRowsInInsert = 200
)

func fillTable(ctx context.Context, tx *sql.Tx, dialect string, a *archive.Archive, t archive.Table) error {
	together := min(mostRowsInInsert, cellsInOneInsert/len(t.Columns))
	var cells []any
	write := func(rows int) error {
		_, err := tx.ExecContext(ctx, insertOf(t, rows, dialect), cells...)
		cells = cells[:0]
		return err
	}
	whole, err := tx.PrepareContext(ctx, insertOf(t, together, dialect))
	if err != nil {
		return fmt.Errorf("fill %s: %w", t.Table, err)
	}
	defer whole.Close()
	err = a.Rows(t, func(row []any) error {
		cells = append(cells, row...)
		if len(cells) < together*len(t.Columns) {
			return nil
		}
		_, err := whole.ExecContext(ctx, cells...)
		cells = cells[:0]
		return err
	})
	if err == nil && len(cells) > 0 {
		err = write(len(cells) / len(t.Columns))
	}
	if err != nil {
		return fmt.Errorf("fill %s: %w", t.Table, err)
	}
	return nil
}

// insertOf is an INSERT of several rows.
func insertOf(t archive.Table, rows int, dialect string) string {
	names := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		names[i] = quotedName(c.Name)
	}
	var b strings.Builder
	fmt.Fprintf(&b, "INSERT INTO %s (%s) VALUES ", quotedName(t.Table), strings.Join(names, ", "))
	for r := range rows {
		for c := range names {
			switch {
			case c > 0:
				b.WriteByte(',')
			case r > 0:
				b.WriteString(",(")
			default:
				b.WriteByte('(')
			}
			if dialect == "postgres" {
				fmt.Fprintf(&b, "$%d", r*len(names)+c+1)
			} else {
				b.WriteByte('?')
			}
		}
		b.WriteByte(')')
	}
	return b.String()
}
