package models

import (
	"context"
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"gorm.io/gorm"
)

// Design is a garment pattern in production. Its revision covers the design,
// its sizes and its points of measure together: two people who edit any of
// them at once notice. Only the designer changes a design.
type Design struct {
	ID         string `gorm:"primaryKey"`
	Slug       string // in addresses; lower case, never changed by itself
	Name       string
	Craft      string // "crochet" or "knit"
	Audience   string
	Terms      string // of the text: "us" or "uk"
	Unit       string // in which the studio states this design's measurements
	Gauge      Gauge  `gorm:"embedded;embeddedPrefix:gauge_"`
	Yarn       string
	Tool       string // hook or needle, in the designer's words
	ToolMM     *float64
	Grouping   string // sizes in each bracket of a printed line, "1,3,3,2"; "" for one bracket
	Note       string
	ReleasedOn Date       // the day announced for the text; whether it is out is ReleasedAt
	ReleasedAt *time.Time // when the designer marked it as out; see releasing
	ReleasedBy *string
	OutVersion *int // number of the version that goes out; nil: the latest
	ArchivedAt *time.Time
	Revision   int
	CreatedAt  time.Time
	UpdatedAt  time.Time
}

// Audiences lists whom a design can be for.
func Audiences() []string { return []string{"baby", "child", "youth", "woman", "man", "unisex"} }

const (
	longestSlug   = 60
	thickestTool  = 50.0 // mm; the largest hooks and needles sold are about half of it (common practice)
	mostPerDesign = 40   // sizes
)

var slugShape = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

// slugFrom makes an address from a name: lower case letters and digits, words
// joined by hyphens.
func slugFrom(name string) string {
	var b strings.Builder
	gap := false
	for _, r := range strings.ToLower(name) {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9':
			if gap && b.Len() > 0 {
				b.WriteByte('-')
			}
			b.WriteRune(r)
			gap = false
		default:
			gap = true
		}
		if b.Len() >= longestSlug {
			break
		}
	}
	return b.String()
}

func (d Design) validate() error {
	var p problems
	p.line("name", d.Name, true, shortText)
	if !slugShape.MatchString(d.Slug) || len(d.Slug) > longestSlug || isID(d.Slug) {
		p.addf("slug", "has to be lower-case letters, digits and single hyphens, at most %d", longestSlug)
	}
	p.oneOf("craft", d.Craft, "crochet", "knit")
	p.oneOf("audience", d.Audience, Audiences()...)
	p.oneOf("terms", d.Terms, "us", "uk")
	p.oneOf("unit", d.Unit, "cm", "in")
	d.Gauge.validate(&p, "gauge", true)
	p.text("yarn", d.Yarn, false, shortText)
	p.text("tool", d.Tool, false, shortText)
	if d.ToolMM != nil && !(*d.ToolMM > 0 && *d.ToolMM <= thickestTool) {
		p.addf("tool_mm", "has to lie between 0 and %g mm", thickestTool)
	}
	if _, err := parseGrouping(d.Grouping); err != nil {
		p.addf("grouping", "is not a list of bracket lengths; write it like 1,3,3,2")
	}
	p.text("note", d.Note, false, longText)
	p.date("released_on", d.ReleasedOn, false)
	if d.ReleasedAt != nil && d.ReleasedOn == "" {
		p.addf("released_on", "can't be empty while the text is out; take the release back first")
	}
	return p.err()
}

// parseGrouping reads "1,3,3,2" into the number of sizes of each bracket.
func parseGrouping(s string) ([]int, error) {
	if s == "" {
		return nil, nil
	}
	var groups []int
	for _, part := range strings.Split(s, ",") {
		n, err := strconv.Atoi(strings.TrimSpace(part))
		if err != nil || n < 1 || n > mostPerDesign || len(groups) >= mostPerDesign {
			return nil, errors.New("not a list of small numbers")
		}
		groups = append(groups, n)
	}
	return groups, nil
}

// GroupLengths returns the number of sizes in each bracket of a printed line.
func (d Design) GroupLengths() []int {
	groups, _ := parseGrouping(d.Grouping) // validated when it was written
	return groups
}

// AddDesign creates a design with its first, empty version.
func (s *Store) AddDesign(ctx context.Context, actor Actor, d Design) (*Design, error) {
	d.ID, d.Revision, d.ArchivedAt = NewID(), 1, nil
	d.Slug = orElse(d.Slug, slugFrom(d.Name))
	if err := d.validate(); err != nil {
		return nil, err
	}
	err := s.change(ctx, actor, func(t *tx) error {
		d.CreatedAt, d.UpdatedAt = t.now, t.now
		if err := t.slugFree(d.Slug, ""); err != nil {
			return err
		}
		if err := t.Create(&d).Error; err != nil {
			return fmt.Errorf("add design: %w", err)
		}
		if err := t.record(d.ID, "design", d.ID, "added", nil, d); err != nil {
			return err
		}
		return t.addFirstVersion(d.ID)
	})
	return &d, err
}

func (t *tx) slugFree(slug, self string) error {
	var n int64
	if err := t.Model(&Design{}).Where("slug = ? AND id <> ?", slug, self).Count(&n).Error; err != nil {
		return fmt.Errorf("look for slug: %w", err)
	}
	if n > 0 {
		return &Error{Kind: Conflict, Message: "A design has that address already.", Fields: []FieldProblem{{"slug", "is taken; give another name or slug"}}}
	}
	return nil
}

// DesignChange says what to change; nil leaves a field as it is.
type DesignChange struct {
	Name, Slug, Craft, Audience, Terms, Unit *string
	Gauge                                    *Gauge
	Yarn, Tool, Grouping, Note               *string
	ToolMM                                   **float64
	ReleasedOn                               *Date
	OutVersion                               **int // nil in it: the latest
	Released                                 *bool // the text is out; only with every gate open
	BeforeItsDay                             bool  // it is meant to be out before its announced day
	Archived                                 *bool
}

func (c DesignChange) apply(d *Design, now time.Time) {
	set(&d.Name, c.Name)
	set(&d.Slug, c.Slug)
	set(&d.Craft, c.Craft)
	set(&d.Audience, c.Audience)
	set(&d.Terms, c.Terms)
	set(&d.Unit, c.Unit)
	set(&d.Gauge, c.Gauge)
	set(&d.Yarn, c.Yarn)
	set(&d.Tool, c.Tool)
	set(&d.Grouping, c.Grouping)
	set(&d.Note, c.Note)
	set(&d.ToolMM, c.ToolMM)
	set(&d.ReleasedOn, c.ReleasedOn)
	set(&d.OutVersion, c.OutVersion)
	if c.Archived != nil {
		d.ArchivedAt = stamp(*c.Archived, d.ArchivedAt, now)
	}
}

// IsOut tells whether the text is out.
func (d Design) IsOut() bool { return d.ReleasedAt != nil }

// reads is what of a design a pattern's text and counts rest on: not its name,
// address, note, or when it is released or put away.
func (d Design) reads() [9]string {
	var mm float64
	set(&mm, d.ToolMM)
	return [9]string{d.Craft, d.Audience, d.Terms, d.Unit, fmt.Sprint(d.Gauge), d.Yarn, d.Tool, fmt.Sprint(mm), d.Grouping}
}

// ChangeDesign changes a design's own fields.
func (s *Store) ChangeDesign(ctx context.Context, actor Actor, idOrSlug string, revision *int, c DesignChange) (*Design, error) {
	var after Design
	err := s.change(ctx, actor, func(t *tx) error {
		before, err := designIn(t.DB, idOrSlug)
		if err != nil {
			return err
		}
		if err := checkRevision("design", before.Revision, revision); err != nil {
			return err
		}
		after = *before
		c.apply(&after, t.now)
		if c.Released != nil {
			if err := t.markReleased(ctx, before, &after, c); err != nil {
				return err
			}
		}
		if err := after.validate(); err != nil {
			return err
		}
		if c.OutVersion != nil {
			if err := t.namesAVersion(after); err != nil {
				return err
			}
		}
		if err := t.slugFree(after.Slug, after.ID); err != nil {
			return err
		}
		if unchanged(before, &after) {
			return nil
		}
		if err := t.saveDesign(before, &after); err != nil {
			return err
		}
		if before.reads() != after.reads() {
			if _, err := t.withdrawSignOffs("The design's gauge, terms, units or materials were changed.", "design_id = ?", after.ID); err != nil {
				return err
			}
		}
		return t.record(after.ID, "design", after.ID, releaseAction(before, &after), before, after)
	})
	return &after, err
}

// saveDesign writes every column of the design itself and raises its revision.
func (t *tx) saveDesign(before, after *Design) error {
	after.Revision, after.UpdatedAt = before.Revision+1, t.now
	res := t.Model(&Design{}).Where("id = ? AND revision = ?", before.ID, before.Revision).
		Select("*").Omit("id", "created_at").Updates(after)
	if res.Error != nil {
		return fmt.Errorf("change design: %w", res.Error)
	}
	if res.RowsAffected == 0 {
		return staleError("design", before.Revision+1)
	}
	return nil
}

// touchDesign raises the design's revision when its sizes or points change,
// which is what the counts are checked against.
func (t *tx) touchDesign(d *Design) error {
	after := *d
	if err := t.saveDesign(d, &after); err != nil {
		return err
	}
	if _, err := t.withdrawSignOffs("The sizes or points of measure were changed.", "design_id = ?", d.ID); err != nil {
		return err
	}
	*d = after
	return nil
}

// Design returns a design by id or slug.
func (s *Store) Design(ctx context.Context, idOrSlug string) (*Design, error) {
	return designIn(s.read(ctx), idOrSlug)
}

func designIn(db *gorm.DB, idOrSlug string) (*Design, error) {
	if isID(idOrSlug) {
		return first[Design](db, "design", "id = ?", idOrSlug)
	}
	return first[Design](db, "design", "slug = ?", idOrSlug)
}

// Designs lists the designs, in the order in which they were added.
func (s *Store) Designs(ctx context.Context, archived bool, page Page) ([]Design, string, error) {
	q := s.read(ctx).Model(&Design{})
	if !archived {
		q = q.Where("archived_at IS NULL")
	}
	if page.After != "" {
		q = q.Where("id > ?", page.After)
	}
	var rows []Design
	if err := q.Order("id").Limit(page.limit() + 1).Find(&rows).Error; err != nil {
		return nil, "", fmt.Errorf("list designs: %w", err)
	}
	rows, next := cut(rows, page, func(d Design) string { return d.ID })
	return rows, next, nil
}
