package models

import (
	"math"
	"slices"

	"tenter/models/fit"
	"tenter/models/gauge"
)

// Diagnosis is what all current reports of a design say together. It is
// computed from one state of the data, never changes, and may be shared.
type Diagnosis struct {
	Revision string // of the data that it was computed from
	Problem  string // why nothing can be said, "" where it can
	Fabric   []fit.Fabric
	Findings []Finding // the most serious first
	Pieces   []Piece   // who made what, in the order of sending
	Lines    []FitLine // every measurement beside what was expected at the maker's own gauge
	Numbers  fit.Output
	Sheet    []SheetLine // counts beside what is intended, where they miss it

	odd   map[mark]*Finding
	cells map[cell]*Finding // what is wrong, or may be, at a size and point
}

// mark is one report's measurement of one point.
type mark struct{ report, point string }

// Piece is one tester's piece in the test.
type Piece struct {
	AssignmentID, ReportID string
	Who                    string // handle; told apart where somebody made a size twice
	SizeID, Size           string
	VersionNumber          int
	Number                 int // of the report
	Report                 fitReport
	Measured               int // points
}

// FitLine is one measured point of one piece.
type FitLine struct {
	AssignmentID, ReportID, Who string
	SizeID, Size                string
	PointID, Point              string // Point as the findings name it
	Axis                        gauge.Axis
	Readings                    int
	Measured                    Length  // the last reading, as entered
	MeasuredCM                  float64 // of all readings
	ExpectedDesignCM            float64
	ExpectedOwnCM               float64
	// Where a sound piece of this maker would lie, with the fabric's growth: 19
	// of 20 do, tension of the large piece, tape, rounding and swatch counted in.
	LikelyCM, LowCM, HighCM   float64
	ResidualPct, ResidualUPct float64
	Odd                       bool
}

// SheetLine is one count that misses what is intended.
type SheetLine struct {
	PointID, Point, SizeID, Size string
	IntendedCM, ExpectedCM       float64
	LimitCM                      float64 // half a repeat and a millimetre
}

// diagnose judges one state of the data.
func diagnose(rows *fitRows) *Diagnosis {
	d := &Diagnosis{Revision: rows.revision().String(), odd: map[mark]*Finding{}, cells: map[cell]*Finding{}}
	if len(rows.points) == 0 || len(rows.sizes) == 0 {
		d.Problem = "The design has no sizes or no points of measure yet, so there is nothing to compare."
		return d
	}
	r := newFitRound(rows)
	d.addPieces(r)
	sheet, err := fit.Calculate(r.sheetInput())
	if err == nil {
		d.Numbers, err = fit.Calculate(r.input)
	}
	if err != nil {
		d.Problem = "The reports can't be judged together: " + calculationProblem(err) + "."
		return d
	}
	d.Numbers.Grading, d.Fabric = sheet.Grading, d.Numbers.Fabric
	d.addLines(r)
	d.addSheet(r, sheet)
	d.addFindings(r, sheet)
	return d
}

func (d *Diagnosis) addPieces(r *fitRound) {
	for _, p := range r.pieces {
		points := map[string]bool{}
		for _, m := range p.measurements {
			points[m.PointID] = true
		}
		d.Pieces = append(d.Pieces, Piece{AssignmentID: p.AssignmentID, ReportID: p.ReportID, Who: p.who, SizeID: p.SizeID, Size: r.rows.size(p.SizeID).Name,
			VersionNumber: r.rows.numbers[p.VersionID], Number: p.Number, Report: p.fitReport, Measured: len(points)})
	}
}

func (d *Diagnosis) addLines(r *fitRound) {
	odd := map[string]bool{}
	for _, o := range d.Numbers.OddValues {
		odd[o.Tester+"\x00"+o.Size+"\x00"+o.Point] = o.Verdict != fit.ReadingsDisagree
	}
	for _, line := range d.Numbers.Reports {
		piece, point := r.piece(line.Tester, line.Size), r.points[line.Point]
		if piece == nil || point.Point == nil {
			continue
		}
		out := FitLine{AssignmentID: piece.AssignmentID, ReportID: piece.ReportID, Who: piece.who, SizeID: piece.SizeID, Size: line.Size,
			PointID: point.ID, Point: line.Point, Axis: line.Axis, Readings: line.Readings, MeasuredCM: line.MeasuredCM,
			ExpectedDesignCM: line.ExpectedDesignCM, ExpectedOwnCM: line.ExpectedOwnCM, ResidualPct: line.ResidualPct, ResidualUPct: line.ResidualUPct,
			Odd: odd[line.Tester+"\x00"+line.Size+"\x00"+line.Point]}
		for _, m := range piece.measurements {
			if m.PointID == point.ID {
				out.Measured = m.Length
			}
		}
		d.likely(&out, point.Add.CM)
		d.Lines = append(d.Lines, out)
	}
}

// likely finds where a sound piece would lie: counted length × (1 + growth),
// give or take 1.96 standard deviations of residual and tension together.
func (d *Diagnosis) likely(line *FitLine, addCM float64) {
	growth, tension := 0.0, 0.0
	for _, f := range d.Fabric {
		if f.Axis == line.Axis {
			set(&growth, f.EstimatePct)
			tension = f.Omega
		}
	}
	u := line.ResidualUPct / 100
	spread := math.Exp(1.96 * math.Sqrt(u*u+tension*tension))
	counted := (line.ExpectedOwnCM - addCM) * (1 + growth/100)
	line.LikelyCM, line.LowCM, line.HighCM = counted+addCM, counted/spread+addCM, counted*spread+addCM
}

// addSheet lists the counts of the latest version that miss what is intended.
func (d *Diagnosis) addSheet(r *fitRound, sheet fit.Output) {
	in := r.sheetInput()
	for _, g := range sheet.Grading {
		point := r.points[g.Point]
		for _, z := range r.rows.sizes {
			if !slices.Contains(g.Sizes, z.Name) {
				continue
			}
			per := in.DesignGauge.Stitch
			if point.Axis == string(gauge.Row) {
				per = in.DesignGauge.Row
			}
			step := in.DesignGauge.OverCM / per
			d.Sheet = append(d.Sheet, SheetLine{PointID: point.ID, Point: g.Point, SizeID: z.ID, Size: z.Name, IntendedCM: in.IntendedCM[z.Name][g.Point],
				ExpectedCM: in.Counts[z.Name][g.Point]*step + point.Add.CM, LimitCM: float64(point.Repeat)*step/2 + 0.1})
		}
	}
}

// growthPct is how much longer or wider finished pieces are than swatches
// promise, in percent, along an axis; ok is false while that isn't told.
func (d *Diagnosis) growthPct(axis string) (percent float64, ok bool) {
	for _, f := range d.Fabric {
		if string(f.Axis) == axis && f.EstimatePct != nil && (f.Verdict == fit.Grows || f.Verdict == fit.Shrinks) {
			return *f.EstimatePct, true
		}
	}
	return 0, false
}
