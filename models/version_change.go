package models

import (
	"context"
	"database/sql"
	"fmt"
	"strings"

	"gorm.io/gorm"

	"tenter/models/counts"
)

// VersionMaker is a tester who makes or made a version in one size.
type VersionMaker struct {
	AssignmentID string
	PersonID     string
	Handle       string
	SizeID       string
	SizeName     string
	VersionID    string
	State        AssignmentState
}

// MadeVersion is a version with who makes it and how it stands with the tech editor.
type MadeVersion struct {
	Version
	Makers  []VersionMaker
	SignOff *SignOff // standing
}

// MadeVersions lists a design's versions, the first one first, with their
// testers: those who withdrew are left out.
func (s *Store) MadeVersions(ctx context.Context, idOrSlug string) ([]MadeVersion, error) {
	db := s.read(ctx)
	design, err := designIn(db, idOrSlug)
	if err != nil {
		return nil, err
	}
	versions, err := s.Versions(ctx, design.ID)
	if err != nil {
		return nil, err
	}
	makers, err := versionMakers(db, "a.design_id = ?", design.ID)
	if err != nil {
		return nil, err
	}
	signed, err := signOffsWhere(db, "sign_offs.design_id = ? AND sign_offs.withdrawn_at IS NULL", design.ID)
	if err != nil {
		return nil, err
	}
	out := make([]MadeVersion, len(versions))
	for i, v := range versions {
		out[i].Version = v
		for _, m := range makers {
			if m.VersionID == v.ID {
				out[i].Makers = append(out[i].Makers, m)
			}
		}
		for k := range signed {
			if signed[k].VersionID == v.ID {
				out[i].SignOff = &signed[k]
			}
		}
	}
	return out, nil
}

func versionMakers(db *gorm.DB, where string, arg any) ([]VersionMaker, error) {
	var out []VersionMaker
	err := query(db, func(rows *sql.Rows) error {
		var (
			m    VersionMaker
			line AssignmentLine
		)
		err := rows.Scan(&m.AssignmentID, &m.PersonID, &m.Handle, &m.SizeID, &m.SizeName, &m.VersionID, &line.AcceptedAt, &line.ReportID, &line.ApprovedAt)
		m.State = line.State()
		out = append(out, m)
		return err
	}, `SELECT a.id, a.person_id, p.handle, a.size_id, z.name, a.version_id, a.accepted_at, r.id, r.approved_at
		FROM assignments a JOIN people p ON p.id = a.person_id JOIN sizes z ON z.id = a.size_id
		LEFT JOIN reports r ON r.assignment_id = a.id AND r.superseded_at IS NULL
		WHERE a.withdrawn_at IS NULL AND `+where+` ORDER BY z.position, a.id`, arg)
	if err != nil {
		return nil, fmt.Errorf("testers of versions: %w", err)
	}
	return out, nil
}

// VersionComparison is what differs between two versions of a design.
type VersionComparison struct {
	From, To Version
	Changes  []counts.Change
	Rules    []RuleChange
	Makers   []VersionMaker // of From
}

// RuleChange is a rule that came, went or reads otherwise; nil on the side
// where it is not.
type RuleChange struct {
	Name          string
	Before, After *Rule
}

// CompareVersions compares a version with an earlier one of the same design;
// sinceID empty takes the one before it.
func (s *Store) CompareVersions(ctx context.Context, versionID, sinceID string) (*VersionComparison, error) {
	db := s.read(ctx)
	to, err := first[Version](db, "version", "id = ?", versionID)
	if err != nil {
		return nil, err
	}
	var from *Version
	if sinceID == "" {
		from, err = first[Version](db, "earlier version", "design_id = ? AND number = ?", to.DesignID, to.Number-1)
	} else {
		from, err = versionOf(db, to.DesignID, sinceID, "since")
	}
	if err != nil {
		return nil, err
	}
	was, err := sheetIn(db, *from)
	if err != nil {
		return nil, err
	}
	is, err := sheetIn(db, *to)
	if err != nil {
		return nil, err
	}
	makers, err := versionMakers(db, "a.version_id = ?", from.ID)
	if err != nil {
		return nil, err
	}
	return &VersionComparison{From: *from, To: *to, Changes: counts.Diff(was.rows(), is.rows()), Rules: ruleChanges(was.Rules, is.Rules), Makers: makers}, nil
}

// rows is the sheet as the comparison of sheets takes it.
func (s Sheet) rows() counts.Sheet {
	in := s.countsInput(&Design{})
	out := counts.Sheet{Sizes: in.Sizes}
	for _, c := range in.Counts {
		out.Lines = append(out.Lines, counts.Row{Name: c.Name, Unit: c.Unit, Values: c.Values})
	}
	return out
}

// ruleChanges matches rules by name; of several with one name the first counts.
func ruleChanges(before, after []Rule) []RuleChange {
	find := func(rules []Rule, name string) *Rule {
		for i := range rules {
			if rules[i].Name == name {
				return &rules[i]
			}
		}
		return nil
	}
	out := []RuleChange{}
	for i := range after {
		was := find(before, after[i].Name)
		if was == nil || was.says() != after[i].says() {
			out = append(out, RuleChange{after[i].Name, was, &after[i]})
		}
	}
	for i := range before {
		if find(after, before[i].Name) == nil {
			out = append(out, RuleChange{before[i].Name, &before[i], nil})
		}
	}
	return out
}

func (r Rule) says() string {
	var of, plus int
	set(&of, r.MultipleOf)
	set(&plus, r.Plus)
	return fmt.Sprintf("%s %s %d %d", r.Kind, strings.TrimSpace(r.Expr), of, plus)
}
