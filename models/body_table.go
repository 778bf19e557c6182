package models

import (
	"context"
	"fmt"
	"strings"
	"time"

	"gorm.io/gorm"
)

// BodyTable is a table of body measurements that the studio keeps for itself,
// as a starting point for the sizes of a design. It says where its numbers come
// from. Sizes that were set up from it are copies: changing the table later
// changes no design. Only the designer changes one; it is retired, not deleted.
type BodyTable struct {
	ID        string `gorm:"primaryKey"`
	Name      string
	Source    string
	RetiredAt *time.Time
	Revision  int
	CreatedAt time.Time
	UpdatedAt time.Time

	Sizes []Size `gorm:"-"` // names and body measurements only, the smallest first
}

// bodyTableCell is one measurement of one size of a table.
type bodyTableCell struct {
	TableID           string `gorm:"primaryKey"`
	SizePosition      int    `gorm:"primaryKey"`
	DimensionPosition int    `gorm:"primaryKey"`
	Size              string
	Dimension         string
	Length            Length `gorm:"embedded"`
}

// TableName names the table after what the cells belong to.
func (bodyTableCell) TableName() string { return "body_table_cells" }

func (b BodyTable) validate() error {
	var p problems
	p.text("name", b.Name, true, shortText)
	p.text("source", b.Source, true, longText)
	for i, z := range b.Sizes {
		if len(z.Body) == 0 {
			p.addf(fmt.Sprintf("sizes[%d].body", i), "is empty; give at least one measurement")
		}
	}
	if err := p.err(); err != nil {
		return err
	}
	return validateSizes(b.Sizes)
}

// AddBodyTable keeps a new table.
func (s *Store) AddBodyTable(ctx context.Context, actor Actor, b BodyTable) (*BodyTable, error) {
	b.ID, b.Revision, b.RetiredAt = NewID(), 1, nil
	if err := b.validate(); err != nil {
		return nil, err
	}
	err := s.change(ctx, actor, func(t *tx) error {
		b.CreatedAt, b.UpdatedAt = t.now, t.now
		if err := t.bodyTableFree(b); err != nil {
			return err
		}
		if err := t.Create(&b).Error; err != nil {
			return fmt.Errorf("add body table: %w", err)
		}
		if err := t.writeBodyCells(b); err != nil {
			return err
		}
		return t.record("", "body table", b.ID, "added", nil, b)
	})
	return &b, err
}

// PutBodyTable replaces what a table holds, or retires it.
func (s *Store) PutBodyTable(ctx context.Context, actor Actor, id string, revision *int, next BodyTable, retired bool) (*BodyTable, error) {
	if err := next.validate(); err != nil {
		return nil, err
	}
	err := s.change(ctx, actor, func(t *tx) error {
		before, err := bodyTableIn(t.DB, id)
		if err != nil {
			return err
		}
		if err := checkRevision("body table", before.Revision, revision); err != nil {
			return err
		}
		next.ID, next.CreatedAt, next.RetiredAt = id, before.CreatedAt, stamp(retired, before.RetiredAt, t.now)
		next.Revision, next.UpdatedAt = before.Revision+1, t.now
		if err := t.bodyTableFree(next); err != nil {
			return err
		}
		values := map[string]any{"name": next.Name, "source": next.Source, "retired_at": next.RetiredAt}
		if err := t.bump("body table", &BodyTable{}, id, before.Revision, values); err != nil {
			return err
		}
		if err := t.Where("table_id = ?", id).Delete(&bodyTableCell{}).Error; err != nil {
			return fmt.Errorf("clear body table: %w", err)
		}
		if err := t.writeBodyCells(next); err != nil {
			return err
		}
		return t.record("", "body table", id, "changed", before, next)
	})
	return &next, err
}

func (t *tx) bodyTableFree(b BodyTable) error {
	var n int64
	if err := t.Model(&BodyTable{}).Where("lower(name) = ? AND id <> ?", strings.ToLower(b.Name), b.ID).Count(&n).Error; err != nil {
		return fmt.Errorf("look for body table: %w", err)
	}
	if n > 0 {
		return &Error{Kind: Conflict, Message: "A body table has that name already.", Fields: []FieldProblem{{"name", "is taken; give another"}}}
	}
	return nil
}

func (t *tx) writeBodyCells(b BodyTable) error {
	var cells []bodyTableCell
	for i, z := range b.Sizes {
		for j, m := range z.Body {
			cells = append(cells, bodyTableCell{TableID: b.ID, SizePosition: i + 1, DimensionPosition: j + 1, Size: z.Name, Dimension: m.Dimension, Length: m.Length})
		}
	}
	if err := createAll(t.DB, cells); err != nil {
		return fmt.Errorf("write body table: %w", err)
	}
	return nil
}

// BodyTables lists the studio's own tables, the retired ones at the end.
func (s *Store) BodyTables(ctx context.Context) ([]BodyTable, error) {
	return bodyTablesWhere(s.read(ctx), "1 = 1")
}

func bodyTableIn(db *gorm.DB, id string) (*BodyTable, error) {
	rows, err := bodyTablesWhere(db, "body_tables.id = ?", id)
	if err != nil {
		return nil, err
	}
	if len(rows) == 0 {
		return nil, notFound("body table")
	}
	return &rows[0], nil
}

// BodyTable returns one of the studio's own tables.
func (s *Store) BodyTable(ctx context.Context, id string) (*BodyTable, error) {
	return bodyTableIn(s.read(ctx), id)
}

func bodyTablesWhere(db *gorm.DB, where string, args ...any) ([]BodyTable, error) {
	var tables []BodyTable
	if err := db.Where(where, args...).Order("retired_at IS NOT NULL, name").Find(&tables).Error; err != nil {
		return nil, fmt.Errorf("body tables: %w", err)
	}
	var cells []bodyTableCell
	err := db.Table("body_table_cells").Select("body_table_cells.*").Joins("JOIN body_tables ON body_tables.id = body_table_cells.table_id").
		Where(where, args...).Order("table_id, size_position, dimension_position").Find(&cells).Error
	if err != nil {
		return nil, fmt.Errorf("body tables: %w", err)
	}
	at := make(map[string]*BodyTable, len(tables))
	for i := range tables {
		at[tables[i].ID] = &tables[i]
	}
	for _, c := range cells {
		b := at[c.TableID]
		if len(b.Sizes) < c.SizePosition {
			b.Sizes = append(b.Sizes, Size{Position: c.SizePosition, Name: c.Size})
		}
		z := &b.Sizes[len(b.Sizes)-1]
		z.Body = append(z.Body, BodyMeasurement{Dimension: c.Dimension, Length: c.Length})
	}
	return tables, nil
}
