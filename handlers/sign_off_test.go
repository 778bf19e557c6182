package handlers_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/server/servertest"
)

type signOffBody struct {
	Revision int
	Ready    bool
	Standing *struct {
		ID, Name, Note string
		By             struct{ Handle string }
		SignedAt       string `json:"signed_at"`
		Answers        []struct{ Kind, Name, Size, Message, Answer string }
	}
	Earlier []struct {
		ID           string
		WithdrawnWhy string `json:"withdrawn_why"`
	}
	Failures []struct{ Kind, Name, Size, Message string }
}

// smallDesign has two sizes, three counts and two rules, of which the balance
// fails in size M by one stitch when broken is true.
func smallDesign(t *testing.T, c *servertest.Client, broken bool) (design, version string, sizes []string) {
	t.Helper()
	d := c.Post("/designs", pullover()).Want(201).Map()
	design = d["id"].(string)
	version = d["versions"].([]any)[0].(map[string]any)["id"].(string)
	d = c.Put("/designs/"+design+"/sizes", 1, map[string]any{"sizes": []any{map[string]any{"name": "S"}, map[string]any{"name": "M"}}}).Want(200).Map()
	for _, z := range d["sizes"].([]any) {
		sizes = append(sizes, z.(map[string]any)["id"].(string))
	}
	c.Put("/versions/"+version+"/sheet", 1, smallSheet(broken)).Want(200)
	return design, version, sizes
}

func smallSheet(broken bool) map[string]any {
	front := "60 (66)"
	if broken {
		front = "60 (67)"
	}
	line := func(name, text string) map[string]any {
		return map[string]any{"name": name, "unit": "stitch", "text": text}
	}
	return map[string]any{
		"counts": []any{line("body", "122 (134)"), line("back", "62 (68)"), line("front", front)},
		"rules": []any{
			map[string]any{"name": "panels meet", "kind": "holds", "expr": "back + front == body"},
			map[string]any{"name": "repeat", "kind": "multiple", "expr": "body", "of": 4, "plus": 2},
		},
	}
}

func TestVersionIsSignedOffAndTheGateOpens(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c, editor := s.Designer(), s.As("bodkin", models.TechEditor)
		design, version, _ := smallDesign(t, c, false)
		path := "/versions/" + version + "/sign-off"
		shut := func(name string) (bool, string) {
			var b boardBody
			c.Get("/designs/" + design + "/board").Want(200).Into(&b)
			for _, g := range b.Gates {
				if g.Name == name {
					return g.Shut, g.Why
				}
			}
			t.Fatalf("no gate %q", name)
			return false, ""
		}
		is, why := shut("Tech editor's sign-off")
		require.True(t, is)
		require.Equal(t, "Version 1 is not signed off by a tech editor yet.", why)

		c.Post(path, map[string]any{}).Want(403)
		editor.Post(path, map[string]any{}).Want(428)
		editor.Do("POST", path, map[string]any{}, servertest.IfMatch(1)).Want(412)
		var o signOffBody
		editor.Get(path).Want(200).Into(&o)
		require.True(t, o.Ready)
		require.Nil(t, o.Standing)
		editor.Do("POST", path, map[string]any{"note": "read twice"}, servertest.IfMatch(o.Revision)).Want(201)
		editor.Do("POST", path, map[string]any{}, servertest.IfMatch(o.Revision)).Want(409)
		editor.Get(path).Into(&o)
		require.Equal(t, "bodkin", o.Standing.By.Handle)
		require.Equal(t, "read twice", o.Standing.Note)
		is, _ = shut("Tech editor's sign-off")
		require.False(t, is)

		// What has nothing to do with the counts leaves it; what has withdraws it.
		c.Patch("/designs/"+design, 2, map[string]any{"note": "no seams", "released_on": "2027-04-01"}).Want(200)
		is, _ = shut("Tech editor's sign-off")
		require.False(t, is)
		c.Patch("/designs/"+design, 3, map[string]any{"gauge": map[string]any{"stitches": 15, "rows": 11, "span": 10, "unit": "cm"}}).Want(200)
		is, why = shut("Tech editor's sign-off")
		require.True(t, is)
		require.Equal(t, "The sign-off of version 1 was withdrawn: The design's gauge, terms, units or materials were changed.", why)
	})
}

func TestEveryFailureNeedsAnAnswer(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c, editor := s.Designer(), s.As("bodkin", models.TechEditor)
		design, version, _ := smallDesign(t, c, true)
		path := "/versions/" + version + "/sign-off"
		var o signOffBody
		editor.Get(path).Into(&o)
		require.False(t, o.Ready)
		require.Len(t, o.Failures, 1)
		f := o.Failures[0]
		require.Equal(t, []string{"rule", "panels meet", "M"}, []string{f.Kind, f.Name, f.Size})
		answer := func(kind, size, text string) map[string]any {
			return map[string]any{"kind": kind, "name": "panels meet", "size": size, "answer": text}
		}
		sign := func(answers ...any) *servertest.Answer {
			return editor.Do("POST", path, map[string]any{"answers": answers}, servertest.IfMatch(o.Revision))
		}
		sign().Names(422, "body.answers")
		sign(answer("rule", "M", " ")).Names(422, "body.answers[0].answer")
		sign(answer("rule", "S", "as meant")).Names(422, "body.answers[0]")
		sign(answer("rule", "M", "as meant"), answer("rule", "M", "twice")).Names(422, "body.answers[1]")
		editor.Get(path).Into(&o)
		require.Nil(t, o.Standing, "nothing was signed")

		sign(answer("rule", "M", "The extra stitch is worked into the button band.")).Want(201)
		editor.Get(path).Into(&o)
		require.Equal(t, "The extra stitch is worked into the button band.", o.Standing.Answers[0].Answer)
		require.Equal(t, f.Message, o.Standing.Answers[0].Message)
		var b boardBody
		c.Get("/designs/" + design + "/board").Into(&b)
		for _, g := range b.Gates {
			if g.Name == "Counts" || g.Name == "Tech editor's sign-off" {
				require.False(t, g.Shut, "an answered failure holds nothing: %s", g.Why)
			}
		}

		c.Put("/versions/"+version+"/sheet", 2, smallSheet(false)).Want(200)
		o = signOffBody{}
		editor.Get(path).Into(&o)
		require.Nil(t, o.Standing)
		require.Equal(t, "The count sheet was changed.", o.Earlier[0].WithdrawnWhy)
		c.Put("/versions/"+version+"/sheet", 3, smallSheet(true)).Want(200)
		editor.Get(path).Into(&o)
		require.Nil(t, o.Standing, "changing it back does not bring the sign-off back")

		o.Revision = 4
		sign(answer("rule", "M", "again")).Want(201)
		editor.Post(path+"/withdraw", map[string]any{"why": " "}).Names(422, "body.why")
		c.Post(path+"/withdraw", map[string]any{"why": "signed by mistake"}).Want(200)
		editor.Post(path+"/withdraw", map[string]any{"why": "once more"}).Want(409)
	})
}

func TestSizesAndPointsWithdrawASignOff(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c, editor := s.Designer(), s.As("bodkin", models.TechEditor)
		design, version, sizes := smallDesign(t, c, false)
		path := "/versions/" + version + "/sign-off"
		signed := func() bool {
			var o signOffBody
			editor.Get(path).Want(200).Into(&o)
			return o.Standing != nil
		}
		sign := func() {
			editor.Do("POST", path, map[string]any{}, servertest.IfMatch(2)).Want(201)
			require.True(t, signed())
		}
		sign()
		c.Put("/designs/"+design+"/points", 2, map[string]any{"points": []any{map[string]any{"name": "bust", "axis": "stitch", "expr": "body", "tolerance": map[string]any{"value": 2, "unit": "cm"}}}}).Want(200)
		require.False(t, signed())
		sign()
		c.Put("/designs/"+design+"/sizes", 3, map[string]any{"sizes": []any{map[string]any{"id": sizes[0], "name": "S"}, map[string]any{"id": sizes[1], "name": "M/L"}}}).Want(200)
		require.False(t, signed())
	})
}

func TestVersionWithoutCountsCannotBeSigned(t *testing.T) {
	s := servertest.OnSQLite(t)
	c, editor := s.Designer(), s.As("bodkin", models.TechEditor)
	d := c.Post("/designs", pullover()).Want(201).Map()
	version := d["versions"].([]any)[0].(map[string]any)["id"].(string)
	editor.Do("POST", "/versions/"+version+"/sign-off", map[string]any{}, servertest.IfMatch(1)).Want(409)
}
