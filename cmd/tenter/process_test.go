package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// patience bounds what a test waits for. It is no measure of anything: it only
// turns a program that hangs into a test that fails.
const patience = 2 * time.Minute

var (
	buildFolder string
	binary      = sync.OnceValues(func() (string, error) {
		path := filepath.Join(buildFolder, "tenter")
		build := exec.Command("go", "build", "-trimpath", "-buildvcs=false", "-ldflags", "-X main.release=1.2.3-test", "-o", path, ".")
		build.Env = append(os.Environ(), "CGO_ENABLED=0")
		if out, err := build.CombinedOutput(); err != nil {
			return "", fmt.Errorf("build the program: %w\n%s", err, out)
		}
		return path, nil
	})
)

func TestMain(m *testing.M) {
	var err error
	if buildFolder, err = os.MkdirTemp("", "tenter-program-"); err != nil {
		panic(err)
	}
	code := m.Run()
	os.RemoveAll(buildFolder) //nolint:errcheck // a folder of the system's temporary ones
	os.Exit(code)
}

// command is the real program in a folder of its own, with no setting but the
// given ones.
func command(t *testing.T, folder string, settings []string, args ...string) *exec.Cmd {
	t.Helper()
	path, err := binary()
	require.NoError(t, err)
	ctx, cancel := context.WithTimeout(context.Background(), patience)
	t.Cleanup(cancel)
	c := exec.CommandContext(ctx, path, args...)
	c.Dir = folder
	for _, setting := range os.Environ() {
		if !strings.HasPrefix(setting, "TENTER_") {
			c.Env = append(c.Env, setting)
		}
	}
	c.Env = append(c.Env, settings...)
	return c
}

// outcome is how a command ended.
type outcome struct {
	code     int
	out, err string
}

// carryOut runs a command to its end.
func carryOut(t *testing.T, c *exec.Cmd, input string) outcome {
	t.Helper()
	var out, errs bytes.Buffer
	c.Stdin, c.Stdout, c.Stderr = strings.NewReader(input), &out, &errs
	err := c.Run()
	if _, exited := err.(*exec.ExitError); !exited {
		require.NoError(t, err)
	}
	return outcome{c.ProcessState.ExitCode(), out.String(), errs.String()}
}

// transcript gathers the lines of one of a program's outputs.
type transcript struct {
	mu    sync.Mutex
	grown *sync.Cond
	lines []string
	ended bool
}

func record(r io.Reader) *transcript {
	s := &transcript{}
	s.grown = sync.NewCond(&s.mu)
	go func() {
		lines := bufio.NewScanner(r)
		for lines.Scan() {
			s.mu.Lock()
			s.lines = append(s.lines, lines.Text())
			s.mu.Unlock()
			s.grown.Broadcast()
		}
		s.mu.Lock()
		s.ended = true
		s.mu.Unlock()
		s.grown.Broadcast()
	}()
	return s
}

// await returns the first line that contains text, as soon as there is one.
func (s *transcript) await(t *testing.T, text string) string {
	t.Helper()
	s.mu.Lock()
	defer s.mu.Unlock()
	for seen := 0; ; {
		for ; seen < len(s.lines); seen++ {
			if strings.Contains(s.lines[seen], text) {
				return s.lines[seen]
			}
		}
		require.False(t, s.ended, "the program ended without saying %q; it said:\n%s", text, strings.Join(s.lines, "\n"))
		s.grown.Wait()
	}
}

// end blocks until the program has said its last line.
func (s *transcript) end() {
	s.mu.Lock()
	defer s.mu.Unlock()
	for !s.ended {
		s.grown.Wait()
	}
}

// serving is a server that runs.
type serving struct {
	cmd      *exec.Cmd
	url      string
	out, log *transcript
	finished sync.Once
	err      error
}

// serveIn starts the server on a free port and returns when it serves.
func serveIn(t *testing.T, folder string, settings []string, args ...string) *serving {
	t.Helper()
	c := command(t, folder, append([]string{"TENTER_ADDR=127.0.0.1:0"}, settings...), append([]string{"serve"}, args...)...)
	out, err := c.StdoutPipe()
	require.NoError(t, err)
	log, err := c.StderrPipe()
	require.NoError(t, err)
	require.NoError(t, c.Start())
	s := &serving{cmd: c, out: record(out), log: record(log)}
	t.Cleanup(func() {
		c.Process.Kill() //nolint:errcheck // mostly it has ended already
		s.wait()         //nolint:errcheck // the tests look at what matters
	})
	s.url = strings.TrimPrefix(s.out.await(t, "Tenter serves at "), "Tenter serves at ")
	return s
}

// wait returns how the process ended, nil for exit code 0.
func (s *serving) wait() error {
	s.finished.Do(func() {
		s.out.end() // Wait closes the pipes, read or not
		s.log.end()
		s.err = s.cmd.Wait()
	})
	return s.err
}

// answer is what the server said.
type answer struct {
	status int
	header http.Header
	body   map[string]any
}

// ask sends a request to the API. The error is the connection's: nothing, or
// not everything, came back.
func (s *serving) ask(method, path, token string, header map[string]string, body any) (*answer, error) {
	var reader io.Reader
	if body != nil {
		raw, err := json.Marshal(body)
		if err != nil {
			return nil, err
		}
		reader = bytes.NewReader(raw)
	}
	req, err := http.NewRequest(method, s.url+"/api/v1"+path, reader)
	if err != nil {
		return nil, err
	}
	req.Header.Set("Content-Type", "application/json")
	if token != "" {
		req.Header.Set("Authorization", "Bearer "+token)
	}
	for name, value := range header {
		req.Header.Set(name, value)
	}
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		return nil, err
	}
	defer res.Body.Close()
	raw, err := io.ReadAll(res.Body)
	if err != nil {
		return nil, err
	}
	a := &answer{status: res.StatusCode, header: res.Header}
	if len(raw) > 0 {
		err = json.Unmarshal(raw, &a.body)
	}
	return a, err
}

// want is ask for a request that has to be answered with the given status.
func (s *serving) want(t *testing.T, status int, method, path, token string, body any) map[string]any {
	t.Helper()
	a, err := s.ask(method, path, token, nil, body)
	require.NoError(t, err)
	require.Equal(t, status, a.status, "%s %s = %v", method, path, a.body)
	return a.body
}

const password = "four plain words here"

// signIn returns an access token for somebody with the tests' password.
func (s *serving) signIn(t *testing.T, login string) string {
	t.Helper()
	return s.want(t, 200, "POST", "/auth/sign-in", "", map[string]any{"login": login, "password": password})["access_token"].(string)
}

// addDesigner puts a designer into the database that the settings name.
func addDesigner(t *testing.T, folder string, settings []string) {
	t.Helper()
	o := carryOut(t, command(t, folder, settings, "person", "add", "odile", "--role", "designer", "--password-stdin"), password+"\n")
	require.Equal(t, outcome{0, "Added odile.\n", ""}, o)
}

// pullover is a design that can be added.
func pullover(name string) map[string]any {
	return map[string]any{"name": name, "craft": "crochet", "audience": "unisex", "terms": "us", "unit": "cm",
		"gauge": map[string]any{"stitches": 14, "rows": 11, "span": 10, "unit": "cm"}}
}
