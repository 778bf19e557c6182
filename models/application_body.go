package models

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"slices"
	"strings"

	"gorm.io/gorm"

	"tenter/models/assign"
)

// applicationBody is one measurement of an applicant's own body. It is for the
// person and the designer only, and never goes into the log of events, which
// the whole studio reads.
type applicationBody struct {
	ApplicationID string `gorm:"primaryKey"`
	Dimension     string `gorm:"primaryKey"`
	Length        Length `gorm:"embedded"`
}

func (applicationBody) TableName() string { return "application_body" }

func (t *tx) replaceOwnBody(applicationID string, body []BodyMeasurement) error {
	if err := t.Where("application_id = ?", applicationID).Delete(&applicationBody{}).Error; err != nil {
		return fmt.Errorf("body of applicant: %w", err)
	}
	rows := make([]applicationBody, len(body))
	for i, b := range body {
		rows[i] = applicationBody{applicationID, strings.TrimSpace(b.Dimension), b.Length}
	}
	if err := createAll(t.DB, rows); err != nil {
		return fmt.Errorf("body of applicant: %w", err)
	}
	return nil
}

// OwnBody is what an applicant told of their body, and the size that it
// speaks for.
type OwnBody struct {
	ApplicationID string
	DesignName    string
	Body          []BodyMeasurement
	Advice        *assign.Advice // nil: nothing told that decides
}

// ApplicationBody returns what an applicant told of their body: to them and to
// the designer; for everybody else there is nothing.
func (s *Store) ApplicationBody(ctx context.Context, actor Actor, id string) (*OwnBody, error) {
	db := s.read(ctx)
	a, err := first[Application](db, "application", "id = ?", id)
	if err != nil {
		return nil, err
	}
	if a.PersonID != actor.PersonID && !actor.Has(Designer) {
		return nil, notFound("application")
	}
	return ownBody(db, *a)
}

func ownBody(db *gorm.DB, a Application) (*OwnBody, error) {
	call, err := callIn(db, a.TestCallID)
	if err != nil {
		return nil, err
	}
	design, err := designIn(db, call.DesignID)
	if err != nil {
		return nil, err
	}
	var rows []applicationBody
	if err := db.Where("application_id = ?", a.ID).Order("dimension").Find(&rows).Error; err != nil {
		return nil, fmt.Errorf("body of applicant: %w", err)
	}
	out := &OwnBody{ApplicationID: a.ID, DesignName: design.Name}
	for _, r := range rows {
		out.Body = append(out.Body, BodyMeasurement{Dimension: r.Dimension, Length: r.Length})
	}
	fitting, err := fittingIn(db, call)
	if err != nil {
		return nil, err
	}
	out.Advice, err = fitting.advise(out.Body)
	return out, err
}

// MyBodies lists what the actor told of their body, application by
// application.
func (s *Store) MyBodies(ctx context.Context, actor Actor) ([]*OwnBody, error) {
	db := s.read(ctx)
	var rows []Application
	err := db.Where("person_id = ? AND EXISTS (SELECT 1 FROM application_body b WHERE b.application_id = applications.id)", actor.PersonID).
		Order("id DESC").Limit(mostBodies).Find(&rows).Error
	if err != nil {
		return nil, fmt.Errorf("my applications: %w", err)
	}
	out := make([]*OwnBody, len(rows))
	for i, a := range rows {
		if out[i], err = ownBody(db, a); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// mostBodies bounds a person's own list (chosen).
const mostBodies = 20

// ForgetBody takes away what an applicant told of their body, as they or the
// designer wish. The event tells that it happened, not what it was.
func (s *Store) ForgetBody(ctx context.Context, actor Actor, id string) error {
	return s.change(ctx, actor, func(t *tx) error {
		a, err := first[Application](t.DB, "application", "id = ?", id)
		if err != nil {
			return err
		}
		if a.PersonID != actor.PersonID && !actor.Has(Designer) {
			return notFound("application")
		}
		call, err := first[TestCall](t.DB, "test call", "id = ?", a.TestCallID)
		if err != nil {
			return err
		}
		if err := t.replaceOwnBody(id, nil); err != nil {
			return err
		}
		return t.record(call.DesignID, "application", id, "body measurements removed", nil, nil)
	})
}

// fitting is what a size can be advised from: the points of a design that
// belong to a dimension of the body and say what ease they want.
type fitting struct {
	sizes  []string
	points []fittingPoint
}

type fittingPoint struct {
	dimension string
	point     assign.FittingPoint
}

// fittingIn reads the sizes with places in a call and the points that decide,
// in the order of the points, in one statement.
func fittingIn(db *gorm.DB, call *TestCall) (*fitting, error) {
	f := &fitting{}
	at := map[string]int{}
	place := map[string]int{}
	sizes, err := sizesIn(db, []string{call.DesignID})
	if err != nil {
		return nil, err
	}
	for _, z := range sizes {
		if hasPlaces(call, z.ID) {
			place[z.ID] = len(f.sizes)
			f.sizes = append(f.sizes, z.Name)
		}
	}
	err = query(db, func(rows *sql.Rows) error {
		var (
			id, name, dimension, size string
			low, high, cm             float64
		)
		if err := rows.Scan(&id, &name, &dimension, &low, &high, &size, &cm); err != nil {
			return err
		}
		i, known := at[id]
		if !known {
			i = len(f.points)
			at[id] = i
			f.points = append(f.points, fittingPoint{dimension, assign.FittingPoint{Name: name, EaseLowCM: low, EaseHighCM: high, FinishedCM: make([]*float64, len(f.sizes))}})
		}
		if z, wanted := place[size]; wanted {
			f.points[i].point.FinishedCM[z] = &cm
		}
		return nil
	}, `SELECT p.id, p.name, p.body_dimension, p.ease_low_cm, p.ease_high_cm, i.size_id, i.cm
		FROM points p JOIN intended_measurements i ON i.point_id = p.id
		WHERE p.design_id = ? AND p.body_dimension IS NOT NULL AND p.ease_low_cm IS NOT NULL AND p.ease_high_cm IS NOT NULL
		ORDER BY p.position, i.size_id`, call.DesignID)
	if err != nil {
		return nil, fmt.Errorf("what decides the fit: %w", err)
	}
	return f, nil
}

// dimensions lists the measurements of the body that decide, each once.
func (f *fitting) dimensions() []string {
	var out []string
	for _, p := range f.points {
		if !slices.Contains(out, p.dimension) {
			out = append(out, p.dimension)
		}
	}
	return out
}

// advise gives the size nearest by the design's ease; nil when nothing that
// was told decides, or no size has what it takes.
func (f *fitting) advise(body []BodyMeasurement) (*assign.Advice, error) {
	in := assign.Fitting{Sizes: f.sizes}
	for _, p := range f.points {
		for _, b := range body {
			if strings.EqualFold(b.Dimension, p.dimension) {
				q := p.point
				q.BodyCM = b.Length.CM
				in.Points = append(in.Points, q)
			}
		}
	}
	if len(in.Points) == 0 || len(f.sizes) == 0 {
		return nil, nil
	}
	advice, err := assign.NearestSize(in)
	var field *assign.FieldError
	if errors.As(err, &field) && field.Field == "points" {
		return nil, nil // no size says what it measures there
	}
	if err != nil {
		return nil, err
	}
	return &advice, nil
}

// AdviseSize gives the size of a call nearest to a body, to whoever has the
// link of its sign-up page. Nothing of it is kept.
func (s *Store) AdviseSize(ctx context.Context, token string, body []BodyMeasurement) (*assign.Advice, error) {
	db := s.read(ctx)
	_, call, err := openSignUp(db, token, s.Now())
	if err != nil {
		return nil, err
	}
	var p problems
	checkBody(&p, "body", body)
	if err := p.err(); err != nil {
		return nil, err
	}
	f, err := fittingIn(db, call)
	if err != nil {
		return nil, err
	}
	return f.advise(body)
}
