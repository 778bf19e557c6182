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
	Holds        []Hold // samples that must not be worked on before a shot is recorded
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
	b := &Board{Today: rows.today, Design: rows.design, Version: rows.version, Call: rows.call, RemarksOpen: rows.remarksOpen}
	b.Installments = StandInstallments(rows.today, rows.studio.LeadDays, rows.installments, rows.takes, rows.samples)
	b.Holds = HoldsOf(b.Installments, inFilmedSize(rows.samples, rows.sizes))
	if b.Bearing, err = BearGauge(*rows.design, rows.samples); err != nil {
		return nil, err
	}
	rows.fillSizes(b)
	b.Gates = rows.gates(b)
	b.Tracks = rows.progress(b).tracks()
	return b, nil
}

// progress counts what the tracks are computed from.
func (r *boardRows) progress(b *Board) progress {
	p := progress{called: b.Call != nil, installments: len(b.Installments), released: b.Design.ReleasedBy(b.Today)}
	for _, s := range r.samples {
		p.samples++
		if !s.After.IsEmpty() {
			p.washed++
		}
	}
	for _, z := range b.Sizes {
		p.assigned += z.Testers.Assigned
		p.reported += z.Testers.Reported
		if z.Testers.Approved < z.Testers.Fewest {
			p.short++
		}
	}
	for _, in := range b.Installments {
		if in.State != Unrecorded {
			p.recorded++
		}
		if in.State == Aired {
			p.aired++
		}
	}
	return p
}
