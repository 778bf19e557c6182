package models

import (
	"context"
	"fmt"
	"strings"

	"gorm.io/gorm"

	"tenter/models/counts"
)

// Count is one line of a count sheet: a number of stitches, rows or repeats, or
// a running row number, for each size that has the line. Counts stand in the
// text's order.
type Count struct {
	ID        string `gorm:"primaryKey"`
	VersionID string
	Position  int
	Name      string
	Unit      string // "stitch", "row", "repeat" or "row_number"
	Note      string // what it is, where it stands in the text

	Values []CountValue `gorm:"-"`
}

// CountValue is a count for one size. A size that skips the line has none.
type CountValue struct {
	CountID string `gorm:"primaryKey"`
	SizeID  string `gorm:"primaryKey"`
	Value   float64
}

// Rule must hold for every size: a statement over counts, or a stitch multiple.
type Rule struct {
	ID         string `gorm:"primaryKey"`
	VersionID  string
	Position   int
	Name       string
	Kind       string // "holds" or "multiple"
	Expr       string
	MultipleOf *int
	Plus       *int
}

// Sheet is a version with its counts and rules, and the sizes they are for.
type Sheet struct {
	Version Version
	Sizes   []Size
	Counts  []Count
	Rules   []Rule
}

const (
	mostCounts   = 400
	mostRules    = 200
	largestCount = 100_000
)

func (s Sheet) validate() error {
	var p problems
	columns := map[string]int{}
	for i, z := range s.Sizes {
		columns[z.ID] = i
	}
	if len(s.Counts) > mostCounts {
		p.addf("counts", "has to hold at most %d lines", mostCounts)
	}
	seen := map[string]int{}
	for i, c := range s.Counts {
		at := fmt.Sprintf("counts[%d]", i)
		if j, twice := seen[c.Name]; twice {
			p.addf(at+".name", "is the same as that of counts[%d]; every line needs its own name", j)
		}
		seen[c.Name] = i
		c.validate(&p, at, columns)
	}
	if len(s.Rules) > mostRules {
		p.addf("rules", "has to hold at most %d rules", mostRules)
	}
	for i, r := range s.Rules {
		r.validate(&p, fmt.Sprintf("rules[%d]", i))
	}
	return p.err()
}

func (c Count) validate(p *problems, at string, columns map[string]int) {
	p.text(at+".name", c.Name, true, shortText)
	if !isCountName(c.Name) || !counts.IsName(c.Name) {
		p.addf(at+".name", "has to be a word of letters, digits and _, beginning with a letter, and no word of the expressions such as and, in, let, so that rules can use it")
	}
	p.oneOf(at+".unit", c.Unit, "stitch", "row", "repeat", "row_number")
	p.text(at+".note", c.Note, false, longText)
	for _, v := range c.Values {
		column, known := columns[v.SizeID]
		field := fmt.Sprintf("%s.values[%d]", at, column)
		if !known {
			p.addf(at+".values", "has one that is not for a size of this design")
		}
		if !(v.Value >= 0 && v.Value <= largestCount) {
			p.addf(field, "has to lie between 0 and %d", largestCount)
		}
	}
}

func isCountName(s string) bool {
	for i, r := range s {
		letter := r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r == '_'
		if !letter && (i == 0 || r < '0' || r > '9') {
			return false
		}
	}
	return s != ""
}

func (r Rule) validate(p *problems, at string) {
	p.text(at+".name", r.Name, true, shortText)
	p.text(at+".expr", r.Expr, true, longestExpression)
	p.oneOf(at+".kind", r.Kind, "holds", "multiple")
	if r.Kind == "multiple" && (r.MultipleOf == nil || *r.MultipleOf < 1 || *r.MultipleOf > largestRepeat) {
		p.addf(at+".of", "has to be a whole number between 1 and %d", largestRepeat)
	}
	if r.Plus != nil && (*r.Plus < -largestRepeat || *r.Plus > largestRepeat) {
		p.addf(at+".plus", "has to be a whole number between %d and %d", -largestRepeat, largestRepeat)
	}
}

// asNew returns the sheet with its ids taken away, to be written as another
// version's.
func (s Sheet) asNew() Sheet {
	out := Sheet{Sizes: s.Sizes}
	for _, c := range s.Counts {
		c.ID = ""
		c.Values = append([]CountValue(nil), c.Values...)
		out.Counts = append(out.Counts, c)
	}
	for _, r := range s.Rules {
		r.ID = ""
		out.Rules = append(out.Rules, r)
	}
	return out
}

// PutSheet replaces a version's counts and rules, unless a tester has the
// version already.
func (s *Store) PutSheet(ctx context.Context, actor Actor, versionID string, revision *int, counts []Count, rules []Rule) (*Sheet, error) {
	var out *Sheet
	err := s.change(ctx, actor, func(t *tx) error {
		v, err := first[Version](t.DB, "version", "id = ?", versionID)
		if err != nil {
			return err
		}
		if v.GivenOutAt != nil {
			return failf(Conflict, "Version %d was given to testers and never changes. Make a new version and change that.", v.Number)
		}
		if err := checkRevision("count sheet", v.Revision, revision); err != nil {
			return err
		}
		before, err := sheetIn(t.DB, *v)
		if err != nil {
			return err
		}
		next := Sheet{Sizes: before.Sizes, Counts: counts, Rules: rules}
		if err := next.validate(); err != nil {
			return err
		}
		if err := next.checkExpressions(); err != nil {
			return err
		}
		if err := t.replaceSheet(versionID, next); err != nil {
			return err
		}
		if err := t.bump("count sheet", &Version{}, versionID, v.Revision, map[string]any{}); err != nil {
			return err
		}
		if _, err := t.withdrawSignOffs("The count sheet was changed.", "version_id = ?", versionID); err != nil {
			return err
		}
		v.Revision, v.UpdatedAt = v.Revision+1, t.now
		next.Version = *v
		out = &next
		return t.record(v.DesignID, "count sheet", versionID, "changed", before, next)
	})
	return out, err
}

func (t *tx) replaceSheet(versionID string, sheet Sheet) error {
	if err := t.Where("version_id = ?", versionID).Delete(&Count{}).Error; err != nil {
		return fmt.Errorf("clear counts: %w", err) // values go with them
	}
	if err := t.Where("version_id = ?", versionID).Delete(&Rule{}).Error; err != nil {
		return fmt.Errorf("clear rules: %w", err)
	}
	return t.writeSheet(versionID, sheet)
}

// writeSheet writes counts and rules in order. Ids are made anew where none
// are given; an id belongs to one version only, so a given one is kept only if
// it was this version's.
func (t *tx) writeSheet(versionID string, sheet Sheet) error {
	var values []CountValue
	for i := range sheet.Counts {
		c := &sheet.Counts[i]
		c.VersionID, c.Position, c.ID = versionID, i+1, NewID()
		for j := range c.Values {
			c.Values[j].CountID = c.ID
		}
		values = append(values, c.Values...)
	}
	for i := range sheet.Rules {
		r := &sheet.Rules[i]
		r.VersionID, r.Position, r.ID = versionID, i+1, NewID()
	}
	if err := createAll(t.DB, sheet.Counts); err != nil {
		return fmt.Errorf("write counts: %w", err)
	}
	if err := createAll(t.DB, values); err != nil {
		return fmt.Errorf("write count values: %w", err)
	}
	if err := createAll(t.DB, sheet.Rules); err != nil {
		return fmt.Errorf("write rules: %w", err)
	}
	return nil
}

// rowsInOneInsert keeps a statement's parameters below both databases' limits.
const rowsInOneInsert = 200

func createAll[T any](db *gorm.DB, rows []T) error {
	if len(rows) == 0 {
		return nil
	}
	return db.CreateInBatches(rows, rowsInOneInsert).Error
}

// Sheet returns a version with its counts and rules.
func (s *Store) Sheet(ctx context.Context, versionID string) (*Sheet, error) {
	db := s.read(ctx)
	v, err := first[Version](db, "version", "id = ?", versionID)
	if err != nil {
		return nil, err
	}
	return sheetIn(db, *v)
}

func sheetIn(db *gorm.DB, v Version) (*Sheet, error) {
	sheets, err := sheetsIn(db, []Version{v})
	if err != nil {
		return nil, err
	}
	return &sheets[0], nil
}

// sheetsIn reads the sheets of several versions, each of another design, in the
// same statements.
func sheetsIn(db *gorm.DB, versions []Version) ([]Sheet, error) {
	sheets, ids, designs := make([]Sheet, len(versions)), make([]string, len(versions)), make([]string, len(versions))
	byVersion, byDesign := map[string]*Sheet{}, map[string]*Sheet{}
	for i, v := range versions {
		sheets[i].Version, ids[i], designs[i] = v, v.ID, v.DesignID
		byVersion[v.ID], byDesign[v.DesignID] = &sheets[i], &sheets[i]
	}
	sizes, err := sizesIn(db, designs)
	if err != nil {
		return nil, err
	}
	for _, z := range sizes {
		byDesign[z.DesignID].Sizes = append(byDesign[z.DesignID].Sizes, z)
	}
	counts, err := countsIn(db, ids)
	if err != nil {
		return nil, err
	}
	for _, c := range counts {
		byVersion[c.VersionID].Counts = append(byVersion[c.VersionID].Counts, c)
	}
	var rules []Rule
	if err := db.Where("version_id IN ?", ids).Order("version_id, position").Find(&rules).Error; err != nil {
		return nil, fmt.Errorf("rules: %w", err)
	}
	for _, r := range rules {
		byVersion[r.VersionID].Rules = append(byVersion[r.VersionID].Rules, r)
	}
	return sheets, nil
}

// countsIn reads the counts of versions with their values, in the text's order.
func countsIn(db *gorm.DB, versionIDs []string) ([]Count, error) {
	var lines []Count
	if err := db.Where("version_id IN ?", versionIDs).Order("version_id, position").Find(&lines).Error; err != nil {
		return nil, fmt.Errorf("counts: %w", err)
	}
	var values []CountValue
	err := db.Table("count_values").Select("count_values.*").Joins("JOIN counts ON counts.id = count_values.count_id").
		Joins("JOIN sizes ON sizes.id = count_values.size_id").
		Where("counts.version_id IN ?", versionIDs).Order("counts.version_id, counts.position, sizes.position").Find(&values).Error
	if err != nil {
		return nil, fmt.Errorf("count values: %w", err)
	}
	at := make(map[string]*Count, len(lines))
	for i := range lines {
		at[lines[i].ID] = &lines[i]
	}
	for _, x := range values {
		at[x.CountID].Values = append(at[x.CountID].Values, x)
	}
	return lines, nil
}

// ValuesFor returns the counts of one size by name; skipped lines are absent.
func (s Sheet) ValuesFor(sizeID string) map[string]float64 {
	out := make(map[string]float64, len(s.Counts))
	for _, c := range s.Counts {
		for _, v := range c.Values {
			if v.SizeID == sizeID {
				out[c.Name] = v.Value
			}
		}
	}
	return out
}

// Names returns the names of the counts in the text's order.
func (s Sheet) Names() []string {
	names := make([]string, len(s.Counts))
	for i, c := range s.Counts {
		names[i] = strings.TrimSpace(c.Name)
	}
	return names
}

func ruleField(i int) string { return fmt.Sprintf("rules[%d].expr", i) }
