package handlers

import (
	"context"
	"net/http"
	"strings"
	"time"

	"tenter/models"
)

// SignIn is what a sign-in gives: tokens, or the wish for a second step.
type SignIn struct {
	AccessToken     string      `json:"access_token,omitempty"`
	AccessExpiresAt *time.Time  `json:"access_expires_at,omitempty"`
	RefreshToken    string      `json:"refresh_token,omitempty"`
	Person          *Person     `json:"person,omitempty"`
	SecondStep      *SecondStep `json:"second_step,omitempty" doc:"The password was right, and a code is wanted; nothing else is in the answer then."`
}

// SecondStep is a sign-in that waits for a code.
type SecondStep struct {
	Token     string    `json:"token" doc:"Goes with the code to /auth/second-step."`
	ExpiresAt time.Time `json:"expires_at"`
}

type signInAnswer struct {
	SetCookie    []http.Cookie `header:"Set-Cookie"`
	CacheControl string        `header:"Cache-Control"`
	Body         SignIn
}

type signInInput struct {
	Agent string `header:"User-Agent"`
	Body  struct {
		Login    string `json:"login" maxLength:"254" doc:"Handle or e-mail address."`
		Password string `json:"password" maxLength:"200"`
	}
}

type secondStepInput struct {
	Agent string `header:"User-Agent"`
	Body  struct {
		Token string `json:"token" maxLength:"200"`
		Code  string `json:"code" maxLength:"60" doc:"Six digits from the device, or a recovery code."`
	}
}

type refreshInput struct {
	Refresh       string `cookie:"tenter_refresh"`
	SecureRefresh string `cookie:"__Secure-tenter_refresh"`
	Body          *struct {
		RefreshToken string `json:"refresh_token,omitempty" maxLength:"200" doc:"Programs send it here; browsers send the cookie."`
	} `required:"false"`
}

func (a *api) signIn() {
	add(a, operation("sign-in", http.MethodPost, "/auth/sign-in", "Sign in", "Sign-in"), a.postSignIn)
	add(a, operation("second-step", http.MethodPost, "/auth/second-step", "Give the code that a sign-in waits for", "Sign-in"), a.postSecondStep)
	add(a, operation("refresh-sign-in", http.MethodPost, "/auth/refresh", "Go on with a sign-in", "Sign-in"), a.postRefresh)
	add(a, operation("sign-out", http.MethodPost, "/auth/sign-out", "Sign out", "Sign-in"), a.postSignOut)
}

func (a *api) postSignIn(ctx context.Context, actor models.Actor, in *signInInput) (*signInAnswer, error) {
	// Bounded for the name that is tried, whoever tries it: guesses from many
	// addresses at one account count together.
	if err := a.within("login:" + strings.ToLower(in.Body.Login)); err != nil {
		return nil, err
	}
	person, err := a.Store.CheckPassword(ctx, in.Body.Login, in.Body.Password)
	if err != nil {
		return nil, err
	}
	actor.PersonID = person.ID
	begun, err := a.Store.BeginSignIn(ctx, actor, person.ID, in.Agent)
	if err != nil {
		return nil, err
	}
	return a.answerBegun(person, begun)
}

func (a *api) postSecondStep(ctx context.Context, actor models.Actor, in *secondStepInput) (*signInAnswer, error) {
	person, begun, err := a.Store.FinishSignIn(ctx, actor, in.Body.Token, in.Body.Code, in.Agent)
	if err != nil {
		return nil, err
	}
	return a.answerBegun(person, begun)
}

func (a *api) postRefresh(ctx context.Context, actor models.Actor, in *refreshInput) (*signInAnswer, error) {
	secret := in.Refresh
	if a.Secure {
		secret = in.SecureRefresh
	}
	if in.Body != nil && in.Body.RefreshToken != "" {
		secret = in.Body.RefreshToken
	}
	person, family, next, err := a.Store.ContinueSignIn(ctx, actor, secret)
	if err != nil {
		return nil, err
	}
	return a.answerSignIn(person, family, next)
}

// answerBegun answers with what a sign-in has come to.
func (a *api) answerBegun(person *models.Person, begun *models.Begun) (*signInAnswer, error) {
	if begun.Half != "" {
		return &signInAnswer{CacheControl: "no-store", Body: SignIn{SecondStep: &SecondStep{begun.Half, begun.HalfEnds}}}, nil
	}
	return a.answerSignIn(person, begun.FamilyID, begun.Refresh)
}

func (a *api) answerSignIn(person *models.Person, family, refresh string) (*signInAnswer, error) {
	access, expires, err := a.Issue(person.ID, family)
	if err != nil {
		return nil, err
	}
	view := personView(person)
	return &signInAnswer{
		CacheControl: "no-store",
		SetCookie:    a.cookies(access, refresh, int(refreshCookieLife.Seconds())),
		Body:         SignIn{AccessToken: access, AccessExpiresAt: &expires, RefreshToken: refresh, Person: &view},
	}, nil
}

type signedOut struct {
	SetCookie []http.Cookie `header:"Set-Cookie"`
	ClearData string        `header:"Clear-Site-Data"`
}

func (a *api) postSignOut(ctx context.Context, actor models.Actor, _ *struct{}) (*signedOut, error) {
	if err := a.Store.EndSignIn(ctx, actor); err != nil {
		return nil, err
	}
	return a.signedOut(), nil
}

// signedOut takes the cookies away, and what the browser has kept of the pages
// seen. Drafts of reports stay: whoever wrote one without a network may sign in
// again.
func (a *api) signedOut() *signedOut {
	return &signedOut{SetCookie: a.cookies("", "", -1), ClearData: `"cache"`}
}
