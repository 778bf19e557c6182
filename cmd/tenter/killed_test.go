package main

import (
	"database/sql"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	_ "modernc.org/sqlite" // registers "sqlite"
)

// killsVariable is how many times the server is killed.
const killsVariable = "TENTER_TEST_KILLS"

// seedVariable repeats a run of the tests that kill.
const seedVariable = "TENTER_TEST_SEED"

// write is one design as its writer knows it.
type write struct {
	name, key string
	id        string // "" until the creation was acknowledged
	note      string // as last acknowledged
	revision  int    // as last acknowledged; 0: nothing was
	asked     string // the note of a change that was sent and not acknowledged
}

// ledger is everything that was ever asked of the studio.
type ledger struct {
	mu     sync.Mutex
	writes []*write
}

func (l *ledger) begin(name string) *write {
	w := &write{name: name, key: "key of " + name}
	l.mu.Lock()
	defer l.mu.Unlock()
	l.writes = append(l.writes, w)
	return w
}

// killRounds returns how often to kill, usually so many times, and the chance
// that picks the moments.
func killRounds(t *testing.T, rounds int) (int, *rand.Rand) {
	t.Helper()
	if testing.Short() {
		rounds = 3
	}
	if text := os.Getenv(killsVariable); text != "" {
		var err error
		rounds, err = strconv.Atoi(text)
		require.NoError(t, err, killsVariable)
	}
	seed := uint64(time.Now().UnixNano())
	if text := os.Getenv(seedVariable); text != "" {
		var err error
		seed, err = strconv.ParseUint(text, 10, 64)
		require.NoError(t, err, seedVariable)
	}
	t.Logf("%s=%d", seedVariable, seed)
	return rounds, rand.New(rand.NewPCG(seed, 0))
}

// TestKilledInTheMiddleOfWrites kills the server with SIGKILL at a random
// moment while several clients write, starts it again on the same database,
// and looks for everything that was acknowledged. A kill leaves the operating
// system standing: what a power cut does is a matter of the disk.
func TestKilledInTheMiddleOfWrites(t *testing.T) {
	rounds, chance := killRounds(t, 20)
	folder := t.TempDir()
	settings := []string{"TENTER_DATABASE=" + filepath.Join(folder, "studio.db"), "TENTER_WRITES_A_MINUTE=0"}
	addDesigner(t, folder, settings)

	all := &ledger{}
	for round := range rounds {
		s := serveIn(t, folder, settings)
		token := s.signIn(t, "odile")
		moment := int64(1 + chance.IntN(150))
		writeUntilKilled(s, all, token, round, moment)
		require.Error(t, s.wait(), "it was not killed")

		s = serveIn(t, folder, settings)
		token = s.signIn(t, "odile")
		repeatLost(t, s, all, token)
		compare(t, filepath.Join(folder, "studio.db"), all)
		s.cmd.Process.Kill() //nolint:errcheck // nothing is written any more
		s.wait()             //nolint:errcheck // killed
	}
	acknowledged := 0
	for _, w := range all.writes {
		acknowledged += w.revision
	}
	t.Logf("%d kills, %d acknowledged writes, none lost", rounds, acknowledged)
}

// writeUntilKilled lets four clients add and change designs; as the given
// request sets out, the server is killed.
func writeUntilKilled(s *serving, all *ledger, token string, round int, moment int64) {
	var (
		wg   sync.WaitGroup
		sent atomic.Int64
	)
	count := func() {
		if sent.Add(1) == moment {
			go s.cmd.Process.Kill() //nolint:errcheck // a server that lives on fails the test
		}
	}
	for client := range 4 {
		wg.Go(func() {
			for i := 0; ; i++ {
				w := all.begin(fmt.Sprintf("Round %d client %d design %d", round, client, i))
				count()
				if !w.add(s, token) {
					return
				}
				for change := range 2 {
					count()
					if !w.change(s, token, fmt.Sprintf("change %d", change)) {
						return
					}
				}
			}
		})
	}
	wg.Wait()
}

// add asks for the design and tells whether it was acknowledged.
func (w *write) add(s *serving, token string) bool {
	a, err := s.ask("POST", "/designs", token, map[string]string{"Idempotency-Key": w.key}, pullover(w.name))
	if err != nil || a.status != 201 {
		return false
	}
	w.id, w.revision = a.body["id"].(string), 1
	return true
}

// change asks for another note and tells whether it was acknowledged.
func (w *write) change(s *serving, token, note string) bool {
	w.asked = note
	a, err := s.ask("PATCH", "/designs/"+w.id, token, map[string]string{"If-Match": fmt.Sprintf("%q", strconv.Itoa(w.revision))}, map[string]any{"note": note})
	if err != nil || a.status != 200 {
		return false
	}
	w.note, w.asked = note, ""
	w.revision++
	return true
}

// repeatLost sends every creation that was never acknowledged once more under
// its key, as a client does whose connection broke.
func repeatLost(t *testing.T, s *serving, all *ledger, token string) {
	t.Helper()
	for _, w := range all.writes {
		if w.revision > 0 {
			continue
		}
		a, err := s.ask("POST", "/designs", token, map[string]string{"Idempotency-Key": w.key}, pullover(w.name))
		require.NoError(t, err)
		switch a.status {
		case 201: // carried out now, or answered again
			w.id, w.revision = a.body["id"].(string), 1
		case 409: // carried out before; the kill came between the change and its answer
			require.Contains(t, a.body["detail"], "its answer was lost on the way", "%s", w.name)
			w.revision = 1
		default:
			t.Fatalf("%s again = %d %v", w.name, a.status, a.body)
		}
	}
}

// kept is one design as the database has it.
type kept struct {
	id, note         string
	revision         int
	events, versions int
}

// compare holds the database against the ledger.
func compare(t *testing.T, path string, all *ledger) {
	t.Helper()
	db, err := sql.Open("sqlite", "file:"+path+"?mode=ro&_busy_timeout=10000")
	require.NoError(t, err)
	defer db.Close()
	var sound string
	require.NoError(t, db.QueryRow("PRAGMA integrity_check").Scan(&sound))
	require.Equal(t, "ok", sound)
	var loose int
	require.NoError(t, db.QueryRow("SELECT count(*) FROM pragma_foreign_key_check").Scan(&loose))
	require.Zero(t, loose, "rows point at nothing")

	rows, err := db.Query(`SELECT d.name, d.id, d.note, d.revision,
		(SELECT count(*) FROM events e WHERE e.entity = 'design' AND e.entity_id = d.id),
		(SELECT count(*) FROM versions v WHERE v.design_id = d.id) FROM designs d`)
	require.NoError(t, err)
	defer rows.Close()
	have := map[string]kept{}
	for rows.Next() {
		var name string
		var k kept
		require.NoError(t, rows.Scan(&name, &k.id, &k.note, &k.revision, &k.events, &k.versions))
		require.NotContains(t, have, name, "carried out twice")
		have[name] = k
	}
	require.NoError(t, rows.Err())
	require.Len(t, have, len(all.writes))
	for _, w := range all.writes {
		k, there := have[w.name]
		require.True(t, there, "%s was acknowledged and is gone", w.name)
		if w.asked != "" && k.note == w.asked { // carried out, and only the answer was lost
			w.note, w.asked = w.asked, ""
			w.revision++
		}
		require.Equal(t, kept{orElse(w.id, k.id), w.note, w.revision, w.revision, 1}, k, "%s: an event goes with each revision", w.name)
	}
}

func orElse(value, otherwise string) string {
	if value == "" {
		return otherwise
	}
	return value
}
