package handlers

import (
	"context"
	"net/http"
	"time"

	"tenter/models"
	"tenter/models/fit"
)

// Diagnosis is what a design's reports say together, with what was decided on it.
type Diagnosis struct {
	Today       models.Date   `json:"today"`
	Design      DesignLine    `json:"design"`
	Version     Version       `json:"version" doc:"The latest."`
	Of          string        `json:"of" doc:"The state of the data that this was computed from."`
	Problem     string        `json:"problem,omitempty" doc:"Why nothing can be said."`
	Undecided   int           `json:"undecided" doc:"Findings that wait for a decision."`
	Findings    []FitFinding  `json:"findings" doc:"The most serious first."`
	Gone        []Decision    `json:"gone" doc:"Decisions on what is not found any more."`
	Pieces      []FitPiece    `json:"pieces" doc:"Who tested what."`
	Lines       []FitLine     `json:"lines" doc:"Every measured point beside where a sound piece of its maker would lie."`
	Sheet       []FitSheet    `json:"sheet" doc:"Counts of the latest version that miss what is intended."`
	Requests    []MeasureLine `json:"requests" doc:"Points that testers were asked to measure again."`
	ClearCells  int           `json:"clear_cells" doc:"Sizes and points that are right within their tolerance."`
	JudgedCells int           `json:"judged_cells" doc:"Sizes and points that somebody measured."`
}

// FitFinding is one thing worth acting on, in a sentence, with its numbers.
type FitFinding struct {
	Key          string         `json:"key" doc:"The same as long as kind, size, point, tester and axis are."`
	Kind         string         `json:"kind" enum:"cell,point,grading,tester,odd_value,readings,fabric"`
	Verdict      string         `json:"verdict"`
	Axis         string         `json:"axis,omitempty"`
	SizeID       string         `json:"size_id,omitempty"`
	Size         string         `json:"size,omitempty"`
	PointID      string         `json:"point_id,omitempty"`
	Point        string         `json:"point,omitempty" doc:"As the sentence names it."`
	AssignmentID string         `json:"assignment_id,omitempty"`
	ReportID     string         `json:"report_id,omitempty"`
	Who          string         `json:"who,omitempty"`
	Message      string         `json:"message"`
	Numbers      FindingNumbers `json:"numbers"`
	Asks         bool           `json:"asks" doc:"Somebody has to decide on it."`
	Waits        bool           `json:"waits" doc:"Nobody has, as things stand."`
	MoreReports  *int           `json:"more_reports,omitempty" doc:"Of this size, that should tell; 0 for more than ten."`
	Counts       []string       `json:"counts,omitempty" doc:"Lines of the count sheet that the point is computed from."`
	Decision     *Decision      `json:"decision"`
	Reopened     string         `json:"reopened,omitempty" doc:"What has changed since the decision, so that it does not count any more."`
}

// FindingNumbers are what a finding rests on.
type FindingNumbers struct {
	Verdict     string       `json:"verdict"`
	EstimatePct *float64     `json:"estimate_pct,omitempty"`
	LoPct       *float64     `json:"lo_pct,omitempty" doc:"95 %."`
	HiPct       *float64     `json:"hi_pct,omitempty"`
	P           *float64     `json:"p,omitempty" doc:"How sure it is, 0 to 1."`
	Reports     int          `json:"reports,omitempty"`
	MeasuredCM  *float64     `json:"measured_cm,omitempty"`
	Signature   string       `json:"signature,omitempty" doc:"The slip that it looks like."`
	Sizes       []string     `json:"sizes,omitempty"`
	AsCount     *CountOffset `json:"as_count,omitempty"`
}

// CountOffset is an offset as stitches or rows.
type CountOffset struct {
	Unit     string  `json:"unit"`
	Count    float64 `json:"count" doc:"That the sheet has."`
	Estimate float64 `json:"estimate" doc:"More than that; below zero for fewer."`
	Lo       float64 `json:"lo"`
	Hi       float64 `json:"hi"`
}

func findingNumbers(n models.FindingNumbers) FindingNumbers {
	out := FindingNumbers{string(n.Verdict), n.EstimatePct, n.LoPct, n.HiPct, n.P, n.Reports, n.MeasuredCM, string(n.Signature), n.Sizes, nil}
	if n.AsCount != nil {
		offset := CountOffset(*n.AsCount)
		out.AsCount = &offset
	}
	return out
}

func (n FindingNumbers) seen() models.FindingNumbers {
	return models.FindingNumbers{Verdict: fit.Verdict(n.Verdict), EstimatePct: n.EstimatePct, LoPct: n.LoPct, HiPct: n.HiPct, P: n.P, Reports: n.Reports,
		MeasuredCM: n.MeasuredCM, Signature: fit.Signature(n.Signature), Sizes: n.Sizes}
}

func findingView(f models.DecidedFinding) FitFinding {
	out := FitFinding{Key: f.Key, Kind: f.Kind, Verdict: string(f.Verdict), Axis: string(f.Axis), SizeID: f.SizeID, Size: f.Size, PointID: f.PointID, Point: f.Point,
		AssignmentID: f.AssignmentID, ReportID: f.ReportID, Who: f.Who, Message: f.Message, Numbers: findingNumbers(f.Numbers), Asks: f.Asks, Waits: f.Waits,
		MoreReports: f.MoreReports, Counts: f.Counts, Reopened: f.Reopened}
	if f.Decision != nil {
		d := decisionView(f.Decision)
		out.Decision = &d
	}
	return out
}

// FitPiece is one tester's piece.
type FitPiece struct {
	AssignmentID string       `json:"assignment_id"`
	ReportID     string       `json:"report_id"`
	Who          string       `json:"who"`
	SizeID       string       `json:"size_id"`
	Size         string       `json:"size"`
	Version      int          `json:"version"`
	Number       int          `json:"number" doc:"Of the report."`
	SentAt       time.Time    `json:"sent_at"`
	Approved     bool         `json:"approved"`
	Swatch       *SwatchGauge `json:"swatch"`
	Measured     int          `json:"measured" doc:"Points."`
}

func fitPiece(p models.Piece) FitPiece {
	return FitPiece{p.AssignmentID, p.ReportID, p.Who, p.SizeID, p.Size, p.VersionNumber, p.Number, p.Report.SentAt, p.Report.ApprovedAt != nil,
		swatchView(p.Report.Swatch), p.Measured}
}

// FitLine is one measured point of one piece. Lengths in cm.
type FitLine struct {
	ReportID         string  `json:"report_id"`
	AssignmentID     string  `json:"assignment_id"`
	Who              string  `json:"who"`
	SizeID           string  `json:"size_id"`
	PointID          string  `json:"point_id"`
	Point            string  `json:"point"`
	Axis             string  `json:"axis"`
	Measured         Length  `json:"measured" doc:"The last reading, as entered."`
	MeasuredCM       float64 `json:"measured_cm" doc:"Of all readings."`
	Readings         int     `json:"readings"`
	ExpectedDesignCM float64 `json:"expected_design_cm"`
	ExpectedOwnCM    float64 `json:"expected_own_cm" doc:"At the maker's own gauge; the design's where they told none."`
	LikelyCM         float64 `json:"likely_cm" doc:"The same with the fabric's growth."`
	LowCM            float64 `json:"low_cm" doc:"Of 20 sound pieces 19 lie between low and high."`
	HighCM           float64 `json:"high_cm"`
	Odd              bool    `json:"odd"`
}

func fitLine(l models.FitLine) FitLine {
	return FitLine{l.ReportID, l.AssignmentID, l.Who, l.SizeID, l.PointID, l.Point, string(l.Axis), lengthView(l.Measured), hundredth(l.MeasuredCM), l.Readings,
		hundredth(l.ExpectedDesignCM), hundredth(l.ExpectedOwnCM), hundredth(l.LikelyCM), hundredth(l.LowCM), hundredth(l.HighCM), l.Odd}
}

// FitSheet is one count that misses what is intended. Lengths in cm.
type FitSheet struct {
	PointID    string  `json:"point_id"`
	SizeID     string  `json:"size_id"`
	Size       string  `json:"size"`
	IntendedCM float64 `json:"intended_cm"`
	ExpectedCM float64 `json:"expected_cm" doc:"What the count gives."`
	LimitCM    float64 `json:"limit_cm" doc:"Half a repeat and a millimetre."`
}

func fitView(f *models.Fit) Diagnosis {
	out := Diagnosis{Today: f.Today, Design: designLine(*f.Design), Version: versionView(f.Version), Of: f.Said.Revision, Problem: f.Said.Problem, Undecided: f.Undecided,
		Findings: each(f.Findings, findingView), Gone: each(f.Gone, decisionView), Pieces: each(f.Said.Pieces, fitPiece), Lines: each(f.Said.Lines, fitLine),
		Requests: each(f.Requests, measureLine), JudgedCells: len(f.Said.Numbers.Cells)}
	out.Sheet = each(f.Said.Sheet, func(l models.SheetLine) FitSheet {
		return FitSheet{l.PointID, l.SizeID, l.Size, hundredth(l.IntendedCM), hundredth(l.ExpectedCM), hundredth(l.LimitCM)}
	})
	for _, c := range f.Said.Numbers.Cells {
		if c.Verdict == fit.Clear {
			out.ClearCells++
		}
	}
	return out
}

// FitNumbers is everything that the diagnosis computed, as it computed it.
type FitNumbers struct {
	Fabric    []fit.Fabric         `json:"fabric"`
	Cells     []FitCell            `json:"cells"`
	Testers   []fit.TesterOnAxis   `json:"testers"`
	OddValues []fit.OddValue       `json:"odd_values"`
	Points    []fit.PointVerdict   `json:"points"`
	Grading   []fit.GradingVerdict `json:"grading"`
	Reports   []fit.ReportLine     `json:"reports"`
}

// FitCell is one size at one point.
type FitCell struct {
	Size            string       `json:"size"`
	Point           string       `json:"point"`
	Reports         int          `json:"reports"`
	Used            int          `json:"used"`
	Verdict         string       `json:"verdict"`
	PFault          float64      `json:"p_fault"`
	PAny            float64      `json:"p_any"`
	TolPct          float64      `json:"tol_pct"`
	EstimatePct     *float64     `json:"estimate_pct,omitempty"`
	LoPct           *float64     `json:"lo_pct,omitempty"`
	HiPct           *float64     `json:"hi_pct,omitempty"`
	AsCount         *CountOffset `json:"as_count,omitempty"`
	MoreReports     *int         `json:"more_reports,omitempty" doc:"0 for more than ten."`
	VisibleWith3Pct *float64     `json:"visible_with_3_pct,omitempty"`
	Message         string       `json:"message"`
}

func fitCell(c fit.Cell) FitCell {
	out := FitCell{Size: c.Size, Point: c.Point, Reports: c.Reports, Used: c.Used, Verdict: string(c.Verdict), PFault: c.PFault, PAny: c.PAny, TolPct: c.TolPct,
		EstimatePct: c.EstimatePct, LoPct: c.LoPct, HiPct: c.HiPct, VisibleWith3Pct: c.VisibleWith3Pct, Message: c.Message}
	if c.AsCount != nil {
		offset := CountOffset(*c.AsCount)
		out.AsCount = &offset
	}
	if c.MoreReports != nil {
		more := int(*c.MoreReports)
		out.MoreReports = &more
	}
	return out
}

func (a *api) fits() {
	add(a, operation("get-fit", http.MethodGet, "/designs/{design}/fit", "What the reports say together: gauge, fabric, slip or the pattern", "Fit"), a.getFit)
	add(a, operation("get-fit-numbers", http.MethodGet, "/designs/{design}/fit/numbers", "All numbers behind it", "Fit"), a.getFitNumbers)
	add(a, created(operation("decide-finding", http.MethodPost, "/designs/{design}/fit/decisions", "Accept a finding, reject it with a reason, or leave it", "Fit")), a.postDecision)
	add(a, created(operation("ask-measure-again", http.MethodPost, "/designs/{design}/measure-requests", "Ask a tester to measure a point again", "Fit")), a.postMeasureRequest)
	add(a, operation("withdraw-measure-request", http.MethodPost, "/measure-requests/{request}/withdraw", "Take a request to measure again back", "Fit"), a.postMeasureRequestWithdrawn)
	add(a, operation("get-yarn", http.MethodGet, "/designs/{design}/yarn", "How much yarn to state for each size", "Fit"), a.getYarn)
	add(a, operation("put-yarn", http.MethodPut, "/designs/{design}/yarn", "State the yarn for each size, and the ball as it is sold", "Fit"), a.putYarn)
}

func (a *api) getFit(ctx context.Context, _ models.Actor, in *DesignPath) (*plain[Diagnosis], error) {
	f, err := a.Store.Fit(ctx, in.Design)
	if err != nil {
		return nil, err
	}
	return &plain[Diagnosis]{fitView(f)}, nil
}

func (a *api) getFitNumbers(ctx context.Context, _ models.Actor, in *DesignPath) (*plain[FitNumbers], error) {
	d, err := a.Store.Diagnosis(ctx, in.Design)
	if err != nil {
		return nil, err
	}
	n := d.Numbers
	return &plain[FitNumbers]{FitNumbers{each(n.Fabric, same), each(n.Cells, fitCell), each(n.Testers, same), each(n.OddValues, same),
		each(n.Points, same), each(n.Grading, same), each(n.Reports, same)}}, nil
}

// same keeps an empty list a list, not null.
func same[T any](v T) T { return v }
