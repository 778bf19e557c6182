package models

import (
	"context"
	"fmt"
	"maps"
	"strconv"
	"strings"

	"gorm.io/gorm"

	"tenter/models/gauge"
	"tenter/models/table"
)

// reportFields are what a table of reports may tell beside its points, with
// the headers that spreadsheets give them.
func reportFields(points []Point) []table.Field {
	fields := []table.Field{
		{Name: "handle", Required: true, Headers: []string{"Handle", "Tester", "Your handle"}},
		{Name: "size", Headers: []string{"Size", "Size made"}},
		{Name: "stitches", Headers: []string{"Stitches", "Swatch stitches", "Stitch gauge"}},
		{Name: "rows", Headers: []string{"Rows", "Swatch rows", "Row gauge"}},
		{Name: "over", Headers: []string{"Over", "Swatch over", "Span"}},
		{Name: "unit", Headers: []string{"Unit", "Units", "Measured in"}},
		{Name: "yarn_m", Headers: []string{"Yarn used (m)", "Metres used"}},
		{Name: "yarn_yd", Headers: []string{"Yarn used (yd)", "Yards used"}},
		{Name: "yarn_g", Headers: []string{"Yarn used (g)", "Grams used"}},
		{Name: "hours", Headers: []string{"Hours", "Hours taken"}},
		{Name: "note", Headers: []string{"Remarks", "Note", "Notes", "Comments"}},
	}
	for _, point := range points {
		fields = append(fields, table.Field{Name: pointField(point), Headers: []string{point.Name}})
	}
	return fields
}

// pointField is the name under which a point's column is asked for.
func pointField(p Point) string { return "point:" + p.Name }

// ReportTable is what a table of reports would bring.
type ReportTable struct {
	Columns []string
	Mapping map[string]string
	Rows    []ReportRow
}

// ReportRow is one row and what it comes to.
type ReportRow struct {
	Line     int
	Handle   string
	Size     string
	Measured int    // points in it
	State    string // "new", "same" or "changed"; "" with a problem
	Problem  string

	assignment *Assignment
	report     NewReport
}

// Bad returns the rows that can't be taken.
func (t ReportTable) Bad() []SkippedRow {
	var bad []SkippedRow
	for _, r := range t.Rows {
		if r.Problem != "" {
			bad = append(bad, SkippedRow{r.Line, r.Problem})
		}
	}
	return bad
}

// reportBook is what rows are held against: the design's points and sizes, the
// call's assignments by handle, and what their reports say now.
type reportBook struct {
	points      []Point
	sizeNames   map[string]string
	assignments map[string]*Assignment // by handle in lower case
	current     map[string]*Report     // by assignment
}

func reportBookIn(db *gorm.DB, call *TestCall) (*reportBook, error) {
	b := &reportBook{sizeNames: map[string]string{}, assignments: map[string]*Assignment{}, current: map[string]*Report{}}
	var err error
	if b.points, err = pointsIn(db, []string{call.DesignID}); err != nil {
		return nil, err
	}
	sizes, err := sizesIn(db, []string{call.DesignID})
	if err != nil {
		return nil, err
	}
	for _, z := range sizes {
		b.sizeNames[z.ID] = z.Name
	}
	made, err := makersIn(db, call.DesignID)
	if err != nil {
		return nil, err
	}
	for _, m := range made {
		if m.TestCallID == call.ID && m.WithdrawnAt == nil {
			a := m.Assignment
			b.assignments[strings.ToLower(m.Handle)] = &a
		}
	}
	var reports []*Report
	err = db.Table("reports").Select("reports.*").Joins("JOIN assignments a ON a.id = reports.assignment_id").
		Where("a.test_call_id = ? AND reports.superseded_at IS NULL", call.ID).Find(&reports).Error
	if err != nil {
		return nil, fmt.Errorf("reports: %w", err)
	}
	for _, r := range reports {
		b.current[r.AssignmentID] = r
	}
	return b, withReadings(db, reports)
}

// planReports works out what each row comes to.
func planReports(db *gorm.DB, call *TestCall, in Sheetful) (*ReportTable, error) {
	book, err := reportBookIn(db, call)
	if err != nil {
		return nil, err
	}
	rows, columns, err := in.read(reportFields(book.points))
	if err != nil {
		return nil, err
	}
	out := &ReportTable{Columns: rows.Header, Mapping: columns.Headers()}
	seen := map[string]int{}
	for _, row := range rows.Rows {
		r := book.row(columns, row)
		if key := strings.ToLower(r.Handle); r.Problem == "" {
			if line, twice := seen[key]; twice {
				r.State, r.Problem = "", fmt.Sprintf("Handle: %s has a row already, on line %d; keep the right one.", r.Handle, line)
			}
			seen[key] = row.Line
		}
		out.Rows = append(out.Rows, r)
	}
	return out, nil
}

// row reads one row and names everything wrong with it.
func (b *reportBook) row(c *table.Columns, row table.Row) ReportRow {
	out := ReportRow{Line: row.Line, Problem: row.Problem}
	if out.Problem != "" {
		return out
	}
	var p problems
	out.Handle, _ = c.Cell(row, "handle")
	out.assignment = b.assignmentFor(&p, c, row, out.Handle)
	out.report = b.report(&p, c, row)
	out.Measured = len(out.report.Measurements)
	known := map[string]bool{}
	for _, point := range b.points {
		known[point.ID] = true
	}
	if len(p.fields) == 0 {
		if err := out.report.validate(known); err != nil {
			p.addf("row", "%s", err.Error())
		}
	}
	if len(p.fields) > 0 {
		out.Problem = rowProblem(p, c)
		return out
	}
	out.Size = b.sizeNames[out.assignment.SizeID]
	out.State = "new"
	if now := b.current[out.assignment.ID]; now != nil {
		out.State = "changed"
		if sameReport(now, out.report) {
			out.State = "same"
		}
	}
	return out
}

// rowProblem tells each column at fault by the name it has in the table.
func rowProblem(p problems, c *table.Columns) string {
	said := make([]string, len(p.fields))
	for i, f := range p.fields {
		said[i] = orElse(c.Header(f.Field), strings.TrimPrefix(f.Field, "point:")) + ": " + f.Problem
	}
	return strings.Join(said, "; ") + "."
}

func (b *reportBook) assignmentFor(p *problems, c *table.Columns, row table.Row, handle string) *Assignment {
	a := b.assignments[strings.ToLower(strings.TrimPrefix(handle, "@"))]
	if a == nil {
		p.addf("handle", "%q has no size in this call; assign one first, or mend the name", clip(handle))
		return nil
	}
	if size, told := c.Cell(row, "size"); told && size != "" && sizeKey(size) != sizeKey(b.sizeNames[a.SizeID]) {
		p.addf("size", "is %s, but %s was assigned size %s; mend one of the two", clip(size), handle, b.sizeNames[a.SizeID])
	}
	return a
}

func (b *reportBook) report(p *problems, c *table.Columns, row table.Row) NewReport {
	unit := orElse(wordFrom(p, c, row, "unit", map[string]string{"cm": "cm", "centimetres": "cm", "in": "in", "inch": "in", "inches": "in"}, "cm or in"), "cm")
	out := NewReport{Swatch: swatchFrom(p, c, row), Hours: numberFrom(p, c, row, "hours")}
	out.Note, _ = c.Cell(row, "note")
	for field, yarnUnit := range map[string]string{"yarn_m": "m", "yarn_yd": "yd", "yarn_g": "g"} {
		if v := numberFrom(p, c, row, field); v != nil && out.Yarn.Value == nil {
			out.Yarn = Amount{Value: v, Unit: &yarnUnit}
		}
	}
	for _, point := range b.points {
		cell, _ := c.Cell(row, pointField(point))
		if cell == "" {
			continue // not measured
		}
		l, err := gauge.ParseLength(cell, gauge.LengthUnit(unit))
		if err != nil {
			p.addf(pointField(point), "%s", calculationProblem(err))
			continue
		}
		out.Measurements = append(out.Measurements, Measurement{PointID: point.ID, Length: NewLength(l.Value, string(l.Unit))})
	}
	return out
}

func swatchFrom(p *problems, c *table.Columns, row table.Row) SwatchGauge {
	g := SwatchGauge{Stitches: numberFrom(p, c, row, "stitches"), Rows: numberFrom(p, c, row, "rows")}
	if g.IsEmpty() {
		return SwatchGauge{}
	}
	over, _ := c.Cell(row, "over")
	if over == "" {
		p.addf("over", "is empty; say over which length the swatch was counted, like 10 cm or 4 in")
		return g
	}
	l, err := gauge.ParseLength(over, gauge.Centimetre)
	if err != nil {
		p.addf("over", "%s", calculationProblem(err))
		return g
	}
	unit := string(l.Unit)
	g.Span, g.Unit = &l.Value, &unit
	return g
}

// numberFrom reads a number with a decimal point or comma; nil for an empty cell.
func numberFrom(p *problems, c *table.Columns, row table.Row, field string) *float64 {
	cell, _ := c.Cell(row, field)
	if cell == "" {
		return nil
	}
	v, err := strconv.ParseFloat(strings.Replace(cell, ",", ".", 1), 64)
	if err != nil || v-v != 0 { // infinite and not-a-number both fail the second
		p.addf(field, "is %q; write a number, like 13.5", clip(cell))
		return nil
	}
	return &v
}

// sameReport tells whether a row says what the current report says already.
func sameReport(now *Report, row NewReport) bool {
	readings := func(ms []Measurement) map[string]Length {
		out := map[string]Length{}
		for _, m := range ms {
			out[m.PointID] = m.Length
		}
		return out
	}
	return equalPtr(now.Swatch.Stitches, row.Swatch.Stitches) && equalPtr(now.Swatch.Rows, row.Swatch.Rows) &&
		equalPtr(now.Swatch.Span, row.Swatch.Span) && equalPtr(now.Swatch.Unit, row.Swatch.Unit) &&
		equalPtr(now.Yarn.Value, row.Yarn.Value) && equalPtr(now.Yarn.Unit, row.Yarn.Unit) && equalPtr(now.Hours, row.Hours) &&
		now.Note == row.Note && maps.Equal(readings(now.Measurements), readings(row.Measurements))
}

func equalPtr[T comparable](a, b *T) bool {
	if a == nil || b == nil {
		return a == b
	}
	return *a == *b
}

// PreviewReports tells what an import of reports would do, and writes nothing.
func (s *Store) PreviewReports(ctx context.Context, callID string, in Sheetful) (*ReportTable, error) {
	db := s.read(ctx)
	call, err := callIn(db, callID)
	if err != nil {
		return nil, err
	}
	return planReports(db, call, in)
}

// ImportReports enters the reports of a table, all of them or none; with
// skipBad, all that can be read. A row that says what the current report says
// already changes nothing; another one becomes its next number.
func (s *Store) ImportReports(ctx context.Context, actor Actor, callID string, in Sheetful, skipBad bool) (*Import, error) {
	out := &Import{}
	err := s.change(ctx, actor, func(t *tx) error {
		call, err := t.openCall(callID)
		if err != nil {
			return err
		}
		plan, err := planReports(t.DB, call, in)
		if err != nil {
			return err
		}
		if out.Skipped = plan.Bad(); len(out.Skipped) > 0 && !skipBad {
			return refuseRows(out.Skipped, len(plan.Rows))
		}
		for _, r := range plan.Rows {
			switch r.State {
			case "new":
				out.Created++
			case "changed":
				out.Changed++
			case "same":
				out.Same++
				continue
			default:
				continue
			}
			if _, err := t.sendReport(r.assignment, "import", r.report); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return out, nil
}
