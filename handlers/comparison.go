package handlers

import (
	"context"

	"tenter/models"
	"tenter/models/gauge"
)

// Comparison is one point of one piece beside what was expected of it.
type Comparison struct {
	PointID        string          `json:"point_id"`
	Point          string          `json:"point"`
	Axis           string          `json:"axis"`
	ExpectedCM     *float64        `json:"expected_cm" doc:"At the design's gauge."`
	ExpectedOwnCM  *float64        `json:"expected_own_cm" doc:"At the maker's own gauge; null when it isn't known."`
	Measured       *Length         `json:"measured" doc:"The last reading; null when the point wasn't measured."`
	MeasuredCM     *float64        `json:"measured_cm" doc:"Of all readings."`
	DifferenceCM   *float64        `json:"difference_cm" doc:"Measured less expected at the design's gauge."`
	ExplainedCM    *float64        `json:"explained_cm" doc:"The part that the maker's gauge explains."`
	ResidualCM     *float64        `json:"residual_cm" doc:"What is left."`
	UncertaintyCM  *float64        `json:"uncertainty_cm" doc:"Standard uncertainty of what is left."`
	SharePercent   *float64        `json:"share_percent" doc:"How much of the difference the maker's gauge explains; null when that can't be said."`
	AtOwnGaugeCM   *float64        `json:"at_own_gauge_cm" doc:"Where the piece would be, had its maker kept the design's gauge."`
	ToleranceCM    float64         `json:"tolerance_cm"`
	Within         *bool           `json:"within" doc:"Within the tolerance of what was expected at the design's gauge."`
	ResidualWithin *bool           `json:"residual_within" doc:"What is left is within the tolerance."`
	Verdict        string          `json:"verdict,omitempty"`
	Sentence       string          `json:"sentence"`
	Warnings       []EntryQuestion `json:"warnings"`
}

func comparisonView(c models.Compared) Comparison {
	out := Comparison{PointID: c.Point.ID, Point: c.Point.Name, Axis: c.Point.Axis, ToleranceCM: c.Point.Tolerance.CM, Sentence: c.Why, Warnings: []EntryQuestion{}}
	if n := len(c.Readings); n > 0 {
		last := lengthView(c.Readings[n-1])
		out.Measured = &last
	}
	for _, s := range c.Slips {
		out.Warnings = append(out.Warnings, EntryQuestion{c.Point.ID, string(s.Kind), LengthIn{s.Meant.Value, string(s.Meant.Unit)}, s.Message})
	}
	r := c.Result
	if r == nil {
		return out
	}
	out.ExpectedCM, out.ExpectedOwnCM, out.MeasuredCM, out.DifferenceCM = &r.ExpectedDesignCM, r.ExpectedOwnCM, &r.MeasuredCM, &r.DifferenceCM
	out.ExplainedCM, out.UncertaintyCM, out.SharePercent = r.ExplainedCM, &r.ResidualUncertainty, r.SharePercent
	if r.ExpectedOwnCM != nil {
		out.ResidualCM, out.ResidualWithin = &r.ResidualCM, &r.ResidualWithin
	}
	out.AtOwnGaugeCM, out.Within, out.Verdict, out.Sentence = &r.AtOwnGaugeCM, &r.WithinTolerance, string(r.Verdict), r.Message
	return out
}

// GaugeComparison is a swatch beside the design's gauge.
type GaugeComparison struct {
	StitchPercent *float64 `json:"stitch_percent" doc:"More stitches over the span than the design's gauge, in percent."`
	RowPercent    *float64 `json:"row_percent"`
	Sentence      string   `json:"sentence"`
}

func gaugeComparison(differences []gauge.Difference) GaugeComparison {
	out := GaugeComparison{Sentence: "No swatch was reported."}
	for i, d := range differences {
		if d.Verdict == gauge.NotCounted {
			continue
		}
		percent := d.Percent
		if d.Axis == gauge.Stitch {
			out.StitchPercent = &percent
		} else {
			out.RowPercent = &percent
		}
		if i == 0 || out.Sentence == "No swatch was reported." {
			out.Sentence = d.Message
		} else {
			out.Sentence += " " + d.Message
		}
	}
	return out
}

// ComparedReport is a report beside what was expected of it. Its own tester
// sees it without the comparison: a correction has to be measured blind too.
type ComparedReport struct {
	Report
	Assignment AssignmentRef    `json:"assignment"`
	Comparison []Comparison     `json:"comparison,omitempty"`
	Gauge      *GaugeComparison `json:"gauge,omitempty"`
}

// AssignmentRef places a report.
type AssignmentRef struct {
	ID      string `json:"id"`
	Handle  string `json:"handle"`
	Size    string `json:"size"`
	SizeID  string `json:"size_id"`
	Version int    `json:"version"`
	Design  string `json:"design" doc:"Its slug."`
	Name    string `json:"design_name"`
}

func (a *api) getReport(ctx context.Context, actor models.Actor, in *ReportPath) (*one[ComparedReport], error) {
	c, err := a.Store.CompareReport(ctx, actor, in.Report)
	if err != nil {
		return nil, err
	}
	line, err := a.Store.Assignment(ctx, actor, c.Assignment.ID)
	if err != nil {
		return nil, err
	}
	out := ComparedReport{Report: reportView(c.Report), Assignment: AssignmentRef{ID: line.ID, Handle: line.Handle, Size: line.SizeName, SizeID: line.SizeID,
		Version: line.VersionNumber, Design: line.DesignSlug, Name: line.DesignName}}
	if actor.IsStaff() {
		g := gaugeComparison(c.Gauge)
		out.Comparison, out.Gauge = each(c.Points, comparisonView), &g
	}
	return &one[ComparedReport]{etag(c.Report.Revision), out}, nil
}

// DesignComparison is every current report of a design beside what was expected.
type DesignComparison struct {
	Points []PointRef      `json:"points"`
	Rows   []ComparisonRow `json:"rows"`
}

// PointRef names a column.
type PointRef struct {
	ID          string  `json:"id"`
	Name        string  `json:"name"`
	Axis        string  `json:"axis"`
	ToleranceCM float64 `json:"tolerance_cm"`
}

// ComparisonRow is one report.
type ComparisonRow struct {
	ReportID   string          `json:"report_id"`
	Handle     string          `json:"handle"`
	SizeID     string          `json:"size_id"`
	Number     int             `json:"number"`
	Approved   bool            `json:"approved"`
	Swatch     *SwatchGauge    `json:"swatch"`
	Gauge      GaugeComparison `json:"gauge"`
	Yarn       *Amount         `json:"yarn"`
	Comparison []Comparison    `json:"cells"`
}

func (a *api) getComparison(ctx context.Context, _ models.Actor, in *DesignPath) (*plain[DesignComparison], error) {
	c, err := a.Store.CompareDesign(ctx, in.Design)
	if err != nil {
		return nil, err
	}
	out := DesignComparison{
		Points: each(c.Points, func(q models.Point) PointRef { return PointRef{q.ID, q.Name, q.Axis, q.Tolerance.CM} }),
		Rows: each(c.Rows, func(r models.ComparedReport) ComparisonRow {
			return ComparisonRow{ReportID: r.Report.ID, Handle: r.Handle, SizeID: r.Assignment.SizeID, Number: r.Report.Number,
				Approved: r.Report.ApprovedAt != nil, Swatch: swatchView(r.Report.Swatch), Gauge: gaugeComparison(r.Gauge),
				Yarn: amountView(r.Report.Yarn), Comparison: each(r.Points, comparisonView)}
		}),
	}
	return &plain[DesignComparison]{out}, nil
}
