package handlers

import (
	"context"
	"net/http"
	"strings"
	"time"

	"tenter/models"
)

// The cookies of a browser's sign-in. Programs use the tokens in the answer.
const (
	AccessCookie  = "tenter_access"
	refreshCookie = "tenter_refresh"
)

// SignIn is what a sign-in gives.
type SignIn struct {
	AccessToken     string    `json:"access_token"`
	AccessExpiresAt time.Time `json:"access_expires_at"`
	RefreshToken    string    `json:"refresh_token"`
	Person          Person    `json:"person"`
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

type refreshInput struct {
	Refresh string `cookie:"tenter_refresh"`
	Body    *struct {
		RefreshToken string `json:"refresh_token,omitempty" maxLength:"200" doc:"Programs send it here; browsers send the cookie."`
	} `required:"false"`
}

func (a *api) signIn() {
	add(a, operation("sign-in", http.MethodPost, "/auth/sign-in", "Sign in", "Sign-in"), a.postSignIn)
	add(a, operation("refresh-sign-in", http.MethodPost, "/auth/refresh", "Go on with a sign-in", "Sign-in"), a.postRefresh)
	add(a, operation("sign-out", http.MethodPost, "/auth/sign-out", "Sign out", "Sign-in"), a.postSignOut)
}

func (a *api) postSignIn(ctx context.Context, actor models.Actor, in *signInInput) (*signInAnswer, error) {
	// Bounded for the name that is tried, whoever tries it: guesses from many
	// addresses at one account count together.
	if !a.Allow("login:" + strings.ToLower(in.Body.Login)) {
		return nil, &models.Error{Kind: models.TooMany, Message: "Too many tries for this name. Wait a minute, then try again."}
	}
	person, err := a.Store.CheckPassword(ctx, in.Body.Login, in.Body.Password)
	if err != nil {
		return nil, err
	}
	actor.PersonID = person.ID
	family, refresh, err := a.Store.StartSignIn(ctx, actor, person.ID, in.Agent)
	if err != nil {
		return nil, err
	}
	return a.answerSignIn(person, family, refresh)
}

func (a *api) postRefresh(ctx context.Context, actor models.Actor, in *refreshInput) (*signInAnswer, error) {
	secret := in.Refresh
	if in.Body != nil && in.Body.RefreshToken != "" {
		secret = in.Body.RefreshToken
	}
	person, family, next, err := a.Store.ContinueSignIn(ctx, actor, secret)
	if err != nil {
		return nil, err
	}
	return a.answerSignIn(person, family, next)
}

func (a *api) answerSignIn(person *models.Person, family, refresh string) (*signInAnswer, error) {
	access, expires, err := a.Issue(person.ID, family)
	if err != nil {
		return nil, err
	}
	return &signInAnswer{
		CacheControl: "no-store",
		SetCookie: []http.Cookie{
			a.cookie(AccessCookie, access, "/", int(refreshCookieLife.Seconds())),
			a.cookie(refreshCookie, refresh, Prefix+"/auth", int(refreshCookieLife.Seconds())),
		},
		Body: SignIn{AccessToken: access, AccessExpiresAt: expires, RefreshToken: refresh, Person: personView(person)},
	}, nil
}

// refreshCookieLife is as long as a refresh token can live; the tokens inside
// carry their own, shorter ends.
const refreshCookieLife = 30 * 24 * time.Hour

func (a *api) cookie(name, value, path string, maxAge int) http.Cookie {
	return http.Cookie{Name: name, Value: value, Path: path, MaxAge: maxAge, HttpOnly: true, Secure: a.Secure, SameSite: http.SameSiteStrictMode}
}

type signedOut struct {
	SetCookie []http.Cookie `header:"Set-Cookie"`
}

func (a *api) postSignOut(ctx context.Context, actor models.Actor, _ *struct{}) (*signedOut, error) {
	if err := a.Store.EndSignIn(ctx, actor); err != nil {
		return nil, err
	}
	return a.signedOut(), nil
}

// signedOut takes the cookies away.
func (a *api) signedOut() *signedOut {
	return &signedOut{SetCookie: []http.Cookie{a.cookie(AccessCookie, "", "/", -1), a.cookie(refreshCookie, "", Prefix+"/auth", -1)}}
}
