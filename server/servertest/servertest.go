// Package servertest runs the whole server over a fresh store for a test and
// gives it clients that are signed in. Only tests import it.
package servertest

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/handlers"
	"tenter/models"
	"tenter/models/modelstest"
	"tenter/server"
)

// Studio is a running server with a fresh database.
type Studio struct {
	T      testing.TB
	URL    string
	Store  *models.Store
	Clock  *modelstest.Clock
	Server *server.Server
	Log    fmt.Stringer // what the server has logged so far
}

// Each runs f against a server on SQLite and, where one is at hand, PostgreSQL.
func Each(t *testing.T, f func(t *testing.T, s *Studio)) {
	t.Helper()
	modelstest.Each(t, func(t *testing.T, store *models.Store, clock *modelstest.Clock) {
		f(t, New(t, store, clock))
	})
}

// OnSQLite runs a server on a fresh SQLite database.
func OnSQLite(t testing.TB) *Studio {
	t.Helper()
	return OnSQLiteWith(t, func(*server.Config) {})
}

// OnSQLiteWith runs one whose settings differ from the usual ones.
func OnSQLiteWith(t testing.TB, settings func(*server.Config)) *Studio {
	t.Helper()
	clock := modelstest.NewClock()
	return With(t, modelstest.Open(t, modelstest.SQLite(t), models.Options{Now: clock.Now}), clock, settings)
}

// New runs a server over a store.
func New(t testing.TB, store *models.Store, clock *modelstest.Clock) *Studio {
	t.Helper()
	return With(t, store, clock, func(*server.Config) {})
}

// With runs a server whose settings differ from the usual ones. A test's clock
// stands still while it writes, so that nothing but tries at secrets is bounded
// in a minute, unless the test says so.
func With(t testing.TB, store *models.Store, clock *modelstest.Clock, settings func(*server.Config)) *Studio {
	t.Helper()
	config, err := server.DefaultConfig()
	require.NoError(t, err)
	config.WritesAMinute, config.CalculationsAMinute = 0, 0
	settings(&config)
	logs := &lockedBuffer{}
	srv, err := server.New(context.Background(), config, store, slog.New(slog.NewTextHandler(logs, nil)), "test")
	require.NoError(t, err)
	web := httptest.NewServer(srv.Handler())
	t.Cleanup(web.Close)
	t.Cleanup(store.Feed().Close) // runs before web.Close: open streams let go
	return &Studio{T: t, URL: web.URL, Store: store, Clock: clock, Server: srv, Log: logs}
}

// Client talks to the API, signed in or not.
type Client struct {
	t      testing.TB
	studio *Studio
	token  string
	Person *models.Person // nil: nobody
}

// Nobody is a client that is not signed in.
func (s *Studio) Nobody() *Client { return &Client{t: s.T, studio: s} }

// As adds a person with the given roles and signs them in.
func (s *Studio) As(handle string, roles ...models.Role) *Client {
	s.T.Helper()
	p, err := s.Store.AddPerson(context.Background(), models.System("test"), models.NewPerson{Handle: handle, Roles: roles})
	require.NoError(s.T, err)
	return s.For(p)
}

// Designer adds and signs in a designer.
func (s *Studio) Designer() *Client { s.T.Helper(); return s.As("designer", models.Designer) }

// For signs in somebody who is on file. It goes by a refresh token, which
// spares each test the slow hashing of a password.
func (s *Studio) For(p *models.Person) *Client {
	s.T.Helper()
	_, secret, err := s.Store.StartSignIn(context.Background(), models.System("test"), p.ID, "test")
	require.NoError(s.T, err)
	c := &Client{t: s.T, studio: s, Person: p}
	var in struct {
		AccessToken string `json:"access_token"`
	}
	c.Post("/auth/refresh", map[string]any{"refresh_token": secret}).Want(200).Into(&in)
	c.token = in.AccessToken
	return c
}

// Answer is what came back.
type Answer struct {
	t      testing.TB
	what   string
	Status int
	Header http.Header
	Body   []byte
}

// Get reads a path below /api/v1.
func (c *Client) Get(path string) *Answer { c.t.Helper(); return c.Do(http.MethodGet, path, nil, nil) }

// Post sends a body as JSON.
func (c *Client) Post(path string, body any) *Answer {
	c.t.Helper()
	return c.Do(http.MethodPost, path, body, nil)
}

// Put replaces, having read the given revision.
func (c *Client) Put(path string, revision int, body any) *Answer {
	c.t.Helper()
	return c.Do(http.MethodPut, path, body, IfMatch(revision))
}

// Patch changes, having read the given revision.
func (c *Client) Patch(path string, revision int, body any) *Answer {
	c.t.Helper()
	return c.Do(http.MethodPatch, path, body, IfMatch(revision))
}

// IfMatch is the precondition of a change.
func IfMatch(revision int) http.Header {
	tag, _ := json.Marshal(revision)
	return http.Header{"If-Match": {`"` + string(tag) + `"`}}
}

// Do sends a request. A string or []byte body goes as it is, anything else as
// JSON; a Content-Type in header wins.
func (c *Client) Do(method, path string, body any, header http.Header) *Answer {
	c.t.Helper()
	var reader io.Reader
	kind := "application/json"
	switch b := body.(type) {
	case nil:
	case string:
		reader = strings.NewReader(b)
	case []byte:
		reader = bytes.NewReader(b)
	default:
		raw, err := json.Marshal(b)
		require.NoError(c.t, err)
		reader = bytes.NewReader(raw)
	}
	req, err := http.NewRequestWithContext(context.Background(), method, c.studio.address(path), reader)
	require.NoError(c.t, err)
	if reader != nil {
		req.Header.Set("Content-Type", kind)
	}
	for name, values := range header {
		req.Header[http.CanonicalHeaderKey(name)] = values
	}
	if c.token != "" {
		req.Header.Set("Authorization", "Bearer "+c.token)
	}
	res, err := http.DefaultClient.Do(req)
	require.NoError(c.t, err)
	defer res.Body.Close()
	raw, err := io.ReadAll(res.Body)
	require.NoError(c.t, err)
	return &Answer{t: c.t, what: method + " " + path, Status: res.StatusCode, Header: res.Header, Body: raw}
}

// address puts a path below /api/v1, unless it begins with "//", which stands
// for the server's root.
func (s *Studio) address(path string) string {
	if root, ok := strings.CutPrefix(path, "//"); ok {
		return s.URL + "/" + root
	}
	return s.URL + handlers.Prefix + path
}

// Want fails the test unless the status is the given one.
func (a *Answer) Want(status int) *Answer {
	a.t.Helper()
	require.Equal(a.t, status, a.Status, "%s = %s", a.what, a.Body)
	return a
}

// Into reads the body's JSON.
func (a *Answer) Into(v any) *Answer {
	a.t.Helper()
	require.NoError(a.t, json.Unmarshal(a.Body, v), "%s = %s", a.what, a.Body)
	return a
}

// Map reads the body as a JSON object.
func (a *Answer) Map() map[string]any {
	a.t.Helper()
	var m map[string]any
	a.Into(&m)
	return m
}

// ID reads the body's id.
func (a *Answer) ID() string {
	a.t.Helper()
	id, _ := a.Map()["id"].(string)
	require.NotEmpty(a.t, id, "%s = %s", a.what, a.Body)
	return id
}

// Names asserts a problem document that names the field.
func (a *Answer) Names(status int, field string) *Answer {
	a.t.Helper()
	a.Want(status)
	require.Equal(a.t, "application/problem+json", a.Header.Get("Content-Type"), "%s", a.what)
	var p struct {
		Errors []struct{ Message, Location string }
	}
	a.Into(&p)
	for _, e := range p.Errors {
		if e.Location == field {
			require.NotEmpty(a.t, e.Message)
			return a
		}
	}
	a.t.Fatalf("%s = %s; no error names %s", a.what, a.Body, field)
	return a
}

// Token is the client's access token.
func (c *Client) Token() string { return c.token }

// With is a client with the given access token.
func (c *Client) With(token string) *Client { return &Client{t: c.t, studio: c.studio, token: token} }
