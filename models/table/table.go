package table

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
)

// Bounds of a table (chosen): far more than a studio's largest call brings,
// and little enough to be read in one request.
const (
	MaxBytes   = 2 << 20
	MaxRows    = 10_000
	MaxColumns = 200
)

// Table is a header and the rows below it. Rows without any content are left
// out.
type Table struct {
	Header    []string // trimmed; "" for a column without a name
	Separator rune
	Rows      []Row
}

// Row is one row of a table.
type Row struct {
	Line    int      // in the file, the first line being 1
	Cells   []string // as they stand in the file, one for each header
	Problem string   // why the row can't be taken, "" when it can
}

// Read reads a whole table from a file's bytes.
//
// Rows with another number of cells than the header are kept with a Problem,
// so that all of them can be named at once. What leaves in doubt where a row
// ends (a broken quote), and what is out of bounds, is an *Error.
//
// A line break inside a cell comes out as a line feed, however the file
// writes it.
func Read(data []byte) (*Table, error) {
	if len(data) > MaxBytes {
		return nil, faultf(0, "The file has %.1f MiB; send at most %d MiB at once.", float64(len(data))/(1<<20), MaxBytes>>20)
	}
	text, err := decode(data)
	if err != nil {
		return nil, err
	}
	t := &Table{Separator: separator(text)}
	r := csv.NewReader(strings.NewReader(text))
	r.Comma, r.FieldsPerRecord = t.Separator, -1
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, quoteFault(err)
		}
		if isBlank(cells) {
			continue
		}
		for i, c := range cells {
			cells[i] = Unguard(c) // what our own tables put in front of what looks like a formula
		}
		line, _ := r.FieldPos(0)
		if err := t.take(line, cells); err != nil {
			return nil, err
		}
	}
	if t.Header == nil {
		return nil, faultf(0, "The file is empty; its first line has to name the columns.")
	}
	return t, nil
}

// take adds a record: the first one is the header.
func (t *Table) take(line int, cells []string) error {
	switch {
	case len(cells) > MaxColumns:
		return faultf(line, "There are %d columns; at most %d can be read.", len(cells), MaxColumns)
	case t.Header == nil:
		return t.takeHeader(line, cells)
	case len(t.Rows) == MaxRows:
		return faultf(line, "There are more than %d rows; send the table in parts of at most %d rows, each with the header.", MaxRows, MaxRows)
	}
	row := Row{Line: line, Cells: cells}
	n := len(t.Header)
	if len(cells) > n && isBlank(cells[n:]) {
		row.Cells = cells[:n]
	}
	if len(row.Cells) != n {
		row.Problem = fmt.Sprintf("has %d cells where the header has %d; a cell that holds a separator or a line break has to stand in double quotes", len(cells), n)
	}
	t.Rows = append(t.Rows, row)
	return nil
}

func (t *Table) takeHeader(line int, cells []string) error {
	for len(cells) > 0 && strings.TrimSpace(cells[len(cells)-1]) == "" {
		cells = cells[:len(cells)-1] // empty columns at the right edge of a sheet
	}
	seen := map[string]int{}
	t.Header = make([]string, len(cells))
	for i, c := range cells {
		t.Header[i] = strings.TrimSpace(c)
		k := key(c)
		if k == "" {
			continue
		}
		if j, twice := seen[k]; twice {
			return faultf(line, "Columns %d and %d are both called %q; give each column its own name.", j+1, i+1, t.Header[i])
		}
		seen[k] = i
	}
	return nil
}

func isBlank(cells []string) bool {
	for _, c := range cells {
		if strings.TrimSpace(c) != "" {
			return false
		}
	}
	return true
}
