package models

import (
	"context"
	"fmt"

	"gorm.io/gorm"
)

// Fault is something in the database that no change through the Store can have
// brought about: a disk, another program or a mistake of ours did.
type Fault struct {
	Rule string // what should hold
	IDs  []string
	Many int // rows at fault; IDs names the first ones
}

func (f Fault) String() string {
	s := fmt.Sprintf("%s; this is not so for %s", f.Rule, counted(f.Many, "row"))
	for i, id := range f.IDs {
		if i == 0 {
			s += ":"
		}
		s += " " + id
	}
	return s
}

// Check holds the whole database against what is always true of a studio: that
// SQLite finds its file sound, that every row points at something, and the
// rules that the Store keeps. PostgreSQL looks after its files itself.
func (s *Store) Check(ctx context.Context) ([]Fault, error) {
	var out []Fault
	if s.dialect == "sqlite" {
		pool, err := s.reader.DB()
		if err != nil {
			return nil, fmt.Errorf("check: %w", err)
		}
		wrong, err := unsound(ctx, pool)
		if err != nil {
			return nil, err
		}
		for _, w := range wrong {
			out = append(out, Fault{Rule: "the file is sound and every row points at something: " + w, Many: 1})
		}
	}
	err := s.snapshot(ctx, func(db *gorm.DB) error {
		for _, rule := range standingRules {
			fault, err := rule.check(db)
			if err != nil {
				return err
			}
			if fault != nil {
				out = append(out, *fault)
			}
		}
		changed, err := brokenSeals(db)
		out = append(out, changed...)
		return err
	})
	return out, err
}

// standingRule is a rule with a query for the ids of what breaks it.
type standingRule struct{ says, breaks string }

func (r standingRule) check(db *gorm.DB) (*Fault, error) {
	var ids []string
	if err := db.Raw(r.breaks).Scan(&ids).Error; err != nil {
		return nil, fmt.Errorf("check that %s: %w", r.says, err)
	}
	if len(ids) == 0 {
		return nil, nil
	}
	return &Fault{Rule: r.says, IDs: ids[:min(len(ids), mostFaults)], Many: len(ids)}, nil
}

// brokenSeals finds versions that a tester has and that are not any more what
// they were given.
func brokenSeals(db *gorm.DB) ([]Fault, error) {
	var versions []Version
	if err := db.Where("sealed_hash IS NOT NULL").Order("id").Find(&versions).Error; err != nil {
		return nil, fmt.Errorf("given versions: %w", err)
	}
	fault := Fault{Rule: "a version that was given to a tester never changes"}
	for _, v := range versions {
		hash, err := sealIn(db, v)
		if err != nil {
			return nil, err
		}
		if *hash != *v.SealedHash {
			fault.IDs, fault.Many = append(fault.IDs, v.ID), fault.Many+1
		}
	}
	if fault.Many == 0 {
		return nil, nil
	}
	return []Fault{fault}, nil
}
