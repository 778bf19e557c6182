package table

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// Field is something that a reader looks for in a table.
type Field struct {
	Name     string   // by which the reader asks for it
	Headers  []string // the names of columns that mean it, the likeliest first
	Required bool
}

// Columns says in which column each field stands.
type Columns struct {
	header []string
	at     map[string]int
}

// Find looks for the fields' columns by their headers, in any case and with
// any spaces and punctuation. overrides says which header means a field in
// this table; an empty one leaves the field out.
//
// The error names the field, what was looked for, and what is there.
func (t *Table) Find(fields []Field, overrides map[string]string) (*Columns, error) {
	known := make([]string, len(fields))
	for i, f := range fields {
		known[i] = f.Name
	}
	for _, name := range sortedKeys(overrides) {
		if !slices.Contains(known, name) {
			return nil, &Error{Field: name, Problem: fmt.Sprintf("There is no field %q; the fields are %s.", name, strings.Join(known, ", "))}
		}
	}
	c := &Columns{header: t.Header, at: map[string]int{}}
	taken := map[int]string{}
	for _, f := range fields {
		i, err := t.find(f, overrides)
		if err != nil {
			return nil, err
		}
		if i < 0 {
			continue
		}
		if other, twice := taken[i]; twice {
			return nil, &Error{Field: f.Name, Problem: fmt.Sprintf("The column %q would be both %s and %s; say which column each is.", t.Header[i], other, f.Name)}
		}
		taken[i], c.at[f.Name] = f.Name, i
	}
	return c, nil
}

// find returns the column of a field, -1 when an optional one has none.
func (t *Table) find(f Field, overrides map[string]string) (int, error) {
	if header, told := overrides[f.Name]; told {
		switch i := t.column(header); {
		case i >= 0:
			return i, nil
		case header != "":
			return 0, &Error{Field: f.Name, Problem: fmt.Sprintf("There is no column %q for the %s; the columns are %s.", header, f.Name, t.found())}
		case f.Required:
			return 0, &Error{Field: f.Name, Problem: fmt.Sprintf("The %s can't be left out; say which column it is. The columns are %s.", f.Name, t.found())}
		}
		return -1, nil
	}
	for _, header := range f.Headers {
		if i := t.column(header); i >= 0 {
			return i, nil
		}
	}
	if f.Required {
		return 0, &Error{Field: f.Name, Problem: fmt.Sprintf("There is no column for the %s: looked for %s; found %s. Rename a column, or say which one it is.",
			f.Name, quoted(f.Headers), t.found())}
	}
	return -1, nil
}

func (t *Table) column(header string) int {
	k := key(header)
	if k == "" {
		return -1
	}
	return slices.IndexFunc(t.Header, func(h string) bool { return key(h) == k })
}

func (t *Table) found() string { return quoted(t.Header) }

// longestListing bounds how much of a header an error repeats.
const longestListing = 40

func quoted(names []string) string {
	out := make([]string, 0, len(names))
	for _, n := range names {
		if n == "" {
			continue
		}
		if len(out) == longestListing {
			out = append(out, "…")
			break
		}
		out = append(out, strconv.Quote(n))
	}
	return strings.Join(out, ", ")
}

// Header returns the header of a field's column, "" when it has none.
func (c *Columns) Header(field string) string {
	if i, ok := c.at[field]; ok {
		return c.header[i]
	}
	return ""
}

// Cell returns a field's cell in a row, trimmed; ok is false when the table
// has no such column or the row does not reach it.
func (c *Columns) Cell(row Row, field string) (cell string, ok bool) {
	i, ok := c.at[field]
	if !ok || i >= len(row.Cells) {
		return "", false
	}
	return strings.TrimSpace(row.Cells[i]), true
}

// Headers returns the header of each field that has a column.
func (c *Columns) Headers() map[string]string {
	out := make(map[string]string, len(c.at))
	for field, i := range c.at {
		out[field] = c.header[i]
	}
	return out
}

// key is a header without what people vary in it: case, spaces, punctuation.
func key(header string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.IsMark(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, header)
}

func sortedKeys(m map[string]string) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}
