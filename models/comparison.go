package models

import (
	"context"
	"fmt"

	"gorm.io/gorm"

	"tenter/models/compare"
	"tenter/models/gauge"
)

// Compared is one point of one report held against what its counts promise.
type Compared struct {
	Point    Point
	Readings []Length
	// Result is nil where nothing can be compared; Why then says why.
	Result *compare.Output
	Slips  []compare.Slip // questions that the number raises
	Why    string
}

// ComparedReport is a report with its comparison.
type ComparedReport struct {
	Report     *Report
	Assignment *Assignment
	Handle     string // of the tester; "" where only one report is compared
	Points     []Compared
	Gauge      []gauge.Difference // of the swatch against the design's gauge
}

// comparePoint holds the readings of one point against the yardstick.
func (y *yardstick) comparePoint(versionID, sizeID string, point *Point, swatch gauge.Gauge, readings []Length) Compared {
	c := Compared{Point: *point, Readings: readings}
	if len(readings) == 0 {
		c.Why = "Not measured."
		return c
	}
	count, ok, err := y.count(versionID, sizeID, point)
	switch {
	case err != nil:
		c.Why = "The point can't be computed: it " + calculationProblem(err) + "."
		return c
	case !ok:
		c.Why = "This size has no count for it in the version that was made."
		return c
	}
	in := y.compareInput(point, count, swatch, readings)
	out, err := compare.Measurement(in)
	if err != nil {
		c.Why = "It can't be compared: " + calculationProblem(err) + "."
		return c
	}
	c.Result = &out
	if c.Slips, err = compare.Slips(in); err != nil {
		c.Slips = nil // the measurement itself was taken above
	}
	return c
}

func (y *yardstick) compareInput(point *Point, count float64, swatch gauge.Gauge, readings []Length) compare.Input {
	in := compare.Input{Point: point.Name, Axis: gauge.Axis(point.Axis), Count: count, AddCM: point.Add.CM, Design: y.design.Gauge.gauge(),
		Own: swatch, ToleranceCM: point.Tolerance.CM, Girth: point.Girth, Unit: gauge.LengthUnit(y.design.Unit)}
	set(&in.RepeatabilityCM, point.RepeatabilityCM)
	for _, r := range readings {
		in.Measured = append(in.Measured, r.entered())
	}
	return in
}

// compare holds a whole report against the yardstick, in the order of the points.
func (y *yardstick) compare(r *Report, a *Assignment) ComparedReport {
	out := ComparedReport{Report: r, Assignment: a}
	swatch := r.Swatch.gauge()
	if swatch.Counted() {
		out.Gauge = gauge.AgainstStated(swatch, y.design.Gauge.gauge())
	}
	readings := map[string][]Length{}
	for _, m := range r.Measurements {
		readings[m.PointID] = append(readings[m.PointID], m.Length)
	}
	for i := range y.points {
		point := &y.points[i]
		out.Points = append(out.Points, y.comparePoint(a.VersionID, a.SizeID, point, swatch, readings[point.ID]))
	}
	return out
}

// CompareReport holds one report against what was expected of it.
func (s *Store) CompareReport(ctx context.Context, actor Actor, id string) (*ComparedReport, error) {
	db := s.read(ctx)
	r, err := reportIn(db, actor, id)
	if err != nil {
		return nil, err
	}
	a, err := assignmentFor(db, actor, r.AssignmentID)
	if err != nil {
		return nil, err
	}
	y, err := s.yardstickFor(ctx, a)
	if err != nil {
		return nil, err
	}
	out := y.compare(r, a)
	return &out, nil
}

// yardstickFor loads what one assignment's version promises.
func (s *Store) yardstickFor(ctx context.Context, a *Assignment) (*yardstick, error) {
	db := s.read(ctx)
	design, err := designIn(db, a.DesignID)
	if err != nil {
		return nil, err
	}
	points, err := pointsIn(db, []string{a.DesignID})
	if err != nil {
		return nil, err
	}
	return s.yardstickIn(db, design, points, "?", a.VersionID)
}

// PointSlip is a question about one number, asked while it is being entered.
type PointSlip struct {
	PointID string
	compare.Slip
}

// CheckEntry asks about likely slips in numbers that are not sent yet. It
// writes nothing, refuses nothing that could be sent, and is for the
// assignment's own tester and for staff.
func (s *Store) CheckEntry(ctx context.Context, actor Actor, assignmentID string, in NewReport) ([]PointSlip, error) {
	a, err := assignmentFor(s.read(ctx), actor, assignmentID)
	if err != nil {
		return nil, err
	}
	y, err := s.yardstickFor(ctx, a)
	if err != nil {
		return nil, err
	}
	known := map[string]bool{}
	for _, point := range y.points {
		known[point.ID] = true
	}
	if err := in.validate(known); err != nil {
		return nil, err
	}
	out := []PointSlip{}
	for _, c := range y.compare(&Report{Swatch: in.Swatch, Measurements: in.Measurements}, a).Points {
		for _, slip := range c.Slips {
			out = append(out, PointSlip{c.Point.ID, slip})
		}
	}
	return out, nil
}

// DesignComparison is every current report of a design against what was
// expected, in the order of sizes and then of sending.
type DesignComparison struct {
	Points []Point
	Rows   []ComparedReport
}

// CompareDesign holds all current reports of a design against their counts.
func (s *Store) CompareDesign(ctx context.Context, idOrSlug string) (*DesignComparison, error) {
	db := s.read(ctx)
	design, err := designIn(db, idOrSlug)
	if err != nil {
		return nil, err
	}
	points, err := pointsIn(db, []string{design.ID})
	if err != nil {
		return nil, err
	}
	y, err := s.yardstickIn(db, design, points, "SELECT version_id FROM assignments WHERE design_id = ?", design.ID)
	if err != nil {
		return nil, err
	}
	var reports []*Report
	err = db.Table("reports").Select("reports.*").Joins("JOIN assignments a ON a.id = reports.assignment_id").Joins("JOIN sizes z ON z.id = a.size_id").
		Where("a.design_id = ? AND a.withdrawn_at IS NULL AND reports.superseded_at IS NULL", design.ID).
		Order("z.position, reports.sent_at, reports.id").Find(&reports).Error
	if err != nil {
		return nil, fmt.Errorf("reports: %w", err)
	}
	if err := withReadings(db, reports); err != nil {
		return nil, err
	}
	made, err := makersIn(db, design.ID)
	if err != nil {
		return nil, err
	}
	out := &DesignComparison{Points: points}
	for _, r := range reports {
		maker := made[r.AssignmentID]
		row := y.compare(r, &maker.Assignment)
		row.Handle = maker.Handle
		out.Rows = append(out.Rows, row)
	}
	return out, nil
}

// maker is an assignment with its tester's handle.
type maker struct {
	Assignment
	Handle string
}

func makersIn(db *gorm.DB, designID string) (map[string]maker, error) {
	var rows []maker
	err := db.Table("assignments").Select("assignments.*, people.handle").Joins("JOIN people ON people.id = assignments.person_id").
		Where("assignments.design_id = ?", designID).Scan(&rows).Error
	if err != nil {
		return nil, fmt.Errorf("assignments: %w", err)
	}
	out := make(map[string]maker, len(rows))
	for _, m := range rows {
		out[m.ID] = m
	}
	return out, nil
}
