package main

import (
	"net"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestVersion(t *testing.T) {
	require.Equal(t, outcome{0, "tenter 1.2.3-test\n", ""}, carryOut(t, command(t, t.TempDir(), nil, "version"), ""))
}

func TestHelpNamesEveryCommand(t *testing.T) {
	o := carryOut(t, command(t, t.TempDir(), nil, "--help"), "")
	require.Zero(t, o.code)
	for _, name := range []string{"serve", "demo", "migrate", "backup", "restore", "check", "person add", "calc", "health", "version"} {
		require.Contains(t, o.out, "\n  "+name)
	}
}

func TestBadArguments(t *testing.T) {
	for _, row := range []struct {
		name string
		args []string
		code int
		says string
	}{
		{"no command", nil, exitBadInput, "expected one of"},
		{"an unknown command", []string{"frobnicate"}, exitBadInput, "frobnicate"},
		{"an unknown flag", []string{"migrate", "--frob"}, exitBadInput, "--frob"},
		{"a time without a unit", []string{"serve", "--drain", "5"}, exitBadInput, "--drain"},
		{"an unknown log format", []string{"serve", "--log-format", "xml"}, exitBadInput, "--log-format"},
		{"an unknown zone", []string{"serve", "--zone", "Nowhere/Land"}, exitBadInput, "TENTER_ZONE"},
		{"a short key", []string{"serve", "--signing-key", "short"}, exitBadInput, "TENTER_SIGNING_KEY: has 5 characters"},
		{"an address without a scheme", []string{"serve", "--base-url", "tenter.example"}, exitBadInput, "TENTER_BASE_URL"},
		{"no time to drain", []string{"serve", "--drain", "0s"}, exitBadInput, "TENTER_DRAIN"},
		{"a proxy that is no address", []string{"serve", "--proxies", "everybody"}, exitBadInput, "TENTER_TRUSTED_PROXIES"},
		{"a database in memory", []string{"migrate", "--database", ":memory:"}, exitFailed, "name a file"},
		{"nobody listens", []string{"health", "--addr", "127.0.0.1:1"}, exitFailed, "no answer"},
		{"an address without a port", []string{"health", "--addr", "here"}, exitBadInput, "TENTER_ADDR"},
	} {
		t.Run(row.name, func(t *testing.T) {
			o := carryOut(t, command(t, t.TempDir(), nil, row.args...), "")
			require.Equal(t, row.code, o.code, o.err)
			require.Empty(t, o.out)
			oneLine(t, o.err, row.says)
			require.NotContains(t, o.err, "short ", "a secret is repeated")
		})
	}
}

func TestAddressInUse(t *testing.T) {
	taken, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	defer taken.Close()
	o := carryOut(t, command(t, t.TempDir(), nil, "serve", "--addr", taken.Addr().String()), "")
	require.Equal(t, exitFailed, o.code)
	require.Contains(t, o.err, "tenter: listen on "+taken.Addr().String())
}

func TestDatabaseThatIsNone(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "notes.txt")
	require.NoError(t, os.WriteFile(path, []byte(strings.Repeat("not a database\n", 100)), 0o600))
	o := carryOut(t, command(t, folder, nil, "migrate", "--database", path), "")
	require.Equal(t, exitFailed, o.code)
	oneLine(t, o.err, "file is not a database")
	kept, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, strings.Repeat("not a database\n", 100), string(kept))
}

func TestHealth(t *testing.T) {
	s := serveIn(t, t.TempDir(), nil)
	_, port, err := net.SplitHostPort(strings.TrimPrefix(s.url, "http://"))
	require.NoError(t, err)
	for _, addr := range []string{"127.0.0.1:" + port, ":" + port, "0.0.0.0:" + port} {
		o := carryOut(t, command(t, t.TempDir(), []string{"TENTER_ADDR=" + addr}, "health"), "")
		require.Equal(t, outcome{0, "ready\n", ""}, o, addr)
	}
}

// TestCommandsShareOneDatabase runs several commands at once on one file that
// isn't there yet: schema, people and server all end up whole.
func TestCommandsShareOneDatabase(t *testing.T) {
	folder := t.TempDir()
	commands := [][]string{{"migrate"}, {"migrate"}, {"migrate"},
		{"person", "add", "odile", "--role", "designer", "--password-stdin"},
		{"person", "add", "mara", "--role", "tester", "--password-stdin"}}
	ended := make([]outcome, len(commands))
	var wg sync.WaitGroup
	for i, args := range commands {
		c := command(t, folder, nil, args...)
		wg.Go(func() { ended[i] = carryOut(t, c, password) })
	}
	wg.Wait()
	for i, o := range ended {
		require.Zero(t, o.code, "%v: %s", commands[i], o.err)
	}

	s := serveIn(t, folder, nil)
	token := s.signIn(t, "odile")
	o := carryOut(t, command(t, folder, nil, "migrate"), "")
	require.Equal(t, outcome{0, "The schema is up to date.\n", ""}, o, "beside a server that serves")
	o = carryOut(t, command(t, folder, nil, "person", "add", "bram", "--role", "maker"), "")
	require.Zero(t, o.code, o.err)
	people := s.want(t, 200, "GET", "/people", token, nil)["items"].([]any)
	require.Len(t, people, 3, "the server sees at once whom a command added")
}
