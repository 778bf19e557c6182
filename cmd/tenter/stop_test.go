package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// slowRequest sends a request's head and half of its body, and returns once
// the server has begun to read it.
type slowRequest struct {
	conn net.Conn
	in   *bufio.Reader
	rest string
}

func beginSlowly(t *testing.T, s *serving, token, path string, body any) *slowRequest {
	t.Helper()
	raw, err := json.Marshal(body)
	require.NoError(t, err)
	host := strings.TrimPrefix(s.url, "http://")
	conn, err := net.Dial("tcp", host)
	require.NoError(t, err)
	t.Cleanup(func() { conn.Close() })
	require.NoError(t, conn.SetDeadline(time.Now().Add(patience)))
	// The server says "100 Continue" as soon as the handler reads the body
	// (RFC 9110, section 10.1.1): from then on the request is in its hands.
	_, err = fmt.Fprintf(conn, "POST /api/v1%s HTTP/1.1\r\nHost: %s\r\nAuthorization: Bearer %s\r\nContent-Type: application/json\r\nContent-Length: %d\r\nExpect: 100-continue\r\n\r\n",
		path, host, token, len(raw))
	require.NoError(t, err)
	in := bufio.NewReader(conn)
	line, err := in.ReadString('\n')
	require.NoError(t, err)
	require.Equal(t, "HTTP/1.1 100 Continue\r\n", line)
	_, err = in.ReadString('\n')
	require.NoError(t, err)
	half := len(raw) / 2
	_, err = conn.Write(raw[:half])
	require.NoError(t, err)
	return &slowRequest{conn, in, string(raw[half:])}
}

func (r *slowRequest) finish(t *testing.T) *http.Response {
	t.Helper()
	_, err := io.WriteString(r.conn, r.rest)
	require.NoError(t, err)
	res, err := http.ReadResponse(r.in, nil)
	require.NoError(t, err)
	return res
}

func TestStopLetsRequestsFinish(t *testing.T) {
	folder := t.TempDir()
	settings := []string{"TENTER_DATABASE=" + filepath.Join(folder, "studio.db"), "TENTER_DRAIN=10m"}
	addDesigner(t, folder, settings)
	s := serveIn(t, folder, settings)
	token := s.signIn(t, "odile")
	slow := beginSlowly(t, s, token, "/designs", pullover("Slow pullover"))

	require.NoError(t, s.cmd.Process.Signal(syscall.SIGTERM))
	s.log.await(t, "msg=stopping")
	res := slow.finish(t)
	require.Equal(t, http.StatusCreated, res.StatusCode)
	slow.conn.Close()
	require.NoError(t, s.wait(), "exit code 0")
	s.log.await(t, "msg=stopped")

	again := serveIn(t, folder, settings)
	again.want(t, 200, "GET", "/designs/slow-pullover", again.signIn(t, "odile"), nil)
}

// TestStopDoesNotWaitForStreams would wait for the ten minutes of the drain,
// far longer than the test's patience, if an open stream held the server up.
func TestStopDoesNotWaitForStreams(t *testing.T) {
	folder := t.TempDir()
	settings := []string{"TENTER_DATABASE=" + filepath.Join(folder, "studio.db"), "TENTER_DRAIN=10m"}
	addDesigner(t, folder, settings)
	s := serveIn(t, folder, settings)
	token := s.signIn(t, "odile")
	s.want(t, 201, "POST", "/designs", token, pullover("Watched pullover"))
	var streams []*bufio.Reader
	for _, path := range []string{"/studio/live", "/designs/watched-pullover/live"} {
		req, err := http.NewRequest("GET", s.url+"/api/v1"+path, nil)
		require.NoError(t, err)
		req.Header.Set("Authorization", "Bearer "+token)
		res, err := http.DefaultClient.Do(req)
		require.NoError(t, err)
		t.Cleanup(func() { res.Body.Close() })
		require.Equal(t, http.StatusOK, res.StatusCode)
		stream := bufio.NewReader(res.Body)
		first, err := stream.ReadString('\n')
		require.NoError(t, err)
		require.Equal(t, "retry: 2000\n", first)
		streams = append(streams, stream)
	}

	require.NoError(t, s.cmd.Process.Signal(syscall.SIGTERM))
	for _, stream := range streams {
		_, err := io.ReadAll(stream)
		require.NoError(t, err, "the stream ends as streams end, not by a broken connection")
	}
	require.NoError(t, s.wait(), "exit code 0")
}

func TestSecondSignalEndsAtOnce(t *testing.T) {
	folder := t.TempDir()
	settings := []string{"TENTER_DATABASE=" + filepath.Join(folder, "studio.db"), "TENTER_DRAIN=10m"}
	addDesigner(t, folder, settings)
	s := serveIn(t, folder, settings)
	beginSlowly(t, s, s.signIn(t, "odile"), "/designs", pullover("Never finished"))
	require.NoError(t, s.cmd.Process.Signal(syscall.SIGTERM))
	s.log.await(t, "msg=stopping")
	require.NoError(t, s.cmd.Process.Signal(syscall.SIGTERM))
	require.ErrorContains(t, s.wait(), "signal: terminated")
}

func TestDrainHasAnEnd(t *testing.T) {
	folder := t.TempDir()
	settings := []string{"TENTER_DATABASE=" + filepath.Join(folder, "studio.db"), "TENTER_DRAIN=50ms"}
	addDesigner(t, folder, settings)
	s := serveIn(t, folder, settings)
	beginSlowly(t, s, s.signIn(t, "odile"), "/designs", pullover("Never finished"))
	require.NoError(t, s.cmd.Process.Signal(syscall.SIGTERM))
	require.Error(t, s.wait())
	require.Equal(t, exitFailed, s.cmd.ProcessState.ExitCode(), "requests that were cut off are a failure")
	s.log.await(t, "tenter: stop: context deadline exceeded")
}
