package handlers

import (
	"context"
	"net/http"
	"time"

	"tenter/models"
)

// Report is one sending of what a tester measured.
type Report struct {
	ID           string        `json:"id"`
	AssignmentID string        `json:"assignment_id"`
	Number       int           `json:"number"`
	SentAt       time.Time     `json:"sent_at"`
	Source       string        `json:"source" enum:"tester,import"`
	Swatch       *SwatchGauge  `json:"swatch"`
	Yarn         *Amount       `json:"yarn"`
	Hours        *float64      `json:"hours"`
	Note         string        `json:"note"`
	Measurements []Measurement `json:"measurements"`
	SupersededAt *time.Time    `json:"superseded_at" doc:"When a correction took its place."`
	ApprovedAt   *time.Time    `json:"approved_at"`
	Revision     int           `json:"revision"`
}

// Measurement is one reading of one point.
type Measurement struct {
	PointID string `json:"point_id"`
	Length  Length `json:"length"`
}

func reportView(r *models.Report) Report {
	return Report{ID: r.ID, AssignmentID: r.AssignmentID, Number: r.Number, SentAt: r.SentAt, Source: r.Source, Swatch: swatchView(r.Swatch),
		Yarn: amountView(r.Yarn), Hours: r.Hours, Note: r.Note, SupersededAt: r.SupersededAt, ApprovedAt: r.ApprovedAt, Revision: r.Revision,
		Measurements: each(r.Measurements, func(m models.Measurement) Measurement { return Measurement{m.PointID, lengthView(m.Length)} })}
}

// MeasurementIn is a reading as it is entered; the same point twice is a
// second reading of it.
type MeasurementIn struct {
	PointID string  `json:"point_id" maxLength:"36"`
	Value   float64 `json:"value"`
	Unit    string  `json:"unit" enum:"cm,in"`
}

// ReportIn is a report as it is sent.
type ReportIn struct {
	Swatch       *SwatchGauge    `json:"swatch,omitempty"`
	Measurements []MeasurementIn `json:"measurements,omitempty" maxItems:"600"`
	Yarn         *Amount         `json:"yarn,omitempty"`
	Hours        *float64        `json:"hours,omitempty"`
	Note         string          `json:"note,omitempty"`
	Remarks      []RemarkIn      `json:"remarks,omitempty" maxItems:"100"`
	Corrects     *int            `json:"corrects,omitempty" doc:"The number that this takes the place of; refused when it isn't the latest."`
}

func (in ReportIn) report() models.NewReport {
	return models.NewReport{Swatch: in.Swatch.gauge(), Yarn: in.Yarn.amount(), Hours: in.Hours, Note: in.Note, Corrects: in.Corrects,
		Measurements: each(in.Measurements, func(m MeasurementIn) models.Measurement {
			return models.Measurement{PointID: m.PointID, Length: models.NewLength(m.Value, m.Unit)}
		}),
		Remarks: each(in.Remarks, RemarkIn.remark)}
}

// ReportPath names a report.
type ReportPath struct {
	Report string `path:"report" maxLength:"36"`
}

type sendReportInput struct {
	AssignmentPath
	Body ReportIn
}

type checkEntryInput struct {
	AssignmentPath
	Body struct {
		Swatch       *SwatchGauge    `json:"swatch,omitempty"`
		Measurements []MeasurementIn `json:"measurements" minItems:"1" maxItems:"600"`
	}
}

// EntryQuestion is a soft warning: a number that looks like a slip.
type EntryQuestion struct {
	PointID  string   `json:"point_id"`
	Kind     string   `json:"kind"`
	WouldBe  LengthIn `json:"would_be" doc:"What it would be."`
	Sentence string   `json:"sentence"`
}

type entryQuestions struct {
	Body struct {
		Warnings []EntryQuestion `json:"warnings"`
	}
}

type approveInput struct {
	ReportPath
	Body struct {
		Approved bool `json:"approved"`
	}
}

func (a *api) reports() {
	add(a, created(operation("send-report", http.MethodPost, "/assignments/{assignment}/reports", "Send a report, or correct it by sending it again", "Reports")), a.postReport)
	add(a, operation("list-reports", http.MethodGet, "/assignments/{assignment}/reports", "A report and what it was before its corrections", "Reports"), a.getReports)
	add(a, operation("check-entry", http.MethodPost, "/assignments/{assignment}/check", "Ask about likely slips before sending; writes nothing", "Reports"), a.postCheck)
	add(a, operation("get-report", http.MethodGet, "/reports/{report}", "A report; for staff beside what was expected", "Reports"), a.getReport)
	add(a, operation("approve-report", http.MethodPost, "/reports/{report}/approve", "Take a report as it is, or take that back", "Reports"), a.postApprove)
	add(a, operation("compare-design", http.MethodGet, "/designs/{design}/comparison", "Every report beside what was expected", "Reports"), a.getComparison)
}

func (a *api) postReport(ctx context.Context, actor models.Actor, in *sendReportInput) (*made[Report], error) {
	r, err := a.Store.SendReport(ctx, actor, in.Assignment, in.Body.report())
	if err != nil {
		return nil, err
	}
	return &made[Report]{etag(r.Revision), Prefix + "/reports/" + r.ID, reportView(r)}, nil
}

func (a *api) getReports(ctx context.Context, actor models.Actor, in *AssignmentPath) (*listOf[Report], error) {
	rows, err := a.Store.Reports(ctx, actor, in.Assignment)
	if err != nil {
		return nil, err
	}
	return list(rows, "", reportView), nil
}

func (a *api) postCheck(ctx context.Context, actor models.Actor, in *checkEntryInput) (*entryQuestions, error) {
	entry := ReportIn{Swatch: in.Body.Swatch, Measurements: in.Body.Measurements}
	slips, err := a.Store.CheckEntry(ctx, actor, in.Assignment, entry.report())
	if err != nil {
		return nil, err
	}
	out := &entryQuestions{}
	out.Body.Warnings = each(slips, func(s models.PointSlip) EntryQuestion {
		// A tester measures blind: the question doesn't tell what is expected.
		return EntryQuestion{s.PointID, string(s.Kind), LengthIn{s.Meant.Value, string(s.Meant.Unit)}, s.Question}
	})
	return out, nil
}

func (a *api) postApprove(ctx context.Context, actor models.Actor, in *approveInput) (*one[Report], error) {
	r, err := a.Store.ApproveReport(ctx, actor, in.Report, in.Body.Approved)
	if err != nil {
		return nil, err
	}
	return &one[Report]{etag(r.Revision), reportView(r)}, nil
}
