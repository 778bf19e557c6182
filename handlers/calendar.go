package handlers

import (
	"context"
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"tenter/models"
	"tenter/models/ical"
)

// CalendarLink tells whether I have a secret calendar link.
type CalendarLink struct {
	MadeAt *time.Time `json:"made_at" doc:"null: there is none."`
	Link   string     `json:"link,omitempty" doc:"Only in the answer to making it: it is not kept."`
}

type calendarPath struct {
	Secret string `path:"secret" maxLength:"100"`
}

type makeCalendarInput struct{ Origin }

// calendarRefresh is how often a reader is asked to look again (chosen).
const calendarRefresh = 6 * time.Hour

func (a *api) calendars() {
	add(a, operation("get-calendar-link", http.MethodGet, "/me/calendar", "Whether I have a calendar link", "Calendar"), a.getCalendarLink)
	add(a, created(operation("make-calendar-link", http.MethodPost, "/me/calendar", "Make my secret calendar link; the one before ends", "Calendar")), a.postCalendarLink)
	add(a, operation("end-calendar-link", http.MethodDelete, "/me/calendar", "End my calendar link", "Calendar"), a.deleteCalendarLink)
	op := operation("read-calendar", http.MethodGet, "/calendar/{secret}/tenter.ics", "A person's calendar, by its secret link", "Calendar")
	op.Responses = map[string]*huma.Response{"200": {Description: "An iCalendar file (RFC 5545).", Content: map[string]*huma.MediaType{"text/calendar": {Schema: &huma.Schema{Type: "string"}}}}}
	add(a, op, a.getCalendar)
}

func (a *api) getCalendarLink(ctx context.Context, actor models.Actor, _ *struct{}) (*plain[CalendarLink], error) {
	row, err := a.Store.CalendarLinkOf(ctx, actor.PersonID)
	if err != nil {
		return nil, err
	}
	out := &plain[CalendarLink]{}
	if row != nil {
		out.Body.MadeAt = &row.CreatedAt
	}
	return out, nil
}

// calendarLinkAnswer shows a link's secret once: nobody on the way may keep it.
type calendarLinkAnswer struct {
	CacheControl string `header:"Cache-Control"`
	Body         CalendarLink
}

func (a *api) postCalendarLink(ctx context.Context, actor models.Actor, in *makeCalendarInput) (*calendarLinkAnswer, error) {
	row, secret, err := a.Store.MakeCalendarLink(ctx, actor)
	if err != nil {
		return nil, err
	}
	base := a.BaseURL
	if base == "" {
		base = in.Origin.base
	}
	return &calendarLinkAnswer{"no-store", CalendarLink{&row.CreatedAt, base + Prefix + "/calendar/" + secret + "/tenter.ics"}}, nil
}

func (a *api) deleteCalendarLink(ctx context.Context, actor models.Actor, _ *struct{}) (*struct{}, error) {
	return nil, a.Store.EndCalendarLink(ctx, actor)
}

type calendarAnswer struct {
	ContentType  string `header:"Content-Type"`
	CacheControl string `header:"Cache-Control"`
	Body         []byte
}

func (a *api) getCalendar(ctx context.Context, _ models.Actor, in *calendarPath) (*calendarAnswer, error) {
	c, err := a.Store.Calendar(ctx, in.Secret)
	if err != nil {
		return nil, err
	}
	file, err := ical.Write(ical.Calendar{ProductID: "-//Tenter//calendar//EN", Name: c.Name, Refresh: calendarRefresh, Events: c.Events})
	if err != nil {
		return nil, err
	}
	return &calendarAnswer{"text/calendar; charset=utf-8", "private, max-age=900", file}, nil
}
