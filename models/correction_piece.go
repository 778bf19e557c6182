package models

import (
	"database/sql"
	"fmt"

	"gorm.io/gorm"

	"tenter/models/standards"
)

// PieceCorrection is what a correction means for one tester's piece.
type PieceCorrection struct {
	Correction
	// Concerned is false where the correction is for other sizes, or leaves the
	// count that it names as it is in this one.
	Concerned bool
	// Before and After are the named count for the tester's size, in the version
	// that they make and in the mended one; nil: none is named, or the size skips
	// the line.
	Before, After *float64
}

// correctionBook is a design's corrections with what the counts that they name
// are in each version, enough to say what they mean for any piece.
type correctionBook struct {
	design *Design
	list   []Correction
	told   toldOf
	counts map[countPlace]float64
}

type countPlace struct{ version, count, size string }

func correctionBookIn(db *gorm.DB, design *Design) (*correctionBook, error) {
	books, err := correctionBooksIn(db, []*Design{design})
	return books[design.ID], err
}

// correctionBooksIn takes one query where there are no corrections, and four
// where there are, for however many designs. There has to be one.
func correctionBooksIn(db *gorm.DB, designs []*Design) (map[string]*correctionBook, error) {
	counts, books, ids := map[countPlace]float64{}, make(map[string]*correctionBook, len(designs)), make([]string, len(designs))
	for i, d := range designs {
		books[d.ID], ids[i] = &correctionBook{design: d, counts: counts}, d.ID
	}
	all, err := correctionsWhere(db, "corrections.design_id IN ?", ids)
	if err != nil || len(all) == 0 {
		return books, err
	}
	told, err := correctionsTold(db, ids...)
	if err != nil {
		return nil, err
	}
	for _, c := range all {
		b := books[c.DesignID]
		b.list, b.told = append(b.list, c), told
	}
	err = query(db, func(rows *sql.Rows) error {
		var at countPlace
		var value float64
		err := rows.Scan(&at.version, &at.count, &at.size, &value)
		counts[at] = value
		return err
	}, `SELECT c.version_id, c.name, v.size_id, v.value FROM counts c JOIN versions n ON n.id = c.version_id JOIN count_values v ON v.count_id = c.id
		WHERE n.design_id IN ? AND c.name IN (SELECT k.count_name FROM corrections k WHERE k.design_id = n.design_id)`, ids)
	if err != nil {
		return nil, fmt.Errorf("counts that were corrected: %w", err)
	}
	return books, nil
}

// forPiece says what a correction means for a piece, in the terms of its maker.
func (b *correctionBook) forPiece(c Correction, a AssignmentLine, terms string) PieceCorrection {
	out := PieceCorrection{Correction: c, Concerned: c.For(a.SizeID)}
	if c.CountName != "" && c.MendedVersion != nil {
		out.Before = b.count(a.VersionID, c.CountName, a.SizeID)
		out.After = b.count(*c.MendedVersion, c.CountName, a.SizeID)
		out.Concerned = out.Concerned && !sameCount(out.Before, out.After)
	}
	for _, text := range []*string{&out.Place, &out.Was, &out.IsNow} {
		// What mixes the two terms stands as it was written.
		if said, err := standards.Rewrite(*text, b.design.Craft, standards.Terms(b.design.Terms), standards.Terms(terms)); err == nil {
			*text = said.Text
		}
	}
	return out
}

func (b *correctionBook) count(version, count, size string) *float64 {
	if v, ok := b.counts[countPlace{version, count, size}]; ok {
		return &v
	}
	return nil
}

// due is what somebody is to be told of now, as much as goes into one letter.
func (b *correctionBook) due(a AssignmentLine, terms string) (about string, list []PieceCorrection) {
	due := dueTo(a.VersionNumber, b.list, b.told[a.ID])
	if len(due) == 0 {
		return "", nil
	}
	due = due[:min(len(due), correctionsInLetter)]
	for _, d := range due {
		for _, c := range b.list {
			if c.Number == d.number {
				list = append(list, b.forPiece(c, a, terms))
			}
		}
	}
	return aboutCorrections(a.ID, due), list
}

// shownTo is what a tester sees of the corrections on their own page: those
// that change something in their size and the version that they make.
func (b *correctionBook) shownTo(a AssignmentLine, terms string) []PieceCorrection {
	var out []PieceCorrection
	for _, c := range b.list {
		if !c.reaches(a.VersionNumber) {
			continue
		}
		if p := b.forPiece(c, a, terms); p.Concerned {
			out = append(out, p)
		}
	}
	return out
}
