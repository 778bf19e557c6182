package models

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"gorm.io/gorm"

	"tenter/models/table"
)

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
