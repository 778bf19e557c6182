package server_test

import (
	"bytes"
	"io"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/server/servertest"
)

// refusal is a request and how it has to be refused.
type refusal struct {
	name, method, path string
	body               any
	status             int
	field              string // "" where no field is at fault
}

// newDesign is a design that could be added, with one thing changed.
func newDesign(name string, value any) map[string]any {
	d := map[string]any{"name": "Reed jacket", "craft": "crochet", "audience": "unisex", "terms": "us", "unit": "cm",
		"gauge": map[string]any{"stitches": 14, "rows": 11, "span": 10, "unit": "cm"}}
	if name != "" {
		d[name] = value
	}
	return d
}

func gaugeOf(stitches, rows, span any, unit string) map[string]any {
	return map[string]any{"stitches": stitches, "rows": rows, "span": span, "unit": unit}
}

func body(pairs ...any) map[string]any {
	m := map[string]any{}
	for i := 0; i < len(pairs); i += 2 {
		m[pairs[i].(string)] = pairs[i+1]
	}
	return m
}

func list(items ...any) []any { return append([]any{}, items...) }

// count is a line of the count sheet for nine sizes.
func count(name, unit string, first any) map[string]any {
	return body("name", name, "unit", unit, "values", list(first, 2, 3, 4, 5, 6, 7, 8, 9))
}

func sheetOf(counts, rules []any) map[string]any { return body("counts", counts, "rules", rules) }

func point(name string, value any) map[string]any {
	p := body("name", "bust", "axis", "stitch", "expr", "bust_stitches", "tolerance", body("value", 2, "unit", "cm"))
	p[name] = value
	return p
}

// TestBadValuesAreNamedAndChangeNothing walks the fields of the resources.
func TestBadValuesAreNamedAndChangeNothing(t *testing.T) {
	long := strings.Repeat("w", 5000)
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c := s.Designer()
		p := s.NewPullover(c, "Saltmarsh pullover")
		mara := s.As("mara", models.Tester).Person.ID
		design, sizes, points := "/designs/"+p.ID, "/designs/"+p.ID+"/sizes", "/designs/"+p.ID+"/points"
		sheet, person := "/versions/"+p.VersionID+"/sheet", "/people/"+mara
		for _, r := range []refusal{
			// designs
			{"a design without a name", "POST", "/designs", body("craft", "knit"), 422, "body"},
			{"an unknown field", "POST", "/designs", newDesign("colour", "red"), 422, "body.colour"},
			{"a number for a name", "POST", "/designs", newDesign("name", 7), 422, "body.name"},
			{"null for a name", "POST", "/designs", newDesign("name", nil), 422, "body.name"},
			{"a name of spaces", "POST", "/designs", newDesign("name", "  "), 422, "body.name"},
			{"a name without end", "POST", "/designs", newDesign("name", long), 422, "body.name"},
			{"a slug with a slash", "POST", "/designs", newDesign("slug", "a/b"), 422, "body.slug"},
			{"a slug that looks like an id", "POST", "/designs", newDesign("slug", p.ID), 422, "body.slug"},
			{"a craft that there isn't", "POST", "/designs", newDesign("craft", "felt"), 422, "body.craft"},
			{"a list for a gauge", "POST", "/designs", newDesign("gauge", list(14, 11)), 422, "body.gauge"},
			{"a word for stitches", "POST", "/designs", newDesign("gauge", gaugeOf("14", 11, 10, "cm")), 422, "body.gauge.stitches"},
			{"no stitches", "POST", "/designs", newDesign("gauge", gaugeOf(0, 11, 10, "cm")), 422, "body.gauge.stitches"},
			{"fewer than no rows", "POST", "/designs", newDesign("gauge", gaugeOf(14, -11, 10, "cm")), 422, "body.gauge.rows"},
			{"absurdly many stitches", "POST", "/designs", newDesign("gauge", gaugeOf(1e300, 11, 10, "cm")), 422, "body.gauge.stitches"},
			{"a span of nothing", "POST", "/designs", newDesign("gauge", gaugeOf(14, 11, 0, "cm")), 422, "body.gauge.span"},
			{"a span of a field", "POST", "/designs", newDesign("gauge", gaugeOf(14, 11, 10000, "in")), 422, "body.gauge.span"},
			{"a unit that there isn't", "POST", "/designs", newDesign("gauge", gaugeOf(14, 11, 10, "ell")), 422, "body.gauge.unit"},
			{"an unknown field inside", "POST", "/designs", newDesign("gauge", body("stitches", 14, "rows", 11, "span", 10, "unit", "cm", "ply", 4)), 422, "body.gauge.ply"},
			{"a hook as thick as an arm", "POST", "/designs", newDesign("tool_mm", 90), 422, "body.tool_mm"},
			{"brackets of no sizes", "POST", "/designs", newDesign("grouping", "1,0,3"), 422, "body.grouping"},
			{"a NUL in a note", "POST", "/designs", newDesign("note", "a\x00b"), 422, "body.note"},
			{"a slug that is taken", "POST", "/designs", newDesign("slug", p.Slug), 409, "body.slug"},
			{"a day that there isn't", "PATCH", design, body("released_on", "2027-02-30"), 422, "body.released_on"},
			{"a date in another order", "PATCH", design, body("released_on", "8.2.2027"), 422, "body.released_on"},
			{"a word for yes or no", "PATCH", design, body("archived", "yes"), 422, "body.archived"},
			{"nothing but a list", "PATCH", design, list(), 422, "body"},
			// sizes
			{"sizes that are no list", "PUT", sizes, body("sizes", "S, M, L"), 422, "body.sizes"},
			{"no sizes", "PUT", sizes, body("sizes", list()), 422, "body.sizes"},
			{"null for the sizes", "PUT", sizes, body("sizes", nil), 422, "body.sizes"},
			{"two sizes of one name", "PUT", sizes, body("sizes", list(body("name", "S"), body("name", "s"))), 422, "body.sizes[1].name"},
			{"two filmed sizes", "PUT", sizes, body("sizes", list(body("name", "S", "filmed", true), body("name", "M", "filmed", true))), 422, "body.sizes"},
			{"another design's size", "PUT", sizes, body("sizes", list(body("id", models.NewID(), "name", "S"))), 422, "body.sizes[0].id"},
			{"a body of less than nothing", "PUT", sizes, body("sizes", list(body("name", "S", "body", list(body("dimension", "bust", "value", -80, "unit", "cm"))))), 422, "body.sizes[0].body[0].value"},
			{"a body in millimetres", "PUT", sizes, body("sizes", list(body("name", "S", "body", list(body("dimension", "bust", "value", 860, "unit", "cm"))))), 422, "body.sizes[0].body[0].value"},
			{"more sizes than there can be", "PUT", sizes, body("sizes", many(41, func(i int) any { return body("name", string(rune('a'+i))) })), 422, "body.sizes"},
			// points of measure
			{"an axis that there isn't", "PUT", points, body("points", list(point("axis", "slant"))), 422, "body.points[0].axis"},
			{"no tolerance", "PUT", points, body("points", list(point("tolerance", body("value", 0, "unit", "cm")))), 422, "body.points[0].tolerance.value"},
			{"a tolerance without a unit", "PUT", points, body("points", list(point("tolerance", body("value", 2)))), 422, "body.points[0].tolerance"},
			{"an edging of a kilometre", "PUT", points, body("points", list(point("add", body("value", 1e5, "unit", "cm")))), 422, "body.points[0].add.value"},
			{"an expression of nothing", "PUT", points, body("points", list(point("expr", ""))), 422, "body.points[0].expr"},
			{"an intended length of another design's size", "PUT", points, body("points", list(point("intended", list(body("size_id", models.NewID(), "value", 90, "unit", "cm"))))), 422, "body.points[0].intended[0].size_id"},
			{"half a repeat", "PUT", points, body("points", list(point("repeat", 1.5))), 422, "body.points[0].repeat"},
			{"fewer than no repeats", "PUT", points, body("points", list(point("repeat", -1))), 422, "body.points[0].repeat"},
			{"ease the wrong way round", "PUT", points, body("points", list(body("name", "bust", "axis", "stitch", "expr", "a", "tolerance", body("value", 2, "unit", "cm"), "ease_low_cm", 9, "ease_high_cm", 3))), 422, "body.points[0].ease_high_cm"},
			// the count sheet
			{"counts for too few sizes", "PUT", sheet, sheetOf(list(body("name", "a", "unit", "stitch", "values", list(1, 2))), list()), 422, "body.counts[0].values"},
			{"fewer than no stitches in a count", "PUT", sheet, sheetOf(list(count("a", "stitch", -1)), list()), 422, "body.counts[0].values[0]"},
			{"a bad count behind one that is skipped", "PUT", sheet, sheetOf(list(body("name", "a", "unit", "stitch", "values", list(nil, -2, 3, 4, 5, 6, 7, 8, 9))), list()), 422, "body.counts[0].values[1]"},
			{"a count that is no number", "PUT", sheet, sheetOf(list(count("a", "stitch", "many")), list()), 422, "body.counts[0].values[0]"},
			{"a count of a unit that there isn't", "PUT", sheet, sheetOf(list(count("a", "ell", 1)), list()), 422, "body.counts[0].unit"},
			{"a name that rules can't use", "PUT", sheet, sheetOf(list(count("cast on", "stitch", 1)), list()), 422, "body.counts[0].name"},
			{"two counts of one name", "PUT", sheet, sheetOf(list(count("a", "stitch", 1), count("a", "row", 1)), list()), 422, "body.counts[1].name"},
			{"a pattern line for too few sizes", "PUT", sheet, sheetOf(list(body("name", "a", "unit", "stitch", "text", "20 (22, 24)")), list()), 422, "body.counts[0].text"},
			{"a pattern line with a bracket too few", "PUT", sheet, sheetOf(list(body("name", "a", "unit", "stitch", "text", "20 (22, 24")), list()), 422, "body.counts[0].text"},
			{"a multiple of nothing", "PUT", sheet, sheetOf(list(count("a", "stitch", 1)), list(body("name", "r", "kind", "multiple", "expr", "a", "of", 0))), 422, "body.rules[0].of"},
			{"no counts at all", "PUT", sheet, body("rules", list()), 422, "body"},
			// people
			{"a handle with a space", "POST", "/people", body("handle", "mara quill", "roles", list("tester")), 422, "body.handle"},
			{"no roles", "POST", "/people", body("handle", "bram", "roles", list()), 422, "body.roles"},
			{"a role that there isn't", "POST", "/people", body("handle", "bram", "roles", list("tester", "boss")), 422, "body.roles[1]"},
			{"a word for the roles", "POST", "/people", body("handle", "bram", "roles", "tester"), 422, "body.roles"},
			{"an address that is none", "POST", "/people", body("handle", "bram", "roles", list("tester"), "email", "Bram <bram@studio.example>"), 422, "body.email"},
			{"a handle that is taken, in other letters", "POST", "/people", body("handle", "MARA", "roles", list("tester")), 409, "body.handle"},
			{"a password that isn't asked for", "POST", "/people", body("handle", "bram", "roles", list("tester"), "password", "hunter-two-secret"), 422, "body.password"},
			{"somebody without a role", "PATCH", person, body("roles", list()), 422, "body.roles"},
			{"a role that there isn't, behind one that there is", "PATCH", person, body("roles", list("tester", "boss")), 422, "body.roles[1]"},
			{"a handle can't be changed", "PATCH", person, body("handle", "other"), 422, "body.handle"},
			// the studio, me, and reading lines
			{"a zone that there isn't", "PATCH", "/studio/settings", body("zone", "Middle/Earth"), 422, "body.zone"},
			{"days before yesterday", "PATCH", "/studio/settings", body("lead_days", -1), 422, "body.lead_days"},
			{"half a day", "PATCH", "/studio/settings", body("lead_days", 2.5), 422, "body.lead_days"},
			{"a unit that nobody measures in", "PATCH", "/me", body("unit", "ell"), 422, "body.unit"},
			{"a role for myself", "PATCH", "/me", body("roles", list("designer")), 422, "body.roles"},
			{"nothing to read", "POST", "/counts/read", body("text", ""), 422, "body.text"},
			{"fewer than no sizes", "POST", "/counts/read", body("text", "1 (2)", "sizes", -1), 422, "body.sizes"},
			{"a calculation that there isn't", "POST", "/calc/fortune", body(), 404, ""},
			{"a calculation's unknown field", "POST", "/calc/gauge", body("gage", body()), 422, "body.gage"},
		} {
			t.Run(r.name, func(t *testing.T) {
				untouched(t, s, func() {
					isProblem(t, c.Do(r.method, r.path, r.body, current(t, c, r)), r.status, r.field)
				})
			})
		}
		require.NotContains(t, s.Log.String(), "hunter-two-secret")
	})
}

// current is the precondition with which a change is sent: the revision that
// stands, so that nothing but the body is at fault.
func current(t *testing.T, c *servertest.Client, r refusal) http.Header {
	t.Helper()
	if r.method == "POST" {
		return nil
	}
	path := r.path
	for _, part := range []string{"/sizes", "/points", "/sheet"} {
		path = strings.TrimSuffix(path, part)
	}
	return http.Header{"If-Match": {c.Get(path).Want(200).Header.Get("ETag")}}
}

func many(n int, item func(int) any) []any {
	items := make([]any, n)
	for i := range items {
		items[i] = item(i)
	}
	return items
}

// TestBodiesThatAreNone sends what is no document of ours at all.
func TestBodiesThatAreNone(t *testing.T) {
	gauge := `"craft":"crochet","audience":"unisex","terms":"us","unit":"cm","gauge":{"stitches":14,"rows":11,"span":10,"unit":"cm"}`
	large := `{"name":"` + strings.Repeat("w", 2<<20) + `",` + gauge + `}`
	deep := strings.Repeat(`{"gauge":`, 100_000)
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c := s.Designer()
		for _, r := range []struct {
			name, kind, body string
			status           int
			says             string
		}{
			{"nothing", "application/json", "", 400, "body is required"},
			{"no JSON", "application/json", "name=Reed", 400, "is not JSON"},
			{"half a document", "application/json", `{"name":"Reed`, 400, "is not JSON"},
			{"two documents", "application/json", `{"name":"a",` + gauge + `}{}`, 400, "is not JSON"},
			{"a comment", "application/json", `{/* no */"name":"a",` + gauge + `}`, 400, "is not JSON"},
			{"NaN", "application/json", `{"name":"a","tool_mm":NaN,` + gauge + `}`, 400, "is not JSON"},
			{"Infinity", "application/json", `{"name":"a","tool_mm":Infinity,` + gauge + `}`, 400, "is not JSON"},
			{"a number beyond every number", "application/json", strings.Replace(`{"name":"a",`+gauge+`}`, "11", "1e999", 1), 422, `"is beyond every number that can be kept","location":"body.gauge.rows"`},
			{"bytes that are no UTF-8", "application/json", "{\"name\":\"a\xff\xfeb\"," + gauge + `}`, 400, "is not UTF-8"},
			{"an overlong encoding of a slash", "application/json", "{\"name\":\"a\xc0\xafb\"," + gauge + `}`, 400, "is not UTF-8"},
			{"a NUL deep inside", "application/json", strings.Replace(`{"name":"a",`+gauge+`}`, `"unit":"cm"}`, `"unit":"c\u0000m"}`, 1), 422, `"contains a NUL character; remove it","location":"body.gauge.unit"`},
			{"a hundred thousand levels", "application/json", deep, 400, "is not JSON"},
			{"as many levels, closed", "application/json", strings.Repeat("[", 100_000) + strings.Repeat("]", 100_000), 400, "is not JSON"},
			{"a form", "application/x-www-form-urlencoded", "name=Reed", 415, ""},
			{"text", "text/plain", `{"name":"a",` + gauge + `}`, 415, ""},
			{"XML", "application/xml", "<name/>", 415, ""},
			{"bytes of no kind", "application/octet-stream", `{"name":"a",` + gauge + `}`, 415, ""},
			{"more than 2 MiB", "application/json", large, 413, "larger than 2 MiB"},
		} {
			t.Run(r.name, func(t *testing.T) {
				for _, path := range []string{"/designs", "/calc/gauge"} {
					untouched(t, s, func() {
						a := c.Do("POST", path, r.body, http.Header{"Content-Type": {r.kind}})
						status, says := r.status, r.says
						if path == "/calc/gauge" && (status == 400 || status == 422) && r.body != "" { // it names the fault itself
							status, says = 422, ""
						}
						isProblem(t, a, status, "")
						require.Contains(t, string(a.Body), says)
						require.Less(t, len(a.Body), 2000, "the body comes back")
					})
				}
			})
		}
	})
}

// TestSizeIsBoundedWhicheverWayItIsSent: with a length, and in pieces whose sum
// nobody has told; the connection serves the next request all the same, or
// closes.
func TestSizeIsBoundedWhicheverWayItIsSent(t *testing.T) {
	s := servertest.OnSQLite(t)
	c := s.Designer()
	send := func(size int, key string, told bool) *http.Response {
		doc := `{"text":"` + strings.Repeat("w", size) + `"}`
		var reader io.Reader = bytes.NewReader([]byte(doc))
		if !told {
			reader = struct{ io.Reader }{reader} // no length: chunked
		}
		req, err := http.NewRequest("POST", s.URL+"/api/v1/counts/read", reader)
		require.NoError(t, err)
		req.Header.Set("Content-Type", "application/json")
		req.Header.Set("Authorization", "Bearer "+c.Token())
		if key != "" {
			req.Header.Set("Idempotency-Key", key)
		}
		res, err := http.DefaultClient.Do(req)
		require.NoError(t, err)
		t.Cleanup(func() { res.Body.Close() })
		return res
	}
	for _, row := range []struct {
		name string
		size int
		key  string
		told bool
		want int
	}{
		{"3 MiB with its length", 3 << 20, "", true, 413},
		{"3 MiB in pieces", 3 << 20, "", false, 413},
		{"3 MiB in pieces, under a key", 3 << 20, "one", false, 413},
		{"20 MiB in pieces", 20 << 20, "", false, 413},
		{"1.5 MiB, which the field's own bound refuses", 3 << 19, "", true, 422},
		{"1.5 MiB in pieces", 3 << 19, "", false, 422},
		{"1.5 MiB in pieces, under a key", 3 << 19, "two", false, 422},
	} {
		t.Run(row.name, func(t *testing.T) {
			res := send(row.size, row.key, row.told)
			require.Equal(t, row.want, res.StatusCode)
			require.Equal(t, "application/problem+json", res.Header.Get("Content-Type"))
			_, err := io.Copy(io.Discard, res.Body)
			require.NoError(t, err)
			for range 3 {
				c.Get("/me").Want(200)
			}
		})
	}
}
