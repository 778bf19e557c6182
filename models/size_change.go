package models

import (
	"database/sql"
	"fmt"
	"strings"

	"gorm.io/gorm"

	"tenter/models/counts"
)

// CountChange is a count that differs, for one size, between two versions:
// nil where the size has no such line.
type CountChange struct {
	Name          string
	Unit          string // "" when it was not asked for
	Before, After *float64
}

// String writes the change as a sentence says it: body 122 → 126.
func (c CountChange) String() string {
	return fmt.Sprintf("%s %s → %s", c.Name, countText(c.Before), countText(c.After))
}

func countText(v *float64) string { return counts.Print([]*float64{v}, counts.Layout{}) }

// changesFor returns which counts differ between two sheets that are cut down
// to one size, in the order of the later one.
func changesFor(before, after counts.Sheet) []CountChange {
	was, is := byName(before), byName(after)
	var out []CountChange
	for _, d := range counts.Diff(before, after) {
		if d.Kind == counts.UnitChanged {
			continue // the number is the same
		}
		c := CountChange{Name: d.Line, Unit: orElse(is[d.Line].Unit, was[d.Line].Unit), Before: onlyValue(was[d.Line]), After: onlyValue(is[d.Line])}
		if c.Before != nil || c.After != nil {
			out = append(out, c)
		}
	}
	return out
}

func byName(s counts.Sheet) map[string]counts.Row {
	out := make(map[string]counts.Row, len(s.Lines))
	for _, r := range s.Lines {
		out[r.Name] = r
	}
	return out
}

func onlyValue(r counts.Row) *float64 {
	if len(r.Values) == 0 {
		return nil
	}
	return r.Values[0]
}

// cutTo is one version's counts of one size.
func (v *versionCounts) cutTo(sizeID string) counts.Sheet {
	s := counts.Sheet{Sizes: []string{sizeID}}
	for _, name := range v.names {
		row := counts.Row{Name: name, Values: []*float64{nil}}
		if value, there := v.bySize[sizeID][name]; there {
			row.Values[0] = &value
		}
		s.Lines = append(s.Lines, row)
	}
	return s
}

// MadeBefore tells that testers of a size make an earlier version than the
// latest, and what the latest has otherwise for that size.
type MadeBefore struct {
	Version int // number
	Testers int
	Changes []CountChange
}

// Sentence says it in words.
func (m MadeBefore) Sentence() string {
	who := fmt.Sprintf("%s with version %d", counted(m.Testers, "tester"), m.Version)
	return who + "; changed since: " + someOf(m.Changes, 2)
}

// someOf names the first few changes and how many more there are.
func someOf(changes []CountChange, few int) string {
	var said []string
	for i, c := range changes {
		if i == few {
			return strings.Join(said, ", ") + fmt.Sprintf(" and %d more", len(changes)-few)
		}
		said = append(said, c.String())
	}
	return strings.Join(said, ", ")
}

// madeVersion counts the testers of one size and one earlier version.
type madeVersion struct {
	versionID       string
	number, testers int
}

// readMade reads who makes an earlier version than the latest, by size.
func (r *boardRows) readMade(db *gorm.DB) error {
	r.made = map[string][]madeVersion{}
	return query(db, func(rows *sql.Rows) error {
		var (
			size string
			m    madeVersion
		)
		if err := rows.Scan(&size, &m.versionID, &m.number, &m.testers); err != nil {
			return err
		}
		r.made[size] = append(r.made[size], m)
		return nil
	}, `SELECT a.size_id, a.version_id, v.number, count(a.id) FROM assignments a JOIN versions v ON v.id = a.version_id
		WHERE a.design_id = ? AND a.withdrawn_at IS NULL AND a.version_id <> ? GROUP BY a.size_id, a.version_id, v.number ORDER BY v.number`,
		r.design.ID, r.latest.ID)
}

// madeBefore holds what a size's testers make against the latest version.
func (r *boardRows) madeBefore(sizeID string) []MadeBefore {
	var out []MadeBefore
	latest := r.yardstick.versions[r.latest.ID]
	for _, m := range r.made[sizeID] {
		made := r.yardstick.versions[m.versionID]
		if made == nil || latest == nil {
			continue
		}
		if changes := changesFor(made.cutTo(sizeID), latest.cutTo(sizeID)); len(changes) > 0 {
			out = append(out, MadeBefore{Version: m.number, Testers: m.testers, Changes: changes})
		}
	}
	return out
}
