package archive

import (
	"errors"
	"fmt"
	"path"
	"regexp"
	"time"
)

// Format and Version are what a manifest has to say.
const (
	Format       = "tenter studio"
	Version      = 1
	manifestName = "manifest.json"
)

// Kind is what the cells of a column are.
type Kind string

// The kinds, and as what a cell of each is read and written.
const (
	Text    Kind = "text"    // string
	Integer Kind = "integer" // int64
	Number  Kind = "number"  // float64, finite
	Boolean Kind = "boolean" // bool
	Moment  Kind = "moment"  // time.Time, UTC, to the microsecond
	Bytes   Kind = "bytes"   // []byte, as base64
)

// Column is a column of a table.
type Column struct {
	Name string `json:"name"`
	Kind Kind   `json:"kind"`
}

// Entry is one file in the archive.
type Entry struct {
	Name   string `json:"name"`
	Bytes  int64  `json:"bytes"`
	SHA256 string `json:"sha256"`
}

// Table is a table and the file that holds its rows.
type Table struct {
	Table   string   `json:"table"`
	Columns []Column `json:"columns"`
	Rows    int64    `json:"rows"`
	File    Entry    `json:"file"`
}

// Manifest says what an archive holds.
type Manifest struct {
	Format  string    `json:"format"`
	Version int       `json:"version"`
	Level   int64     `json:"schema_level"` // of the migrations that the tables are at
	MadeAt  time.Time `json:"made_at"`
	LeftOut []string  `json:"left_out"` // columns that the database has and this archive does not: "people.password_hash"
	Tables  []Table   `json:"tables"`
	Photos  []Entry   `json:"photos"`
	// Missing are photos of which the tables tell and whose files were lost
	// before the archive was made: what would have been in it. Manifests without
	// any do not have the word, so that earlier programs read them.
	Missing []Entry `json:"missing_photos,omitempty"`
}

// Total counts the rows of all tables.
func (m Manifest) Total() (n int64) {
	for _, t := range m.Tables {
		n += t.Rows
	}
	return n
}

// entries are all files but the manifest.
func (m Manifest) entries() []Entry {
	out := make([]Entry, 0, len(m.Tables)+len(m.Photos))
	for _, t := range m.Tables {
		out = append(out, t.File)
	}
	return append(out, m.Photos...)
}

var (
	word     = regexp.MustCompile(`^[a-z][a-z0-9_]{0,62}$`)
	fileName = regexp.MustCompile(`^(tables|photos)(/[A-Za-z0-9][A-Za-z0-9._-]{0,127}){1,6}$`)
	digest   = regexp.MustCompile(`^[0-9a-f]{64}$`)
)

// check refuses a manifest that contradicts itself. Names that lead anywhere
// else are no names.
func (m Manifest) check() error {
	switch {
	case m.Format != Format:
		return errors.New("this is no archive of a studio: its manifest says another format")
	case m.Version != Version:
		return fmt.Errorf("the archive is of format version %d, and this program reads %d", m.Version, Version)
	case m.Level < 1:
		return fmt.Errorf("the archive's schema level is %d; it has to be 1 or more", m.Level)
	}
	tables, files := map[string]bool{}, map[string]bool{}
	for _, t := range m.Tables {
		if !word.MatchString(t.Table) || tables[t.Table] || t.File.Name != tableFile(t.Table) || t.Rows < 0 {
			return fmt.Errorf("the manifest's table %q is named wrongly, twice, or with another file", t.Table)
		}
		tables[t.Table] = true
		if err := checkColumns(t); err != nil {
			return err
		}
	}
	for _, e := range append(m.entries(), m.Missing...) {
		if !fileName.MatchString(e.Name) || path.Clean(e.Name) != e.Name || files[e.Name] || e.Bytes < 0 || !digest.MatchString(e.SHA256) {
			return fmt.Errorf("the manifest's file %q is named wrongly or twice, or has no proper length and checksum", e.Name)
		}
		files[e.Name] = true
	}
	return nil
}

func checkColumns(t Table) error {
	seen := map[string]bool{}
	for _, c := range t.Columns {
		if !word.MatchString(c.Name) || seen[c.Name] {
			return fmt.Errorf("column %q of %s is named wrongly or twice", c.Name, t.Table)
		}
		seen[c.Name] = true
		switch c.Kind {
		case Text, Integer, Number, Boolean, Moment, Bytes:
		default:
			return fmt.Errorf("column %s of %s is of the unknown kind %q", c.Name, t.Table, c.Kind)
		}
	}
	if len(t.Columns) == 0 {
		return fmt.Errorf("the manifest's table %s has no columns", t.Table)
	}
	return nil
}

func tableFile(table string) string { return "tables/" + table + ".jsonl" }
