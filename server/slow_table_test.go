package server_test

import (
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/models/modelstest"
	"tenter/server/servertest"
)

// TestSlowReadersOfTables: more clients than the database has readers ask for a
// table that is larger than any buffer on the way and stop after the first
// letter. Everybody else goes on reading, and their tables are whole when they
// read on.
func TestSlowReadersOfTables(t *testing.T) {
	s := servertest.OnSQLite(t)
	designer := s.Designer()
	modelstest.FillDesigns(t, s.Store, 1, modelstest.Round{Sizes: 6, Points: 10, Reports: 200})
	listener := make(pipes)
	tables := &http.Server{Handler: s.Server.Handler()}
	go tables.Serve(listener) //nolint:errcheck // ends with the test
	t.Cleanup(func() { close(listener); require.NoError(t, tables.Close()) })

	const path = "/designs/design-1/tables/measurements"
	whole := designer.Get(path).Want(200)
	require.Greater(t, len(whole.Body), 100_000)
	require.Equal(t, fmt.Sprint(len(whole.Body)), whole.Header.Get("Content-Length"))
	var slow []net.Conn
	for range 6 {
		client, far := net.Pipe()
		t.Cleanup(func() { client.Close() }) //nolint:errcheck // a pipe
		listener <- far
		_, err := fmt.Fprintf(client, "GET /api/v1%s HTTP/1.1\r\nHost: x\r\nConnection: close\r\nAuthorization: Bearer %s\r\n\r\n", path, designer.Token())
		require.NoError(t, err)
		_, err = io.ReadFull(client, make([]byte, 1)) // the answer has begun
		require.NoError(t, err)
		slow = append(slow, client)
	}
	ctx, stop := context.WithTimeout(t.Context(), time.Minute)
	defer stop()
	_, err := s.Store.Design(ctx, "design-1")
	require.NoError(t, err, "nobody can read any more")

	for _, client := range slow {
		rest, err := io.ReadAll(client)
		require.NoError(t, err)
		require.Equal(t, string(whole.Body), string(rest[len(rest)-len(whole.Body):]))
	}
}
