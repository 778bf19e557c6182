package handlers

import (
	"context"
	"time"

	"tenter/models"
)

// AssignmentWork is what a tester works from. Nothing in it tells what the
// piece is expected to measure: a tester measures blind.
type AssignmentWork struct {
	Assignment
	Design          WorkDesign     `json:"design"`
	CallTitle       string         `json:"call_title"`
	Confidentiality string         `json:"confidentiality" doc:"What testers agree to until release."`
	Counts          []SizeCount    `json:"counts" doc:"Of this size, in the text's order; lines that it skips are left out."`
	Points          []WorkPoint    `json:"points"`
	ReadsIn         string         `json:"reads_in" enum:"us,uk" doc:"The tester's terms: notes and instructions are given in them, and a word that means different stitches in the two has its terms beside it."`
	AsWritten       bool           `json:"as_written" doc:"Something mixes the two terms and stands as it was written."`
	Changed         *Changed       `json:"changed" doc:"What the latest version has otherwise for this size; null when nothing."`
	MeasureAgain    []MeasureAgain `json:"measure_again" doc:"Points that the studio asks to be measured again."`
	Report          *Report        `json:"report" doc:"The latest sending; null before the first."`
	History         []Sending      `json:"history" doc:"Every sending, the first one first."`
	Sections        []string       `json:"sections" doc:"Of the work, for check-ins."`
	CheckIns        []Progress     `json:"check_ins" doc:"The newest first."`
	Remarks         []Remark       `json:"remarks" doc:"The tester's own, the newest first."`

	Corrections []PieceCorrection `json:"corrections" doc:"Of the version that is made, where they change something in this size."`
}

// Changed is what the latest version has otherwise than the one a tester makes.
type Changed struct {
	Version    int           `json:"version" doc:"The latest."`
	GivenOutAt *time.Time    `json:"given_out_at" doc:"Null while no tester has it."`
	Counts     []CountChange `json:"counts"`
}

// CountChange is one count of a size in both; null where the size has no such line.
type CountChange struct {
	Name   string   `json:"name"`
	Unit   string   `json:"unit"`
	Before *float64 `json:"before"`
	After  *float64 `json:"after"`
}

// Sending is one sending of a report, without its numbers.
type Sending struct {
	ID     string    `json:"id"`
	Number int       `json:"number"`
	SentAt time.Time `json:"sent_at"`
	Source string    `json:"source" enum:"tester,import"`
}

// WorkDesign is of a design what a tester needs.
type WorkDesign struct {
	AssignedDesign
	Craft  string   `json:"craft" enum:"crochet,knit"`
	Terms  string   `json:"terms" enum:"us,uk" doc:"Of the text."`
	Unit   string   `json:"unit" enum:"cm,in"`
	Gauge  Gauge    `json:"gauge"`
	Yarn   string   `json:"yarn"`
	Tool   string   `json:"tool"`
	ToolMM *float64 `json:"tool_mm"`
	Note   string   `json:"note"`
}

// SizeCount is one line of the count sheet for one size.
type SizeCount struct {
	Name  string  `json:"name"`
	Unit  string  `json:"unit" enum:"stitch,row,repeat,row_number"`
	Note  string  `json:"note"`
	Value float64 `json:"value"`
}

// WorkPoint says where and how to measure.
type WorkPoint struct {
	ID           string `json:"id"`
	Name         string `json:"name"`
	Axis         string `json:"axis" enum:"stitch,row"`
	Girth        bool   `json:"girth" doc:"A full circumference, usually measured flat and doubled."`
	HowToMeasure string `json:"how_to_measure"`
}

func workView(w *models.AssignmentWork) AssignmentWork {
	d := w.Design
	out := AssignmentWork{
		Assignment: assignmentView(w.Line),
		Design: WorkDesign{AssignedDesign: AssignedDesign{d.ID, d.Slug, d.Name}, Craft: d.Craft, Terms: d.Terms, Unit: d.Unit,
			Gauge: gaugeView(d.Gauge), Yarn: d.Yarn, Tool: d.Tool, ToolMM: d.ToolMM, Note: d.Note},
		CallTitle: w.Call.Title, Confidentiality: w.Call.Confidentiality,
		Counts:   each(w.Counts, func(c models.SizeCount) SizeCount { return SizeCount(c) }),
		Points:   each(w.Points, func(q models.Point) WorkPoint { return WorkPoint{q.ID, q.Name, q.Axis, q.Girth, q.HowToMeasure} }),
		History:  each(w.Reports, func(r *models.Report) Sending { return Sending{r.ID, r.Number, r.SentAt, r.Source} }),
		Remarks:  each(w.Remarks, remarkView),
		Sections: w.Call.SectionNames(), CheckIns: each(w.CheckIns, checkInView),
		MeasureAgain: each(w.Asked, measureAgain), Corrections: each(w.Corrections, pieceCorrection),
	}
	out.ReadsIn, out.AsWritten = w.ReadsIn, w.AsWritten
	if c := w.Changed; c != nil {
		out.Changed = &Changed{c.Version.Number, c.Version.GivenOutAt, each(c.Changes, func(d models.CountChange) CountChange {
			return CountChange(d)
		})}
	}
	if n := len(w.Reports); n > 0 {
		latest := reportView(w.Reports[n-1])
		out.Report = &latest
	}
	return out
}

func (a *api) getAssignment(ctx context.Context, actor models.Actor, in *AssignmentPath) (*one[AssignmentWork], error) {
	w, err := a.Store.AssignmentWork(ctx, actor, in.Assignment)
	if err != nil {
		return nil, err
	}
	return &one[AssignmentWork]{etag(w.Line.Revision), workView(w)}, nil
}
