package handlers_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/server/servertest"
)

type readAnswer struct {
	Lists []struct {
		Name, Unit, Note, Text string
		Values                 []*float64
		Line, Start, End       int
		Measure                bool
	}
	Problems []struct {
		Line, Start, End int
		Text, Problem    string
	}
}

// TestReadFindsEveryListWithItsPlace: the text is invented; its notation is
// common practice.
func TestReadFindsEveryListWithItsPlace(t *testing.T) {
	s := servertest.OnSQLite(t)
	c := s.Designer()
	text := "Übergröße – ready?\n" +
		"body: 122 (134, 150)\n" +
		"Ch 80 (88, 96), work 12 (14, 16) rows; 40 (42, 44) cm long.\n" +
		"Fasten off.\n" +
		"cuff | sts | around the wrist | 28 (30, –)\n" +
		"hem: 12\n" +
		"short: 5 (6)\n" +
		"Sizes 2 and 3 only: 7 (8)\n"
	var a readAnswer
	c.Post("/counts/read", map[string]any{"text": text, "sizes": 3, "names": []string{"1", "2", "3"}}).Want(200).Into(&a)
	runes := []rune(text)
	type row struct {
		name, unit, text, place string
		line                    int
		measure                 bool
	}
	var got []row
	for _, l := range a.Lists {
		got = append(got, row{l.Name, l.Unit, l.Text, string(runes[l.Start:l.End]), l.Line, l.Measure})
		require.Len(t, l.Values, 3)
	}
	require.Equal(t, []row{
		{"body", "", "122 (134, 150)", "122 (134, 150)", 2, false},
		{"", "", "80 (88, 96)", "80 (88, 96)", 3, false},
		{"", "row", "12 (14, 16)", "12 (14, 16)", 3, false},
		{"", "", "40 (42, 44)", "40 (42, 44)", 3, true},
		{"cuff", "stitch", "28 (30, –)", " 28 (30, –)", 5, false},
		{"hem", "", "12", "hem: 12", 6, false},
		{"", "", "– (7, 8)", "Sizes 2 and 3 only: 7 (8)", 8, false},
	}, got)
	require.Len(t, a.Problems, 1)
	require.Equal(t, 7, a.Problems[0].Line)
	require.Equal(t, "short: 5 (6)", string(runes[a.Problems[0].Start:a.Problems[0].End]))
	require.Contains(t, a.Problems[0].Problem, "3")
}

func TestReadSaysWhyNothingWasFound(t *testing.T) {
	s := servertest.OnSQLite(t)
	var a readAnswer
	s.Designer().Post("/counts/read", map[string]any{"text": "Fasten off.\nWeave in the ends."}).Want(200).Into(&a)
	require.Empty(t, a.Lists)
	require.Len(t, a.Problems, 1)
	require.NotEmpty(t, a.Problems[0].Problem)
}
