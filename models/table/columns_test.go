package table_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models/table"
)

var wanted = []table.Field{
	{Name: "handle", Headers: []string{"Handle", "Your handle"}, Required: true},
	{Name: "email", Headers: []string{"E-mail"}},
	{Name: "sizes", Headers: []string{"Sizes you would make (best first)", "Sizes"}, Required: true},
}

func read(t *testing.T, file string) *table.Table {
	t.Helper()
	got, err := table.Read([]byte(file))
	require.NoError(t, err)
	return got
}

func TestColumnsAreFoundByName(t *testing.T) {
	for name, row := range map[string]struct {
		file      string
		overrides map[string]string
		want      map[string]string
	}{
		"as they are":           {"Handle,E-mail,Sizes\n", nil, map[string]string{"handle": "Handle", "email": "E-mail", "sizes": "Sizes"}},
		"in any case and space": {"  HANDLE , e mail ,sizes   you would make BEST FIRST\n", nil, map[string]string{"handle": "HANDLE", "email": "e mail", "sizes": "sizes   you would make BEST FIRST"}},
		"the likeliest first":   {"Sizes,Sizes you would make (best first),Handle\n", nil, map[string]string{"handle": "Handle", "sizes": "Sizes you would make (best first)"}},
		"one told":              {"Who are you?,Sizes\n", map[string]string{"handle": "who are you"}, map[string]string{"handle": "Who are you?", "sizes": "Sizes"}},
		"one left out":          {"Handle,E-mail,Sizes\n", map[string]string{"email": ""}, map[string]string{"handle": "Handle", "sizes": "Sizes"}},
		"capitals of any script": {"Имя,Größe\n", map[string]string{"handle": "имя", "sizes": "GRÖßE"},
			map[string]string{"handle": "Имя", "sizes": "Größe"}},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := read(t, row.file).Find(wanted, row.overrides)
			require.NoError(t, err)
			require.Equal(t, row.want, got.Headers())
		})
	}
}

func TestColumnsThatCantBeFoundAreNamed(t *testing.T) {
	for name, row := range map[string]struct {
		file      string
		overrides map[string]string
		field     string
		says      string
	}{
		"a required one is missing": {"Name,Sizes\n", nil, "handle", `There is no column for the handle: looked for "Handle", "Your handle"; found "Name", "Sizes".`},
		"told one isn't there":      {"Handle,Sizes\n", map[string]string{"email": "Mail"}, "email", `There is no column "Mail" for the email; the columns are "Handle", "Sizes".`},
		"unknown field":             {"Handle,Sizes\n", map[string]string{"colour": "Sizes"}, "colour", "the fields are handle, email, sizes"},
		"required one left out":     {"Handle,Sizes\n", map[string]string{"handle": ""}, "handle", "can't be left out"},
		"one column for two fields": {"Handle,Sizes\n", map[string]string{"email": "Handle"}, "email", `The column "Handle" would be both handle and email`},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := read(t, row.file).Find(wanted, row.overrides)
			var fault *table.Error
			require.ErrorAs(t, err, &fault)
			require.Equal(t, row.field, fault.Field)
			require.ErrorContains(t, err, row.says)
		})
	}
}

func TestCellsAreTrimmedAndTellWhetherThereIsAColumn(t *testing.T) {
	got := read(t, "Handle,Sizes\n yarrow , 1 / 2 \n")
	columns, err := got.Find(wanted, nil)
	require.NoError(t, err)
	cell, ok := columns.Cell(got.Rows[0], "sizes")
	require.True(t, ok)
	require.Equal(t, "1 / 2", cell)
	_, ok = columns.Cell(got.Rows[0], "email")
	require.False(t, ok)
	require.Equal(t, "Sizes", columns.Header("sizes"))
	require.Empty(t, columns.Header("email"))
}
