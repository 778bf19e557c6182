package server_test

import (
	"net/http"
	"net/http/httptest"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/server/servertest"
)

// stuckClient takes nothing of an answer until it is let go.
type stuckClient struct {
	*httptest.ResponseRecorder
	began func()
	let   chan struct{}
}

func (c *stuckClient) Write(b []byte) (int, error) {
	c.began()
	<-c.let
	return c.ResponseRecorder.Write(b)
}

func (*stuckClient) SetWriteDeadline(time.Time) error { return nil }

// TestOneArchiveAtATime: an archive holds a reader of the database for as long
// as its client takes, and there are few.
func TestOneArchiveAtATime(t *testing.T) {
	s := servertest.OnSQLite(t)
	d := s.Designer()
	began, done := make(chan struct{}), make(chan struct{})
	slow := &stuckClient{httptest.NewRecorder(), sync.OnceFunc(func() { close(began) }), make(chan struct{})}
	ask := httptest.NewRequest(http.MethodGet, "/api/v1/studio/archive", nil)
	ask.Header.Set("Authorization", "Bearer "+d.Token())
	go func() {
		defer close(done)
		s.Server.Handler().ServeHTTP(slow, ask)
	}()
	<-began
	for range 5 {
		d.Get("/studio/archive").Want(409)
	}
	d.Get("/designs").Want(200)
	close(slow.let)
	<-done
	require.Equal(t, 200, slow.Code)
	d.Get("/studio/archive").Want(200)
}
