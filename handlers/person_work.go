package handlers

import (
	"context"
	"net/http"
	"strings"

	"tenter/models"
)

// PersonWork is when somebody works for the studio.
type PersonWork struct {
	Days            []string     `json:"days"`
	HoursPerDay     float64      `json:"hours_per_day"`
	StitchesPerHour *float64     `json:"stitches_per_hour" doc:"As stated; null: learned from logged hours."`
	Away            []PersonAway `json:"away"`
	Revision        int          `json:"revision" doc:"The person's."`
}

// PersonAway is a stretch of days on which somebody does not work.
type PersonAway struct {
	From  models.Date `json:"from"`
	Until models.Date `json:"until" doc:"The last day away."`
}

func personWorkView(w *models.PersonWork, revision int) *one[PersonWork] {
	return &one[PersonWork]{etag(revision), PersonWork{Days: texts(w.DayList()), HoursPerDay: w.HoursPerDay, StitchesPerHour: w.StitchesPerHour, Revision: revision,
		Away: each(w.Away, func(a models.PersonAway) PersonAway { return PersonAway{a.FromOn, a.UntilOn} })}}
}

type putWorkInput struct {
	PersonPath
	Precondition
	Body struct {
		Days            []string     `json:"days" maxItems:"7"`
		HoursPerDay     float64      `json:"hours_per_day"`
		StitchesPerHour *float64     `json:"stitches_per_hour,omitempty"`
		Away            []PersonAway `json:"away,omitempty" maxItems:"100"`
	}
}

func (a *api) work() {
	add(a, operation("get-work", http.MethodGet, "/people/{person}/work", "When somebody works", "People"), a.getWork)
	add(a, operation("put-work", http.MethodPut, "/people/{person}/work", "Say when somebody works; your own, or as the designer anybody's", "People"), a.putWork)
}

func (a *api) getWork(ctx context.Context, _ models.Actor, in *PersonPath) (*one[PersonWork], error) {
	w, revision, err := a.Store.Work(ctx, in.Person)
	if err != nil {
		return nil, err
	}
	return personWorkView(w, revision), nil
}

func (a *api) putWork(ctx context.Context, actor models.Actor, in *putWorkInput) (*one[PersonWork], error) {
	revision, err := in.revision(func() (int, error) {
		p, err := a.Store.Person(ctx, in.Person)
		if err != nil {
			return 0, err
		}
		return p.Revision, nil
	})
	if err != nil {
		return nil, err
	}
	b := in.Body
	w, after, err := a.Store.PutWork(ctx, actor, in.Person, revision, models.PersonWork{Days: strings.Join(b.Days, ","), HoursPerDay: b.HoursPerDay,
		StitchesPerHour: b.StitchesPerHour, Away: each(b.Away, func(x PersonAway) models.PersonAway { return models.PersonAway{FromOn: x.From, UntilOn: x.Until} })})
	if err != nil {
		return nil, err
	}
	return personWorkView(w, after), nil
}
