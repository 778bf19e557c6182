package handlers

import (
	"context"
	"encoding/json"
	"errors"
	"net/http"
	"strings"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"tenter/models"
	"tenter/models/table"
)

// TableIn is a table as it was exported, and what its headers mean.
type TableIn struct {
	Map     string `query:"map" maxLength:"8000" doc:"JSON: which header means which field, where the usual names don't tell: {\"handle\": \"Your name here\"}. An empty header leaves the field out."`
	RawBody []byte `contentType:"text/csv"`
}

// sheetful reads the mapping.
func (in TableIn) sheetful() (models.Sheetful, error) {
	out := models.Sheetful{Data: in.RawBody}
	if in.Map == "" {
		return out, nil
	}
	if err := json.Unmarshal([]byte(in.Map), &out.Headers); err != nil {
		return out, huma.NewError(http.StatusUnprocessableEntity, "The mapping can't be read; nothing was changed.",
			&huma.ErrorDetail{Location: "query.map", Message: `has to be a JSON object of texts, like {"handle": "Your name here"}`})
	}
	return out, nil
}

// tableProblem moves what is wrong with the mapping to where it was sent.
func tableProblem(err error) error {
	var own *models.Error
	if !errors.As(err, &own) {
		return err
	}
	doc := Problem(own)
	for _, e := range doc.Errors {
		if rest, ok := strings.CutPrefix(e.Location, "body.map."); ok {
			e.Location = "query.map." + rest
		}
	}
	return doc
}

// taking marks an operation that takes a table.
func taking(op huma.Operation) huma.Operation {
	op.MaxBodyBytes = table.MaxBytes
	op.Description = "A table with a header, as a form or spreadsheet exports it: comma, semicolon or tab between cells; UTF-8, or UTF-16 with a byte order mark; less than 2 MiB and at most 10,000 rows."
	return op
}

// ApplicantPreview tells what an import would do.
type ApplicantPreview struct {
	Columns []string          `json:"columns" doc:"The headers in the table."`
	Mapping map[string]string `json:"mapping" doc:"Which header means which field."`
	Rows    []ApplicantRow    `json:"rows"`
	Good    int               `json:"good"`
	Bad     int               `json:"bad"`
}

// ApplicantRow is one row and what it comes to.
type ApplicantRow struct {
	Line      int        `json:"line" doc:"In the file, the first being 1."`
	Handle    string     `json:"handle"`
	Email     *string    `json:"email,omitempty"`
	Sizes     []string   `json:"sizes" doc:"Names, the best first."`
	Accepted  *int       `json:"accepted,omitempty"`
	Finished  *int       `json:"finished,omitempty"`
	Unit      string     `json:"unit,omitempty"`
	Terms     string     `json:"terms,omitempty"`
	Remarks   *string    `json:"remarks,omitempty"`
	AppliedAt *time.Time `json:"applied_at,omitempty"`
	State     string     `json:"state,omitempty" enum:"new,same,changed" doc:"Absent for a row with a problem."`
	Problem   string     `json:"problem,omitempty" doc:"What is wrong, in which column, and how to mend it."`
}

func previewView(t *models.ApplicantTable) ApplicantPreview {
	return ApplicantPreview{Columns: t.Columns, Mapping: t.Mapping, Good: t.Good(), Bad: len(t.Rows) - t.Good(),
		Rows: each(t.Rows, func(r models.ApplicantRow) ApplicantRow {
			p := r.Applicant
			return ApplicantRow{Line: r.Line, Handle: p.Handle, Email: p.Email, Sizes: each(p.Sizes, t.SizeName), Accepted: p.Accepted, Finished: p.Finished,
				Unit: p.Unit, Terms: p.Terms, Remarks: p.Remarks, AppliedAt: p.AppliedAt, State: r.State, Problem: t.Problem(r)}
		})}
}

// Import tells what an import of rows has done.
type Import struct {
	Created int          `json:"created"`
	Changed int          `json:"changed"`
	Same    int          `json:"same"`
	Skipped []SkippedRow `json:"skipped"`
}

// SkippedRow is a row that was left out, and why.
type SkippedRow struct {
	Line    int    `json:"line"`
	Problem string `json:"problem"`
}

type previewInput struct {
	CallPath
	TableIn
}

type importInput struct {
	CallPath
	TableIn
	SkipBad bool `query:"skip_bad" doc:"Import what can be read and leave the other rows out."`
}

func (a *api) applicantImports() {
	add(a, taking(operation("preview-applicants", http.MethodPost, "/calls/{call}/applicants/preview", "See what a table of applicants would bring; nothing is written", "Testing")), a.previewApplicants)
	add(a, taking(operation("import-applicants", http.MethodPost, "/calls/{call}/applicants/import", "Import a table of applicants, all rows or none", "Testing")), a.importApplicants)
}

func (a *api) previewApplicants(ctx context.Context, _ models.Actor, in *previewInput) (*plain[ApplicantPreview], error) {
	sheet, err := in.sheetful()
	if err != nil {
		return nil, err
	}
	t, err := a.Store.PreviewApplicants(ctx, in.Call, sheet)
	if err != nil {
		return nil, tableProblem(err)
	}
	return &plain[ApplicantPreview]{previewView(t)}, nil
}

func (a *api) importApplicants(ctx context.Context, actor models.Actor, in *importInput) (*plain[Import], error) {
	sheet, err := in.sheetful()
	if err != nil {
		return nil, err
	}
	done, err := a.Store.ImportApplicants(ctx, actor, in.Call, sheet, in.SkipBad)
	if err != nil {
		return nil, tableProblem(err)
	}
	return importView(done), nil
}

func importView(done *models.Import) *plain[Import] {
	return &plain[Import]{Import{Created: done.Created, Changed: done.Changed, Same: done.Same,
		Skipped: each(done.Skipped, func(r models.SkippedRow) SkippedRow { return SkippedRow(r) })}}
}
