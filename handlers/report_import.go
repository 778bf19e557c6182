package handlers

import (
	"context"
	"net/http"

	"tenter/models"
)

// ReportPreview tells what an import of reports would do.
type ReportPreview struct {
	Columns []string          `json:"columns" doc:"The headers in the table."`
	Mapping map[string]string `json:"mapping" doc:"Which header means which field; a point's field is point:NAME."`
	Rows    []ReportRow       `json:"rows"`
	Good    int               `json:"good"`
	Bad     int               `json:"bad"`
}

// ReportRow is one row and what it comes to.
type ReportRow struct {
	Line     int    `json:"line" doc:"In the file, the first being 1."`
	Handle   string `json:"handle"`
	Size     string `json:"size,omitempty"`
	Measured int    `json:"measured" doc:"How many points it measures."`
	State    string `json:"state,omitempty" enum:"new,same,changed" doc:"Absent for a row with a problem."`
	Problem  string `json:"problem,omitempty" doc:"What is wrong, in which column, and how to mend it."`
}

func (a *api) reportImports() {
	add(a, taking(operation("preview-reports", http.MethodPost, "/calls/{call}/reports/preview", "See what a table of reports would bring; nothing is written", "Reports")), a.previewReports)
	add(a, taking(operation("import-reports", http.MethodPost, "/calls/{call}/reports/import", "Import a table of reports, all rows or none", "Reports")), a.importReports)
}

func (a *api) previewReports(ctx context.Context, _ models.Actor, in *previewInput) (*plain[ReportPreview], error) {
	sheet, err := in.sheetful()
	if err != nil {
		return nil, err
	}
	t, err := a.Store.PreviewReports(ctx, in.Call, sheet)
	if err != nil {
		return nil, tableProblem(err)
	}
	bad := len(t.Bad())
	return &plain[ReportPreview]{ReportPreview{Columns: t.Columns, Mapping: t.Mapping, Good: len(t.Rows) - bad, Bad: bad,
		Rows: each(t.Rows, func(r models.ReportRow) ReportRow {
			return ReportRow{r.Line, r.Handle, r.Size, r.Measured, r.State, r.Problem}
		})}}, nil
}

func (a *api) importReports(ctx context.Context, actor models.Actor, in *importInput) (*plain[Import], error) {
	sheet, err := in.sheetful()
	if err != nil {
		return nil, err
	}
	done, err := a.Store.ImportReports(ctx, actor, in.Call, sheet, in.SkipBad)
	if err != nil {
		return nil, tableProblem(err)
	}
	return importView(done), nil
}
