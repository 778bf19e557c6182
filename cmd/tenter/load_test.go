package main

import (
	"bufio"
	"context"
	"fmt"
	"net/http"
	"os"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/modelstest"
)

// loadVariable is how long the load lasts: TENTER_TEST_LOAD=60s. Unset, a few
// seconds, which show that it works and measure nothing.
const loadVariable = "TENTER_TEST_LOAD"

const (
	loadTesters   = 50
	loadDesigners = 10
	loadPause     = 250 * time.Millisecond // a tester's, between two reports; nobody is that quick
	boardSettles  = 400 * time.Millisecond // the page's, see frontend/app/live.js
)

// TestLoad has 50 testers save reports, one after another, while 10 designers
// have a board open that reads itself again as changes are told. On
// PostgreSQL two servers stand side by side, and each designer watches a design
// whose testers write through the other one.
func TestLoad(t *testing.T) {
	for _, row := range []struct {
		name    string
		servers int
		target  func(testing.TB) string
	}{
		{"one server on SQLite", 1, modelstest.SQLite},
		{"two servers on PostgreSQL", 2, modelstest.Postgres},
	} {
		t.Run(row.name, func(t *testing.T) {
			target := row.target(t)
			l := newLoad(t, target)
			for range row.servers {
				l.servers = append(l.servers, serveIn(t, t.TempDir(), []string{"TENTER_DATABASE=" + target, "TENTER_TRUSTED_PROXIES=127.0.0.1", "TENTER_WRITES_A_MINUTE=0"}))
			}
			l.run(t)
		})
	}
}

// load is everybody at work.
type load struct {
	servers   []*serving
	lasts     time.Duration
	designs   []string
	testers   []*loadTester
	designers []*loadDesigner
}

// seat is somebody at a machine of their own, behind the reverse proxy that
// the servers are told to trust.
type seat struct {
	refresh, address, token string
	design                  int
	err                     error
}

// loadTester saves reports of one assignment.
type loadTester struct {
	seat
	assignment, point string
	last              float64 // measurement acknowledged last, cm
	saved             int
	took              []time.Duration
}

// loadDesigner keeps one board open.
type loadDesigner struct {
	seat
	heard  atomic.Int64
	boards []time.Duration
}

// newLoad fills a database with ten designs, on each of which 50 testers have
// an assignment and a report, and gives everybody a refresh token.
func newLoad(t *testing.T, target string) *load {
	t.Helper()
	l := &load{lasts: 2 * time.Second}
	if text := os.Getenv(loadVariable); text != "" {
		var err error
		l.lasts, err = time.ParseDuration(text)
		require.NoError(t, err, loadVariable)
	}
	store := modelstest.Open(t, target, models.Options{})
	modelstest.FillDesigns(t, store, loadDesigners, modelstest.Round{Sizes: 9, Points: 8, Reports: loadTesters})
	db := modelstest.Rows(t, store)
	var made []models.Assignment
	require.NoError(t, db.Order("design_id, person_id").Find(&made).Error)
	require.NoError(t, db.Model(&models.Design{}).Order("id").Pluck("id", &l.designs).Error)
	point := map[string]string{}
	for _, d := range l.designs {
		var p models.Point
		require.NoError(t, db.Where("design_id = ? AND position = 1", d).Take(&p).Error)
		point[d] = p.ID
	}
	seated := 0
	take := func(person string, design int) seat {
		_, secret, err := store.StartSignIn(context.Background(), models.System("test"), person, "load")
		require.NoError(t, err)
		seated++
		return seat{refresh: secret, address: fmt.Sprintf("198.51.100.%d", seated), design: design} // RFC 5737: for documentation
	}
	for i := range loadTesters { // tester i on design i modulo 10
		k := i % loadDesigners
		a := made[k*loadTesters+i]
		l.testers = append(l.testers, &loadTester{seat: take(a.PersonID, slices.Index(l.designs, a.DesignID)), assignment: a.ID, point: point[a.DesignID]})
	}
	for i := range loadDesigners {
		p, err := store.AddPerson(context.Background(), models.System("test"), models.NewPerson{Handle: fmt.Sprintf("designer-%d", i), Roles: []models.Role{models.Designer}})
		require.NoError(t, err)
		l.designers = append(l.designers, &loadDesigner{seat: take(p.ID, i)})
	}
	return l
}

// of is the server of somebody who works on a design: designers sit at one,
// its testers at the next.
func (l *load) of(design, shift int) *serving { return l.servers[(design+shift)%len(l.servers)] }

func (l *load) run(t *testing.T) {
	t.Helper()
	var watching, saving, listening sync.WaitGroup
	watched, stop := context.WithCancel(t.Context())
	defer stop()
	listening.Add(len(l.designers))
	for _, d := range l.designers {
		watching.Go(func() { d.err = d.watch(watched, l.of(d.design, 0), l.designs[d.design], listening.Done) })
	}
	listening.Wait()
	until := time.Now().Add(l.lasts)
	for _, one := range l.testers {
		saving.Go(func() { one.err = one.save(l.of(one.design, 1), until) })
	}
	saving.Wait()
	l.lastIsHeard(t)
	stop()
	watching.Wait()
	l.nothingLost(t)
	l.report(t)
}

// save sends reports until the time is over; each has to be acknowledged.
func (o *loadTester) save(s *serving, until time.Time) error {
	if err := o.signIn(s); err != nil {
		return err
	}
	for time.Now().Before(until) {
		value := 80 + float64(o.saved%40)/2
		begin := time.Now()
		a, err := o.ask(s, "POST", "/assignments/"+o.assignment+"/reports", fmt.Sprintf("%s %d", o.assignment, o.saved), map[string]any{"measurements": []any{map[string]any{"point_id": o.point, "value": value, "unit": "cm"}}})
		if err != nil {
			return err
		}
		if a.status != http.StatusCreated {
			return fmt.Errorf("a report was answered %d %v", a.status, a.body)
		}
		o.took = append(o.took, time.Since(begin))
		o.saved++
		o.last = value
		time.Sleep(loadPause) // a tester's pace, not a wait for anything
	}
	return nil
}

// watch listens to a design and reads its board again as the page does.
func (d *loadDesigner) watch(ctx context.Context, s *serving, design string, connected func()) error {
	once := sync.OnceFunc(connected)
	defer once()
	if err := d.signIn(s); err != nil {
		return err
	}
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, s.url+"/api/v1/designs/"+design+"/live", nil)
	if err != nil {
		return err
	}
	req.Header.Set("Authorization", "Bearer "+d.token)
	req.Header.Set("X-Forwarded-For", d.address)
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		return err
	}
	defer res.Body.Close()
	if res.StatusCode != http.StatusOK {
		return fmt.Errorf("the live stream was answered %d", res.StatusCode)
	}
	due := make(chan struct{}, 1)
	go func() {
		defer close(due)
		for lines := bufio.NewScanner(res.Body); lines.Scan(); {
			once()
			if !strings.HasPrefix(lines.Text(), "data: ") {
				continue
			}
			d.heard.Add(1)
			select {
			case due <- struct{}{}:
			default:
			}
		}
	}()
	for range due {
		time.Sleep(boardSettles) // as the page lets changes settle
		begin := time.Now()
		a, err := d.ask(s, "GET", "/designs/"+design+"/board", "", nil)
		if err != nil {
			return err
		}
		if a.status != http.StatusOK {
			return fmt.Errorf("a board was answered %d %v", a.status, a.body)
		}
		d.boards = append(d.boards, time.Since(begin))
	}
	return nil
}

// lastIsHeard makes one change more for each design and waits until the
// designer's stream tells of it.
func (l *load) lastIsHeard(t *testing.T) {
	t.Helper()
	for _, d := range l.designers {
		before := d.heard.Load()
		one := l.testers[slices.IndexFunc(l.testers, func(o *loadTester) bool { return o.design == d.design })]
		require.NoError(t, one.save(l.of(one.design, 1), time.Now().Add(time.Millisecond)))
		require.Eventually(t, func() bool { return d.heard.Load() > before }, patience, 10*time.Millisecond, "design %d is never told of", d.design)
	}
}

// nothingLost reads every assignment back.
func (l *load) nothingLost(t *testing.T) {
	t.Helper()
	for _, d := range l.designers {
		require.NoError(t, d.err)
		require.NotEmpty(t, d.boards)
	}
	for _, o := range l.testers {
		require.NoError(t, o.err)
		a, err := o.ask(l.of(o.design, 0), "GET", "/assignments/"+o.assignment, "", nil)
		require.NoError(t, err)
		require.Equal(t, http.StatusOK, a.status)
		current := a.body["report"].(map[string]any)
		require.EqualValues(t, o.saved+1, current["number"], "the one it began with, and each that was acknowledged")
		length := current["measurements"].([]any)[0].(map[string]any)["length"].(map[string]any)
		require.InDelta(t, o.last, length["cm"], 1e-9)
		require.Len(t, a.body["history"], o.saved+1)
	}
}

func (l *load) report(t *testing.T) {
	t.Helper()
	var saves, boards []time.Duration
	var heard int64
	for _, o := range l.testers {
		saves = append(saves, o.took...)
	}
	for _, d := range l.designers {
		boards = append(boards, d.boards...)
		heard += d.heard.Load()
	}
	t.Logf("%v, %d servers: %d reports saved, none lost: %s", l.lasts, len(l.servers), len(saves), percentiles(saves))
	t.Logf("%d boards read: %s; %d changes told", len(boards), percentiles(boards), heard)
}

func percentiles(of []time.Duration) string {
	slices.Sort(of)
	at := func(share float64) time.Duration {
		return of[int(share*float64(len(of)-1))].Round(100 * time.Microsecond)
	}
	return fmt.Sprintf("half within %v, 95 %% within %v, 99 %% within %v, slowest %v", at(.5), at(.95), at(.99), at(1))
}

// signIn changes the refresh token, which is good once, for an access token.
func (p *seat) signIn(s *serving) error {
	if p.token != "" {
		return nil
	}
	a, err := p.ask(s, "POST", "/auth/refresh", "", map[string]any{"refresh_token": p.refresh})
	if err != nil {
		return err
	}
	var ok bool
	if p.token, ok = a.body["access_token"].(string); !ok {
		return fmt.Errorf("a refresh was answered %d %v", a.status, a.body)
	}
	return nil
}

// ask sends a request as the reverse proxy hands it on. key is its
// Idempotency-Key, "" for none.
func (p *seat) ask(s *serving, method, path, key string, body any) (*answer, error) {
	header := map[string]string{"X-Forwarded-For": p.address}
	if key != "" {
		header["Idempotency-Key"] = key
	}
	return s.ask(method, path, p.token, header, body)
}
