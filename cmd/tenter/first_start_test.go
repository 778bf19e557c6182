package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/pquerna/otp/totp"
	"github.com/stretchr/testify/require"
)

// TestFirstStartTellsTheWay starts in an empty folder with no setting but a
// free port, and does what the program says, word for word.
func TestFirstStartTellsTheWay(t *testing.T) {
	folder := t.TempDir()
	s := serveIn(t, folder, nil)
	s.out.await(t, "Nobody can sign in yet.")
	advice := strings.Fields(s.out.await(t, "tenter person add HANDLE"))
	require.Equal(t, "tenter", advice[0])
	for i, word := range advice {
		if word == "HANDLE" {
			advice[i] = "odile"
		}
	}
	o := carryOut(t, command(t, folder, []string{"TENTER_BASE_URL=" + s.url}, advice[1:]...), "")
	require.Zero(t, o.code, o.err)
	require.Contains(t, o.out, "Added odile.")
	_, token, found := strings.Cut(strings.TrimSpace(o.out), s.url+"/join#")
	require.True(t, found, "no link in %q", o.out)

	look := s.want(t, 200, "POST", "/invitations/look", "", map[string]any{"token": token})
	require.Equal(t, "odile", look["handle"])
	accepted := s.want(t, 200, "POST", "/invitations/accept", "", map[string]any{"token": token, "password": password})
	me := s.want(t, 200, "GET", "/me", accepted["access_token"].(string), nil)
	require.Equal(t, []any{"designer"}, me["roles"])
	s.want(t, 404, "POST", "/invitations/accept", "", map[string]any{"token": token, "password": password})

	info, err := os.Stat(filepath.Join(folder, "data"))
	require.NoError(t, err)
	require.Equal(t, os.FileMode(0o700), info.Mode().Perm(), "others on this machine can't read the studio")
	require.NoError(t, s.cmd.Process.Signal(os.Interrupt))
	require.NoError(t, s.wait())

	again := serveIn(t, folder, nil)
	again.signIn(t, "odile")
	require.NoError(t, again.cmd.Process.Signal(os.Interrupt))
	require.NoError(t, again.wait())
	require.NotContains(t, strings.Join(again.out.lines, "\n"), "Nobody can sign in yet.")
	require.NotContains(t, strings.Join(again.log.lines, "\n"), password)
}

func TestPersonAddRefusals(t *testing.T) {
	folder := t.TempDir()
	addDesigner(t, folder, nil)
	for _, row := range []struct {
		name, input string
		args        []string
		code        int
		says        string
	}{
		{"no role", "", []string{"mara"}, exitBadInput, "--role"},
		{"a role that there isn't", "", []string{"mara", "--role", "boss"}, exitBadInput, "roles[0]: is not one of"},
		{"a short password", "short\n", []string{"mara", "--role", "tester", "--password-stdin"}, exitBadInput, "password: is too short"},
		{"no password", "", []string{"mara", "--role", "tester", "--password-stdin"}, exitBadInput, "password: "},
		{"a handle with a space", "", []string{"mara quill", "--role", "tester"}, exitBadInput, "handle: may not contain spaces"},
		{"no e-mail address", "", []string{"mara", "--role", "tester", "--email", "nowhere"}, exitBadInput, "email: is not an e-mail address"},
		{"a handle that is taken", "", []string{"ODILE", "--role", "tester"}, exitFailed, "handle: is taken"},
	} {
		t.Run(row.name, func(t *testing.T) {
			o := carryOut(t, command(t, folder, nil, append([]string{"person", "add"}, row.args...)...), row.input)
			require.Equal(t, row.code, o.code, o.err)
			require.Empty(t, o.out)
			oneLine(t, o.err, row.says)
		})
	}
	o := carryOut(t, command(t, folder, nil, "person", "add", "mara", "--role", "tester"), "")
	require.Zero(t, o.code, "none of the refused left a mara behind: %s", o.err)
}

// oneLine asserts one line from the program that says what was wrong.
func oneLine(t *testing.T, text, says string) {
	t.Helper()
	require.True(t, strings.HasPrefix(text, "tenter: ") && strings.HasSuffix(text, "\n"), "%q", text)
	require.Equal(t, 1, strings.Count(text, "\n"), "more than one line: %q", text)
	require.Contains(t, text, says)
}

// TestPersonUnlock: device and recovery codes are lost, and a server runs.
func TestPersonUnlock(t *testing.T) {
	folder := t.TempDir()
	addDesigner(t, folder, nil)
	s := serveIn(t, folder, nil)
	token := s.signIn(t, "odile")
	made := s.want(t, 200, "POST", "/me/second-step", token, map[string]any{"password": password})
	code, err := totp.GenerateCode(made["secret"].(string), time.Now())
	require.NoError(t, err)
	s.want(t, 200, "POST", "/me/second-step/confirm", token, map[string]any{"code": code})
	credentials := map[string]any{"login": "odile", "password": password}
	half := s.want(t, 200, "POST", "/auth/sign-in", "", credentials)
	require.Contains(t, half, "second_step")

	for _, row := range []struct {
		name string
		args []string
		code int
		out  string
		says string
	}{
		{"nobody named", nil, exitBadInput, "", "<handle>"},
		{"somebody that there isn't", []string{"mara"}, exitFailed, "", "person"},
		{"who has lost their device", []string{"ODILE"}, 0, "odile signs in with the password alone now, and everywhere anew.\n", ""},
		{"twice", []string{"odile"}, exitFailed, "", "second step"},
	} {
		t.Run(row.name, func(t *testing.T) {
			o := carryOut(t, command(t, folder, nil, append([]string{"person", "unlock"}, row.args...)...), "")
			require.Equal(t, row.code, o.code, o.err)
			require.Equal(t, row.out, o.out)
			if row.code != 0 {
				oneLine(t, o.err, row.says)
			}
		})
	}
	s.want(t, 401, "GET", "/me", token, nil) // at once, by the server that runs
	s.want(t, 401, "POST", "/auth/second-step", "", map[string]any{"token": half["second_step"].(map[string]any)["token"], "code": code})
	token = s.signIn(t, "odile")
	news := s.want(t, 200, "GET", "/me/sign-ins", token, nil)["notices"].([]any)
	var told []any
	for _, n := range news {
		told = append(told, n.(map[string]any)["action"])
	}
	require.Contains(t, told, "second step taken away")
}
