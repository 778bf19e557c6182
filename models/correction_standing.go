package models

import (
	"context"
	"database/sql"
	"fmt"
	"strings"

	"gorm.io/gorm"
)

// CorrectionStanding is how the corrections of a design stand.
type CorrectionStanding struct {
	Corrections []Correction      // by number
	Makers      []CorrectionMaker // nobody while there are no corrections
}

// Corrections returns a design's corrections, and who makes what they correct.
func (s *Store) Corrections(ctx context.Context, designID string) (*CorrectionStanding, error) {
	return correctionStandingIn(s.read(ctx), designID)
}

// correctionStandingIn takes one query where there are no corrections, and five
// where there are.
func correctionStandingIn(db *gorm.DB, designID string) (*CorrectionStanding, error) {
	list, err := correctionsWhere(db, "corrections.design_id = ?", designID)
	if err != nil || len(list) == 0 {
		return &CorrectionStanding{}, err
	}
	if err := withUndone(db, designID, list); err != nil {
		return nil, err
	}
	told, err := correctionsTold(db, designID)
	if err != nil {
		return nil, err
	}
	makers, err := correctionMakers(db, designID, list, told)
	return &CorrectionStanding{list, makers}, err
}

// withUndone finds what a version was said to mend whose count sheet says the
// same as the faulty one: it may be changed until it is given out.
func withUndone(db *gorm.DB, designID string, list []Correction) error {
	const valueIn = `coalesce((SELECT v.value FROM counts k JOIN count_values v ON v.count_id = k.id WHERE k.name = c.count_name AND v.size_id = z.id AND k.version_id = c.`
	undone := map[string]bool{}
	err := query(db, func(rows *sql.Rows) error {
		var id string
		err := rows.Scan(&id)
		undone[id] = true
		return err
	}, `SELECT c.id FROM corrections c WHERE c.design_id = ? AND c.count_name <> '' AND c.mended_version IS NOT NULL AND c.withdrawn_at IS NULL
		AND NOT EXISTS (SELECT 1 FROM sizes z WHERE z.design_id = c.design_id AND `+valueIn+`since_version), -1) <> `+valueIn+`mended_version), -1))`, designID)
	if err != nil {
		return fmt.Errorf("what a text no longer has: %w", err)
	}
	for i := range list {
		list[i].Undone = undone[list[i].ID]
	}
	return nil
}

// Why tells what keeps the gate "Corrections closed" shut for a version that
// goes out, "" when nothing does: a correction that is no more than a draft, or
// is in the text of a later version only, or that testers are still to be told.
func (s *CorrectionStanding) Why(goingOut int) string {
	open := s.missing(goingOut)
	var parts []string
	switch len(open) {
	case 0:
	case 1:
		parts = append(parts, fmt.Sprintf("the correction of “%s” is not in the text of version %d", open[0].Place, goingOut))
	default:
		parts = append(parts, fmt.Sprintf("%d corrections are not in the text of version %d, that of “%s” first", len(open), goingOut, open[0].Place))
	}
	if n := s.untold(); n > 0 {
		parts = append(parts, fmt.Sprintf("%s of older versions %s still to be told", counted(n, "tester"), isAre(n)))
	}
	return sentence(strings.Join(parts, "; "))
}

// missing are the corrections that are not in the text of a version, and those
// that were and no longer are.
func (s *CorrectionStanding) missing(goingOut int) []Correction {
	var open []Correction
	for _, c := range s.Corrections {
		if c.WithdrawnAt == nil && (c.Undone || c.AnnouncedAt == nil && (c.MendedNumber == nil || *c.MendedNumber > goingOut)) {
			open = append(open, c)
		}
	}
	return open
}

// untold counts who is still to be told something.
func (s *CorrectionStanding) untold() int {
	n := 0
	for _, m := range s.Makers {
		if len(m.Due) > 0 {
			n++
		}
	}
	return n
}
