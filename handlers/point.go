package handlers

import (
	"context"

	"tenter/models"
)

// Point is a point of measure.
type Point struct {
	ID              string     `json:"id"`
	Position        int        `json:"position"`
	Name            string     `json:"name"`
	Axis            string     `json:"axis" enum:"stitch,row"`
	Expr            string     `json:"expr" doc:"Over the names of counts."`
	Add             Length     `json:"add"`
	Tolerance       Length     `json:"tolerance"`
	RepeatabilityCM *float64   `json:"repeatability_cm"`
	Repeat          int        `json:"repeat"`
	Girth           bool       `json:"girth" doc:"A full circumference, usually measured flat and doubled."`
	HowToMeasure    string     `json:"how_to_measure"`
	BodyDimension   *string    `json:"body_dimension"`
	EaseLowCM       *float64   `json:"ease_low_cm"`
	EaseHighCM      *float64   `json:"ease_high_cm"`
	Intended        []Intended `json:"intended"`
}

// Intended is what a size is meant to measure at a point.
type Intended struct {
	SizeID string `json:"size_id"`
	Length Length `json:"length"`
}

func pointView(q models.Point) Point {
	return Point{ID: q.ID, Position: q.Position, Name: q.Name, Axis: q.Axis, Expr: q.Expr, Add: lengthView(q.Add), Tolerance: lengthView(q.Tolerance),
		RepeatabilityCM: q.RepeatabilityCM, Repeat: q.Repeat, Girth: q.Girth, HowToMeasure: q.HowToMeasure, BodyDimension: q.BodyDimension,
		EaseLowCM: q.EaseLowCM, EaseHighCM: q.EaseHighCM,
		Intended: each(q.Intended, func(m models.IntendedMeasurement) Intended { return Intended{m.SizeID, lengthView(m.Length)} })}
}

type putPointsInput struct {
	DesignPath
	Precondition
	Body struct {
		Points []PointIn `json:"points" maxItems:"60"`
	}
}

// PointIn is a point as it is set; without an id it is a new one.
type PointIn struct {
	ID              string       `json:"id,omitempty" maxLength:"36"`
	Name            string       `json:"name"`
	Axis            string       `json:"axis" enum:"stitch,row"`
	Expr            string       `json:"expr"`
	Add             *LengthIn    `json:"add,omitempty"`
	Tolerance       LengthIn     `json:"tolerance"`
	RepeatabilityCM *float64     `json:"repeatability_cm,omitempty"`
	Repeat          *int         `json:"repeat,omitempty"`
	Girth           bool         `json:"girth,omitempty"`
	HowToMeasure    string       `json:"how_to_measure,omitempty"`
	BodyDimension   *string      `json:"body_dimension,omitempty"`
	EaseLowCM       *float64     `json:"ease_low_cm,omitempty"`
	EaseHighCM      *float64     `json:"ease_high_cm,omitempty"`
	Intended        []IntendedIn `json:"intended,omitempty" maxItems:"40"`
}

// IntendedIn is an intended measurement as it is set.
type IntendedIn struct {
	SizeID string  `json:"size_id" maxLength:"36"`
	Value  float64 `json:"value"`
	Unit   string  `json:"unit" enum:"cm,in"`
}

func (in PointIn) point() models.Point {
	q := models.Point{ID: in.ID, Name: in.Name, Axis: in.Axis, Expr: in.Expr, Add: models.NewLength(0, "cm"), Tolerance: in.Tolerance.length(),
		RepeatabilityCM: in.RepeatabilityCM, Repeat: 1, Girth: in.Girth, HowToMeasure: in.HowToMeasure, BodyDimension: in.BodyDimension,
		EaseLowCM: in.EaseLowCM, EaseHighCM: in.EaseHighCM}
	if in.Add != nil {
		q.Add = in.Add.length()
	}
	if in.Repeat != nil {
		q.Repeat = *in.Repeat
	}
	for _, m := range in.Intended {
		q.Intended = append(q.Intended, models.IntendedMeasurement{SizeID: m.SizeID, Length: models.NewLength(m.Value, m.Unit)})
	}
	return q
}

func (a *api) putPoints(ctx context.Context, actor models.Actor, in *putPointsInput) (*one[Design], error) {
	revision, err := in.revision(a.designRevision(ctx, in.Design))
	if err != nil {
		return nil, err
	}
	d, err := a.Store.PutPoints(ctx, actor, in.Design, revision, each(in.Body.Points, PointIn.point))
	if err != nil {
		return nil, err
	}
	return a.designView(ctx, d)
}
