package handlers_test

import (
	"bufio"
	"context"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/server/servertest"
)

// listen opens a live stream and returns its lines.
func listen(t *testing.T, s *servertest.Studio, c *servertest.Client, path string) (int, <-chan string) {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), 30*time.Second)
	t.Cleanup(cancel)
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, s.URL+"/api/v1"+path, nil)
	require.NoError(t, err)
	req.Header.Set("Authorization", "Bearer "+c.Token())
	res, err := http.DefaultClient.Do(req)
	require.NoError(t, err)
	lines := make(chan string, 100)
	go func() {
		defer close(lines)
		defer res.Body.Close()
		scanner := bufio.NewScanner(res.Body)
		for scanner.Scan() {
			lines <- scanner.Text()
		}
	}()
	return res.StatusCode, lines
}

// next returns the next line that begins with the given words.
func next(t *testing.T, lines <-chan string, prefix string) string {
	t.Helper()
	for line := range lines {
		if strings.HasPrefix(line, prefix) {
			return line
		}
	}
	t.Fatalf("the stream ended before a line %q", prefix)
	return ""
}

func TestBoardHearsOfAReport(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c := s.Designer()
		p := s.NewPullover(c, "Saltmarsh pullover")
		q := s.NewPullover(c, "Another one")
		s.OpenCall(c, p)
		tester, assignment := assign(t, s, c, p, "agrimony", "1")
		status, lines := listen(t, s, c, "/designs/"+p.Slug+"/live")
		require.Equal(t, 200, status)
		next(t, lines, ": here") // the first line comes at once

		c.Post("/designs/"+q.ID+"/versions", map[string]any{}).Want(201) // another design's change is not told
		tester.Post("/assignments/"+assignment+"/reports", map[string]any{"measurements": measured(p, "cm", map[string]float64{"bust": 90})}).Want(201)
		require.Equal(t, "event: changed", next(t, lines, "event:"))
		data := next(t, lines, "data:")
		require.Contains(t, data, `"entity":"report"`)
		require.Contains(t, data, p.ID)
		require.NotContains(t, data, "agrimony")
	})
}

func TestRefusedChangeIsNotTold(t *testing.T) {
	s := servertest.OnSQLite(t)
	c := s.Designer()
	d := c.Post("/designs", pullover()).Want(201).ID()
	_, lines := listen(t, s, c, "/designs/"+d+"/live")
	next(t, lines, ": here")
	c.Patch("/designs/"+d, 9, map[string]any{"note": "stale"}).Want(412)
	c.Patch("/designs/"+d, 1, map[string]any{"note": "kept"}).Want(200)
	next(t, lines, "data:")
	s.Store.Feed().Close()
	for line := range lines {
		require.NotContains(t, line, "data:", "one change was made, and told twice")
	}
}

func TestLiveStreamIsForStaff(t *testing.T) {
	s := servertest.OnSQLite(t)
	d := s.Designer().Post("/designs", pullover()).Want(201).ID()
	tester := s.As("agrimony", models.Tester)
	for _, path := range []string{"/designs/" + d + "/live", "/studio/live"} {
		s.Nobody().Get(path).Want(401)
		tester.Get(path).Want(403)
		for _, role := range models.Staff() {
			status, lines := listen(t, s, s.As("as-"+strings.ReplaceAll(string(role), "_", "-")+"-"+d[len(d)-4:]+path[1:2], role), path)
			require.Equal(t, 200, status)
			next(t, lines, ": here")
		}
	}
}
