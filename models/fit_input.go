package models

import (
	"fmt"
	"slices"

	"tenter/models/compare"
	"tenter/models/fit"
	"tenter/models/gauge"
)

// fitRound is one design's test as the diagnosis takes it. Names that people
// read stand for ids in its input, so that messages read well; the maps lead
// back.
type fitRound struct {
	rows   *fitRows
	input  fit.Input
	points map[string]fitPoint // by the name in the input
	pieces []fitPiece          // in the order of the input's testers
	places map[string]int      // of pieces, by name and size in the input
	labels map[string]string   // names of points in the input, by version, size and point
}

// fitPoint is a point under one count. A point whose count changed between the
// versions that testers made, or was mended after it was accepted as wrong, is
// several: what was made from another count says nothing about this one. The first of them keeps the point's own identity,
// so that what was decided on it stays decided.
type fitPoint struct {
	*Point
	versionID string // "" for the first
}

// fitPiece is one tester's piece with its name in the input.
type fitPiece struct {
	fitReport
	who string
}

// newFitRound builds the input from rows: all current reports of all calls.
func newFitRound(rows *fitRows) *fitRound {
	r := &fitRound{rows: rows, points: map[string]fitPoint{}, places: map[string]int{}, labels: map[string]string{}}
	g := rows.design.Gauge
	r.input = fit.Input{Round: rows.design.Slug, Craft: rows.design.Craft, Counts: map[string]map[string]float64{},
		DesignGauge: fit.DesignGauge{Stitch: g.Stitches, Row: g.Rows, OverCM: NewLength(g.Span, g.Unit).CM}}
	for _, z := range rows.sizes {
		r.input.Sizes = append(r.input.Sizes, z.Name)
		r.input.Counts[z.Name] = map[string]float64{}
	}
	for i := range rows.points {
		r.addPoint(&rows.points[i])
	}
	for _, report := range rows.reports {
		r.addPiece(report)
	}
	return r
}

// addPoint adds a point with its counts by size. Sizes that nobody has made
// yet have the latest version's.
func (r *fitRound) addPoint(point *Point) {
	r.addVariant(point, point.Name, "")
	for _, z := range r.rows.sizes {
		groups := r.variants(z.ID, point)
		if len(groups) == 0 {
			groups = [][]string{{r.rows.latest.ID}}
		}
		for n, versions := range groups {
			name := point.Name
			if n > 0 {
				name = fmt.Sprintf("%s in version %d", point.Name, r.rows.numbers[versions[0]])
				r.addVariant(point, name, versions[0])
			}
			for _, version := range versions {
				r.labels[version+z.ID+point.ID] = name
			}
			if count, ok := r.count(versions[0], z.ID, point); ok {
				r.input.Counts[z.Name][name] = count
			}
		}
	}
}

func (r *fitRound) addVariant(point *Point, name, version string) {
	if _, there := r.points[name]; there {
		return
	}
	r.points[name] = fitPoint{point, version}
	r.input.Points = append(r.input.Points, fit.Point{ID: name, Axis: gauge.Axis(point.Axis), AddCM: point.Add.CM,
		UCM: point.uncertainty(), Repeat: floatOf(point.Repeat)})
}

// variants groups the versions that testers made of a size by their counts of
// a point, and by whether they were made before or after the count was accepted
// as wrong: what is mended in the text need not show in the sheet. The first
// group holds the oldest version.
func (r *fitRound) variants(sizeID string, point *Point) [][]string {
	var groups [][]string
	mended := r.mended(sizeID, point)
	for _, version := range r.rows.made {
		if !slices.ContainsFunc(r.rows.reports, func(p fitReport) bool { return p.SizeID == sizeID && p.VersionID == version }) {
			continue
		}
		count, ok := r.count(version, sizeID, point)
		at := slices.IndexFunc(groups, func(group []string) bool {
			other, there := r.count(group[0], sizeID, point)
			return other == count && there == ok && mended(group[0]) == mended(version)
		})
		if at < 0 {
			groups = append(groups, []string{version})
		} else {
			groups[at] = append(groups[at], version)
		}
	}
	return groups
}

// mended tells of a version whether it was made after the count of a size and
// point was accepted as wrong.
func (r *fitRound) mended(sizeID string, point *Point) func(version string) bool {
	f := Finding{Kind: "cell", SizeID: sizeID, PointID: point.ID, Axis: gauge.Axis(point.Axis)}
	f.setKey()
	d := r.rows.decisions[f.Key]
	if d == nil {
		return func(string) bool { return false }
	}
	at, accepted := d.correctedFrom()
	return func(version string) bool { return accepted && r.rows.versions[version].CreatedAt.After(at) }
}

// count is a point's count where there is one that the diagnosis can take.
func (r *fitRound) count(version, sizeID string, point *Point) (float64, bool) {
	count, ok, err := r.rows.yardstick.count(version, sizeID, point)
	if err != nil || !ok || !(count > 0 && count <= 1e6) {
		return 0, false
	}
	per := r.input.DesignGauge.Stitch
	if point.Axis == string(gauge.Row) {
		per = r.input.DesignGauge.Row
	}
	cm := count * r.input.DesignGauge.OverCM / per
	return count, cm >= fit.MinExpectedCM && cm <= fit.MaxExpectedCM
}

// uncertainty is the point's own repeatability, or that of its kind: the same
// that a single report is compared with.
func (point *Point) uncertainty() *float64 {
	if point.RepeatabilityCM != nil && *point.RepeatabilityCM >= 0.01 {
		return point.RepeatabilityCM
	}
	longest := 0.0
	for _, m := range point.Intended {
		longest = max(longest, m.Length.CM)
	}
	cm := compare.KindOf(gauge.Axis(point.Axis), point.Girth, longest).RepeatabilityCM()
	return &cm
}

// sheetInput is the latest version's count sheet beside what is intended,
// without anybody's pieces: what its grading is judged by.
func (r *fitRound) sheetInput() fit.Input {
	in := r.input
	in.Testers, in.Points, in.Counts, in.IntendedCM = nil, nil, map[string]map[string]float64{}, map[string]map[string]float64{}
	for _, z := range r.rows.sizes {
		in.Counts[z.Name], in.IntendedCM[z.Name] = map[string]float64{}, map[string]float64{}
	}
	for _, q := range r.input.Points {
		point := r.points[q.ID]
		if point.versionID != "" {
			continue
		}
		in.Points = append(in.Points, q)
		for _, z := range r.rows.sizes {
			if count, ok := r.count(r.rows.latest.ID, z.ID, point.Point); ok {
				in.Counts[z.Name][q.ID] = count
			}
		}
		for _, m := range point.Intended {
			if z := r.rows.size(m.SizeID); z != nil {
				in.IntendedCM[z.Name][q.ID] = m.Length.CM
			}
		}
	}
	return in
}

// addPiece adds one report. Somebody who made a size in two calls is named
// apart from themself.
func (r *fitRound) addPiece(report fitReport) {
	z := r.rows.size(report.SizeID)
	if z == nil {
		return
	}
	who := report.Handle
	for n := 2; ; n++ {
		if _, taken := r.places[who+"\x00"+z.Name]; !taken {
			break
		}
		who = fmt.Sprintf("%s, piece %d", report.Handle, n)
	}
	t := fit.Tester{ID: who, Size: z.Name, Swatch: report.Swatch.counted()}
	for _, m := range report.measurements {
		name, known := r.labels[report.VersionID+report.SizeID+m.PointID]
		if known && m.Length.CM >= fit.MinMeasuredCM && m.Length.CM <= fit.MaxMeasuredCM {
			value := m.Length.Value
			t.Measurements = append(t.Measurements, fit.Measurement{Point: name, Value: &value, Unit: gauge.LengthUnit(m.Length.Unit)})
		}
	}
	r.places[who+"\x00"+z.Name] = len(r.pieces)
	r.pieces = append(r.pieces, fitPiece{report, who})
	r.input.Testers = append(r.input.Testers, t)
}

// piece finds a tester of the answer again.
func (r *fitRound) piece(who, size string) *fitPiece {
	at, ok := r.places[who+"\x00"+size]
	if !ok {
		return nil
	}
	return &r.pieces[at]
}

// counted is a swatch as the diagnosis takes it; an axis that was not counted,
// or not possibly so, is left out.
func (g SwatchGauge) counted() *fit.Swatch {
	if g.Span == nil || g.Unit == nil {
		return nil
	}
	on := func(count *float64) *gauge.Swatch {
		if count == nil {
			return nil
		}
		s := gauge.Swatch{Count: *count, Over: *g.Span, Unit: gauge.LengthUnit(*g.Unit)}
		if s.Check("") != nil {
			return nil
		}
		return &s
	}
	s := fit.Swatch{Stitch: on(g.Stitches), Row: on(g.Rows)}
	if s.Stitch == nil && s.Row == nil {
		return nil
	}
	return &s
}

func floatOf(n int) *float64 {
	f := float64(n)
	return &f
}
