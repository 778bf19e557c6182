package server_test

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/modelstest"
	"tenter/server"
	"tenter/server/servertest"
)

// impatient is a server that really listens, and waits for nobody.
func impatient(t *testing.T) (address string) {
	t.Helper()
	store := modelstest.Open(t, modelstest.SQLite(t), models.Options{})
	config, err := server.DefaultConfig()
	require.NoError(t, err)
	config.Addr = "127.0.0.1:0"
	config.HeaderTimeout, config.ReadTimeout, config.WriteTimeout, config.IdleTimeout = 100*time.Millisecond, 200*time.Millisecond, 300*time.Millisecond, 100*time.Millisecond
	s, err := server.New(t.Context(), config, store, slog.New(slog.DiscardHandler), "test")
	require.NoError(t, err)
	ctx, stop := context.WithCancel(context.Background())
	ready, over := make(chan string, 1), make(chan error, 1)
	go func() { over <- s.Run(ctx, func(addr string) { ready <- addr }) }()
	t.Cleanup(func() { stop(); require.NoError(t, <-over) })
	return <-ready
}

// TestSlowClients: each sends a part of a request and no more. The server
// closes the connection; until then the read here waits.
func TestSlowClients(t *testing.T) {
	address := impatient(t)
	for _, row := range []struct{ name, sent, answer string }{
		{"nothing at all", "", ""},
		{"half a request line", "GET /api/v1/pri", ""},
		{"headers without end", "GET /api/v1/privacy HTTP/1.1\r\nHost: x\r\nX-One: 1\r\n", ""},
		{"half a body", "POST /api/v1/auth/sign-in HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nContent-Length: 1000\r\n\r\n{\"login\":", "HTTP/1.1 4"},
		{"a body in pieces without end", "POST /api/v1/auth/sign-in HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nTransfer-Encoding: chunked\r\n\r\n5\r\n{\"log\r\n", "HTTP/1.1 4"},
		{"an idle connection", "GET /healthz HTTP/1.1\r\nHost: x\r\n\r\n", "HTTP/1.1 200"},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			c, err := net.Dial("tcp", address)
			require.NoError(t, err)
			defer c.Close()
			_, err = io.WriteString(c, row.sent)
			require.NoError(t, err)
			got, _ := io.ReadAll(c) // the connection may be closed or reset
			if row.answer == "" {
				require.NotContains(t, string(got), "HTTP/1.1 2")
				return
			}
			require.True(t, strings.HasPrefix(string(got), row.answer), "%s", got)
		})
	}
}

// TestTooMuchOfAHead: a request line or headers without bound are refused.
func TestTooMuchOfAHead(t *testing.T) {
	address := impatient(t)
	for name, head := range map[string]string{
		"a long address":                    "GET /" + strings.Repeat("a", 60_000) + " HTTP/1.1\r\nHost: x\r\n\r\n",
		"a long header":                     "GET /healthz HTTP/1.1\r\nHost: x\r\nX-Long: " + strings.Repeat("a", 60_000) + "\r\n\r\n",
		"many headers":                      "GET /healthz HTTP/1.1\r\nHost: x\r\n" + strings.Repeat("X-A: b\r\n", 8_000) + "\r\n",
		"a header of no name":               "GET /healthz HTTP/1.1\r\nHost: x\r\n: b\r\n\r\n",
		"no host":                           "GET /healthz HTTP/1.1\r\n\r\n",
		"two lengths":                       "POST /api/v1/auth/sign-in HTTP/1.1\r\nHost: x\r\nContent-Length: 3\r\nContent-Length: 5\r\n\r\n{}{}{",
		"a length and pieces that disagree": "POST /api/v1/auth/sign-in HTTP/1.1\r\nHost: x\r\nContent-Length: 3\r\nTransfer-Encoding: chunked, x\r\n\r\n{}{}{",
	} {
		t.Run(name, func(t *testing.T) {
			c, err := net.Dial("tcp", address)
			require.NoError(t, err)
			defer c.Close()
			io.WriteString(c, head) //nolint:errcheck // the server may close before the end
			res, err := http.ReadResponse(bufio.NewReader(c), nil)
			if err != nil {
				return // reset before the answer could be read: refused as well
			}
			defer res.Body.Close()
			require.GreaterOrEqual(t, res.StatusCode, 400, fmt.Sprint(res.Header))
			require.Less(t, res.StatusCode, 600)
			require.NotEqual(t, 500, res.StatusCode)
		})
	}
}

// pipes is a listener whose connections hold nothing: what one end writes
// waits until the other reads it, so that no buffer hides who doesn't.
type pipes chan net.Conn

func (p pipes) Accept() (net.Conn, error) {
	if c, open := <-p; open {
		return c, nil
	}
	return nil, net.ErrClosed
}

func (p pipes) Close() error   { return nil }
func (p pipes) Addr() net.Addr { return &net.UnixAddr{Name: "pipes", Net: "unix"} }

// TestSlowReaderOfAStream: a stream outlives the time for a whole answer, here
// over before it begins, as long as its lines are read, and ends when one is not.
func TestSlowReaderOfAStream(t *testing.T) {
	s := servertest.OnSQLiteWith(t, func(c *server.Config) { c.WriteTimeout = time.Second })
	designer := s.Designer()
	listener, closed := make(pipes), make(chan struct{})
	once := sync.OnceFunc(func() { close(closed) })
	streams := &http.Server{Handler: s.Server.Handler(), WriteTimeout: time.Nanosecond, ConnState: func(_ net.Conn, state http.ConnState) {
		if state == http.StateClosed {
			once()
		}
	}}
	go streams.Serve(listener) //nolint:errcheck // ends with the test
	t.Cleanup(func() { close(listener); require.NoError(t, streams.Close()) })

	client, far := net.Pipe()
	t.Cleanup(func() { client.Close() }) //nolint:errcheck // a pipe
	listener <- far
	_, err := fmt.Fprintf(client, "GET /api/v1/studio/live HTTP/1.1\r\nHost: x\r\nAuthorization: Bearer %s\r\n\r\n", designer.Token())
	require.NoError(t, err)
	lines := bufio.NewScanner(client)
	await := func(text string) {
		for lines.Scan() {
			if strings.Contains(lines.Text(), text) {
				return
			}
		}
		t.Fatalf("the stream ended before %q: %v", text, lines.Err())
	}
	await(": here")
	designer.Post("/designs", newDesign("name", "Read jacket")).Want(201)
	await("event: changed")
	designer.Post("/designs", newDesign("name", "Unread jacket")).Want(201)
	<-closed
}
