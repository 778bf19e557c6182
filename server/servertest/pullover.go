package servertest

import (
	_ "embed" // the invented design that tests work on
	"encoding/json"
	"fmt"
	"strings"

	"github.com/stretchr/testify/require"
)

// One invented design as a studio would have it on paper: count lines, points
// of measure, a sign-up form's export, testers' measurements.
var (
	//go:embed testdata/count-lines.txt
	CountLines string
	//go:embed testdata/points.json
	pointsJSON []byte
	//go:embed testdata/applicants.csv
	Applicants string
	//go:embed testdata/reports.csv
	Reports string
)

// Pullover is the design as it stands in a running server.
type Pullover struct {
	ID, Slug, VersionID, CallID string
	Sizes                       map[string]string // ids by name
	Points                      map[string]string // ids by name
}

// PointSheet is the designer's list of points.
type PointSheet struct {
	Points []struct {
		Name            string
		Axis            string
		Expr            string
		ToleranceCM     float64 `json:"tolerance_cm"`
		RepeatabilityCM float64 `json:"repeatability_cm"`
	}
	Sizes []struct {
		Name   string
		BustCM float64 `json:"bust_cm"`
	}
	EaseCM []float64 `json:"ease_cm"`
}

// ReadPoints reads the designer's list of points.
func (s *Studio) ReadPoints() PointSheet {
	s.T.Helper()
	var p PointSheet
	require.NoError(s.T, json.Unmarshal(pointsJSON, &p))
	return p
}

// NewPullover creates the design with its sizes, count sheet and points
// through the API, as a designer would: the counts as pasted pattern lines.
func (s *Studio) NewPullover(c *Client, name string) *Pullover {
	s.T.Helper()
	d := c.Post("/designs", map[string]any{"name": name, "craft": "crochet", "audience": "unisex", "terms": "us", "unit": "cm", "grouping": "1,3,3,2",
		"gauge": map[string]any{"stitches": 14, "rows": 11, "span": 10, "unit": "cm"}, "yarn": "a sturdy worsted", "tool": "5.5 mm hook", "tool_mm": 5.5}).Want(201).Map()
	p := &Pullover{ID: d["id"].(string), Slug: d["slug"].(string), Sizes: map[string]string{}, Points: map[string]string{}}
	p.VersionID = d["versions"].([]any)[0].(map[string]any)["id"].(string)
	sheet := s.ReadPoints()
	var sizes []map[string]any
	for i, z := range sheet.Sizes {
		sizes = append(sizes, map[string]any{"name": z.Name, "filmed": i == 3, "body": []any{map[string]any{"dimension": "bust", "value": z.BustCM, "unit": "cm"}}})
	}
	d = c.Put("/designs/"+p.ID+"/sizes", 1, map[string]any{"sizes": sizes}).Want(200).Map()
	for _, z := range d["sizes"].([]any) {
		p.Sizes[z.(map[string]any)["name"].(string)] = z.(map[string]any)["id"].(string)
	}
	s.putCounts(c, p)
	s.putPoints(c, p, sheet)
	return p
}

func (s *Studio) putCounts(c *Client, p *Pullover) {
	s.T.Helper()
	var read struct {
		Lists []struct {
			Name, Unit, Note string
			Values           []*float64
		}
		Problems []any
	}
	c.Post("/counts/read", map[string]any{"text": CountLines, "sizes": len(p.Sizes)}).Want(200).Into(&read)
	require.Empty(s.T, read.Problems)
	var lines []map[string]any
	for _, l := range read.Lists {
		lines = append(lines, map[string]any{"name": l.Name, "unit": l.Unit, "note": l.Note, "values": l.Values})
	}
	c.Put("/versions/"+p.VersionID+"/sheet", 1, map[string]any{"counts": lines, "rules": []any{
		map[string]any{"name": "panels meet", "kind": "holds", "expr": "left_front + back + right_front == body + 2"},
		map[string]any{"name": "stitch repeat", "kind": "multiple", "expr": "body", "of": 4, "plus": 2},
	}}).Want(200)
}

func (s *Studio) putPoints(c *Client, p *Pullover, sheet PointSheet) {
	s.T.Helper()
	var points []map[string]any
	for _, q := range sheet.Points {
		point := map[string]any{"name": q.Name, "axis": q.Axis, "expr": q.Expr, "tolerance": map[string]any{"value": q.ToleranceCM, "unit": "cm"},
			"repeatability_cm": q.RepeatabilityCM, "girth": strings.Contains("bust hem upper arm cuff", q.Name)}
		if q.Name == "bust" {
			point["body_dimension"], point["ease_low_cm"], point["ease_high_cm"] = "bust", sheet.EaseCM[0], sheet.EaseCM[1]
		}
		points = append(points, point)
	}
	d := c.Put("/designs/"+p.ID+"/points", 2, map[string]any{"points": points}).Want(200).Map()
	for _, q := range d["points"].([]any) {
		p.Points[q.(map[string]any)["name"].(string)] = q.(map[string]any)["id"].(string)
	}
	// What the designer intends is what the counts give at the design's gauge,
	// rounded to half a centimetre.
	var check struct {
		Finished []struct {
			Point, Size string
			Expected    float64
		}
	}
	c.Get("/versions/" + p.VersionID).Want(200).Into(&check)
	require.Len(s.T, check.Finished, len(p.Sizes)*len(points))
	intended := map[string][]map[string]any{}
	for _, f := range check.Finished {
		half := float64(int(f.Expected*2+0.5)) / 2
		intended[f.Point] = append(intended[f.Point], map[string]any{"size_id": p.Sizes[f.Size], "value": half, "unit": "cm"})
	}
	for i := range points {
		points[i]["id"] = p.Points[points[i]["name"].(string)]
		points[i]["intended"] = intended[points[i]["name"].(string)]
	}
	c.Put("/designs/"+p.ID+"/points", 3, map[string]any{"points": points}).Want(200)
}

// OpenCall opens a test call for the pullover with two to four testers a size.
func (s *Studio) OpenCall(c *Client, p *Pullover) {
	s.T.Helper()
	var slots []map[string]any
	for i := 1; i <= len(p.Sizes); i++ {
		slots = append(slots, map[string]any{"size_id": p.Sizes[fmt.Sprint(i)], "fewest": 2, "wanted": 3, "most": 4})
	}
	p.CallID = c.Post("/designs/"+p.ID+"/calls", map[string]any{"title": "First call", "opens_on": "2027-02-01", "due_on": "2027-03-12", "slots": slots}).Want(201).ID()
}
