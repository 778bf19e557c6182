package handlers

import (
	"context"
	"net/http"

	"tenter/models"
)

// BodyTable is a table of body measurements that the studio keeps for itself.
type BodyTable struct {
	ID       string          `json:"id"`
	Name     string          `json:"name"`
	Source   string          `json:"source" doc:"Where its numbers come from."`
	Sizes    []BodyTableSize `json:"sizes" doc:"The smallest first."`
	Retired  bool            `json:"retired"`
	Revision int             `json:"revision"`
}

// BodyTableSize is a size with the body it is for.
type BodyTableSize struct {
	Name string `json:"name"`
	Body []Body `json:"body"`
}

// BodyTableIn is a table as it is set.
type BodyTableIn struct {
	Name   string            `json:"name"`
	Source string            `json:"source"`
	Sizes  []BodyTableSizeIn `json:"sizes" maxItems:"40"`
}

// BodyTableSizeIn is a size as it is set.
type BodyTableSizeIn struct {
	Name string   `json:"name"`
	Body []BodyIn `json:"body" maxItems:"20"`
}

func (in BodyTableIn) table() models.BodyTable {
	return models.BodyTable{Name: in.Name, Source: in.Source, Sizes: each(in.Sizes, func(z BodyTableSizeIn) models.Size {
		return SizeIn{Name: z.Name, Body: z.Body}.size()
	})}
}

func bodyTableView(b models.BodyTable) BodyTable {
	return BodyTable{b.ID, b.Name, b.Source, each(b.Sizes, func(z models.Size) BodyTableSize {
		return BodyTableSize{z.Name, sizeView(z).Body}
	}), b.RetiredAt != nil, b.Revision}
}

// BodyTablePath names a table.
type BodyTablePath struct {
	Table string `path:"table" maxLength:"36"`
}

type newBodyTableInput struct{ Body BodyTableIn }

type putBodyTableInput struct {
	BodyTablePath
	Precondition
	Body struct {
		BodyTableIn
		Retired bool `json:"retired,omitempty" doc:"No longer offered as a starting point."`
	}
}

func (a *api) bodyTables() {
	add(a, operation("list-body-tables", http.MethodGet, "/body-tables", "The studio's own body tables", "Standards"), a.getBodyTables)
	add(a, created(operation("add-body-table", http.MethodPost, "/body-tables", "Keep a body table", "Standards")), a.postBodyTable)
	add(a, operation("put-body-table", http.MethodPut, "/body-tables/{table}", "Replace a body table, or retire it", "Standards"), a.putBodyTable)
}

func (a *api) getBodyTables(ctx context.Context, _ models.Actor, in *Paged) (*listOf[BodyTable], error) {
	rows, err := a.Store.BodyTables(ctx)
	if err != nil {
		return nil, err
	}
	rows, next := pageOf(rows, in.page(), func(b models.BodyTable) string { return b.ID })
	return list(rows, next, bodyTableView), nil
}

func (a *api) postBodyTable(ctx context.Context, actor models.Actor, in *newBodyTableInput) (*made[BodyTable], error) {
	b, err := a.Store.AddBodyTable(ctx, actor, in.Body.table())
	if err != nil {
		return nil, err
	}
	return &made[BodyTable]{etag(b.Revision), Prefix + "/body-tables/" + b.ID, bodyTableView(*b)}, nil
}

func (a *api) putBodyTable(ctx context.Context, actor models.Actor, in *putBodyTableInput) (*one[BodyTable], error) {
	revision, err := in.revision(func() (int, error) {
		b, err := a.Store.BodyTable(ctx, in.Table)
		if err != nil {
			return 0, err
		}
		return b.Revision, nil
	})
	if err != nil {
		return nil, err
	}
	b, err := a.Store.PutBodyTable(ctx, actor, in.Table, revision, in.Body.table(), in.Body.Retired)
	if err != nil {
		return nil, err
	}
	return &one[BodyTable]{etag(b.Revision), bodyTableView(*b)}, nil
}
