package table_test

import (
	"encoding/csv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models/table"
)

// The numbered rules of RFC 4180, section 2, "Common Format and MIME Type for
// Comma-Separated Values (CSV) Files", October 2005, and the grammar below
// them. The rows are ours.
func TestRulesOfRFC4180(t *testing.T) {
	for name, row := range map[string]struct {
		file   string
		header []string
		rows   [][]string
	}{
		"2.1 each record is on a line of its own, ended by CR LF": {
			"h1,h2\r\naaa,bbb\r\nzzz,yyy\r\n", []string{"h1", "h2"}, [][]string{{"aaa", "bbb"}, {"zzz", "yyy"}}},
		"2.2 the last record may go without a line break": {
			"h1,h2\r\naaa,bbb\r\nzzz,yyy", []string{"h1", "h2"}, [][]string{{"aaa", "bbb"}, {"zzz", "yyy"}}},
		"2.3 the first line may name the fields": {
			"field_name,other_name\r\naaa,bbb\r\n", []string{"field_name", "other_name"}, [][]string{{"aaa", "bbb"}}},
		"2.4 spaces are part of a field": {
			"h1,h2\r\n aaa , bbb\r\n", []string{"h1", "h2"}, [][]string{{" aaa ", " bbb"}}},
		"2.5 a field may stand in double quotes": {
			"h1,h2\r\n\"aaa\",bbb\r\n", []string{"h1", "h2"}, [][]string{{"aaa", "bbb"}}},
		"2.6 a comma, a line break and a quote stand in double quotes": {
			"h1,h2\r\n\"b\r\nbb\",\"c,\"\"c\"\r\n", []string{"h1", "h2"}, [][]string{{"b\nbb", `c,"c`}}},
		"2.7 a double quote inside is written twice": {
			"h1,h2\r\n\"a\"\"aa\",b\r\n", []string{"h1", "h2"}, [][]string{{`a"aa`, "b"}}},
		"an empty field at the end": {
			"h1,h2\r\naaa,\r\n", []string{"h1", "h2"}, [][]string{{"aaa", ""}}},
	} {
		t.Run(name, func(t *testing.T) {
			header, rows := cells(t, row.file)
			require.Equal(t, row.header, header)
			require.Equal(t, row.rows, rows)
		})
	}
}

func TestBreachesOfRFC4180(t *testing.T) {
	t.Run("2.4 every line has as many fields", func(t *testing.T) {
		got, err := table.Read([]byte("h1,h2\r\naaa,bbb,ccc\r\nzzz\r\n"))
		require.NoError(t, err)
		require.NotEmpty(t, got.Rows[0].Problem)
		require.NotEmpty(t, got.Rows[1].Problem)
	})
	for name, file := range map[string]string{
		"2.5 a field without quotes has none inside":    "h1,h2\r\na\"aa,b\r\n",
		"grammar: nothing may follow the closing quote": "h1,h2\r\n\"aaa\" ,b\r\n",
		"grammar: no space before the opening quote":    "h1,h2\r\naaa, \"b\"\r\n",
		"2.7 a single quote inside a quoted field":      "h1,h2\r\n\"a\"aa\",b\r\n",
		"2.6 a quoted field has to end before the file": "h1,h2\r\naaa,\"b\r\n",
	} {
		t.Run(name, func(t *testing.T) {
			_, err := table.Read([]byte(file))
			require.ErrorContains(t, err, "Line 2: ")
		})
	}
}

// One line that needs each rule, read here and by the standard library's
// reader, which is the reference.
func TestOneLineWithEverything(t *testing.T) {
	file := "h1,h2,h3,h4,h5,h6\r\na,\"b,c\",\"d\"\"e\",\"f\r\ng\", h ,\r\n"
	_, rows := cells(t, file)
	require.Equal(t, [][]string{{"a", "b,c", `d"e`, "f\ng", " h ", ""}}, rows)
	reference, err := csv.NewReader(strings.NewReader(file)).ReadAll()
	require.NoError(t, err)
	require.Equal(t, reference[1], rows[0])
}
