package handlers

import (
	"context"
	"net/http"
	"time"

	"tenter/models"
)

// PersonData is everything that is kept about one person.
type PersonData struct {
	At       time.Time     `json:"at"`
	Handle   string        `json:"handle"`
	Sections []DataSection `json:"sections"`
}

// DataSection is what is kept of one kind.
type DataSection struct {
	Name string           `json:"name"`
	Says string           `json:"says" doc:"What it is and what it is kept for."`
	Rows []map[string]any `json:"rows" doc:"As it stands in the database, column by column."`
}

// dataAnswer can be kept as a file and is kept by nobody on the way.
type dataAnswer struct {
	Disposition  string `header:"Content-Disposition"`
	CacheControl string `header:"Cache-Control"`
	Body         PersonData
}

type forgetMeInput struct {
	Body struct {
		Confirm  string `json:"confirm" maxLength:"100" doc:"Your handle once more: this can't be undone."`
		Password string `json:"password" maxLength:"200"`
	}
}

type forgetPersonInput struct {
	PersonPath
	Body struct {
		Confirm string `json:"confirm" maxLength:"100" doc:"The handle of whom to forget: this can't be undone."`
	}
}

// IdleTesters are the testers who have not taken part for some months.
type IdleTesters struct {
	Months int          `json:"months"`
	Since  time.Time    `json:"since"`
	People []IdlePerson `json:"people"`
}

// IdlePerson is one of them.
type IdlePerson struct {
	ID     string `json:"id"`
	Handle string `json:"handle"`
}

type idleQuery struct {
	Months int `query:"months" required:"true" minimum:"1" maximum:"240" doc:"For how long they have not taken part."`
}

func (a *api) personData() {
	add(a, operation("get-my-data", http.MethodGet, "/me/data", "Everything that is kept about me", "Sign-in"), a.getMyData)
	add(a, operation("forget-me", http.MethodPost, "/me/forget", "Erase what is kept about me", "Sign-in"), a.postForgetMe)
	add(a, operation("get-person-data", http.MethodGet, "/people/{person}/data", "Everything that is kept about somebody", "People"), a.getPersonData)
	add(a, operation("forget-person", http.MethodPost, "/people/{person}/forget", "Erase what is kept about somebody, as they asked", "People"), a.postForgetPerson)
	add(a, operation("list-idle-testers", http.MethodGet, "/studio/idle-testers", "Testers who have not taken part for some months", "Studio"), a.getIdleTesters)
}

func (a *api) getMyData(ctx context.Context, actor models.Actor, _ *struct{}) (*dataAnswer, error) {
	return dataOf(a.Store.PersonData(ctx, actor.PersonID))
}

func (a *api) getPersonData(ctx context.Context, _ models.Actor, in *PersonPath) (*dataAnswer, error) {
	return dataOf(a.Store.PersonData(ctx, in.Person))
}

func dataOf(d *models.PersonData, err error) (*dataAnswer, error) {
	if err != nil {
		return nil, err
	}
	out := &dataAnswer{Disposition: `attachment; filename="tenter-data.json"`, CacheControl: "no-store", Body: PersonData{At: d.At, Handle: d.Handle}}
	for _, section := range d.Sections {
		out.Body.Sections = append(out.Body.Sections, DataSection(section))
	}
	return out, nil
}

func (a *api) postForgetMe(ctx context.Context, actor models.Actor, in *forgetMeInput) (*signedOut, error) {
	if err := a.ownPassword(actor); err != nil {
		return nil, err
	}
	if err := a.Store.ForgetMe(ctx, actor, models.Forgetting{Confirm: in.Body.Confirm, Password: in.Body.Password}); err != nil {
		return nil, err
	}
	return a.signedOut(), nil
}

func (a *api) postForgetPerson(ctx context.Context, actor models.Actor, in *forgetPersonInput) (*struct{}, error) {
	return nil, a.Store.ForgetPerson(ctx, actor, in.Person, models.Forgetting{Confirm: in.Body.Confirm})
}

func (a *api) getIdleTesters(ctx context.Context, _ models.Actor, in *idleQuery) (*plain[IdleTesters], error) {
	idle, err := a.Store.IdleTesters(ctx, in.Months)
	if err != nil {
		return nil, err
	}
	out := &plain[IdleTesters]{IdleTesters{Months: in.Months, Since: idle.Since, People: []IdlePerson{}}}
	for _, p := range idle.People {
		out.Body.People = append(out.Body.People, IdlePerson(p))
	}
	return out, nil
}
