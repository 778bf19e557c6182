package table

import (
	"encoding/csv"
	"errors"
	"fmt"
)

// Error says why a table can't be read, and how to mend it.
type Error struct {
	Line    int    // in the file; 0 when it is about the whole file
	Field   string // of Columns.Find: the field whose column is in question
	Problem string // a sentence
}

func (e *Error) Error() string {
	if e.Line == 0 {
		return e.Problem
	}
	return fmt.Sprintf("Line %d: %s", e.Line, e.Problem)
}

func faultf(line int, format string, args ...any) *Error {
	return &Error{Line: line, Problem: fmt.Sprintf(format, args...)}
}

// quoteFault puts what the CSV reader found into words. A quote that is never
// closed swallows the rows below it, so the line where its row begins is the
// one to look at.
func quoteFault(err error) error {
	var broken *csv.ParseError
	if !errors.As(err, &broken) {
		return faultf(0, "The table can't be read: %v.", err)
	}
	if errors.Is(broken.Err, csv.ErrBareQuote) {
		return faultf(broken.StartLine, "There is a double quote inside a cell that doesn't begin with one%s; put the whole cell in double quotes and write the inner quote twice.", noticed(broken))
	}
	return faultf(broken.StartLine, "A double quote is opened and not closed right before a separator or the end of the row%s; close it, and write a quote inside a quoted cell twice.", noticed(broken))
}

func noticed(e *csv.ParseError) string {
	if e.Line == e.StartLine {
		return ""
	}
	return fmt.Sprintf(" (noticed in line %d)", e.Line)
}
