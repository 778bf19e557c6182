package models

import (
	"context"
	"fmt"
	"slices"
	"strings"
)

// StudioBoard is every design of the studio at a glance, a page at a time, in
// a constant number of statements.
type StudioBoard struct {
	Today   Date
	Designs []StudioLine
	Next    string
	Needs   []Need // what needs somebody today or soon, the most pressing first
}

// StudioLine is one design on the studio's page.
type StudioLine struct {
	Design  Design
	Tracks  []Track
	NextAir *InstallmentNow // the next announced day that is not over
	Blocks  *Need           // what holds it back most
}

// Need is something that needs a person, in words, with the screen of the
// design where it is mended.
type Need struct {
	Design   *Design // nil for one of the house, see HouseNeeds
	Sentence string
	Where    string
	DueOn    Date // "" for no day
}

// soonDays is how far ahead the studio's page looks for what needs doing (chosen).
const soonDays = 7

// StudioBoard reads a page of the studio's designs.
func (s *Store) StudioBoard(ctx context.Context, page Page) (*StudioBoard, error) {
	designs, next, err := s.Designs(ctx, false, page)
	if err != nil {
		return nil, err
	}
	studio, err := s.Studio(ctx)
	if err != nil {
		return nil, err
	}
	out := &StudioBoard{Today: DateOf(s.Now(), studio.Location()), Next: next}
	rows, err := s.gateRowsOf(s.read(ctx), studio, out.Today, designs)
	if err != nil {
		return nil, fmt.Errorf("studio: %w", err)
	}
	for _, r := range rows {
		line, needs, err := s.studioLine(ctx, r)
		if err != nil {
			return nil, fmt.Errorf("studio: %w", err)
		}
		out.Designs = append(out.Designs, line)
		out.Needs = append(out.Needs, needs...)
	}
	slices.SortStableFunc(out.Needs, func(a, b Need) int {
		return strings.Compare(orElse(string(a.DueOn), "9999"), orElse(string(b.DueOn), "9999"))
	})
	return out, nil
}
