package server_test

import (
	"fmt"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/server/servertest"
)

// TestPreconditions: the examples of RFC 9110, section 13.1.1, with our tags
// for theirs, and what section 8.8.3 says of tags.
func TestPreconditions(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c := s.Designer()
		d := c.Post("/designs", newDesign("", nil)).Want(201).ID()
		revision := 1
		for _, row := range []struct {
			name, ifMatch string // %d is the revision that stands
			want          int
		}{
			{"the tag that stands", `"%d"`, 200},
			{"a list with the tag first", `"%d", "r2d2xxxx", "c3piozzzz"`, 200},
			{"a list with the tag last", `"xyzzy", "r2d2xxxx", "%d"`, 200},
			{"a list without spaces", `"xyzzy","%d"`, 200},
			{"a list with empty places", `"xyzzy", , "%d"`, 200},
			{"any revision there is", `*`, 200},
			{"spaces around it", `  "%d" `, 200},
			{"a tag that never was", `"xyzzy"`, 412},
			{"a list of tags that never were", `"xyzzy", "r2d2xxxx", "c3piozzzz"`, 412},
			{"a weak tag never matches strongly", `W/"%d"`, 412},
			{"a list of weak tags", `W/"%d", W/"xyzzy"`, 412},
			{"a number without quotes", `%d`, 412},
			{"an open quote", `"%d`, 412},
			{"an empty tag", `""`, 412},
			{"a revision to come", `"99"`, 412},
			{"a revision of less than nothing", `"-1"`, 412},
			{"a revision beyond every number", `"99999999999999999999"`, 412},
			{"the revision in other digits", `"0%d"`, 412},
			{"the revision with a sign", `"+%d"`, 412},
			{"nothing", "", 428},
			{"spaces", "   ", 428},
			{"a header without end", strings.Repeat(`"xyzzy", `, 100) + `"%d"`, 422},
		} {
			t.Run(row.name, func(t *testing.T) {
				value := strings.ReplaceAll(row.ifMatch, "%d", fmt.Sprint(revision))
				change := func() *servertest.Answer {
					return c.Do("PATCH", "/designs/"+d, body("note", row.name), http.Header{"If-Match": {value}})
				}
				if row.want == 200 {
					a := change()
					require.Equal(t, 200, a.Status, "%s", a.Body)
					revision++
					require.Equal(t, fmt.Sprintf(`"%d"`, revision), a.Header.Get("ETag"))
					return
				}
				untouched(t, s, func() { isProblem(t, change(), row.want, "") })
			})
		}
	})
}

// TestEveryChangeNeedsItsRevision walks the changes that exist: without a
// revision 428, with a stale one 412, and nothing changes.
func TestEveryChangeNeedsItsRevision(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c := s.Designer()
		p := s.NewPullover(c, "Saltmarsh pullover")
		for path, b := range map[string]any{
			"PATCH /designs/" + p.ID:                  body("note", "changed"),
			"PUT /designs/" + p.ID + "/sizes":         body("sizes", list(body("name", "S"))),
			"PUT /designs/" + p.ID + "/points":        body("points", list()),
			"PATCH /versions/" + p.VersionID:          body("note", "changed"),
			"PUT /versions/" + p.VersionID + "/sheet": body("counts", list(), "rules", list()),
			"PATCH /people/" + c.Person.ID:            body("name", "Changed"),
			"PATCH /me":                               body("name", "Changed"),
			"PATCH /studio/settings":                  body("name", "Changed"),
		} {
			t.Run(path, func(t *testing.T) {
				method, address, _ := strings.Cut(path, " ")
				untouched(t, s, func() {
					d := isProblem(t, c.Do(method, address, b, nil), 428, "")
					require.Contains(t, d.Detail, "If-Match")
					d = isProblem(t, c.Do(method, address, b, servertest.IfMatch(999)), 412, "")
					require.Contains(t, d.Detail, "nothing was overwritten")
				})
			})
		}
	})
}

// TestSecondWriterIsToldAndOverwritesNothing: two people read the same revision.
func TestSecondWriterIsToldAndOverwritesNothing(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c := s.Designer()
		d := c.Post("/designs", newDesign("", nil)).Want(201).ID()
		read := c.Get("/designs/" + d).Want(200).Header.Get("ETag")
		write := func(note string) *servertest.Answer {
			return c.Do("PATCH", "/designs/"+d, body("note", note), http.Header{"If-Match": {read}})
		}
		write("first").Want(200)
		isProblem(t, write("second"), 412, "")
		require.Equal(t, "first", c.Get("/designs/" + d).Map()["note"])
		c.Put("/designs/"+d+"/sizes", 1, body("sizes", list(body("name", "S")))).Want(412) // one revision covers sizes and points too
	})
}
