package models

import (
	"fmt"
	"strings"

	"tenter/models/counts"
)

// CorrectionLetter writes what a tester is told of corrections: what changes
// for their piece, and what does not. It names no other size's numbers and
// nobody else. The list holds what is due to them; one that was withdrawn is
// taken back. At is how they say a day.
func CorrectionLetter(piece AssignmentLine, list []PieceCorrection, at func(CheckIn) string) (subject string, lines []string) {
	var mine, back []PieceCorrection
	for _, c := range list {
		switch {
		case c.WithdrawnAt != nil:
			back = append(back, c)
		case c.Concerned:
			mine = append(mine, c)
		}
	}
	whole := fmt.Sprintf("the pattern of %s that you make, size %s by version %d, has been corrected.", piece.DesignName, piece.SizeName, piece.VersionNumber)
	subject = "a correction for your size"
	switch {
	case len(mine) > 1:
		subject = fmt.Sprintf("%d corrections for your size", len(mine))
	case len(mine) == 0 && len(back) == len(list):
		subject = "a correction is taken back"
		whole = fmt.Sprintf("this is about the pattern of %s that you make, size %s by version %d.", piece.DesignName, piece.SizeName, piece.VersionNumber)
	case len(mine) == 0:
		subject = "the pattern was corrected; your size stays as it is"
		whole += " Nothing changes in your size: it is other sizes that were corrected."
	}
	lines = append(lines, whole)
	for _, c := range mine {
		lines = append(lines, c.sayForPiece())
	}
	if others := len(list) - len(mine) - len(back); others > 0 && len(mine) > 0 {
		lines = append(lines, fmt.Sprintf("%s besides %s for other sizes; nothing else changes in yours.", counted(others, "correction"), isAre(others)))
	}
	for _, c := range back {
		lines = append(lines, fmt.Sprintf("We take back what we told you of “%s”: the text that you have is right there. %s", c.Place, c.WithdrawnWhy))
	}
	if len(mine) > 0 {
		lines = append(lines, howFar(piece, at))
	}
	return subject, lines
}

// sayForPiece says one correction to somebody whose size is concerned. A count
// is said for their size alone.
func (c PieceCorrection) sayForPiece() string {
	if c.CountName == "" || c.Before == nil && c.After == nil {
		return fmt.Sprintf("%s\nIt said: %s\nIt now says: %s", c.Place, c.Was, c.IsNow)
	}
	number := func(v *float64) string { return counts.Print([]*float64{v}, counts.Layout{}) }
	name := strings.ReplaceAll(c.CountName, "_", " ")
	switch {
	case c.After == nil:
		return fmt.Sprintf("%s\nFor your size, %s was %s; your size skips this line now.", c.Place, name, number(c.Before))
	case c.Before == nil:
		return fmt.Sprintf("%s\nFor your size, %s is %s now; your size skipped this line before.", c.Place, name, number(c.After))
	}
	return fmt.Sprintf("%s\nFor your size, %s is %s now. It was %s.", c.Place, name, number(c.After), number(c.Before))
}

// howFar says what to do, by how far the piece is as far as that is known.
func howFar(piece AssignmentLine, at func(CheckIn) string) string {
	if piece.ReportID != nil {
		return "Your piece is finished and reported. Please leave it as it is: your report is held against the version that you made."
	}
	rest := "If you have not come to this place yet, work it as corrected and say so with your report. If you are past it, ask us before you rip anything back: your report is held against the version that you were given."
	if piece.CheckedInAt == nil || piece.Section == "" {
		return rest
	}
	last := CheckIn{At: *piece.CheckedInAt, Done: piece.SectionsDone, Of: piece.SectionsOf, Section: piece.Section}
	return fmt.Sprintf("On %s you told us that you had finished “%s”, part %d of %d. %s", at(last), last.Section, last.Done, last.Of, rest)
}

// corrected is the letter about corrections, due since the first of them was in
// the text, in an open call and in a closed one.
func (m *mailroom) corrected(t remindable) (Reminder, bool) {
	if t.State() == Asked || t.State() == Withdrawn {
		return Reminder{}, false
	}
	about, list := m.corrections.due(t.AssignmentLine, t.Terms)
	if len(list) == 0 {
		return Reminder{}, false
	}
	since := m.today
	for _, c := range list {
		moment := c.InTextAt
		if c.WithdrawnAt != nil {
			moment = c.WithdrawnAt
		}
		since = min(since, m.day(*moment))
	}
	subject, lines := CorrectionLetter(t.AssignmentLine, list, func(c CheckIn) string { return said(m.day(c.At)) })
	return m.to(t, RemindCorrection, since, about, subject, lines...), true
}
