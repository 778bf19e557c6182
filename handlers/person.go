package handlers

import (
	"context"
	"net/http"

	"tenter/models"
)

// Person is somebody as the studio's own people and they themselves see them.
type Person struct {
	ID        string        `json:"id"`
	Handle    string        `json:"handle"`
	Name      string        `json:"name"`
	Email     *string       `json:"email,omitempty"`
	Unit      string        `json:"unit" enum:"cm,in"`
	Terms     string        `json:"terms" enum:"us,uk"`
	Roles     []models.Role `json:"roles"`
	Disabled  bool          `json:"disabled"`
	HasSignIn bool          `json:"has_sign_in" doc:"Whether a password has been chosen."`
	Revision  int           `json:"revision"`

	SetUpFirst bool `json:"set_up_first,omitempty" doc:"Of oneself: the studio wants a second step, and until it is set up nothing else is open."`
}

func personView(p *models.Person) Person {
	return Person{ID: p.ID, Handle: p.Handle, Name: p.Name, Email: p.Email, Unit: p.Unit, Terms: p.Terms, Roles: p.Roles,
		Disabled: p.DisabledAt != nil, HasSignIn: p.PasswordHash != nil, Revision: p.Revision}
}

func onePerson(p *models.Person, err error) (*one[Person], error) {
	if err != nil {
		return nil, err
	}
	return &one[Person]{etag(p.Revision), personView(p)}, nil
}

type PersonPath struct {
	Person string `path:"person" maxLength:"36"`
}

type peopleQuery struct {
	Paged
	Role string `query:"role" enum:"designer,tech_editor,maker,filmer,tester"`
}

type newPersonInput struct {
	Body struct {
		Handle string        `json:"handle"`
		Name   string        `json:"name,omitempty"`
		Email  *string       `json:"email,omitempty"`
		Roles  []models.Role `json:"roles" maxItems:"5"`
		Unit   string        `json:"unit,omitempty" enum:"cm,in"`
		Terms  string        `json:"terms,omitempty" enum:"us,uk"`
	}
}

type changePersonInput struct {
	PersonPath
	Precondition
	Body struct {
		Name     *string          `json:"name,omitempty"`
		Email    Optional[string] `json:"email,omitempty"`
		Roles    *[]models.Role   `json:"roles,omitempty" maxItems:"5"`
		Disabled *bool            `json:"disabled,omitempty"`
		Password string           `json:"password,omitempty" maxLength:"200" doc:"Your own, not theirs: only for another e-mail address, where an open screen is not enough."`
	}
}

func (a *api) people() {
	add(a, operation("list-people", http.MethodGet, "/people", "People", "People"), a.getPeople)
	add(a, created(operation("add-person", http.MethodPost, "/people", "Add somebody", "People")), a.postPerson)
	add(a, operation("get-person", http.MethodGet, "/people/{person}", "Somebody", "People"), a.getPerson)
	add(a, operation("change-person", http.MethodPatch, "/people/{person}", "Change somebody", "People"), a.patchPerson)
}

// getPeople shows e-mail addresses to the designer only.
func (a *api) getPeople(ctx context.Context, actor models.Actor, in *peopleQuery) (*listOf[Person], error) {
	rows, next, err := a.Store.People(ctx, models.Role(in.Role), in.page())
	if err != nil {
		return nil, err
	}
	return list(rows, next, func(p *models.Person) Person { return personFor(actor, p) }), nil
}

func personFor(actor models.Actor, p *models.Person) Person {
	view := personView(p)
	if !actor.Has(models.Designer) && actor.PersonID != p.ID {
		view.Email = nil
		if len(p.Roles) == 1 && p.Roles[0] == models.Tester {
			view.Name = p.Handle // outsiders are known to the team by their handle
		}
	}
	return view
}

func (a *api) postPerson(ctx context.Context, actor models.Actor, in *newPersonInput) (*made[Person], error) {
	p, err := a.Store.AddPerson(ctx, actor, models.NewPerson{Handle: in.Body.Handle, Name: in.Body.Name, Email: in.Body.Email,
		Roles: in.Body.Roles, Unit: in.Body.Unit, Terms: in.Body.Terms})
	if err != nil {
		return nil, err
	}
	return &made[Person]{etag(p.Revision), Prefix + "/people/" + p.ID, personView(p)}, nil
}

func (a *api) getPerson(ctx context.Context, actor models.Actor, in *PersonPath) (*one[Person], error) {
	p, err := a.Store.Person(ctx, in.Person)
	if err != nil {
		return nil, err
	}
	return &one[Person]{etag(p.Revision), personFor(actor, p)}, nil
}

func (a *api) patchPerson(ctx context.Context, actor models.Actor, in *changePersonInput) (*one[Person], error) {
	if in.Body.Password != "" {
		if err := a.ownPassword(actor); err != nil {
			return nil, err
		}
	}
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
	return onePerson(a.Store.ChangePerson(ctx, actor, in.Person, revision, models.PersonChange{
		Name: in.Body.Name, Email: in.Body.Email.change(), Roles: in.Body.Roles, Disabled: in.Body.Disabled, Password: in.Body.Password}))
}
