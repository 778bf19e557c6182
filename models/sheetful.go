package models

import (
	"errors"
	"fmt"

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

// longestQuote bounds what of a cell a problem repeats, in characters.
const longestQuote = 40

func clip(cell string) string {
	if r := []rune(cell); len(r) > longestQuote {
		return string(r[:longestQuote]) + "…"
	}
	return cell
}

// tableFault turns what is wrong with a table as a whole into an error of this
// request: about one of the mapped fields, or about a line.
func tableFault(e *table.Error) error {
	field := "table"
	switch {
	case e.Field != "":
		field = "map." + e.Field
	case e.Line > 0:
		field = fmt.Sprintf("line[%d]", e.Line)
	}
	return &Error{Kind: Invalid, Message: e.Error(), Fields: []FieldProblem{{field, e.Problem}}}
}
