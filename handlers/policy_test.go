package handlers_test

import (
	"net/http"
	"slices"
	"strings"
	"testing"

	"github.com/danielgtaylor/huma/v2"
	"github.com/stretchr/testify/require"

	"tenter/handlers"
	"tenter/models"
	"tenter/server/servertest"
)

// route is one operation of the API's own description.
type route struct {
	id, method, path string
}

// routes reads every operation from the OpenAPI document that the server
// serves: whatever is mounted is in it.
func routes(t *testing.T, s *servertest.Studio) []route {
	t.Helper()
	var out []route
	for path, item := range s.Server.API().Paths {
		for method, op := range map[string]*huma.Operation{"GET": item.Get, "POST": item.Post, "PUT": item.Put, "PATCH": item.Patch, "DELETE": item.Delete} {
			if op != nil {
				out = append(out, route{op.OperationID, method, path})
			}
		}
	}
	slices.SortFunc(out, func(a, b route) int { return strings.Compare(a.id, b.id) })
	require.Greater(t, len(out), 20)
	return out
}

// address fills the placeholders of a path.
func (r route) address(fill map[string]string) string {
	path := strings.TrimPrefix(r.path, handlers.Prefix)
	for {
		before, rest, found := strings.Cut(path, "{")
		if !found {
			return path
		}
		name, after, _ := strings.Cut(rest, "}")
		value := fill[name]
		if value == "" {
			value = "018f0000-0000-7000-8000-000000000000" // nobody's
		}
		path = before + value + after
	}
}

// TestRoleMatrix walks every route as nobody and as each role. Who is let in
// gets any answer but "sign in" and "your role may not"; who is not gets one of
// those two, whatever else is wrong with the request.
func TestRoleMatrix(t *testing.T) {
	s := servertest.OnSQLite(t)
	clients := map[models.Role]*servertest.Client{"": s.Nobody()}
	for _, role := range models.Roles() {
		clients[role] = s.As("the-"+strings.ReplaceAll(string(role), "_", "-"), role)
	}
	for _, r := range routes(t, s) {
		if strings.HasSuffix(r.path, "/live") {
			continue // a stream has no end; TestLiveStreamIsForStaff covers both
		}
		if r.id == "sign-out" || r.id == "refresh-sign-in" || r.id == "sign-in" {
			continue // they end or start a sign-in; see TestSignIn
		}
		allowed, known := handlers.Allowed(r.id)
		require.True(t, known, "%s %s (%s) has no row in the policy table", r.method, r.path, r.id)
		for role, c := range clients {
			var body any
			if r.method != http.MethodGet && r.method != http.MethodDelete {
				body = map[string]any{}
			}
			a := c.Do(r.method, r.address(nil), body, nil)
			switch {
			case allowed(models.Actor{Roles: []models.Role{role}}):
				require.NotContains(t, []int{401, 403}, a.Status, "%s as %q = %s", r.id, role, a.Body)
			case role == "":
				require.Equal(t, 401, a.Status, "%s as nobody = %s", r.id, a.Body)
			default:
				require.Equal(t, 403, a.Status, "%s as %q = %s", r.id, role, a.Body)
			}
			require.NotEqual(t, 500, a.Status, "%s as %q = %s", r.id, role, a.Body)
		}
	}
}

// TestRouteWithoutPolicyIsRefused: the zero rule lets nobody in.
func TestRouteWithoutPolicyIsRefused(t *testing.T) {
	allowed, known := handlers.Allowed("no-such-operation")
	require.False(t, known)
	for _, role := range models.Roles() {
		require.False(t, allowed(models.Actor{Roles: []models.Role{role}}))
	}
	require.False(t, allowed(models.Actor{}))
}
