package handlers

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/xuri/excelize/v2"

	"tenter/models/table"
)

// Bounds of a sheet: what the format itself allows.
const (
	mostSheetRows   = excelize.TotalRows
	longestCellText = excelize.TotalCellChars
)

// writeSpreadsheet writes a table as a workbook of one sheet. Its rows go out
// one by one to a temporary file of the library's once they are many.
func writeSpreadsheet(w io.Writer, t table.Out) (err error) {
	book := excelize.NewFile()
	defer func() { err = errors.Join(err, book.Close()) }()
	name := sheetName(t.Name)
	if err := book.SetSheetName("Sheet1", name); err != nil {
		return fmt.Errorf("spreadsheet: %w", err)
	}
	sheet, err := book.NewStreamWriter(name)
	if err != nil {
		return fmt.Errorf("spreadsheet: %w", err)
	}
	bold, err := book.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true}})
	if err != nil {
		return fmt.Errorf("spreadsheet: %w", err)
	}
	if err := sheet.SetPanes(&excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}); err != nil {
		return fmt.Errorf("spreadsheet: %w", err)
	}
	header := make([]any, len(t.Columns))
	for i, c := range t.Columns {
		header[i] = excelize.Cell{StyleID: bold, Value: table.Cell(c)}
	}
	if err := sheet.SetRow("A1", header); err != nil {
		return fmt.Errorf("spreadsheet: %w", err)
	}
	n := 1
	err = t.Rows(func(row []any) error {
		if n++; n > mostSheetRows {
			return fmt.Errorf("the table has more rows than a spreadsheet can have; take it as CSV")
		}
		cells := make([]any, len(row))
		for i, c := range row {
			if cells[i] = table.Cell(c); cells[i] == "" {
				cells[i] = nil
			} else if text, ok := cells[i].(string); ok {
				cells[i] = shortened(text)
			}
		}
		return sheet.SetRow(fmt.Sprintf("A%d", n), cells)
	})
	if err == nil {
		err = sheet.Flush()
	}
	if err == nil {
		err = book.Write(w)
	}
	if err != nil {
		return fmt.Errorf("spreadsheet: %w", err)
	}
	return nil
}

// shortened keeps a text within what a cell can hold and says so; in CSV it is
// whole.
func shortened(text string) string {
	const says = "… (cut off; whole in the CSV)"
	runes := []rune(text)
	if len(runes) <= longestCellText/2 { // the format counts UTF-16 units
		return text
	}
	return string(runes[:longestCellText/2-len(says)]) + says
}

// sheetName keeps to what a sheet may be called.
func sheetName(name string) string {
	name = strings.Map(func(r rune) rune {
		if strings.ContainsRune(`:\/?*[]'`, r) {
			return '-'
		}
		return r
	}, name)
	runes := []rune(name)
	if len(runes) > excelize.MaxSheetNameLength {
		runes = runes[len(runes)-excelize.MaxSheetNameLength:] // the table's own name stands at the end
	}
	return string(runes)
}
