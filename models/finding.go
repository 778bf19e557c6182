package models

import (
	"crypto/sha256"
	"encoding/hex"
	"math"
	"slices"
	"strings"

	"tenter/models/fit"
	"tenter/models/gauge"
)

// Finding is one thing that the diagnosis says, with the ids of what it is
// about. Its key is the same for the same kind, size, point (and version, once
// the point's count has changed), tester and axis, whatever the numbers are.
type Finding struct {
	Key     string
	Kind    string // cell, point, grading, tester, odd_value, readings or fabric
	Verdict fit.Verdict
	Axis    gauge.Axis
	SizeID, Size,
	PointID, Point string // Point as the message names it
	AssignmentID, ReportID, Who string
	Message                     string
	Numbers                     FindingNumbers
	// Asks tells whether somebody has to decide on it; what is nobody's fault, or
	// can't be told yet, asks for nothing.
	Asks bool
	// MoreReports of this size would tell; 0 for more than ten, nil where more
	// reports are not what is missing.
	MoreReports *int
	Counts      []string // names in the count sheet that the point is computed from
	VersionID   string   // whose counts; "" where it is all the same
}

// FindingNumbers are what a finding rests on and a decision is made on.
type FindingNumbers struct {
	Verdict     fit.Verdict   `json:"verdict"`
	EstimatePct *float64      `json:"estimate_pct,omitempty"`
	LoPct       *float64      `json:"lo_pct,omitempty"`
	HiPct       *float64      `json:"hi_pct,omitempty"`
	P           *float64      `json:"p,omitempty"`
	Reports     int           `json:"reports,omitempty"`
	MeasuredCM  *float64      `json:"measured_cm,omitempty"`
	Signature   fit.Signature `json:"signature,omitempty"`
	Sizes       []string      `json:"sizes,omitempty"`
	AsCount     *CountOffset  `json:"as_count,omitempty"`
}

// CountOffset is an offset as stitches or rows of the text.
type CountOffset struct {
	Unit     string  `json:"unit"`
	Count    float64 `json:"count"`
	Estimate float64 `json:"estimate"`
	Lo       float64 `json:"lo"`
	Hi       float64 `json:"hi"`
}

// A decided finding opens again when its numbers have changed materially.
const (
	materialPct  = 2.0  // percentage points that an estimate has moved (chosen)
	materialP    = 0.15 // by which its probability has moved (chosen)
	materialTape = 0.05 // cm: the number was measured again and is another (chosen)
)

// Changed says in words what has changed materially from the numbers that a
// decision was made on to those of now, "" for nothing. It is one of these:
// the verdict is another; the estimate has moved by more than 2 percentage
// points, or out of the interval that it had; its probability has moved by more
// than 0.15; the number itself was measured again and is another, or looks like
// another slip; other sizes are concerned. More reports alone are no change.
func (was FindingNumbers) Changed(now FindingNumbers) string {
	switch {
	case was.Verdict != now.Verdict:
		return "it is judged otherwise now"
	case !slices.Equal(was.Sizes, now.Sizes):
		return "other sizes are concerned now"
	case was.MeasuredCM != nil && now.MeasuredCM != nil && math.Abs(*was.MeasuredCM-*now.MeasuredCM) > materialTape:
		return "it was measured again and is another number now"
	case was.Signature != now.Signature:
		return "it looks like another slip now"
	case (was.EstimatePct == nil) != (now.EstimatePct == nil):
		return "how far it is off is told otherwise now"
	case was.EstimatePct != nil && was.moved(*now.EstimatePct):
		return "it was " + gauge.Decimal(*was.EstimatePct, 1) + " % off and is " + gauge.Decimal(*now.EstimatePct, 1) + " % now"
	case was.P != nil && now.P != nil && math.Abs(*was.P-*now.P) > materialP:
		return "it was " + gauge.Decimal(100**was.P, 0) + " % sure and is " + gauge.Decimal(100**now.P, 0) + " % now"
	}
	return ""
}

func (was FindingNumbers) moved(now float64) bool {
	outside := was.LoPct != nil && was.HiPct != nil && (now < *was.LoPct || now > *was.HiPct)
	return outside || math.Abs(now-*was.EstimatePct) > materialPct
}

// findingKey makes the stable key.
func (f *Finding) setKey() {
	h := sha256.Sum256([]byte(strings.Join([]string{f.Kind, f.SizeID, f.PointID, f.VersionID, f.AssignmentID, string(f.Axis)}, "\x00")))
	f.Key = f.Kind + "-" + hex.EncodeToString(h[:8])
}

// addFindings takes over the diagnosis' findings in its order, and the sheet's
// after what is wrong for everybody and before what is only suspected.
func (d *Diagnosis) addFindings(r *fitRound, sheet fit.Output) {
	grading := slices.DeleteFunc(slices.Clone(sheet.Findings), func(f fit.Finding) bool { return f.Kind != "grading" })
	all := slices.DeleteFunc(slices.Clone(d.Numbers.Findings), func(f fit.Finding) bool { return f.Kind == "grading" })
	worse := []fit.Verdict{fit.Fault, fit.AllSizesOff, fit.PointsDisagree}
	at := slices.IndexFunc(all, func(f fit.Finding) bool { return !slices.Contains(worse, f.Verdict) })
	if at < 0 {
		at = len(all)
	}
	all = slices.Insert(all, at, grading...)
	d.Numbers.Findings = all
	d.Findings = make([]Finding, len(all))
	for i, f := range all {
		d.Findings[i] = d.finding(r, f)
		d.remember(&d.Findings[i])
	}
}

func (d *Diagnosis) finding(r *fitRound, f fit.Finding) Finding {
	out := Finding{Kind: f.Kind, Verdict: f.Verdict, Axis: f.Axis, Size: f.Size, Point: f.Point, Message: f.Message, Asks: asks(f)}
	if f.Verdict == fit.ReadingsDisagree {
		out.Kind = "readings"
	}
	for _, z := range r.rows.sizes {
		if f.Size != "" && z.Name == f.Size {
			out.SizeID = z.ID
		}
	}
	if point, ok := r.points[f.Point]; ok && f.Point != "" {
		out.PointID, out.VersionID = point.ID, point.versionID
		out.Axis = gauge.Axis(point.Axis)
		out.Counts = r.countNames(point)
	}
	if piece := r.piece(f.Tester, f.Size); piece != nil && f.Tester != "" {
		out.AssignmentID, out.ReportID, out.Who = piece.AssignmentID, piece.ReportID, piece.who
	}
	d.fillNumbers(&out)
	out.setKey()
	return out
}

// countNames are the counts that a point is computed from, in the order of the
// latest version's sheet.
func (r *fitRound) countNames(point fitPoint) []string {
	v := r.rows.yardstick.versions[r.rows.latest.ID]
	if v == nil {
		return nil
	}
	expr, err := r.rows.yardstick.compiled.compile(point.Expr, v.joined)
	if err != nil {
		return nil
	}
	return expr.Names()
}

// asks tells whether a finding waits for somebody's decision.
func asks(f fit.Finding) bool { return f.Verdict != fit.Off && f.Verdict != fit.CannotTell }

// remember files what the board draws.
func (d *Diagnosis) remember(f *Finding) {
	switch f.Kind {
	case "odd_value", "readings":
		if at := (mark{f.ReportID, f.PointID}); d.odd[at] == nil {
			d.odd[at] = f
		}
	case "cell":
		if key := (cell{f.SizeID, f.PointID}); f.Asks && d.cells[key] == nil {
			d.cells[key] = f
		}
	}
}
