package table_test

import (
	"errors"
	"strings"
	"testing"
	"unicode/utf8"

	"tenter/models/table"
)

// Whatever comes in: a table within its bounds, or an error that says why not;
// and a table that was read is read again from its cells.
func FuzzRead(f *testing.F) {
	for _, seed := range []string{"", "a,b\n1,2\n", "a;b\r\n\"1\";2", "\xFF\xFEa\x00,\x00b\x00", "\xEF\xBB\xBFa\tb\n", "a,\"b\nc\n", "a,b\r1,\"x\ny\"\r", "\"\"\"\",x\n", "a,a\n", ",\n,x\n", "'+; ;'+;;'\r''+#;;+;;"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		got, err := table.Read(data)
		if err != nil {
			var fault *table.Error
			if !errors.As(err, &fault) || fault.Problem == "" {
				t.Fatalf("Read(%q) = %v; every refusal has to be a *table.Error", data, err)
			}
			return
		}
		if len(got.Header) == 0 || len(got.Header) > table.MaxColumns || len(got.Rows) > table.MaxRows {
			t.Fatalf("Read(%q) is out of bounds: %d columns, %d rows", data, len(got.Header), len(got.Rows))
		}
		if len(got.Header) < 2 {
			return // a single column has no separator to be told by
		}
		// Plain names for the header, so that only the cells are at stake. These
		// are guarded as in our own tables: "'+" would come back as "+" otherwise.
		rows := [][]string{{}}
		for i := range got.Header {
			rows[0] = append(rows[0], "c"+strings.Repeat("x", i))
		}
		guarded := [][]string{rows[0]}
		for _, r := range got.Rows {
			for _, c := range r.Cells {
				if !utf8.ValidString(c) {
					t.Fatalf("Read(%q) has a cell that is no UTF-8: %q", data, c)
				}
			}
			if r.Problem == "" {
				rows = append(rows, r.Cells)
				guarded = append(guarded, guard(r.Cells))
			}
		}
		text := write(guarded, string(got.Separator), "\n")
		if len(text) > table.MaxBytes {
			return // quotes take more bytes than the file had
		}
		again, err := table.Read([]byte(text))
		if err != nil || len(again.Rows) != len(rows)-1 {
			t.Fatalf("Read(%q), written as %q, is read again with %v", data, text, err)
		}
		for i, r := range again.Rows {
			// Line breaks inside a cell come out as line feeds, so a carriage
			// return before one is lost.
			if want := strings.ReplaceAll(strings.Join(rows[i+1], "\x00"), "\r", ""); strings.ReplaceAll(strings.Join(r.Cells, "\x00"), "\r", "") != want {
				t.Fatalf("Read(%q), written as %q, gives %q; want %q", data, text, r.Cells, rows[i+1])
			}
		}
	})
}

func guard(cells []string) []string {
	out := make([]string, len(cells))
	for i, c := range cells {
		out[i] = table.Guard(c)
	}
	return out
}
