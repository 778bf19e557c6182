package handlers

import (
	"context"
	"time"

	"tenter/models"
)

// MeasureLine is a request to measure a point or the swatch again, with its answer.
type MeasureLine struct {
	ID           string     `json:"id"`
	AssignmentID string     `json:"assignment_id"`
	Who          string     `json:"who"`
	SizeID       string     `json:"size_id"`
	PointID      *string    `json:"point_id" doc:"Null: the swatch."`
	Point        string     `json:"point"`
	Why          string     `json:"why" doc:"In words to the tester."`
	AskedAt      time.Time  `json:"asked_at"`
	Was          *Length    `json:"was" doc:"What the report said when it was asked."`
	AnsweredAt   *time.Time `json:"answered_at"`
	ReportID     *string    `json:"report_id" doc:"That answered."`
	Now          *Length    `json:"now"`
	Same         bool       `json:"same" doc:"To half a centimetre: then it was no slip, but made so."`
	WithdrawnAt  *time.Time `json:"withdrawn_at"`
	Revision     int        `json:"revision"`
}

func measureLine(m models.MeasureRequest) MeasureLine {
	out := MeasureLine{ID: m.ID, AssignmentID: m.AssignmentID, Who: m.Handle, SizeID: m.SizeID, PointID: m.PointID, Point: m.Point, Why: m.Why, AskedAt: m.AskedAt,
		AnsweredAt: m.AnsweredAt, ReportID: m.ReportID, Same: m.Same(), WithdrawnAt: m.WithdrawnAt, Revision: m.Revision}
	if m.Was != nil {
		was := lengthView(*m.Was)
		out.Was = &was
	}
	if m.Now != nil {
		now := lengthView(*m.Now)
		out.Now = &now
	}
	return out
}

// MeasureAgain is a request as its tester sees it.
type MeasureAgain struct {
	PointID *string   `json:"point_id" doc:"Null: the swatch."`
	Why     string    `json:"why"`
	AskedAt time.Time `json:"asked_at"`
}

func measureAgain(m models.MeasureRequest) MeasureAgain {
	return MeasureAgain{m.PointID, m.Why, m.AskedAt}
}

type measureRequestInput struct {
	DesignPath
	Body struct {
		AssignmentID string  `json:"assignment_id" maxLength:"36"`
		PointID      *string `json:"point_id,omitempty" maxLength:"36" doc:"Absent: the swatch."`
		Why          string  `json:"why,omitempty" doc:"The tester reads it; don't say what is expected, so that they measure blind."`
	}
}

type withdrawRequestInput struct {
	Request string `path:"request" maxLength:"36"`
	Precondition
}

func (a *api) postMeasureRequest(ctx context.Context, actor models.Actor, in *measureRequestInput) (*made[MeasureLine], error) {
	m, err := a.Store.AskToMeasureAgain(ctx, actor, in.Design, models.NewMeasureRequest{AssignmentID: in.Body.AssignmentID, PointID: in.Body.PointID, Why: in.Body.Why})
	if err != nil {
		return nil, err
	}
	return &made[MeasureLine]{etag(m.Revision), Prefix + "/designs/" + m.DesignID + "/fit", measureLine(*m)}, nil
}

func (a *api) postMeasureRequestWithdrawn(ctx context.Context, actor models.Actor, in *withdrawRequestInput) (*one[MeasureLine], error) {
	revision, err := in.revision(func() (int, error) {
		m, err := a.Store.MeasureRequest(ctx, in.Request)
		if err != nil {
			return 0, err
		}
		return m.Revision, nil
	})
	if err != nil {
		return nil, err
	}
	m, err := a.Store.WithdrawMeasureRequest(ctx, actor, in.Request, revision)
	if err != nil {
		return nil, err
	}
	return &one[MeasureLine]{etag(m.Revision), measureLine(*m)}, nil
}
