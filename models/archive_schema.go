package models

import (
	"context"
	"database/sql"
	"fmt"
	"slices"
	"strings"

	"tenter/models/archive"
)

// heldTable is a table as the database describes it.
type heldTable struct {
	name    string
	columns []archive.Column
	key     []string // columns of the primary key, or all of them
	after   []string // tables that its rows point at
}

// schemaQueries ask each database for the same: columns with their types,
// primary keys, and what points at what. Order by table and place.
type schemaQueries struct{ columns, keys, points string }

var schemaOf = map[string]schemaQueries{
	"sqlite": {
		`SELECT m.name, p.name, p.type FROM sqlite_master m JOIN pragma_table_info(m.name) p WHERE m.type = 'table' AND m.name NOT LIKE 'sqlite_%' ORDER BY m.name, p.cid`,
		`SELECT m.name, p.name, '' FROM sqlite_master m JOIN pragma_table_info(m.name) p WHERE m.type = 'table' AND p.pk > 0 ORDER BY m.name, p.pk`,
		`SELECT DISTINCT m.name, f."table", '' FROM sqlite_master m JOIN pragma_foreign_key_list(m.name) f WHERE m.type = 'table' ORDER BY 1, 2`,
	},
	"postgres": {
		`SELECT c.table_name::text, c.column_name::text, c.data_type::text FROM information_schema.columns c JOIN information_schema.tables t
			ON t.table_schema = c.table_schema AND t.table_name = c.table_name AND t.table_type = 'BASE TABLE'
			WHERE c.table_schema = current_schema() ORDER BY c.table_name::text COLLATE "C", c.ordinal_position`,
		`SELECT t.relname::text, a.attname::text, '' FROM pg_constraint k JOIN pg_class t ON t.oid = k.conrelid JOIN pg_namespace n ON n.oid = t.relnamespace
			JOIN LATERAL unnest(k.conkey) WITH ORDINALITY u(num, place) ON true JOIN pg_attribute a ON a.attrelid = t.oid AND a.attnum = u.num
			WHERE k.contype = 'p' AND n.nspname = current_schema() ORDER BY t.relname::text COLLATE "C", u.place`,
		`SELECT DISTINCT t.relname::text, o.relname::text, '' FROM pg_constraint k JOIN pg_class t ON t.oid = k.conrelid JOIN pg_class o ON o.oid = k.confrelid
			JOIN pg_namespace n ON n.oid = t.relnamespace WHERE k.contype = 'f' AND n.nspname = current_schema() ORDER BY 1, 2`,
	},
}

// kinds are what the types of columns, in the words of either database, come
// to in an archive.
var kinds = map[string]archive.Kind{
	"text": archive.Text, "integer": archive.Integer, "bigint": archive.Integer, "double precision": archive.Number, "boolean": archive.Boolean,
	"timestamp": archive.Moment, "timestamp with time zone": archive.Moment, "blob": archive.Bytes, "bytea": archive.Bytes,
}

// heldTables reads the schema: each table behind those that its rows point at.
func heldTables(ctx context.Context, db rowsOf, dialect string) ([]heldTable, error) {
	byName := map[string]*heldTable{}
	var names []string
	ask := func(query string, take func(table *heldTable, what, kind string) error) error {
		return eachRow(ctx, db, query, func(rows *sql.Rows) error {
			var name, what, kind string
			if err := rows.Scan(&name, &what, &kind); err != nil {
				return err
			}
			if _, out := keptOut[name]; out {
				return nil
			}
			if byName[name] == nil {
				byName[name] = &heldTable{name: name}
				names = append(names, name)
			}
			return take(byName[name], what, kind)
		})
	}
	q := schemaOf[dialect]
	err := ask(q.columns, func(t *heldTable, column, kind string) error {
		k, known := kinds[strings.ToLower(kind)]
		if !known {
			return fmt.Errorf("%s.%s is of type %s, which an archive doesn't know", t.name, column, kind)
		}
		t.columns = append(t.columns, archive.Column{Name: column, Kind: k})
		return nil
	})
	if err == nil {
		err = ask(q.keys, func(t *heldTable, column, _ string) error { t.key = append(t.key, column); return nil })
	}
	if err == nil {
		err = ask(q.points, func(t *heldTable, other, _ string) error { t.after = append(t.after, other); return nil })
	}
	if err != nil {
		return nil, fmt.Errorf("read the schema: %w", err)
	}
	return inOrder(names, byName)
}

// inOrder puts each table behind those that it points at.
func inOrder(names []string, byName map[string]*heldTable) ([]heldTable, error) {
	var out []heldTable
	done := map[string]bool{}
	for len(out) < len(names) {
		before := len(out)
		for _, name := range names {
			t := byName[name]
			waits := slices.ContainsFunc(t.after, func(other string) bool { return other != name && byName[other] != nil && !done[other] })
			if !done[name] && !waits {
				done[name] = true
				out = append(out, *t)
			}
		}
		if len(out) == before {
			return nil, fmt.Errorf("tables point at each other in a circle; an archive can't be read back")
		}
	}
	for i := range out {
		if len(out[i].key) == 0 {
			for _, c := range out[i].columns {
				out[i].key = append(out[i].key, c.Name)
			}
		}
	}
	return out, nil
}

func quotedName(name string) string { return `"` + name + `"` }

// sorted is the query for all rows of a table, in the order of its key's
// bytes, which is the same on both databases.
func (t heldTable) sorted(columns []archive.Column, dialect string) string {
	what := make([]string, len(columns))
	for i, c := range columns {
		what[i] = quotedName(c.Name)
	}
	order := make([]string, len(t.key))
	for i, k := range t.key {
		order[i] = quotedName(k)
		text := slices.ContainsFunc(t.columns, func(c archive.Column) bool { return c.Name == k && c.Kind == archive.Text })
		if dialect == "postgres" && text {
			order[i] += ` COLLATE "C"`
		}
	}
	return "SELECT " + strings.Join(what, ", ") + " FROM " + quotedName(t.name) + " ORDER BY " + strings.Join(order, ", ")
}
