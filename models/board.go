package models

import (
	"context"
)

// Board is everything about one design at a glance. It is read in a constant
// number of statements whatever the number of sizes, reports and designs.
type Board struct {
	Today        Date
	Design       *Design
	Version      Version // the latest
	Call         *BoardCall
	Points       []BoardPoint
	Sizes        []BoardSize
	Installments []InstallmentNow
	Holds        []Hold     // samples that must not be worked on before a shot is recorded
	Unlogged     []Unlogged // samples that were worked on camera since their state was noted
	Bearing      GaugeBearing
	Gates        []Gate
	Tracks       []Track
	RemarksOpen  int
}

// BoardCall is the test call that runs, or the last one.
type BoardCall struct {
	ID            string
	Title         string
	DueOn         Date
	Closed        bool
	VersionNumber int
}

// BoardPoint is a column of the board.
type BoardPoint struct {
	Point
	Outside int // marks that lie outside the band, over all sizes
}

// BoardSize is a row of the board.
type BoardSize struct {
	Size
	Samples []BoardSample
	Testers Testers
	// Coverage is nil without a running call, or where no report is needed.
	Coverage *BoardCoverage
	Strips   []BoardStrip // in the order of the points
	Before   []MadeBefore // testers whose version has other counts than the latest
}

// BoardSample is a piece of the size and how far it is worked.
type BoardSample struct {
	Sample
	Worked string // name of the state that it is in; "" before the first
}

// Testers counts a size's testers in a call.
type Testers struct {
	Fewest, Wanted, Most                   int
	Assigned, Accepted, Reported, Approved int
}

// BoardStrip is the tape strip of one size and point.
type BoardStrip struct {
	PointID     string
	IntendedCM  *float64
	ExpectedCM  *float64 // at the design's gauge, by the latest version's counts
	ToleranceCM float64
	LowCM       float64 // ends of the strip
	HighCM      float64
	// GrowthCM is how far the fabric's growth moves the band and where pieces
	// should lie; nil while the diagnosis can't tell.
	GrowthCM *float64
	Finding  *Finding // a count that is at fault here, or may be
	Decided  bool     // on it
	Marks    []BoardMark
}

// BoardMark is one measured piece on a strip.
type BoardMark struct {
	ID         string // of the report or sample
	Kind       string // MarkOfReport or MarkOfSample
	Who        string // handle or label
	AtCM       float64
	MeasuredCM float64
	State      string // "within", "outside", or "slip": a number that looks mistyped
	Sentence   string // what the diagnosis says of it, "" for nothing
}

// Board reads a design's board.
func (s *Store) Board(ctx context.Context, idOrSlug string) (*Board, error) {
	rows, err := s.boardRows(ctx, idOrSlug)
	if err != nil {
		return nil, err
	}
	b := &Board{Today: rows.today, Design: rows.design, Version: rows.latest, Call: rows.call, RemarksOpen: len(rows.remarks),
		Installments: rows.run, Bearing: rows.bearing}
	filming := &filmingRows{today: rows.today, design: rows.design, run: rows.run, samples: rows.samples}
	if err := filming.readMaking(s.read(ctx), rows.latest); err != nil {
		return nil, err
	}
	plan, err := s.planFilming(filming, 0)
	if err != nil {
		return nil, err
	}
	b.Holds, b.Unlogged = plan.Holds, plan.Unlogged
	rows.fillSizes(b)
	b.Gates = rows.gates().Design
	b.Tracks = rows.progress().tracks()
	return b, nil
}
