package models

import (
	"context"
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

// correctionStandingIn takes one query where there are no corrections, and four
// where there are.
func correctionStandingIn(db *gorm.DB, designID string) (*CorrectionStanding, error) {
	list, err := correctionsWhere(db, "corrections.design_id = ?", designID)
	if err != nil || len(list) == 0 {
		return &CorrectionStanding{}, err
	}
	told, err := correctionsTold(db, designID)
	if err != nil {
		return nil, err
	}
	makers, err := correctionMakers(db, designID, list, told)
	return &CorrectionStanding{list, makers}, err
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

// missing are the corrections that are not in the text of a version.
func (s *CorrectionStanding) missing(goingOut int) []Correction {
	var open []Correction
	for _, c := range s.Corrections {
		if c.WithdrawnAt == nil && c.AnnouncedAt == nil && (c.MendedNumber == nil || *c.MendedNumber > goingOut) {
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
