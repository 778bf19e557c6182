package table

import (
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// Out is a table on its way out: what its columns are called, and its rows one
// after the other. A cell is nil, a string, a float64, an int, an int64, a
// bool or a time.Time.
type Out struct {
	Name    string // of the file and the sheet, in plain words
	Columns []string
	Rows    func(row func([]any) error) error
}

// moment is how a time stands in a cell.
const moment = "2006-01-02T15:04:05Z"

// lineEnd is an end of a line within a cell, however it was typed. Readers take
// CR LF for LF, so that is what is written.
var lineEnd = regexp.MustCompile(`\r+\n`)

// Cell returns what stands in a cell: a float64, or a text that no spreadsheet
// takes for a formula.
func Cell(v any) any {
	switch v := v.(type) {
	case nil:
		return ""
	case float64:
		return v
	case int:
		return float64(v)
	case int64:
		return float64(v)
	case bool:
		if v {
			return "yes"
		}
		return "no"
	case time.Time:
		return v.UTC().Format(moment)
	case string:
		return Guard(lineEnd.ReplaceAllString(v, "\n"))
	}
	return Guard(fmt.Sprint(v))
}

// WriteCSV writes a table as RFC 4180 has it: in UTF-8, a header first, CR LF
// behind each row, quotes around a cell that holds a comma, a quote, a line
// break or a space at its edge, and a quote within written twice.
func (t Out) WriteCSV(w io.Writer) error {
	var line []byte
	write := func(cells []any) error {
		line = line[:0]
		for i, c := range cells {
			if i > 0 {
				line = append(line, ',')
			}
			line = appendCell(line, Cell(c))
		}
		_, err := w.Write(append(line, '\r', '\n'))
		return err
	}
	if err := write(anys(t.Columns)); err != nil {
		return fmt.Errorf("write the table: %w", err)
	}
	if err := t.Rows(write); err != nil {
		return fmt.Errorf("write the table: %w", err)
	}
	return nil
}

func anys(texts []string) []any {
	out := make([]any, len(texts))
	for i, s := range texts {
		out[i] = s
	}
	return out
}

func appendCell(line []byte, cell any) []byte {
	text, isText := cell.(string)
	if !isText {
		return strconv.AppendFloat(line, cell.(float64), 'f', -1, 64)
	}
	if !strings.ContainsAny(text, ",\"\r\n") && strings.TrimSpace(text) == text {
		return append(line, text...)
	}
	line = append(line, '"')
	line = append(line, strings.ReplaceAll(text, `"`, `""`)...)
	return append(line, '"')
}
