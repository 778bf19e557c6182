package models

import (
	"context"

	"tenter/models/counts"
)

// CountChangeLine is what two versions say for one count, as the text prints
// it, and in which sizes they differ.
type CountChangeLine struct {
	Count       string
	Since, Now  Version
	Was, IsNow  string   // lists in the design's own grouping; "" where a version has no such count
	SizeIDs     []string // that differ
	SizeNames   []string
	EverySizeIs bool // another
}

// ChangedCount compares one count in two versions, so that a correction to it
// can be filled in. Empty ids are the latest version for now, and the one
// before that for since.
func (s *Store) ChangedCount(ctx context.Context, idOrSlug, count, sinceID, nowID string) (*CountChangeLine, error) {
	db := s.read(ctx)
	design, err := designIn(db, idOrSlug)
	if err != nil {
		return nil, err
	}
	now, err := versionOf(db, design.ID, nowID, "version")
	if err != nil {
		return nil, err
	}
	since := now
	switch {
	case sinceID != "":
		since, err = versionOf(db, design.ID, sinceID, "since")
	case now.Number > 1:
		since, err = first[Version](db, "version", "design_id = ? AND number = ?", design.ID, now.Number-1)
	}
	if err != nil {
		return nil, err
	}
	was, err := sheetIn(db, *since)
	if err != nil {
		return nil, err
	}
	is, err := sheetIn(db, *now)
	if err != nil {
		return nil, err
	}
	before, after := was.lineOf(count), is.lineOf(count)
	if before == nil && after == nil {
		return nil, fieldError("count", "is no count of version %d or %d; choose one of the count sheet", since.Number, now.Number)
	}
	out := &CountChangeLine{Count: count, Since: *since, Now: *now, Was: printedFor(design, before), IsNow: printedFor(design, after)}
	for i, z := range is.Sizes {
		if !sameCount(valueAt(before, i), valueAt(after, i)) {
			out.SizeIDs, out.SizeNames = append(out.SizeIDs, z.ID), append(out.SizeNames, z.Name)
		}
	}
	out.EverySizeIs = len(out.SizeIDs) == len(is.Sizes)
	return out, nil
}

// printedFor writes a count for all sizes in the trade's notation, grouped as
// the design's own text.
func printedFor(design *Design, values []*float64) string {
	return counts.Print(values, layoutOf(design.GroupLengths()))
}

func valueAt(values []*float64, i int) *float64 {
	if i >= len(values) {
		return nil
	}
	return values[i]
}

func sameCount(a, b *float64) bool {
	return (a == nil) == (b == nil) && (a == nil || *a == *b)
}
