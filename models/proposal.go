package models

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"tenter/models/counts"
)

// CountProposal is legal counts for each size, beside the sheet they start from.
type CountProposal struct {
	counts.Proposal
	Lines    map[string]counts.Row // of the sheet it starts from, by name
	Layout   counts.Layout         // the design's own way of writing its sizes
	Now      []counts.Finished     // what the sheet comes to as it is
	Unguided []FieldProblem        // points and rules that could not guide the search, and why
}

// ProposeCounts proposes legal counts for each size of a version, nearest to
// what its design's points intend; the counts named in keep stay as they are.
// It starts from the given counts and rules, or from the version's own when
// given is nil. A line that has no value in any size is found from nothing.
// Nothing is written.
func (s *Store) ProposeCounts(ctx context.Context, versionID string, given *Sheet, keep []string) (*CountProposal, error) {
	sheet, err := s.Sheet(ctx, versionID)
	if err != nil {
		return nil, err
	}
	if given != nil {
		sheet.Counts, sheet.Rules = given.Counts, given.Rules
		if err := sheet.validate(); err != nil {
			return nil, err
		}
	}
	check, err := s.CheckSheet(ctx, sheet)
	if err != nil {
		return nil, err
	}
	db := s.read(ctx)
	design, err := designIn(db, sheet.Version.DesignID)
	if err != nil {
		return nil, err
	}
	points, err := pointsIn(db, []string{design.ID})
	if err != nil {
		return nil, err
	}
	in := sheet.countsInput(design)
	for _, q := range points {
		in.Points = append(in.Points, countsPoint(q, sheet.Sizes))
	}
	dropped := &SheetCheck{}
	s.dropUncomputable(&in, dropped)
	out := &CountProposal{Lines: byName(sheet.rows()), Layout: in.Layout, Now: check.Finished, Unguided: dropped.Unchecked}
	ask := counts.ProposeInput{Sizes: in.Sizes, Gauge: in.Gauge, Counts: in.Counts, Rules: in.Rules, Points: in.Points, Keep: keep, Layout: in.Layout}
	for i, c := range ask.Counts {
		if isBlank(c.Values) {
			ask.Counts[i].Values = nil
		}
	}
	out.Proposal, err = proposeGuided(ask, out)
	return out, err
}

func isBlank(values []*float64) bool {
	for _, v := range values {
		if v != nil {
			return false
		}
	}
	return true
}

// proposeGuided leaves out, one by one, the points that are no sum of counts:
// they cannot guide the search, and say so.
func proposeGuided(ask counts.ProposeInput, out *CountProposal) (counts.Proposal, error) {
	for {
		found, err := counts.Propose(ask)
		if err == nil {
			return found, nil
		}
		var fault *counts.FieldError
		if !errors.As(err, &fault) {
			return found, fmt.Errorf("propose counts: %w", err)
		}
		var at int
		if n, _ := fmt.Sscanf(fault.Field, "points[%d]", &at); n == 1 && at < len(ask.Points) && strings.HasSuffix(fault.Field, ".expr") {
			out.Unguided = append(out.Unguided, FieldProblem{"point " + ask.Points[at].Name, fault.Problem})
			ask.Points = append(append([]counts.Point(nil), ask.Points[:at]...), ask.Points[at+1:]...)
			continue
		}
		return found, &Error{Kind: Invalid, Message: "Nothing can be proposed for this sheet as it is.", Fields: []FieldProblem{{fault.Field, fault.Problem}}}
	}
}
