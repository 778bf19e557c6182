package handlers_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/server/servertest"
)

type yarnBody struct {
	Used         int
	Revision     int
	Share        float64
	StitchesFrom string `json:"stitches_from"`
	Ball         *struct{ Length, Weight *struct{ Value float64 } }
	Sizes        []struct {
		SizeID        string `json:"size_id"`
		Size          string
		Stitches      float64
		Made          int
		TypicalMetres *float64 `json:"typical_metres"`
		UpperMetres   *float64 `json:"upper_metres"`
		PublishMetres *float64 `json:"publish_metres"`
		Balls         *int
		Grams         *float64
		Stated        *struct{ Value, Metres float64 }
		StatedBalls   int `json:"stated_balls"`
		Short         bool
	}
	Pieces []struct {
		Who, Kind, Outlier, Unused string
		Metres                     float64
		AtDesignMetres             float64 `json:"at_design_metres"`
	}
}

// yarnDesign is a knitted design in three sizes whose stitches are counted:
// 40000, 46000 and 52000, at 20 stitches and 28 rows over 10 cm. It returns
// the design's path, its sizes' ids and its call.
func yarnDesign(t *testing.T, s *servertest.Studio, c *servertest.Client) (path string, sizes map[string]string, call string) {
	t.Helper()
	d := c.Post("/designs", map[string]any{"name": "Counted", "craft": "knit", "audience": "woman", "terms": "uk", "unit": "cm",
		"gauge": map[string]any{"stitches": 20, "rows": 28, "span": 10, "unit": "cm"}}).Want(201).Map()
	path = "/designs/" + d["id"].(string)
	version := d["versions"].([]any)[0].(map[string]any)["id"].(string)
	d = c.Put(path+"/sizes", 1, map[string]any{"sizes": []any{map[string]any{"name": "A"}, map[string]any{"name": "B"}, map[string]any{"name": "C"}}}).Want(200).Map()
	sizes = map[string]string{}
	var slots []any
	for _, z := range d["sizes"].([]any) {
		id := z.(map[string]any)["id"].(string)
		sizes[z.(map[string]any)["name"].(string)] = id
		slots = append(slots, map[string]any{"size_id": id, "fewest": 0, "wanted": 2, "most": 5})
	}
	c.Put("/versions/"+version+"/sheet", 1, map[string]any{"counts": []any{
		map[string]any{"name": "across", "unit": "stitch", "values": []any{200, 230, 260}},
		map[string]any{"name": "along", "unit": "row", "values": []any{200, 200, 200}},
	}, "rules": []any{}}).Want(200)
	call = c.Post(path+"/calls", map[string]any{"title": "Call", "opens_on": "2027-02-01", "due_on": "2027-03-12", "slots": slots}).Want(201).ID()
	return path, sizes, call
}

// TestYarnToState works the method's own example through the product: the
// testers' metres, two of them told otherwise (yards, grams), at 95 %; the
// numbers were computed there by hand: typical 408.5, 469.8, 531.1 m and
// 469.8, 540.3, 610.7 m as the bound, with the 980 m left out. Nobody made C.
func TestYarnToState(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c := s.Designer()
		path, sizes, call := yarnDesign(t, s, c)
		get := func() (y yarnBody) {
			t.Helper()
			c.Get(path + "/yarn").Want(200).Into(&y)
			return y
		}
		require.Zero(t, get().Revision)
		require.InDelta(t, 0.9, get().Share, 0)
		for _, row := range []struct {
			who, size             string
			stitches, rows, value float64
			unit                  string
		}{
			{"ash", "A", 20, 28, 410 / 0.9144, "yd"}, {"birch", "A", 21, 29, 189, "g"}, {"cedar", "B", 19.5, 27, 512, "m"},
			{"dogwood", "B", 20, 28.5, 455, "m"}, {"elder", "B", 20, 28, 980, "m"},
		} {
			tester := s.As(row.who, models.Tester)
			assignment := c.Post("/calls/"+call+"/assignments", map[string]any{"person_id": tester.Person.ID, "size_id": sizes[row.size]}).Want(201).ID()
			tester.Post("/assignments/"+assignment+"/reports", map[string]any{"swatch": map[string]any{"stitches": row.stitches, "rows": row.rows, "span": 10, "unit": "cm"},
				"yarn": map[string]any{"value": row.value, "unit": row.unit}}).Want(201)
		}
		require.Contains(t, get().Pieces[1].Unused, "by weight", "without a ball grams tell nothing")
		put := func(revision int, body map[string]any) *servertest.Answer { return c.Put(path+"/yarn", revision, body) }
		plan := map[string]any{"share": 0.95, "stitches": "across * along", "ball": map[string]any{"length": map[string]any{"value": 100, "unit": "m"}, "weight": map[string]any{"value": 50, "unit": "g"}},
			"sizes": []any{map[string]any{"size_id": sizes["A"], "value": 500, "unit": "m"}, map[string]any{"size_id": sizes["B"], "value": 500, "unit": "yd"}}}
		put(0, plan).Want(200)

		y := get()
		require.Equal(t, 1, y.Revision)
		require.Equal(t, 4, y.Used)
		require.Equal(t, "across * along", y.StitchesFrom)
		for i, want := range []struct {
			n, typical, upper float64
			made, balls       int
		}{{40000, 408.5, 469.8, 2, 5}, {46000, 469.8, 540.3, 2, 6}, {52000, 531.1, 610.7, 0, 7}} {
			z := y.Sizes[i]
			require.InDelta(t, want.n, z.Stitches, 0)
			require.InDelta(t, want.typical, *z.TypicalMetres, 0.051, z.Size)
			require.InDelta(t, want.upper, *z.UpperMetres, 0.051, z.Size)
			require.Equal(t, want.made, z.Made)
			require.Equal(t, want.balls, *z.Balls)
			require.InDelta(t, float64(100*want.balls), *z.PublishMetres, 0)
			require.InDelta(t, float64(50*want.balls), *z.Grams, 0)
		}
		require.Equal(t, 5, y.Sizes[0].StatedBalls)
		require.False(t, y.Sizes[0].Short)
		require.InDelta(t, 457.2, y.Sizes[1].Stated.Metres, 1e-9) // 500 * 0.9144
		require.True(t, y.Sizes[1].Short)
		require.Nil(t, y.Sizes[2].Stated)
		require.InDelta(t, 410, y.Pieces[0].Metres, 0.01)
		require.InDelta(t, 378, y.Pieces[1].Metres, 0.01)
		require.InDelta(t, 378*1.042833, y.Pieces[1].AtDesignMetres, 0.01) // √(21·29 / (20·28))
		require.Contains(t, y.Pieces[4].Outlier, "980 m")

		var b boardBody
		c.Get(path + "/board").Want(200).Into(&b)
		for _, g := range b.Gates {
			if g.Name == "Yarn amounts set" {
				require.True(t, g.Shut)
				require.Equal(t, "No amount of yarn is stated for size C.", g.Why)
			}
		}
		put(0, plan).Want(412)
		c.Do("PUT", path+"/yarn", plan, nil).Want(428)
		plan["sizes"] = append(plan["sizes"].([]any), map[string]any{"size_id": sizes["C"], "value": 700, "unit": "m"})
		put(1, plan).Want(200)
		c.Get(path + "/board").Want(200).Into(&b)
		for _, g := range b.Gates {
			if g.Name == "Yarn amounts set" {
				require.False(t, g.Shut)
			}
		}
	})
}

// TestSamplesTellTheirYarnToo: a finished sample does, a swatch and one that is
// half worked don't.
func TestSamplesTellTheirYarnToo(t *testing.T) {
	s := servertest.OnSQLite(t)
	c := s.Designer()
	path, sizes, _ := yarnDesign(t, s, c)
	for _, row := range []struct{ label, purpose string }{{"the grey one", "fit"}, {"a square", "swatch"}} {
		sample := c.Post(path+"/samples", map[string]any{"size_id": sizes["A"], "label": row.label, "purpose": row.purpose}).Want(201)
		c.Patch("/samples/"+sample.ID(), 1, map[string]any{"yarn": map[string]any{"value": 420, "unit": "m"}, "after": map[string]any{"stitches": 20, "rows": 28, "span": 10, "unit": "cm"}}).Want(200)
	}
	c.Put(path+"/yarn", 0, map[string]any{"stitches": "across * along"}).Want(200)
	var y yarnBody
	c.Get(path + "/yarn").Want(200).Into(&y)
	require.Len(t, y.Pieces, 1)
	require.Equal(t, "sample", y.Pieces[0].Kind)
	require.InDelta(t, 420, *y.Sizes[0].TypicalMetres, 0.051)
	require.InDelta(t, 483, *y.Sizes[1].TypicalMetres, 0.051) // 420 * 46/40

	c.Post(path+"/installments", map[string]any{"title": "One"}).Want(201)
	c.Get(path + "/yarn").Want(200).Into(&y)
	require.Empty(t, y.Pieces, "it is not worked through the last installment")
}

func TestBadYarnIsRefusedWhole(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c := s.Designer()
		path, sizes, _ := yarnDesign(t, s, c)
		other := s.NewPullover(c, "Another one")
		stated := func(size string, value any, unit string) map[string]any {
			return map[string]any{"sizes": []any{map[string]any{"size_id": size, "value": value, "unit": unit}}}
		}
		ball := func(length, weight any) map[string]any {
			b := map[string]any{}
			if length != nil {
				b["length"] = length
			}
			if weight != nil {
				b["weight"] = weight
			}
			return map[string]any{"ball": b}
		}
		amount := func(value float64, unit string) map[string]any { return map[string]any{"value": value, "unit": unit} }
		for _, row := range []struct {
			name  string
			body  map[string]any
			field string
		}{
			{"no yarn at all", stated(sizes["A"], 0, "m"), "body.sizes[0].value"},
			{"a mile of it", stated(sizes["A"], 1e9, "m"), "body.sizes[0].value"},
			{"by the ell", stated(sizes["A"], 100, "ell"), "body.sizes[0].unit"},
			{"another design's size", stated(other.Sizes["1"], 100, "m"), "body.sizes[0].size_id"},
			{"a size twice", map[string]any{"sizes": []any{map[string]any{"size_id": sizes["A"], "value": 1, "unit": "m"}, map[string]any{"size_id": sizes["A"], "value": 2, "unit": "m"}}}, "body.sizes[1].size_id"},
			{"a ball of grams only", ball(nil, amount(50, "g")), "body.ball.length"},
			{"a ball measured in grams", ball(amount(50, "g"), nil), "body.ball.length.unit"},
			{"a ball weighed in metres", ball(amount(100, "m"), amount(100, "m")), "body.ball.weight.unit"},
			{"a ball of an inch", ball(amount(0.02, "m"), nil), "body.ball.length.value"},
			{"enough for everybody", map[string]any{"share": 1}, "body.share"},
			{"enough for few", map[string]any{"share": 0.2}, "body.share"},
			{"stitches of what is not counted", map[string]any{"stitches": "across * sleeves"}, "body.stitches"},
			{"stitches that are no formula", map[string]any{"stitches": "across *"}, "body.stitches"},
		} {
			t.Run(row.name, func(t *testing.T) {
				c.Put(path+"/yarn", 0, row.body).Names(422, row.field)
			})
		}
		var y yarnBody
		c.Get(path + "/yarn").Want(200).Into(&y)
		require.Zero(t, y.Revision)
		require.Nil(t, y.Ball)
	})
}
