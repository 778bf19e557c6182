package models

import (
	"context"
	"database/sql"
	"fmt"
	"slices"

	"gorm.io/gorm"

	"tenter/models/table"
)

// TableInfo names a table that can be taken out as CSV or as a spreadsheet.
type TableInfo struct {
	Name     string // in the address
	Says     string // what it holds
	Designer bool   // for the designer only: it tells addresses, bodies or secrets of the house
}

// export is a table: what it holds and where its rows are from. Either a query,
// which names its own columns and takes the design's id once for each mark, or
// a calculation.
type export struct {
	TableInfo
	query string
	make  func(s *Store, ctx context.Context, actor Actor, design *Design) (table.Out, error)
}

// DesignTables lists the tables of a design; StudioTables those of the studio.
func DesignTables() []TableInfo { return infos(designExports()) }

// StudioTables lists the tables that belong to no one design.
func StudioTables() []TableInfo { return infos(studioExports()) }

func infos(all []export) []TableInfo {
	out := make([]TableInfo, len(all))
	for i, e := range all {
		out[i] = e.TableInfo
	}
	return out
}

// DesignTable returns one of a design's tables, as the actor may see it.
func (s *Store) DesignTable(ctx context.Context, actor Actor, idOrSlug, name string) (*table.Out, error) {
	e, err := exportNamed(designExports(), actor, name)
	if err != nil {
		return nil, err
	}
	design, err := s.Design(ctx, idOrSlug)
	if err != nil {
		return nil, err
	}
	out, err := s.export(ctx, actor, e, design)
	if err != nil {
		return nil, err
	}
	out.Name = design.Slug + " " + name
	return &out, nil
}

// StudioTable returns one of the studio's tables.
func (s *Store) StudioTable(ctx context.Context, actor Actor, name string) (*table.Out, error) {
	e, err := exportNamed(studioExports(), actor, name)
	if err != nil {
		return nil, err
	}
	out, err := s.export(ctx, actor, e, nil)
	if err != nil {
		return nil, err
	}
	out.Name = name
	return &out, nil
}

func exportNamed(all []export, actor Actor, name string) (export, error) {
	i := slices.IndexFunc(all, func(e export) bool { return e.Name == name })
	if i < 0 {
		return export{}, notFound("table")
	}
	if all[i].Designer && !actor.Has(Designer) {
		return export{}, failf(Forbidden, "This table is for the designer.")
	}
	return all[i], nil
}

func (s *Store) export(ctx context.Context, actor Actor, e export, design *Design) (table.Out, error) {
	if e.make != nil {
		return e.make(s, ctx, actor, design)
	}
	var args []any
	if design != nil {
		args = marks(e.query, design.ID)
	}
	// Once for the names of its columns, which are told before the rows are.
	columns, err := s.columnsOf(ctx, e.query, args)
	if err != nil {
		return table.Out{}, fmt.Errorf("table %s: %w", e.Name, err)
	}
	return table.Out{Columns: columns, Rows: func(row func([]any) error) error {
		return s.eachOf(s.read(ctx), e.query, args, row)
	}}, nil
}

func (s *Store) columnsOf(ctx context.Context, query string, args []any) ([]string, error) {
	rows, err := s.read(ctx).Raw("SELECT * FROM ("+query+") AS t WHERE 1 = 0", args...).Rows()
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	columns, err := rows.Columns()
	if err != nil {
		return nil, err
	}
	return columns, rows.Err()
}

// eachOf reads rows one by one, so that a long table is never whole in memory.
func (s *Store) eachOf(db *gorm.DB, query string, args []any, row func([]any) error) error {
	rows, err := db.Raw(query, args...).Rows()
	if err != nil {
		return err
	}
	defer rows.Close()
	columns, err := rows.Columns()
	if err != nil {
		return err
	}
	cells, into := make([]any, len(columns)), make([]any, len(columns))
	for i := range cells {
		into[i] = &cells[i]
	}
	for rows.Next() {
		if err := rows.Scan(into...); err != nil {
			return err
		}
		for i, c := range cells {
			cells[i] = plainCell(c)
		}
		if err := row(cells); err != nil {
			return err
		}
	}
	return rows.Err()
}

// plainCell gives a cell one of the types that a table takes.
func plainCell(c any) any {
	switch v := c.(type) {
	case []byte:
		return string(v)
	case sql.RawBytes:
		return string(v)
	case int32:
		return int64(v)
	case float32:
		return float64(v)
	}
	return c
}

// rowsIn is a table whose rows are in memory already.
func rowsIn(columns []string, rows [][]any) table.Out {
	return table.Out{Columns: columns, Rows: func(row func([]any) error) error {
		for _, r := range rows {
			if err := row(r); err != nil {
				return err
			}
		}
		return nil
	}}
}
