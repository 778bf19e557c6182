package handlers

import (
	"context"
	"net/http"
	"time"

	"tenter/models"
)

// MySignIns is where somebody is signed in, and what happened to how they do.
type MySignIns struct {
	SignIns []MySignIn     `json:"sign_ins" doc:"Those that are not over, the one used last first."`
	Notices []SignInNotice `json:"notices" doc:"The newest first; of 90 days at most."`
}

// MySignIn is one of them.
type MySignIn struct {
	ID         string    `json:"id"`
	Device     string    `json:"device" doc:"What the browser says of itself, in plain words."`
	This       bool      `json:"this" doc:"The one that this request belongs to."`
	SecondStep bool      `json:"second_step" doc:"Whether a code was given besides the password."`
	BegunAt    time.Time `json:"begun_at"`
	UsedAt     time.Time `json:"used_at" doc:"Last gone on with, to a few minutes."`
	EndsAt     time.Time `json:"ends_at" doc:"If it is not used again."`
}

// SignInNotice is something that happened to how somebody signs in.
type SignInNotice struct {
	At     time.Time `json:"at"`
	Action string    `json:"action"`
	By     string    `json:"by,omitempty" doc:"Handle of who did it; absent: the person themselves or the server."`
}

// PersonSignIn is how somebody signs in, as the designer is told.
type PersonSignIn struct {
	HasPassword bool `json:"has_password"`
	SecondStep  bool `json:"second_step"`
	SignIns     int  `json:"sign_ins" doc:"How many are not over."`

	OpenLink *OpenLink `json:"open_link" doc:"The invitation link that still works; null when there is none. A new one ends it."`
}

// OpenLink is when a link was made that was not used yet. The link itself is
// known to nobody but who has it.
type OpenLink struct {
	MadeAt    time.Time `json:"made_at"`
	ExpiresAt time.Time `json:"expires_at"`
}

// SignInPath names a sign-in.
type SignInPath struct {
	SignIn string `path:"sign_in" maxLength:"36"`
}

func (a *api) signIns() {
	add(a, operation("list-my-sign-ins", http.MethodGet, "/me/sign-ins", "Where I am signed in", "Sign-in"), a.getMySignIns)
	add(a, operation("end-my-sign-in", http.MethodDelete, "/me/sign-ins/{sign_in}", "End one of my sign-ins", "Sign-in"), a.deleteMySignIn)
	add(a, operation("end-my-other-ones", http.MethodPost, "/me/sign-ins/end-others", "End all my sign-ins but this one", "Sign-in"), a.postEndOthers)
	add(a, operation("get-person-sign-in", http.MethodGet, "/people/{person}/sign-in", "How somebody signs in", "People"), a.getPersonSignIn)
	add(a, operation("end-person-sign-ins", http.MethodPost, "/people/{person}/sign-in/end", "End all sign-ins of somebody", "People"), a.postEndSignIns)
}

func (a *api) getMySignIns(ctx context.Context, actor models.Actor, _ *struct{}) (*plain[MySignIns], error) {
	rows, err := a.Store.SignIns(ctx, actor.PersonID)
	if err != nil {
		return nil, err
	}
	notices, err := a.Store.SignInNotices(ctx, actor)
	if err != nil {
		return nil, err
	}
	return &plain[MySignIns]{MySignIns{
		SignIns: each(rows, func(s models.SignIn) MySignIn {
			return MySignIn{s.ID, models.DeviceWords(s.Agent), s.ID == actor.FamilyID, s.SecondStep, s.BegunAt, s.UsedAt, s.Ends()}
		}),
		Notices: each(notices, func(n models.SignInNotice) SignInNotice { return SignInNotice(n) }),
	}}, nil
}

func (a *api) deleteMySignIn(ctx context.Context, actor models.Actor, in *SignInPath) (*struct{}, error) {
	return nil, a.Store.EndMySignIn(ctx, actor, in.SignIn)
}

func (a *api) postEndOthers(ctx context.Context, actor models.Actor, _ *struct{}) (*struct{}, error) {
	return nil, a.Store.EndMyOtherSignIns(ctx, actor)
}

func (a *api) getPersonSignIn(ctx context.Context, _ models.Actor, in *PersonPath) (*plain[PersonSignIn], error) {
	person, err := a.Store.Person(ctx, in.Person)
	if err != nil {
		return nil, err
	}
	factor, err := a.Store.SecondFactor(ctx, person.ID, person.Roles)
	if err != nil {
		return nil, err
	}
	rows, err := a.Store.SignIns(ctx, person.ID)
	if err != nil {
		return nil, err
	}
	link, err := a.Store.OpenInvitationOf(ctx, person.ID)
	if err != nil {
		return nil, err
	}
	out := &plain[PersonSignIn]{PersonSignIn{HasPassword: person.PasswordHash != nil, SecondStep: factor.Since != nil, SignIns: len(rows)}}
	if link != nil {
		out.Body.OpenLink = &OpenLink{link.CreatedAt, link.ExpiresAt}
	}
	return out, nil
}

func (a *api) postEndSignIns(ctx context.Context, actor models.Actor, in *PersonPath) (*struct{}, error) {
	return nil, a.Store.EndSignInsOf(ctx, actor, in.Person)
}
