package server_test

import (
	"context"
	"crypto/sha256"
	"fmt"
	"io"
	"maps"
	"math/rand/v2"
	"net/http"
	"net/url"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/danielgtaylor/huma/v2"
	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/server"
	"tenter/server/servertest"
)

// malformedVariable is how many malformed requests are sent, and seedVariable
// repeats a run.
const (
	malformedVariable = "TENTER_TEST_MALFORMED"
	seedVariable      = "TENTER_TEST_SEED"
	usualMalformed    = 2_000
	betweenLooks      = 500 // requests between two looks at the whole database
)

func fromEnvironment(t *testing.T, name string, usual uint64) uint64 {
	t.Helper()
	text := os.Getenv(name)
	if text == "" {
		return usual
	}
	n, err := strconv.ParseUint(text, 10, 64)
	require.NoError(t, err, name)
	return n
}

// TestMalformedRequests sends requests that are wrong by the API's own
// description to every operation, as nobody and as every role. None is an
// internal error, none that could change something is taken, and no row of any
// table is another afterwards.
func TestMalformedRequests(t *testing.T) {
	count, seed := fromEnvironment(t, malformedVariable, usualMalformed), fromEnvironment(t, seedVariable, 1)
	t.Logf("%s=%d %s=%d", malformedVariable, count, seedVariable, seed)
	s := servertest.OnSQLiteWith(t, func(c *server.Config) { c.TriesAMinute = 0 })
	m := newMalformer(t, s, seed)
	for _, c := range m.clients { // what is reckoned at the first look is kept
		for _, p := range []string{"/studio", "/designs/" + m.pullover.ID + "/board", "/designs/" + m.pullover.ID + "/fit", "/designs/" + m.pullover.ID + "/yarn"} {
			c.Get(p)
		}
	}
	before := digest(t, s)
	statuses := map[int]int{}
	for i := range count {
		r := m.next()
		status, answer := m.send(r)
		statuses[status]++
		require.Less(t, status, 500, "%d: %s = %s", i, r, answer)
		if r.method != http.MethodGet && r.method != http.MethodHead && r.method != http.MethodOptions {
			require.GreaterOrEqual(t, status, 400, "%d was taken: %s = %s", i, r, answer)
		}
		if i%betweenLooks == betweenLooks-1 || i == count-1 {
			require.Equal(t, before, digest(t, s), "something changed in the requests up to %d", i)
		}
	}
	t.Logf("answers by status: %v", statuses)
}

// digest is a hash of every table.
func digest(t *testing.T, s *servertest.Studio) map[string]string {
	t.Helper()
	out := map[string]string{}
	for table, rows := range contents(t, s) {
		out[table] = fmt.Sprintf("%x", sha256.Sum256([]byte(strings.Join(rows, "\n"))))
	}
	return out
}

// malformer makes malformed requests from the description.
type malformer struct {
	*rand.Rand
	t        *testing.T
	s        *servertest.Studio
	pullover *servertest.Pullover
	clients  []*servertest.Client
	routes   []described
	ids      map[string][]string // by table
	tables   []string
}

type described struct {
	method, path string
	op           *huma.Operation
	methods      []string // of the path
}

func newMalformer(t *testing.T, s *servertest.Studio, seed uint64) *malformer {
	t.Helper()
	m := &malformer{Rand: rand.New(rand.NewPCG(seed, 0)), t: t, s: s, ids: map[string][]string{}}
	designer := s.Designer()
	m.pullover = s.NewPullover(designer, "Saltmarsh pullover")
	s.OpenCall(designer, m.pullover)
	tester := s.As("mara", models.Tester)
	designer.Post("/calls/"+m.pullover.CallID+"/assignments", body("person_id", tester.Person.ID, "size_id", m.pullover.Sizes["1"])).Want(201)
	designer.Post("/designs/"+m.pullover.ID+"/installments", body("title", "Part 1")).Want(201)
	m.clients = []*servertest.Client{s.Nobody(), designer, tester, designer}
	for _, role := range []models.Role{models.TechEditor, models.Maker, models.Filmer} {
		m.clients = append(m.clients, s.As("the-"+strings.ReplaceAll(string(role), "_", "-"), role))
	}
	paths := s.Server.API().Paths
	for _, path := range slices.Sorted(maps.Keys(paths)) {
		ops := operations(paths[path])
		methods := slices.Sorted(maps.Keys(ops))
		for _, method := range methods {
			m.routes = append(m.routes, described{method, path, ops[method], methods})
		}
	}
	require.Greater(t, len(m.routes), 100)
	db, err := s.Store.SQL()
	require.NoError(t, err)
	for table := range contents(t, s) {
		rows, err := db.Query("SELECT id FROM " + table)
		if err != nil {
			continue // a table without ids
		}
		for rows.Next() {
			var id string
			require.NoError(t, rows.Scan(&id))
			m.ids[table] = append(m.ids[table], id)
		}
		require.NoError(t, rows.Err())
	}
	m.tables = slices.Sorted(maps.Keys(m.ids))
	return m
}

// malformed is one request.
type malformed struct {
	client       *servertest.Client
	method, path string
	body         string
	header       http.Header
	fault        string
}

func (r malformed) String() string {
	who := "nobody"
	if r.client.Person != nil {
		who = r.client.Person.Handle
	}
	return fmt.Sprintf("%s %s as %s, %s, %v, %.300q", r.method, r.path, who, r.fault, r.header, r.body)
}

// oddTexts are what nobody expects where an id, a word or a number should be.
var oddTexts = []string{"", " ", "0", "-1", "NaN", "Infinity", "1e999", "null", "undefined", "true", "'", `"`, "' OR 1=1 --", "../../etc/passwd", "%", "%%", "\x00", "\xff\xfe",
	"ǅ", "\u202e", "💥", "{}", "[]", "a/b", "..", strings.Repeat("a", 61), strings.Repeat("9", 400), strings.Repeat("ß", 2000), "018f0000-0000-7000-8000-000000000000", "18446744073709551616", "2027-02-30"}

func pick[T any](m *malformer, from []T) T { return from[m.IntN(len(from))] }

// address fills a path's places, with ids that there are as often as not.
func (m *malformer) address(path string) string {
	for {
		before, rest, found := strings.Cut(path, "{")
		if !found {
			return path
		}
		name, after, _ := strings.Cut(rest, "}")
		value := pick(m, oddTexts)
		if m.IntN(3) > 0 {
			value = m.id(name)
		}
		if value == "" || value == ".." {
			value = "x"
		}
		path = before + url.PathEscape(value) + after
	}
}

func (m *malformer) id(name string) string {
	for _, table := range m.tables {
		if strings.Contains(table, name) && len(m.ids[table]) > 0 && m.IntN(4) > 0 {
			return pick(m, m.ids[table])
		}
	}
	return pick(m, m.ids[pick(m, m.tables)])
}

// next makes a request with one fault that no reading of it can overlook.
func (m *malformer) next() malformed {
	d := pick(m, m.routes)
	r := malformed{client: pick(m, m.clients), method: d.method, path: m.address(d.path), header: m.headers()}
	query := m.query(d.op)
	schema := m.bodySchema(d.op)
	switch fault := m.IntN(10); {
	case fault == 0:
		r.fault, r.method = "a method that the address does not take", m.otherMethod(d)
		if slices.Contains(d.methods, r.method) {
			query.Set("no_such", "parameter")
		}
	case fault == 1 || schema == nil || d.method == http.MethodGet || d.method == http.MethodDelete:
		r.fault = "an unknown parameter"
		query.Set("no_such_"+strconv.Itoa(m.IntN(9)), pick(m, oddTexts))
		if schema != nil {
			r.body = m.text(m.valid(schema, 0))
		}
	case fault == 2:
		r.fault, r.body = "no JSON", m.noJSON()
	case fault == 3:
		r.fault, r.body = "another type of content", m.text(m.valid(schema, 0))
		r.header.Set("Content-Type", pick(m, []string{"text/plain", "application/xml", "multipart/form-data", "application/x-www-form-urlencoded", "application/cbor", "nonsense", "image/png"}))
		query.Set("no_such", "parameter")
	default:
		broken, how := m.broken(schema, 0)
		r.fault, r.body = "in the body: "+how, m.text(broken)
	}
	if r.header.Get("Content-Type") == "" && r.body != "" {
		r.header.Set("Content-Type", "application/json")
	}
	if d.method == http.MethodGet && strings.HasSuffix(d.path, "/live") {
		query.Set("no_such", "parameter") // or it would be a stream without end
	}
	if len(query) > 0 {
		r.path += "?" + query.Encode()
	}
	return r
}

func (m *malformer) otherMethod(d described) string {
	return pick(m, []string{"PUT", "PATCH", "DELETE", "POST", "TRACE", "PROPFIND", "NONSENSE", "OPTIONS"})
}

func (m *malformer) headers() http.Header {
	h := http.Header{}
	if m.IntN(2) == 0 {
		h.Set("If-Match", pick(m, []string{`"1"`, `"0"`, `"-1"`, `W/"1"`, "1", `"1", "2"`, "nonsense", `"99999999999999999999"`, "\xff", strings.Repeat(`"1",`, 90)}))
	}
	if m.IntN(8) == 0 {
		h.Set("Idempotency-Key", pick(m, []string{"k\xff", strings.Repeat("k", 201), strings.Repeat("k", 20_000)}))
	}
	for _, name := range []string{"Accept", "Accept-Language", "User-Agent", "X-Forwarded-For", "X-Forwarded-Proto", "Forwarded", "Range", "If-None-Match", "Cookie", "Origin", "X-Request-Id", "Content-Encoding", "Expect-Ct"} {
		if m.IntN(12) == 0 {
			h.Set(name, strings.Map(printable, pick(m, append(slices.Clone(oddTexts), "tenter_access=x; tenter_refresh=\"", "bytes=0-,9-1", "gzip", "*/*;q=9", "https://elsewhere.example"))))
		}
	}
	return h
}

// printable leaves out what no client may put into a header.
func printable(r rune) rune {
	if r < ' ' || r == 0x7f {
		return -1
	}
	return r
}

// query gives some of an operation's parameters odd values.
func (m *malformer) query(op *huma.Operation) url.Values {
	q := url.Values{}
	for _, p := range op.Parameters {
		if p.In == "query" && m.IntN(3) == 0 {
			q.Set(p.Name, pick(m, oddTexts))
		}
	}
	return q
}

func (m *malformer) noJSON() string {
	return pick(m, []string{"{", `{"a":`, "NaN", `{"a": NaN}`, `{"a": Infinity}`, "{'a': 1}", "\xff\xfe\x00", "{\"a\": \"\xc3\x28\"}", strings.Repeat("[", 20_000), strings.Repeat(`{"a":`, 12_000), `{} {}`, "nul",
		"\ufeff{", `{"a": 1e}`, `{"a" 1}`, strings.Repeat(" ", 5_000), `"\ud800`, "<xml/>", "a=1&b=2"})
}

// bodySchema is what an operation's JSON has to be like, or nil.
func (m *malformer) bodySchema(op *huma.Operation) *huma.Schema {
	if op.RequestBody == nil {
		return nil
	}
	media, ok := op.RequestBody.Content["application/json"]
	if !ok || media.Schema == nil {
		return nil
	}
	schema := m.resolve(media.Schema)
	if schema.Type != "object" || schema.AdditionalProperties != false {
		return nil // anything may be in it
	}
	return schema
}

func (m *malformer) resolve(s *huma.Schema) *huma.Schema {
	for s.Ref != "" {
		s = m.s.Server.API().Components.Schemas.SchemaFromRef(s.Ref)
	}
	return s
}

func (m *malformer) send(r malformed) (int, string) {
	req, err := http.NewRequestWithContext(context.Background(), r.method, m.s.URL+r.path, strings.NewReader(r.body))
	require.NoError(m.t, err, "%s", r)
	req.Header = r.header
	if token := r.client.Token(); token != "" {
		req.Header.Set("Authorization", "Bearer "+token)
	}
	res, err := http.DefaultClient.Do(req)
	require.NoError(m.t, err, "%s", r)
	defer res.Body.Close()
	raw, err := io.ReadAll(res.Body)
	require.NoError(m.t, err, "%s", r)
	return res.StatusCode, string(raw[:min(len(raw), 500)])
}
