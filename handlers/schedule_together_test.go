package handlers_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/handlers"
	"tenter/models"
	"tenter/server/servertest"
)

// newTwoDesigns has two designs that one person records, with lengths that
// leave nothing to chance: six hours for a recording, two of ada's days, and
// half an hour for every other step. Today is Monday, 8 February.
func newTwoDesigns(t *testing.T, s *servertest.Studio) *bonnet {
	t.Helper()
	b := newBonnet(t, s)
	b.designer.Post("/designs/"+b.otherDesign+"/installments", map[string]any{"title": "Base", "air_on": "2027-02-15", "record_by": "2027-02-09"}).Want(201)
	var exact []any
	for kind, h := range map[string]float64{"film": 1.5, "edit": 0.5, "caption": 0.5, "publish": 0.5} {
		exact = append(exact, map[string]any{"kind": kind, "low": h, "likely": h, "high": h})
	}
	for _, design := range []string{b.design, b.otherDesign} {
		revision := int(b.designer.Get("/designs/" + design).Map()["revision"].(float64))
		b.designer.Put("/designs/"+design+"/estimates", revision, map[string]any{"estimates": exact}).Want(200)
	}
	return b
}

// TestTwoDesignsAtOnce is worked by hand. The tote is to be recorded by Tuesday,
// the bonnet's first installment by Wednesday, so ada records the tote on
// Monday and Tuesday and the bonnet on Wednesday and Thursday, a day late. On
// Friday she edits and captions both, the bonnet first, which is announced for
// Sunday; the tote airs in time on Monday.
func TestTwoDesignsAtOnce(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newTwoDesigns(t, s)
		path := "/designs/" + b.design + "/schedule"
		plan := b.editor.Get(path).Want(200).Map()
		require.Equal(t, []any{map[string]any{"name": "Heron tote", "where": "/d/heron-tote/schedule"}}, plan["together"])
		require.Contains(t, plan["rule"], "one thing at a time")
		record := task(t, plan, "record 1 Ties")
		require.Equal(t, "2027-02-10", record["planned_start"])
		require.Equal(t, "2027-02-11", record["planned_finish"])
		require.InDelta(t, 2, record["later_days"], 0)
		require.Equal(t, "ada is at Heron tote (record 1 Base) until 9 February; this waits.", record["waits"])
		require.Equal(t, "2027-02-08", record["waits_from"])
		require.Equal(t, "record 1 Base", record["waits_for"].([]any)[0].(map[string]any)["name"])
		require.InDelta(t, 0, record["probability"], 0)
		require.Equal(t, "2027-02-08", record["earliest_start"], "people aside")
		require.Equal(t, "record 1 Ties is due on 10 February and is planned until 11 February, 1 day late for other designs: ada is at Heron tote (record 1 Base) until 9 February.", plan["findings"].([]any)[0])
		require.Contains(t, plan["words"], "\nHeld up: record 1 Ties, while ada is at Heron tote (record 1 Base) until 9 February.")

		tote := b.editor.Get("/designs/" + b.otherDesign + "/schedule").Want(200).Map()
		require.InDelta(t, 1, task(t, tote, "air 1 Base")["probability"], 0)
		require.Equal(t, "2027-02-12", task(t, tote, "edit 1 Base")["planned_start"])
		require.Empty(t, tote["findings"])

		week := b.maker.Get("/studio/week").Want(200).Map()
		require.Equal(t, []string{"Heron tote: record 1 Base 2027-02-08 2027-02-09", "Thistle bonnet: record 1 Ties 2027-02-10 2027-02-11",
			"Thistle bonnet: edit 1 Ties 2027-02-12 2027-02-12", "Thistle bonnet: caption 1 Ties 2027-02-12 2027-02-12", "Heron tote: edit 1 Base 2027-02-12 2027-02-12",
			"Heron tote: caption 1 Base 2027-02-12 2027-02-12"}, weekOf(t, week, "ada")[:6])
		require.Equal(t, weekOf(t, week, "ada"), weekOf(t, plan, "ada"), "the design's page shows the same week")

		require.NotContains(t, strings.Join(texts(plan["lacks"].([]any)), " "), "can all")
		s.As("ben", models.Filmer)
		require.Contains(t, b.editor.Get(path).Map()["lacks"], "ada, ben can all record and edit: everything of that is planned for ada.")

		b.designer.Patch("/designs/"+b.otherDesign, int(b.designer.Get("/designs/" + b.otherDesign).Map()["revision"].(float64)), map[string]any{"archived": true}).Want(200)
		alone := b.editor.Get(path).Want(200).Map()
		require.Empty(t, alone["together"])
		require.Equal(t, "2027-02-08", task(t, alone, "record 1 Ties")["planned_start"], "a design that is put away asks for nobody")
	})
}

// weekOf lists somebody's week.
func weekOf(t *testing.T, answer map[string]any, who string) []string {
	t.Helper()
	for _, w := range answer["week"].([]any) {
		if w := w.(map[string]any); w["who"] == who {
			var out []string
			for _, x := range w["tasks"].([]any) {
				x := x.(map[string]any)
				out = append(out, x["design"].(string)+": "+x["name"].(string)+" "+x["from"].(string)+" "+x["until"].(string))
			}
			return out
		}
	}
	t.Fatalf("%s has no week in %v", who, answer["week"])
	return nil
}

func TestWhatIfTellsOfOtherDesigns(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newTwoDesigns(t, s)
		path := "/designs/" + b.design + "/schedule"
		try := func(body map[string]any) []any {
			return b.editor.Post(path+"/try", body).Want(200).Map()["changes"].([]any)
		}
		slower := try(map[string]any{"people": []any{map[string]any{"person_id": b.filmer.Person.ID, "hours_per_day": 1}}})
		require.Contains(t, slower, "Heron tote: air 1 Base, 15 February: kept in under 1 % of the draws instead of over 99 %.")
		later := try(map[string]any{"air_on": []any{map[string]any{"installment_id": b.crown, "air_on": "2027-03-21"}}})
		require.NotContains(t, strings.Join(texts(later), " "), "Heron tote:")
		sooner := try(map[string]any{"air_on": []any{map[string]any{"installment_id": b.ties, "air_on": "2027-02-12"}}})
		require.Contains(t, strings.Join(texts(sooner), " "), "Heron tote: record 1 Base, 9 February: kept in under 1 % of the draws instead of over 99 %.", "the bonnet goes first, and the tote is late")
		sample := try(map[string]any{"samples": []any{map[string]any{}}})
		require.NotContains(t, strings.Join(texts(sample), " "), "Heron tote:")
	})
}

func texts(list []any) []string {
	out := make([]string, len(list))
	for i, x := range list {
		out[i] = x.(string)
	}
	return out
}

// TestWhoSeesAScheduleMaySeeTheOtherDesigns: a schedule and the week name other
// designs, so nobody may read them who may not read every design; who may not
// is told nothing of either.
func TestWhoSeesAScheduleMaySeeTheOtherDesigns(t *testing.T) {
	design, known := handlers.Allowed("get-design")
	require.True(t, known)
	for _, operation := range []string{"get-schedule", "try-schedule", "get-studio-week"} {
		allowed, known := handlers.Allowed(operation)
		require.True(t, known)
		for _, role := range models.Roles() {
			who := models.Actor{Roles: []models.Role{role}}
			require.False(t, allowed(who) && !design(who), "%s would tell %s of designs that they may not see", operation, role)
		}
	}
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newTwoDesigns(t, s)
		tester := b.As("mallow", models.Tester)
		for _, c := range []*servertest.Client{b.designer, b.editor, b.maker, b.filmer} {
			require.Contains(t, c.Get("/designs/" + b.design + "/schedule").Want(200).Map()["rule"], "one thing at a time")
		}
		for _, c := range []*servertest.Client{tester, s.Nobody()} {
			for _, path := range []string{"/designs/" + b.design + "/schedule", "/studio/week", "/designs/" + b.otherDesign} {
				a := c.Get(path)
				require.Contains(t, []int{401, 403, 404}, a.Status)
				require.NotContains(t, string(a.Body), "Heron tote")
			}
			require.NotContains(t, c.Post("/designs/"+b.design+"/schedule/try", map[string]any{}).Map(), "together")
		}
	})
}
