package handlers_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/server/servertest"
)

func bodyTable() map[string]any {
	size := func(name string, bust float64) map[string]any {
		return map[string]any{"name": name, "body": []any{map[string]any{"dimension": "bust", "value": bust, "unit": "in"}, map[string]any{"dimension": "back length", "value": 42, "unit": "cm"}}}
	}
	return map[string]any{"name": "Our own people", "source": "twelve people measured in the workroom", "sizes": []any{size("one", 34.5), size("two", 38)}}
}

func TestStudioKeepsItsOwnBodyTables(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c, maker := s.Designer(), s.As("distaff", models.Maker)
		maker.Post("/body-tables", bodyTable()).Want(403)
		a := c.Post("/body-tables", bodyTable()).Want(201)
		require.Equal(t, "/api/v1/body-tables/"+a.ID(), a.Header.Get("Location"))
		c.Post("/body-tables", bodyTable()).Names(409, "body.name")
		one := maker.Get("/body-tables").Want(200).Map()["items"].([]any)[0].(map[string]any)
		require.Equal(t, "twelve people measured in the workroom", one["source"])
		first := one["sizes"].([]any)[0].(map[string]any)
		require.Equal(t, "one", first["name"])
		require.Equal(t, map[string]any{"dimension": "bust", "length": map[string]any{"value": 34.5, "unit": "in", "cm": 87.63}}, first["body"].([]any)[0])

		for _, row := range []struct {
			name, field string
			change      func(map[string]any)
		}{
			{"no source", "body.source", func(b map[string]any) { b["source"] = " " }},
			{"a size without a measurement", "body.sizes[0].body", func(b map[string]any) { b["sizes"].([]any)[0].(map[string]any)["body"] = []any{} }},
			{"two sizes of one name", "body.sizes[1].name", func(b map[string]any) { b["sizes"].([]any)[1].(map[string]any)["name"] = "One" }},
			{"no sizes", "body.sizes", func(b map[string]any) { b["sizes"] = []any{} }},
			{"a bust of nothing", "body.sizes[0].body[0].value", func(b map[string]any) {
				b["sizes"].([]any)[0].(map[string]any)["body"] = []any{map[string]any{"dimension": "bust", "value": -1e9, "unit": "cm"}}
			}},
		} {
			t.Run(row.name, func(t *testing.T) {
				b := bodyTable()
				row.change(b)
				c.Put("/body-tables/"+a.ID(), 1, b).Names(422, row.field)
			})
		}
		next := bodyTable()
		next["name"], next["retired"] = "Renamed", true
		c.Do("PUT", "/body-tables/"+a.ID(), next, nil).Want(428)
		c.Put("/body-tables/"+a.ID(), 7, next).Want(412)
		c.Put("/body-tables/"+a.ID(), 1, next).Want(200)
		one = c.Get("/body-tables").Map()["items"].([]any)[0].(map[string]any)
		require.Equal(t, []any{"Renamed", true, 2.}, []any{one["name"], one["retired"], one["revision"]})
		require.Len(t, one["sizes"], 2)
	})
}
