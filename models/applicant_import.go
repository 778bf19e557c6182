package models

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"gorm.io/gorm"

	"tenter/models/table"
)

// Sheetful is a table as somebody sent it, and which header means which field
// where the usual names don't tell.
type Sheetful struct {
	Data    []byte
	Headers map[string]string // field -> header; "" leaves the field out
}

// read reads the table and finds the columns of the fields.
func (f Sheetful) read(fields []table.Field) (*table.Table, *table.Columns, error) {
	t, err := table.Read(f.Data)
	var columns *table.Columns
	if err == nil {
		columns, err = t.Find(fields, f.Headers)
	}
	var fault *table.Error
	if errors.As(err, &fault) {
		return nil, nil, tableFault(fault)
	}
	return t, columns, err
}

// ApplicantRow is one row of a table of applicants and what it comes to.
type ApplicantRow struct {
	Line      int
	Applicant Applicant
	State     string         // "new", "same", "changed"; "" for a row with problems
	Problems  []FieldProblem // by field; Field is "" for the row as a whole

	plan plannedApplication
}

// ApplicantTable is what an import of a table would do.
type ApplicantTable struct {
	Columns []string
	Mapping map[string]string // field -> header
	Rows    []ApplicantRow

	sizes []Size
}

// SizeName returns the name of one of the design's sizes.
func (t ApplicantTable) SizeName(id string) string {
	for _, z := range t.sizes {
		if z.ID == id {
			return z.Name
		}
	}
	return ""
}

// Good counts the rows that can be imported.
func (t ApplicantTable) Good() int {
	n := 0
	for _, r := range t.Rows {
		if len(r.Problems) == 0 {
			n++
		}
	}
	return n
}

// Problem puts what is wrong with a row into words, naming each column.
func (t ApplicantTable) Problem(r ApplicantRow) string {
	parts := make([]string, len(r.Problems))
	for i, f := range r.Problems {
		column := f.column()
		switch header := t.Mapping[column]; {
		case column == "":
			parts[i] = "The row " + f.Problem
		case header != "":
			parts[i] = fmt.Sprintf("%q %s", header, f.Problem)
		default:
			parts[i] = column + " " + f.Problem
		}
	}
	return strings.Join(parts, "; ")
}

// column returns the field without the place in a list that it may name.
func (f FieldProblem) column() string {
	column, _, _ := strings.Cut(f.Field, "[")
	return column
}

// PreviewApplicants tells what an import would do, and writes nothing.
func (s *Store) PreviewApplicants(ctx context.Context, callID string, in Sheetful) (*ApplicantTable, error) {
	rows, columns, err := in.read(applicantFields())
	if err != nil {
		return nil, err
	}
	db := s.read(ctx)
	call, err := callIn(db, callID)
	if err != nil {
		return nil, err
	}
	return planApplicants(db, call, rows, columns)
}

// ApplicantImport tells what an import has done.
type ApplicantImport struct {
	Created, Changed, Same int
	Skipped                []SkippedRow
}

// SkippedRow is a row that was left out, and why.
type SkippedRow struct {
	Line    int
	Problem string
}

// ImportApplicants enters the offers of a table, all of them or none; with
// skipBad, all that can be read. Importing the same table again changes
// nothing.
func (s *Store) ImportApplicants(ctx context.Context, actor Actor, callID string, in Sheetful, skipBad bool) (*ApplicantImport, error) {
	// Reading comes before the one writer is taken.
	rows, columns, err := in.read(applicantFields())
	if err != nil {
		return nil, err
	}
	out := &ApplicantImport{}
	err = s.change(ctx, actor, func(t *tx) error {
		call, err := t.openCall(callID)
		if err != nil {
			return err
		}
		plan, err := planApplicants(t.DB, call, rows, columns)
		if err != nil {
			return err
		}
		if !skipBad {
			if err := plan.refuse(); err != nil {
				return err
			}
		}
		return t.carryOutApplications(call, plan.count(out))
	})
	return out, err
}

func planApplicants(db *gorm.DB, call *TestCall, rows *table.Table, columns *table.Columns) (*ApplicantTable, error) {
	book, err := applicantBookIn(db, call)
	if err != nil {
		return nil, err
	}
	studio, err := studioIn(db)
	if err != nil {
		return nil, err
	}
	out := &ApplicantTable{Columns: rows.Header, Mapping: columns.Headers(), Rows: make([]ApplicantRow, len(rows.Rows)), sizes: book.sizes}
	lines := map[string]int{}
	for i, row := range rows.Rows {
		out.Rows[i] = book.row(row, columns, studio.Location(), lines)
	}
	return out, nil
}

// row works out what one row comes to. lines tells in which line each person
// was met first: two offers of one person in a table would undo each other.
func (b *applicantBook) row(row table.Row, columns *table.Columns, zone *time.Location, lines map[string]int) ApplicantRow {
	out := ApplicantRow{Line: row.Line}
	if row.Problem != "" {
		out.Problems = []FieldProblem{{"", row.Problem}}
		return out
	}
	var p, wrong problems
	out.Applicant = applicantFrom(&p, columns, row, b.sizes, zone)
	out.plan = b.plan(&wrong, out.Applicant)
	for _, f := range wrong.fields {
		// What could not be read leaves a gap, which is not complained of again.
		if !slices.ContainsFunc(p.fields, func(told FieldProblem) bool { return told.Field == f.column() }) {
			p.fields = append(p.fields, f)
		}
	}
	handle := strings.ToLower(out.plan.person.Handle)
	if line, twice := lines[handle]; twice && handle != "" {
		p.addf("handle", "stands in line %d already; keep the row that counts", line)
	} else {
		lines[handle] = row.Line
	}
	if out.Problems = p.fields; len(out.Problems) > 0 {
		return out
	}
	out.State = out.plan.state()
	b.enter(out.plan.person) // so that a later row can't take the same address
	return out
}

// mostTold bounds how many bad rows one refusal names.
const mostTold = 100

// refuse names the rows that stand in the way of an import.
func (t ApplicantTable) refuse() error {
	bad := len(t.Rows) - t.Good()
	if bad == 0 {
		return nil
	}
	e := &Error{Kind: Invalid, Message: fmt.Sprintf("%d of %d rows can't be taken as they are, so nothing was imported. Mend them, or import the others only.", bad, len(t.Rows))}
	for _, r := range t.Rows {
		if len(r.Problems) > 0 && len(e.Fields) < mostTold {
			e.Fields = append(e.Fields, FieldProblem{fmt.Sprintf("line[%d]", r.Line), t.Problem(r)})
		}
	}
	return e
}

// count fills in what an import does and returns the offers to be carried out.
func (t ApplicantTable) count(out *ApplicantImport) []plannedApplication {
	var plans []plannedApplication
	for _, r := range t.Rows {
		switch r.State {
		case "new":
			out.Created++
		case "changed":
			out.Changed++
		case "same":
			out.Same++
			continue
		default:
			out.Skipped = append(out.Skipped, SkippedRow{r.Line, t.Problem(r)})
			continue
		}
		plans = append(plans, r.plan)
	}
	return plans
}
