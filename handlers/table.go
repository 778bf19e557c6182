package handlers

import (
	"context"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"tenter/models"
	"tenter/models/table"
)

// The two forms of a table. RFC 7111 registers header=present for CSV; the
// other is the Open XML workbook.
const (
	csvType  = "text/csv; charset=utf-8; header=present"
	xlsxType = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
)

// TableInfo is a table that can be taken out.
type TableInfo struct {
	Name     string `json:"name"`
	Says     string `json:"says"`
	Address  string `json:"address" doc:"Where it is; {design} stands for a design's id or slug."`
	Designer bool   `json:"designer_only"`
}

type TableForm struct {
	As string `query:"as" enum:"csv,xlsx" default:"csv" doc:"csv: RFC 4180 in UTF-8. xlsx: a spreadsheet. In both, a text that begins like a formula has an apostrophe in front."`
}

type designTableInput struct {
	DesignPath
	Table string `path:"table" maxLength:"40"`
	TableForm
}

type studioTableInput struct {
	Table string `path:"table" maxLength:"40"`
	TableForm
}

func (a *api) tables() {
	add(a, operation("list-tables", http.MethodGet, "/tables", "Every table that can be taken out", "Tables"), a.getTables)
	describe := func(op huma.Operation) huma.Operation {
		op.Responses = map[string]*huma.Response{"200": {Description: "The table.", Content: map[string]*huma.MediaType{
			"text/csv": {Schema: &huma.Schema{Type: "string"}}, xlsxType: {Schema: &huma.Schema{Type: "string", Format: "binary"}}}}}
		return op
	}
	add(a, describe(operation("get-design-table", http.MethodGet, "/designs/{design}/tables/{table}", "A table of a design, as CSV or spreadsheet", "Tables")), a.getDesignTable)
	add(a, describe(operation("get-studio-table", http.MethodGet, "/tables/{table}", "A table of the studio, as CSV or spreadsheet", "Tables")), a.getStudioTable)
}

func (a *api) getTables(context.Context, models.Actor, *struct{}) (*listOf[TableInfo], error) {
	var all []TableInfo
	for _, t := range models.StudioTables() {
		all = append(all, TableInfo{t.Name, t.Says, Prefix + "/tables/" + t.Name, t.Designer})
	}
	for _, t := range models.DesignTables() {
		all = append(all, TableInfo{t.Name, t.Says, Prefix + "/designs/{design}/tables/" + t.Name, t.Designer})
	}
	return list(all, "", func(t TableInfo) TableInfo { return t }), nil
}

func (a *api) getDesignTable(ctx context.Context, actor models.Actor, in *designTableInput) (*huma.StreamResponse, error) {
	t, err := a.Store.DesignTable(ctx, actor, in.Design, in.Table)
	return a.fileOf(ctx, t, in.As, err)
}

func (a *api) getStudioTable(ctx context.Context, actor models.Actor, in *studioTableInput) (*huma.StreamResponse, error) {
	t, err := a.Store.StudioTable(ctx, actor, in.Table)
	return a.fileOf(ctx, t, in.As, err)
}

// fileOf sends a table in the wanted form, once it is put together.
func (a *api) fileOf(ctx context.Context, t *table.Out, as string, err error) (*huma.StreamResponse, error) {
	if err != nil {
		return nil, err
	}
	kind, write := csvType, t.WriteCSV
	if as == "xlsx" {
		kind, write = xlsxType, func(w io.Writer) error { return writeSpreadsheet(w, *t) }
	}
	whole, err := a.spooled(ctx, write)
	if err != nil {
		return nil, err
	}
	return &huma.StreamResponse{Body: func(ctx huma.Context) {
		defer whole.Discard()
		ctx.SetHeader("Content-Type", kind)
		ctx.SetHeader("Content-Disposition", disposition(t.Name+"."+as))
		ctx.SetHeader("Cache-Control", "no-store")
		ctx.SetHeader("Content-Length", strconv.FormatInt(whole.bytes, 10))
		if _, err := io.Copy(ctx.BodyWriter(), whole); err != nil {
			// Too late for a problem document: the connection is broken off, so
			// that nobody takes half a table for a whole one.
			a.Log.ErrorContext(ctx.Context(), "a table broke off", "table", t.Name, "error", err)
			panic(http.ErrAbortHandler)
		}
	}}, nil
}

// disposition names the file that an answer is kept as (RFC 6266): in plain
// letters, and once more in full where the name has others (RFC 8187).
func disposition(name string) string {
	plain := strings.Map(func(r rune) rune {
		switch {
		case r == ' ':
			return '-'
		case r < ' ' || r > '~' || strings.ContainsRune(`"\/%;`, r):
			return '_'
		}
		return r
	}, name)
	out := fmt.Sprintf(`attachment; filename="%s"`, plain)
	if full := strings.ReplaceAll(name, " ", "-"); full != plain {
		out += "; filename*=UTF-8''" + strings.ReplaceAll(url.QueryEscape(full), "+", "%20")
	}
	return out
}
