package handlers

import (
	"bytes"
	"context"
	"fmt"
	"html"
	"io"
	"mime"
	"mime/multipart"
	"net/http"
	"net/url"

	"tenter/models"
)

// MyLetters are the groups of letters that a person may do without.
type MyLetters struct {
	Groups []MyLetterGroup `json:"groups"`
}

// MyLetterGroup is one of them.
type MyLetterGroup struct {
	Group  models.LetterGroup `json:"group"`
	Says   string             `json:"says"`
	Wanted bool               `json:"wanted"`
}

type chooseLettersInput struct {
	Body struct {
		Refused []models.LetterGroup `json:"refused" maxItems:"10" doc:"The groups that I do not want; all others are wanted."`
	}
}

// StopPath is the link at the end of a letter.
type StopPath struct {
	Token string `path:"token" maxLength:"100"`
}

type stopInput struct {
	StopPath
	ContentType string `header:"Content-Type"`
	RawBody     []byte
}

const (
	joinPath = "/join#" // after the #, so that no server or proxy ever sees or logs it
	stopPath = "/letters/stop/"

	// What a mail program sends when its user has pressed "unsubscribe": RFC
	// 8058, section 3.2.
	stopKey   = "List-Unsubscribe"
	stopValue = "One-Click"
)

func (a *api) letterChoices() {
	add(a, operation("get-my-letters", http.MethodGet, "/me/letters", "Which letters I want by e-mail", "Letters"), a.getMyLetters)
	add(a, operation("choose-my-letters", http.MethodPost, "/me/letters", "Choose which letters I want by e-mail", "Letters"), a.postMyLetters)
	look := htmlPage(operation("look-at-stop-letters", http.MethodGet, stopPath+"{token}", "Asks whether letters of a kind are to end; changes nothing", "Letters"))
	add(a, look, a.getStop)
	stop := htmlPage(operation("stop-letters", http.MethodPost, stopPath+"{token}", "Ends letters of a kind, by the link in one (RFC 8058)", "Letters"))
	add(a, stop, a.postStop)
}

func (a *api) getMyLetters(ctx context.Context, actor models.Actor, _ *struct{}) (*plain[MyLetters], error) {
	refused, err := a.Store.LettersRefused(ctx, actor.PersonID)
	if err != nil {
		return nil, err
	}
	not := map[models.LetterGroup]bool{}
	for _, g := range refused {
		not[g] = true
	}
	return &plain[MyLetters]{MyLetters{each(models.LetterGroups(), func(g models.LetterGroup) MyLetterGroup { return MyLetterGroup{g, g.Says(), !not[g]} })}}, nil
}

func (a *api) postMyLetters(ctx context.Context, actor models.Actor, in *chooseLettersInput) (*plain[MyLetters], error) {
	if err := a.Store.RefuseLetters(ctx, actor, in.Body.Refused); err != nil {
		return nil, err
	}
	return a.getMyLetters(ctx, actor, nil)
}

// stopAnswer is a page that needs no script: mail programs open it wherever
// they like. Its form may be sent to this server and nowhere else, and says
// where it comes from, so that the check of origins lets it through.
type stopAnswer struct {
	ContentType  string `header:"Content-Type"`
	Policy       string `header:"Content-Security-Policy"`
	Referrer     string `header:"Referrer-Policy"`
	CacheControl string `header:"Cache-Control"`
	Body         []byte
}

const stopPolicy = "default-src 'none'; style-src 'unsafe-inline'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

func (a *api) stopPage(ctx context.Context, say, form string) (*stopAnswer, error) {
	studio, err := a.Store.Studio(ctx)
	if err != nil {
		return nil, err
	}
	name := html.EscapeString(studio.Name)
	page := fmt.Sprintf(`<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><meta name="color-scheme" content="light dark"><meta name="robots" content="noindex"><title>E-mail from %s</title>
<style>body{font:18px/1.5 Georgia,serif;margin:0;padding:2rem 1.25rem}main{max-width:34em;margin:auto}button{font:inherit;padding:.6em 1em;min-height:44px}</style></head>
<body><main><h1>E-mail from %s</h1><p>%s</p>%s</main></body></html>
`, name, name, html.EscapeString(say), form)
	return &stopAnswer{"text/html; charset=utf-8", stopPolicy, "same-origin", "no-store", []byte(page)}, nil
}

func (a *api) getStop(ctx context.Context, _ models.Actor, in *StopPath) (*stopAnswer, error) {
	stop, err := a.Store.LookAtStop(ctx, in.Token)
	if err != nil {
		return nil, err
	}
	if stop.Refused {
		return a.stopPage(ctx, stopped(stop.Group), "")
	}
	return a.stopPage(ctx, fmt.Sprintf("Do you want no more e-mail of this kind: %s?", stop.Group.Says()),
		`<form method="post"><input type="hidden" name="`+stopKey+`" value="`+stopValue+`"><button>No more of these</button></form>`)
}

func stopped(g models.LetterGroup) string {
	return fmt.Sprintf("You get no more e-mail of this kind: %s. Under your name in the studio you can have it again.", g.Says())
}

// postStop ends letters at once: no sign-in, no cookie, no question and no
// redirect (RFC 8058, section 3.1).
func (a *api) postStop(ctx context.Context, actor models.Actor, in *stopInput) (*stopAnswer, error) {
	if !oneClick(in.ContentType, in.RawBody) {
		return nil, &models.Error{Kind: models.Invalid, Message: "Nothing was ended.", Fields: []models.FieldProblem{
			{Field: stopKey, Problem: "is missing; send " + stopKey + "=" + stopValue + " as a form"}}}
	}
	group, err := a.Store.StopLetters(ctx, models.Actor{RequestID: actor.RequestID}, in.Token)
	if err != nil {
		return nil, err
	}
	return a.stopPage(ctx, stopped(group), "")
}

const mostFormBytes = 4 << 10

// oneClick reads the form in either of the two encodings that RFC 8058, section
// 3.2, allows.
func oneClick(contentType string, body []byte) bool {
	kind, params, err := mime.ParseMediaType(contentType)
	if err != nil || len(body) > mostFormBytes {
		return false
	}
	switch kind {
	case "application/x-www-form-urlencoded":
		form, err := url.ParseQuery(string(body))
		return err == nil && form.Get(stopKey) == stopValue
	case "multipart/form-data":
		parts := multipart.NewReader(bytes.NewReader(body), params["boundary"])
		for {
			part, err := parts.NextPart()
			if err != nil {
				return false
			}
			if value, err := io.ReadAll(part); err == nil && part.FormName() == stopKey {
				return string(value) == stopValue
			}
		}
	}
	return false
}
