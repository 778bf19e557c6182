package server_test

import (
	"fmt"
	"net/http"
	"slices"
	"strings"
	"testing"

	"github.com/danielgtaylor/huma/v2"
	"github.com/stretchr/testify/require"
	"gorm.io/gorm"

	"tenter/handlers"
	"tenter/models"
	"tenter/models/modelstest"
	"tenter/server/servertest"
)

// tableOf is where the thing is kept that a change's path names.
var tableOf = map[string]string{"design": "designs", "version": "versions", "person": "people", "sample": "samples", "call": "test_calls",
	"application": "applications", "assignment": "assignments", "installment": "installments", "shot": "shots", "take": "takes", "slip": "slips",
	"remark": "remarks", "webhook": "webhooks", "photo": "photos"}

// changeable is one thing and how to change it.
type changeable struct {
	c         *servertest.Client
	rows      *gorm.DB
	path      string
	table, id string
}

func (h changeable) revision(t *testing.T) (n int) {
	t.Helper()
	require.NoError(t, h.rows.Table(h.table).Select("revision").Where("id = ?", h.id).Scan(&n).Error)
	return n
}

func (h changeable) change(t *testing.T, body any) *servertest.Answer {
	t.Helper()
	return h.c.Patch(h.path, h.revision(t), body)
}

func (h changeable) events(t *testing.T) (n int64) {
	t.Helper()
	require.NoError(t, h.rows.Table("events").Count(&n).Error)
	return n
}

// changesNothing wants a change to be taken and to leave everything as it was.
func (h changeable) changesNothing(t *testing.T, body any) {
	t.Helper()
	revision, events := h.revision(t), h.events(t)
	a := h.change(t, body).Want(200)
	require.Equal(t, fmt.Sprintf(`"%d"`, revision), a.Header.Get("ETag"), "%v", body)
	require.Equal(t, revision, h.revision(t), "%v", body)
	require.Equal(t, events, h.events(t), "%v", body)
}

// find looks for a thing that can be changed as things stand: not one of a call
// that has closed, say.
func find(t *testing.T, c *servertest.Client, rows *gorm.DB, path string) changeable {
	t.Helper()
	_, name, named := strings.Cut(path, "{")
	name = strings.TrimSuffix(name, "}")
	h := changeable{c: c, rows: rows, path: path}
	switch {
	case named:
		h.table = tableOf[name]
	case path == "/me":
		h.table, h.id = "people", c.Person.ID
		return h
	default:
		h.table, h.id = "studio", "1"
		return h
	}
	require.NotEmpty(t, h.table, "say where {%s} is kept", name)
	var ids []string
	require.NoError(t, rows.Table(h.table).Order("id").Pluck("id", &ids).Error)
	for _, id := range ids {
		h.id, h.path = id, strings.Replace(path, "{"+name+"}", id, 1)
		if h.change(t, map[string]any{}).Status == 200 {
			return h
		}
	}
	require.Fail(t, "nothing can be changed", "%s: %d of them", path, len(ids))
	return h
}

// TestWhatNullMeansInEveryChange walks all changes that the API describes, over
// a studio in the middle of its work. A change of nothing leaves revision and
// log alone. null clears an optional text, once; where a text has to be, and for
// whatever can't be empty, it is refused by name, and nothing changes (RFC 7396
// is about what null means in a change).
func TestWhatNullMeansInEveryChange(t *testing.T) {
	s := demoStudio(t)
	rows := modelstest.Rows(t, s.Store)
	var owner models.Person
	require.NoError(t, rows.Where("id IN (SELECT person_id FROM person_roles WHERE role = ?)", models.Designer).Order("id").Take(&owner).Error)
	c := s.For(&owner)
	c.Post("/webhooks", body("name", "shop", "url", "https://programs.example/tenter", "kinds", list("design"))).Want(201)
	api, changes, cleared := s.Server.API(), 0, 0
	for path, item := range api.Paths {
		if item.Patch == nil {
			continue
		}
		changes++
		t.Run(item.Patch.OperationID, func(t *testing.T) {
			h := find(t, c, rows, strings.TrimPrefix(path, handlers.Prefix))
			h.changesNothing(t, map[string]any{})
			fields := bodyFields(api, item.Patch)
			require.NotEmpty(t, fields)
			for name, field := range fields {
				revision, events := h.revision(t), h.events(t)
				a := h.change(t, map[string]any{name: nil})
				if a.Status == 200 {
					require.True(t, field.Nullable, "%s can't be cleared, and null was taken for it", name)
					h.changesNothing(t, map[string]any{name: nil})
					cleared++
					continue
				}
				require.Equal(t, revision, h.revision(t), name)
				require.Equal(t, events, h.events(t), name)
				if field.Nullable && slices.Contains([]int{http.StatusConflict, http.StatusForbidden}, a.Status) {
					continue // as things stand this one can't change
				}
				if name == "email" { // which goes with the changer's own password
					isProblem(t, a, 422, "body.password")
					continue
				}
				isProblem(t, a, 422, "body."+name)
			}
		})
	}
	require.Equal(t, 16, changes)
	require.Greater(t, cleared, 15)
}

func bodyFields(api *huma.OpenAPI, op *huma.Operation) map[string]*huma.Schema {
	schema := op.RequestBody.Content["application/json"].Schema
	if schema.Ref != "" {
		schema = api.Components.Schemas.SchemaFromRef(schema.Ref)
	}
	return schema.Properties
}

// TestChangesThatChangeNothing: the same said again, on each database.
func TestChangesThatChangeNothing(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c := s.Designer()
		p := s.NewPullover(c, "Saltmarsh pullover")
		s.OpenCall(c, p)
		rows := modelstest.Rows(t, s.Store)
		slots := c.Get("/calls/" + p.CallID).Want(200).Map()["slots"].([]any)
		for i := range slots {
			had := slots[i].(map[string]any)
			slots[i] = body("size_id", had["size_id"], "fewest", had["fewest"], "wanted", had["wanted"], "most", had["most"])
		}
		slices.Reverse(slots)
		for _, row := range []struct {
			name, path, table, id string
			to                    map[string]any
		}{
			{"a design", "/designs/" + p.ID, "designs", p.ID, body("note", "Soft.", "tool_mm", 5.5, "released_on", "2027-06-01", "gauge", body("stitches", 15, "rows", 12, "span", 4, "unit", "in"))},
			{"a version", "/versions/" + p.VersionID, "versions", p.VersionID, body("note", "Soft.")},
			{"a person", "/me", "people", c.Person.ID, body("name", "Odile", "unit", "in")},
			{"the studio", "/studio/settings", "studio", "1", body("lead_days", 9, "forget_after_months", 24)},
			{"a call", "/calls/" + p.CallID, "test_calls", p.CallID, body("title", "Another", "thanks", "Thank you.", "slots", slots)},
		} {
			t.Run(row.name, func(t *testing.T) {
				h := changeable{c, rows, row.path, row.table, row.id}
				before := h.revision(t)
				h.change(t, row.to).Want(200)
				require.Equal(t, before+1, h.revision(t))
				h.changesNothing(t, row.to)
				h.changesNothing(t, body())
				h.c.Patch(h.path, before, body()).Want(412)
			})
		}
		h := changeable{c, rows, "/designs/" + p.ID, "designs", p.ID}
		design := h.change(t, body("note", nil, "tool_mm", nil)).Want(200).Map()
		require.Equal(t, "", design["note"])
		require.Nil(t, design["tool_mm"])
		untouched(t, s, func() {
			a := h.change(t, body("note", "Kept out.", "Archived", nil))
			isProblem(t, a, 422, "body.Archived")
			isProblem(t, h.change(t, body("name", nil)), 422, "body.name")
			isProblem(t, h.change(t, body("gauge", nil)), 422, "body.gauge")
		})
	})
}
