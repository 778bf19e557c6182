package table_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/text/encoding/unicode"
	"pgregory.net/rapid"

	"tenter/models/table"
)

// cells reads a file that has to be readable and returns header and rows.
func cells(t *testing.T, file string) (header []string, rows [][]string) {
	t.Helper()
	got, err := table.Read([]byte(file))
	require.NoError(t, err)
	for _, r := range got.Rows {
		require.Empty(t, r.Problem)
		rows = append(rows, r.Cells)
	}
	return got.Header, rows
}

func inUTF16(t *testing.T, order unicode.Endianness, text string) string {
	t.Helper()
	b, err := unicode.UTF16(order, unicode.UseBOM).NewEncoder().String(text)
	require.NoError(t, err)
	return b
}

// The same three rows as different programs write them.
func TestTheSameTableInEveryDress(t *testing.T) {
	plain := "Handle,Sizes,Remarks\nyarrow,2 / 3,\"no wool, please\"\nålder,1,\"two\nlines\"\n"
	semicolons := "Handle;Sizes;Remarks\nyarrow;2 / 3;\"no wool, please\"\nålder;1;\"two\nlines\"\n"
	for name, file := range map[string]string{
		"line feeds":                              plain,
		"CR LF":                                   strings.ReplaceAll(plain, "\n", "\r\n"),
		"CR between rows, LF inside a cell":       "Handle,Sizes,Remarks\ryarrow,2 / 3,\"no wool, please\"\rålder,1,\"two\nlines\"\r",
		"no line break after the last row":        strings.TrimSuffix(plain, "\n"),
		"semicolons":                              semicolons,
		"tabs":                                    "Handle\tSizes\tRemarks\nyarrow\t2 / 3\tno wool, please\nålder\t1\t\"two\nlines\"\n",
		"UTF-8 with byte order mark":              "\xEF\xBB\xBF" + plain,
		"UTF-16, little end first":                inUTF16(t, unicode.LittleEndian, plain),
		"UTF-16, big end first":                   inUTF16(t, unicode.BigEndian, plain),
		"UTF-16 with semicolons and CR LF":        inUTF16(t, unicode.LittleEndian, strings.ReplaceAll(semicolons, "\n", "\r\n")),
		"every cell in quotes":                    "\"Handle\",\"Sizes\",\"Remarks\"\n\"yarrow\",\"2 / 3\",\"no wool, please\"\n\"ålder\",\"1\",\"two\nlines\"\n",
		"empty rows and columns around the sheet": "\n" + strings.ReplaceAll(plain, "Remarks", "Remarks,,") + ",,,,\n  \n",
		"spaces around the headers":               strings.ReplaceAll(plain, "Handle,Sizes", " Handle , Sizes "),
	} {
		t.Run(name, func(t *testing.T) {
			header, rows := cells(t, file)
			require.Equal(t, []string{"Handle", "Sizes", "Remarks"}, header)
			require.Equal(t, [][]string{{"yarrow", "2 / 3", "no wool, please"}, {"ålder", "1", "two\nlines"}}, rows)
		})
	}
}

func TestSeparatorIsToldByTheRowsToo(t *testing.T) {
	for name, row := range map[string]struct {
		file string
		want rune
	}{
		"more commas than semicolons in the header": {"Sizes, best first, please;Handle\n1;yarrow\n2;ling\n", ';'},
		"a semicolon in a header of commas":         {"Handle,Sizes (best first; as many as you like)\nyarrow,1\nling,2\n", ','},
		"decimal commas":                            {"Handle;bust\nyarrow;41,5\nling;40,25\n", ';'},
		"lists inside cells":                        {"Handle,Sizes\nyarrow,1; 2; 3\nling,2; 1\n", ','},
		"a header alone":                            {"a\tb\tc\n", '\t'},
		"one column":                                {"Handle\nyarrow\n", ','},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := table.Read([]byte(row.file))
			require.NoError(t, err)
			require.Equal(t, string(row.want), string(got.Separator))
		})
	}
}

func TestWhatCantBeReadIsNamed(t *testing.T) {
	many := strings.Repeat("a,b\n", 100_001)
	for name, row := range map[string]struct {
		file string
		line int
		says string
	}{
		"nothing":                          {"", 0, "is empty"},
		"only blanks":                      {"\n , ,\n", 0, "is empty"},
		"a quote never closed":             {"a,b\n1,2\n3,\"4\n5,6\n7,8\n", 3, "opened and not closed"},
		"text after a closing quote":       {"a,b\n1,2\n\"3\"x,4\n", 3, "opened and not closed"},
		"a quote inside a bare cell":       {"a,b\n1,2\n\n3,5\" wide\n", 4, "inside a cell"},
		"a quote in the header":            {"a,b\"c\n1,2\n", 1, "inside a cell"},
		"two columns of one name":          {"Handle,Sizes, handle \nx,1,y\n", 1, `Columns 1 and 3 are both called "handle"`},
		"100,000 rows":                     {many, 10_002, "more than 10000 rows"},
		"too many columns":                 {strings.Repeat("a,", 250) + "b\n", 1, "251 columns"},
		"another encoding":                 {"a,b\nx,y\nf\xFCr,1\n", 3, "not UTF-8"},
		"UTF-16 cut in the middle":         {"\xFF\xFEa\x00,\x00b\x00\n\x00\x00\xD8", 2, "broken"},
		"UTF-16 without a byte order mark": {"a\x00,\x00b\x00\n\x00", 1, "NUL"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := table.Read([]byte(row.file))
			var fault *table.Error
			require.ErrorAs(t, err, &fault)
			require.Equal(t, row.line, fault.Line, "%v", err)
			require.ErrorContains(t, err, row.says)
		})
	}
}

func TestAFileOfMoreThanTwoMiBIsRefusedAndOneOfTwoIsRead(t *testing.T) {
	row := "a," + strings.Repeat("x", 997) + "\n" // 1,000 bytes
	file := strings.Repeat(row, 2097) + "b," + strings.Repeat("y", 149) + "\n"
	require.Len(t, file, table.MaxBytes)
	got, err := table.Read([]byte(file))
	require.NoError(t, err)
	require.Len(t, got.Rows, 2097)

	_, err = table.Read([]byte(file + "z"))
	require.ErrorContains(t, err, "at most 2 MiB")
}

func TestTenThousandRowsAreReadAndOneMoreIsNot(t *testing.T) {
	var b strings.Builder
	b.WriteString("Handle,Sizes\n")
	for i := range table.MaxRows {
		fmt.Fprintf(&b, "tester%d,%d\n", i, i%9+1)
	}
	got, err := table.Read([]byte(b.String()))
	require.NoError(t, err)
	require.Len(t, got.Rows, 10_000)
	require.Equal(t, table.Row{Line: 10_001, Cells: []string{"tester9999", "1"}}, got.Rows[9_999])

	_, err = table.Read([]byte(b.String() + "one more,1\n"))
	require.ErrorContains(t, err, "Line 10002: There are more than 10000 rows")
}

func TestRowsOfAnotherWidthAreKeptWithTheirProblem(t *testing.T) {
	got, err := table.Read([]byte("Handle,Sizes,Remarks\nyarrow,1\nling,2,fine,\nmallow,3,no wool, please\nrowan,4,\"fine, thanks\"\n"))
	require.NoError(t, err)
	require.Len(t, got.Rows, 4)
	require.Contains(t, got.Rows[0].Problem, "has 2 cells where the header has 3")
	require.Empty(t, got.Rows[1].Problem, "an empty cell at the right edge is no cell too many")
	require.Contains(t, got.Rows[2].Problem, "has 4 cells where the header has 3")
	require.Equal(t, 4, got.Rows[2].Line)
	require.Empty(t, got.Rows[3].Problem)
}

func TestLineNumbersCountTheLinesOfTheFile(t *testing.T) {
	got, err := table.Read([]byte("a,b\r\n\r\n1,\"two\r\nor three\r\nlines\"\r\n2,x\r\n"))
	require.NoError(t, err)
	require.Equal(t, 3, got.Rows[0].Line)
	require.Equal(t, "two\nor three\nlines", got.Rows[0].Cells[1])
	require.Equal(t, 6, got.Rows[1].Line)
}

// write writes a table the way a program would that quotes only what it must.
func write(rows [][]string, sep, end string) string {
	var b strings.Builder
	for _, row := range rows {
		for i, c := range row {
			if i > 0 {
				b.WriteString(sep)
			}
			if strings.ContainsAny(c, sep+"\"\r\n") {
				c = `"` + strings.ReplaceAll(c, `"`, `""`) + `"`
			}
			b.WriteString(c)
		}
		b.WriteString(end)
	}
	return b.String()
}

func TestWhatWasWrittenIsRead(t *testing.T) {
	cell := rapid.StringMatching(`[a-z0-9 éß文,;"\n\t/=+]{0,12}`)
	rapid.Check(t, func(t *rapid.T) {
		width := rapid.IntRange(2, 6).Draw(t, "width")
		header := make([]string, width)
		for i := range header {
			header[i] = fmt.Sprintf("column %d", i)
		}
		rows := rapid.SliceOfN(rapid.SliceOfN(cell, width, width), 0, 8).Draw(t, "rows")
		for i := range rows {
			rows[i][0] = "x" + rows[i][0] // a row without content would be left out
		}
		sep := rapid.SampledFrom([]string{",", ";", "\t"}).Draw(t, "separator")
		text := write(append([][]string{header}, rows...), sep, rapid.SampledFrom([]string{"\n", "\r\n", "\r"}).Draw(t, "line end"))
		encoded := rapid.SampledFrom([]func(string) string{
			func(s string) string { return s },
			func(s string) string { return "\xEF\xBB\xBF" + s },
			func(s string) string {
				b, err := unicode.UTF16(unicode.BigEndian, unicode.UseBOM).NewEncoder().String(s)
				require.NoError(t, err)
				return b
			},
		}).Draw(t, "encoding")(text)

		got, err := table.Read([]byte(encoded))
		require.NoError(t, err)
		require.Equal(t, header, got.Header)
		require.Len(t, got.Rows, len(rows))
		for i, r := range got.Rows {
			require.Equal(t, rows[i], r.Cells)
		}
	})
}
