package server_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/server/servertest"
)

func TestAddressesThatAreNone(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c := s.Designer()
		d := c.Post("/designs", newDesign("", nil)).Want(201).ID()
		for _, row := range []struct {
			name, method, path string
			status             int
			field              string
		}{
			{"an unknown address", "GET", "/nothing-here", 404, ""},
			{"the API itself", "GET", "//api/v1", 404, ""},
			{"another version of it", "GET", "//api/v1beta", 404, ""},
			{"a slash too many", "GET", "/designs/", 404, ""},
			{"a design that there isn't", "GET", "/designs/nobody-s-design", 404, ""},
			{"an id that there isn't", "GET", "/designs/" + models.NewID(), 404, ""},
			{"an id of something else", "GET", "/people/" + d, 404, ""},
			{"an id that is none", "GET", "/versions/1%20OR%201=1", 404, ""},
			{"a quote", "GET", "/designs/'", 404, ""},
			{"a percent sign", "GET", "/designs/%25", 404, ""},
			{"a NUL", "GET", "/designs/a%00b", 400, ""},
			{"bytes that are no UTF-8", "GET", "/designs/%ff%fe", 400, ""},
			{"a path upwards", "GET", "//api/v1/designs/..%2f..%2fgo.mod", 404, ""},
			{"an id without end", "GET", "/versions/" + strings.Repeat("a", 300), 422, "path.version"},
			{"a file that there isn't", "GET", "//app/nothing.js", 404, ""},
			{"a source file", "GET", "//go.mod", 404, ""},
			{"a file by a path upwards", "GET", "//..%2fgo.mod", 404, ""},
			{"writing to a page", "POST", "//sign-in", 404, ""},
			{"an unknown parameter", "GET", "/designs?colour=red", 422, "query.colour"},
			{"an unknown parameter beside a known one", "GET", "/designs?limit=5&page=2", 422, "query.page"},
			{"a limit of nothing", "GET", "/designs?limit=0", 422, "query.limit"},
			{"a limit of less", "GET", "/designs?limit=-1", 422, "query.limit"},
			{"a limit beyond the largest page", "GET", "/designs?limit=501", 422, "query.limit"},
			{"a word for a limit", "GET", "/designs?limit=many", 422, "query.limit"},
			{"a word for yes or no", "GET", "/designs?archived=maybe", 422, "query.archived"},
			{"a role that there isn't", "GET", "/people?role=boss", 422, "query.role"},
			{"a cursor without end", "GET", "/designs?after=" + strings.Repeat("a", 65), 422, "query.after"},
			{"a cursor that is no text", "GET", "/designs?after=%ff", 400, ""},
			{"a cursor with a NUL", "GET", "/designs?after=%00", 400, ""},
			{"half an escape", "GET", "/designs?after=%f", 400, ""},
		} {
			t.Run(row.name, func(t *testing.T) {
				untouched(t, s, func() { isProblem(t, c.Do(row.method, row.path, nil, nil), row.status, row.field) })
			})
		}
		require.Len(t, c.Get("/designs?after=zzzz").Want(200).Map()["items"], 0, "a cursor past the end")
	})
}

// TestUnknownMethodsTellTheKnown: RFC 9110, section 15.5.6: a 405 has to list
// what the address does take.
func TestUnknownMethodsTellTheKnown(t *testing.T) {
	s := servertest.OnSQLite(t)
	c := s.Designer()
	d := c.Post("/designs", newDesign("", nil)).Want(201).ID()
	for path, allow := range map[string][]string{
		"/designs":                 {"GET", "POST"},
		"/designs/" + d:            {"GET", "PATCH"},
		"/designs/" + d + "/sizes": {"PUT"},
		"/auth/sign-in":            {"POST"},
		"/calc/gauge":              {"POST"},
		"//healthz":                {"GET"},
	} {
		for _, method := range []string{"DELETE", "TRACE", "PROPFIND", "OPTIONS"} {
			t.Run(method+" "+path, func(t *testing.T) {
				untouched(t, s, func() {
					a := c.Do(method, path, nil, nil)
					isProblem(t, a, 405, "")
					require.ElementsMatch(t, allow, strings.Split(strings.ReplaceAll(a.Header.Get("Allow"), " ", ""), ","))
				})
			})
		}
	}
}

// TestAuthorizationThatIsNone: whatever stands there, it is nobody, and it is
// answered in the same words.
func TestAuthorizationThatIsNone(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c := s.Designer()
		good := c.Token()
		for name, value := range map[string]string{
			"an empty header":         "",
			"a scheme alone":          "Bearer",
			"a scheme and a space":    "Bearer ",
			"no scheme":               good,
			"another scheme":          "Basic b2RpbGU6cGFzc3dvcmQ=",
			"another scheme's token":  "Digest " + good,
			"two tokens":              "Bearer " + good + " " + good,
			"a token in quotes":       `Bearer "` + good + `"`,
			"two parts":               "Bearer " + good[:strings.LastIndex(good, ".")],
			"four parts":              "Bearer " + good + ".x",
			"a cut token":             "Bearer " + good[:len(good)-4],
			"dots":                    "Bearer ..",
			"bytes that are no UTF-8": "Bearer \xff\xfe",
			"a token without end":     "Bearer " + strings.Repeat("a", 10_000),
		} {
			t.Run(name, func(t *testing.T) {
				untouched(t, s, func() {
					a := s.Nobody().Do("GET", "/me", nil, http.Header{"Authorization": {value}})
					d := isProblem(t, a, 401, "")
					require.Equal(t, "Sign in first.", d.Detail)
					require.Equal(t, `Bearer realm="tenter"`, a.Header.Get("WWW-Authenticate"), "RFC 9110, section 11.6.1")
				})
			})
		}
		s.Nobody().Do("GET", "/me", nil, http.Header{"Authorization": {"bearer   " + good}}).Want(200) // schemes are in any case, RFC 9110, section 11.1
		require.NotContains(t, s.Log.String(), good)
	})
}

// TestHeadersAreOnEveryRoute walks the API's description, the operators' pages,
// the screens, the files, and what is refused.
func TestHeadersAreOnEveryRoute(t *testing.T) {
	s := servertest.OnSQLite(t)
	nobody := s.Nobody()
	paths := []string{"//", "//sign-in", "//d/saltmarsh-pullover", "//app/main.js", "//styles/base.css", "//icon.svg",
		"//healthz", "//readyz", "//metrics", "//docs", "//nothing.js", "//api/v1/openapi.json", "//api/v1/nothing", "/designs?after=%ff", "/designs"}
	for path := range s.Server.API().Paths {
		paths = append(paths, "/"+path)
	}
	require.Greater(t, len(paths), 40)
	fixed := map[string]string{
		"X-Content-Type-Options":       "nosniff",
		"Referrer-Policy":              "no-referrer",
		"Cross-Origin-Opener-Policy":   "same-origin",
		"Cross-Origin-Resource-Policy": "same-origin",
		"Access-Control-Allow-Origin":  "",
		"Server":                       "",
	}
	for _, path := range paths {
		for _, method := range []string{"GET", "POST", "DELETE"} {
			a := nobody.Do(method, strings.NewReplacer("{", "", "}", "").Replace(path), nil, nil)
			at := method + " " + path
			require.Less(t, a.Status, 500, at)
			policy := a.Header.Get("Content-Security-Policy")
			for _, part := range []string{"default-src 'none'", "script-src 'self'", "frame-ancestors 'none'", "base-uri 'none'", "form-action 'self'"} {
				require.Contains(t, policy, part, at)
			}
			require.NotContains(t, policy, "unsafe", at)
			require.NotContains(t, policy, "http", at)
			for name, value := range fixed {
				require.Equal(t, value, a.Header.Get(name), "%s: %s", at, name)
			}
			require.NotEmpty(t, a.Header.Get("X-Request-Id"), at)
			if strings.Contains(path, "/api/v1") || !strings.HasPrefix(path, "//") {
				may := []string{"no-store"}
				if method != http.MethodGet {
					may = append(may, "private, no-cache")
				}
				require.Contains(t, may, a.Header.Get("Cache-Control"), at)
			}
			if a.Status >= 400 {
				isProblem(t, a, a.Status, "")
			}
		}
	}
}
