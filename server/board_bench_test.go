package server_test

import (
	"context"
	"database/sql"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/modelstest"
	"tenter/server/servertest"
)

// statement is one query with its arguments, as a board sent it.
type statement struct {
	sql  string
	args []any
}

// recorder notes the statements that a store sends.
type recorder struct {
	mu    sync.Mutex
	notes []statement
}

func (r *recorder) note(sql string, args []any) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.notes = append(r.notes, statement{sql, append([]any(nil), args...)})
}

func (r *recorder) take() []statement {
	r.mu.Lock()
	defer r.mu.Unlock()
	out := r.notes
	r.notes = nil
	return out
}

// BenchmarkBoard measures the board through HTTP beside a bare net/http
// handler that runs the same statements with database/sql on the same driver
// and settings, reads every column, and writes the same bytes.
//
//	go test ./server -run NONE -bench Board -benchtime 3s
func BenchmarkBoard(b *testing.B) {
	for _, designs := range []int{10, 1000} {
		// A hundred of the designs are looked at, far apart in the database; to
		// look at each of a thousand first would take minutes.
		apart := max(1, designs/100)
		target := modelstest.SQLite(b)
		var seen recorder
		store := modelstest.Open(b, target, models.Options{Explain: seen.note})
		modelstest.FillDesigns(b, store, designs, modelstest.Round{Sizes: 9, Points: 8, Reports: 30})
		studio := servertest.New(b, store, modelstest.NewClock())
		client := studio.Designer()
		bare := newBare(b, target)
		for i := 0; i < designs; i += apart {
			path := fmt.Sprintf("/designs/design-%d/board", i+1)
			client.Get(path).Want(200) // the count sheet's check is kept from now on
			seen.take()
			body := client.Get(path).Want(200).Body
			bare.pages["/api/v1"+path] = page{seen.take(), body}
		}
		plain := modelstest.Open(b, target, models.Options{})
		measured := servertest.New(b, plain, modelstest.NewClock())
		token := client.Token()
		for i := 0; i < designs; i += apart { // warm the check of every count sheet
			get(b, measured.URL, fmt.Sprintf("/api/v1/designs/design-%d/board", i+1), token)
		}
		b.Run(fmt.Sprintf("%d designs/board", designs), func(b *testing.B) { load(b, measured.URL, token, designs, apart) })
		b.Run(fmt.Sprintf("%d designs/bare handler", designs), func(b *testing.B) { load(b, bare.server.URL, token, designs, apart) })
	}
}

// load asks for one board after another, from as many clients as there are
// processors.
func load(b *testing.B, base, token string, designs, apart int) {
	var next atomic.Int64
	b.ReportAllocs()
	b.ResetTimer()
	b.RunParallel(func(pb *testing.PB) {
		for pb.Next() {
			n := int(next.Add(1)*7919) % (designs / apart) * apart // each in turn, far apart
			get(b, base, fmt.Sprintf("/api/v1/designs/design-%d/board", n+1), token)
		}
	})
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "boards/s")
}

func get(b *testing.B, base, path, token string) {
	req, err := http.NewRequestWithContext(context.Background(), http.MethodGet, base+path, nil)
	if err != nil {
		b.Fatal(err)
	}
	req.Header.Set("Authorization", "Bearer "+token)
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		b.Fatal(err)
	}
	n, err := io.Copy(io.Discard, res.Body)
	if err != nil || res.StatusCode != http.StatusOK || n < 1000 {
		b.Fatalf("%s = %d, %d bytes, %v", path, res.StatusCode, n, err)
	}
	res.Body.Close()
}

// page is what the bare handler does for one address.
type page struct {
	statements []statement
	body       []byte
}

// bare is the handler that the board is measured against.
type bare struct {
	db     *sql.DB
	pages  map[string]page
	server *httptest.Server

	mu       sync.Mutex
	prepared map[string]*sql.Stmt
}

func newBare(b *testing.B, path string) *bare {
	b.Helper()
	// The settings of the store's own readers (models/open.go).
	db, err := sql.Open("sqlite", "file:"+path+"?_busy_timeout=10000&_foreign_keys=on&_time_format=sqlite&_timezone=UTC&mode=ro&_query_only=1")
	require.NoError(b, err)
	db.SetMaxOpenConns(4)
	db.SetMaxIdleConns(4)
	h := &bare{db: db, pages: map[string]page{}, prepared: map[string]*sql.Stmt{}}
	h.server = httptest.NewServer(h)
	b.Cleanup(func() { h.server.Close(); require.NoError(b, db.Close()) })
	return h
}

func (h *bare) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	p := h.pages[strings.TrimSuffix(r.URL.Path, "/")]
	for _, s := range p.statements {
		if err := h.run(r.Context(), s); err != nil {
			http.Error(w, err.Error(), http.StatusInternalServerError)
			return
		}
	}
	w.Header().Set("Content-Type", "application/json")
	w.Write(p.body) //nolint:errcheck // the client went away
}

// run reads every column of every row, as whoever wants the data must.
func (h *bare) run(ctx context.Context, s statement) error {
	stmt, err := h.prepare(ctx, s.sql)
	if err != nil {
		return err
	}
	rows, err := stmt.QueryContext(ctx, s.args...)
	if err != nil {
		return err
	}
	defer rows.Close()
	columns, err := rows.Columns()
	if err != nil {
		return err
	}
	values, into := make([]any, len(columns)), make([]any, len(columns))
	for i := range values {
		into[i] = &values[i]
	}
	for rows.Next() {
		if err := rows.Scan(into...); err != nil {
			return err
		}
	}
	return rows.Err()
}

func (h *bare) prepare(ctx context.Context, text string) (*sql.Stmt, error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if stmt := h.prepared[text]; stmt != nil {
		return stmt, nil
	}
	stmt, err := h.db.PrepareContext(context.WithoutCancel(ctx), text)
	if err != nil {
		return nil, err
	}
	h.prepared[text] = stmt
	return stmt, nil
}
