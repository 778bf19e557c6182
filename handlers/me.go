package handlers

import (
	"context"
	"net/http"

	"tenter/models"
)

type changeMeInput struct {
	Precondition
	Body struct {
		Name  *string `json:"name,omitempty"`
		Unit  *string `json:"unit,omitempty" enum:"cm,in"`
		Terms *string `json:"terms,omitempty" enum:"us,uk"`
	}
}

type changePasswordInput struct {
	Body struct {
		Current string `json:"current" maxLength:"200"`
		New     string `json:"new" maxLength:"1000"`
	}
}

func (a *api) me() {
	add(a, operation("get-me", http.MethodGet, "/me", "Who is signed in", "Sign-in"), a.getMe)
	add(a, operation("change-me", http.MethodPatch, "/me", "Change my name, unit and terms", "Sign-in"), a.patchMe)
	add(a, operation("change-password", http.MethodPost, "/me/password", "Change my password", "Sign-in"), a.postPassword)
}

func (a *api) getMe(ctx context.Context, actor models.Actor, _ *struct{}) (*one[Person], error) {
	me, err := onePerson(a.Store.Person(ctx, actor.PersonID))
	if err != nil {
		return nil, err
	}
	me.Body.SetUpFirst = actor.SetUpFirst
	return me, nil
}

func (a *api) patchMe(ctx context.Context, actor models.Actor, in *changeMeInput) (*one[Person], error) {
	revision, err := in.revision(func() (int, error) {
		p, err := a.Store.Person(ctx, actor.PersonID)
		if err != nil {
			return 0, err
		}
		return p.Revision, nil
	})
	if err != nil {
		return nil, err
	}
	return onePerson(a.Store.ChangePerson(ctx, actor, actor.PersonID, revision, models.PersonChange{
		Name: in.Body.Name, Unit: in.Body.Unit, Terms: in.Body.Terms}))
}

func (a *api) postPassword(ctx context.Context, actor models.Actor, in *changePasswordInput) (*struct{}, error) {
	if err := a.ownPassword(actor); err != nil {
		return nil, err
	}
	return nil, a.Store.ChangePassword(ctx, actor, in.Body.Current, in.Body.New)
}
