package standards

import (
	"embed"
	"encoding/csv"
	"fmt"
	"strconv"
)

//go:embed data/*.csv
var files embed.FS

// row is one line of an embedded table. Its methods panic on a table that is
// not as the code expects it: that is a broken build, not an input.
type row struct {
	at    string // file and line
	cells map[string]string
}

// readTable reads an embedded table and makes a T of each row.
func readTable[T any](file string, read func(row) T) []T {
	opened, err := files.Open("data/" + file)
	if err != nil {
		panic(err)
	}
	lines, err := csv.NewReader(opened).ReadAll()
	if err != nil {
		panic(fmt.Errorf("%s: %w", file, err))
	}
	out := make([]T, 0, len(lines)-1)
	for i, line := range lines[1:] {
		r := row{at: fmt.Sprintf("%s, row %d", file, i+1), cells: make(map[string]string, len(line))}
		for j, cell := range line {
			r.cells[lines[0][j]] = cell
		}
		out = append(out, read(r))
	}
	return out
}

func (r row) text(column string) string {
	cell, ok := r.cells[column]
	if !ok {
		panic(r.at + ": no column " + column)
	}
	return cell
}

func (r row) number(column string) float64 {
	x, err := strconv.ParseFloat(r.text(column), 64)
	if err != nil {
		panic(r.at + ": " + column + " is no number")
	}
	return x
}

func (r row) whole(column string) int {
	n, err := strconv.Atoi(r.text(column))
	if err != nil {
		panic(r.at + ": " + column + " is no whole number")
	}
	return n
}

// optional returns nil for an empty cell.
func (r row) optional(column string) *float64 {
	if r.text(column) == "" {
		return nil
	}
	return new(r.number(column))
}

func (r row) source(column string) Source {
	s, ok := sourceOf(r.text(column))
	if !ok {
		panic(r.at + ": unknown source " + r.text(column))
	}
	return s
}

// optionalSource returns nil for an empty cell.
func (r row) optionalSource(column string) *Source {
	if r.text(column) == "" {
		return nil
	}
	return new(r.source(column))
}
