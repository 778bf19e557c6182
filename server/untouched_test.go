package server_test

import (
	"fmt"
	"net/http"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/server/servertest"
)

// contents reads every row of every table, as text, so that "nothing changed"
// can be said of the whole database.
func contents(t *testing.T, s *servertest.Studio) map[string][]string {
	t.Helper()
	db, err := s.Store.SQL()
	require.NoError(t, err)
	list := `SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%'`
	if s.Store.Dialect() == "postgres" {
		list = `SELECT table_name FROM information_schema.tables WHERE table_schema = 'public'`
	}
	names, err := db.Query(list)
	require.NoError(t, err)
	var tables []string
	for names.Next() {
		var name string
		require.NoError(t, names.Scan(&name))
		tables = append(tables, name)
	}
	require.NoError(t, names.Err())
	require.Contains(t, tables, "events")
	out := map[string][]string{}
	for _, table := range tables {
		rows, err := db.Query("SELECT * FROM " + table)
		require.NoError(t, err)
		columns, err := rows.Columns()
		require.NoError(t, err)
		for rows.Next() {
			values, into := make([]any, len(columns)), make([]any, len(columns))
			for i := range values {
				into[i] = &values[i]
			}
			require.NoError(t, rows.Scan(into...))
			out[table] = append(out[table], fmt.Sprint(values...))
		}
		require.NoError(t, rows.Err())
		slices.Sort(out[table])
	}
	return out
}

// document is a problem document (RFC 9457).
type document struct {
	Type, Title, Detail string
	Status              int
	Errors              []struct {
		Message, Location string
		Value             any
	}
}

// isProblem asserts that an answer is a problem document of the status, that
// it names the field, unless that is "", and repeats no value.
func isProblem(t *testing.T, a *servertest.Answer, status int, field string) document {
	t.Helper()
	require.Equal(t, status, a.Status, "%s", a.Body)
	require.Equal(t, "application/problem+json", a.Header.Get("Content-Type"), "%s", a.Body)
	var d document
	a.Into(&d)
	require.Equal(t, status, d.Status, "RFC 9457, section 3.1.2: the member is the status that was sent")
	require.NotEmpty(t, d.Detail)
	if known := http.StatusText(status); known != "" {
		require.Equal(t, known, d.Title)
	}
	var locations []string
	for _, e := range d.Errors {
		require.NotEmpty(t, e.Message, "%s", a.Body)
		require.Nil(t, e.Value, "the value is repeated: %s", a.Body)
		locations = append(locations, e.Location)
	}
	if field != "" {
		require.Contains(t, locations, field, "%s", a.Body)
	}
	return d
}

// untouched asserts that f changes no row of any table.
func untouched(t *testing.T, s *servertest.Studio, f func()) {
	t.Helper()
	before := contents(t, s)
	f()
	require.Equal(t, before, contents(t, s), "a refused request changed something")
}
