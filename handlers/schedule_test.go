package handlers_test

import (
	"fmt"
	"net/http"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/server/servertest"
)

// task returns a task of a schedule by its name.
func task(t *testing.T, plan map[string]any, name string) map[string]any {
	t.Helper()
	for _, x := range plan["tasks"].([]any) {
		if x.(map[string]any)["name"] == name {
			return x.(map[string]any)
		}
	}
	t.Fatalf("no task %q in %v", name, plan["tasks"])
	return nil
}

func names(plan map[string]any) []string {
	var out []string
	for _, x := range plan["tasks"].([]any) {
		out = append(out, x.(map[string]any)["name"].(string))
	}
	return out
}

func TestScheduleIsBuiltFromTheDesignsOwnData(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newShoot(t, s)
		b.addSample(map[string]any{"state": b.ties, "held_by": b.maker.Person.ID})
		b.addShot(b.crown, map[string]any{"title": "Round 6", "from_state": b.point, "to_state": b.crown})
		b.addTake(b.ties)
		plan := b.editor.Get("/designs/" + b.design + "/schedule").Want(200).Map()
		require.Equal(t, []string{
			"edit 1 Ties", "caption 1 Ties", "schedule 1 Ties", "air 1 Ties",
			"make 2 Crown: the grey one", "record 2 Crown", "edit 2 Crown", "caption 2 Crown", "schedule 2 Crown", "air 2 Crown",
			"record 3 Sides", "edit 3 Sides", "caption 3 Sides", "schedule 3 Sides", "tech edit",
		}, names(plan))
		made := task(t, plan, "make 2 Crown: the grey one")
		require.Equal(t, "pim", made["who"])
		// 0.62 hours by the stitches; (0.8 + 4·1 + 1.6)/6 of it, to a hundredth.
		require.InDelta(t, 0.66, made["expected"], 0.011)
		record := task(t, plan, "record 2 Crown")
		require.Equal(t, []any{"make 2 Crown: the grey one"}, record["after"])
		require.Equal(t, "2027-02-17", record["due"])
		require.Equal(t, "ada", record["who"])
		air := task(t, plan, "air 2 Crown")
		require.Equal(t, "2027-02-21", air["on"])
		require.Greater(t, air["probability"], 0.9)
		require.Nil(t, made["probability"], "it has no day of its own")
		require.Equal(t, "eve", task(t, plan, "tech edit")["who"])
		require.Contains(t, plan["words"], "What presses most: ")
		require.Contains(t, plan["lacks"].([]any)[0], "1 recording is without a day.")

		again := b.editor.Get("/designs/" + b.design + "/schedule").Want(200)
		require.Equal(t, plan, again.Map(), "the same draws give the same answer")
		week := b.maker.Get("/studio/week").Want(200).Map()
		found := false
		for _, w := range week["week"].([]any) {
			for _, x := range w.(map[string]any)["tasks"].([]any) {
				found = found || x.(map[string]any)["name"] == "make 2 Crown: the grey one" && x.(map[string]any)["where"] == "/d/thistle-bonnet/schedule"
			}
		}
		require.True(t, found, "%v", week)
	})
}

// asked is the chance of the crown's day as the sentences say it.
func asked(plan map[string]any) string {
	for _, x := range plan["tasks"].([]any) {
		if x := x.(map[string]any); x["name"] == "air 2 Crown" {
			if p := 100 * x["probability"].(float64); p >= 0.5 {
				return fmt.Sprintf("%.0f %%", p)
			}
		}
	}
	return "under 1 %"
}

func TestWhatIfSavesNothing(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newShoot(t, s)
		b.designer.Patch("/installments/"+b.crown, 1, map[string]any{"air_on": "2027-02-11"}).Want(200)
		b.addTake(b.ties)
		path := "/designs/" + b.design + "/schedule"
		try := func(body map[string]any) *servertest.Answer { return b.editor.Post(path+"/try", body) }
		before := b.editor.Get(path).Map()
		require.Less(t, task(t, before, "air 2 Crown")["probability"], 0.5)

		got := try(map[string]any{"air_on": []any{map[string]any{"installment_id": b.crown, "air_on": "2027-03-20"}}}).Want(200).Map()
		require.Equal(t, before, got["before"])
		require.Greater(t, task(t, got["after"].(map[string]any), "air 2 Crown")["probability"], 0.95)
		require.Contains(t, got["changes"], "air 2 Crown, 20 March: kept in over 99 % of the draws instead of "+asked(before)+".")
		require.Equal(t, "2027-02-11", b.editor.Get("/installments/" + b.crown).Map()["air_on"], "nothing is saved")

		got = try(map[string]any{"people": []any{map[string]any{"person_id": b.filmer.Person.ID, "hours_per_day": 12, "days": []any{"mon", "tue", "wed", "thu", "fri", "sat", "sun"}}},
			"samples": []any{map[string]any{"state": b.ties}}}).Want(200).Map()
		require.Greater(t, task(t, got["after"].(map[string]any), "air 2 Crown")["probability"], task(t, before, "air 2 Crown")["probability"])
		require.Equal(t, before, b.editor.Get(path).Map())

		nobody := "018f0000-0000-7000-8000-000000000000"
		for field, body := range map[string]map[string]any{
			"body.air_on[0].installment_id": {"air_on": []any{map[string]any{"installment_id": nobody, "air_on": "2027-03-20"}}},
			"body.air_on[0].air_on":         {"air_on": []any{map[string]any{"installment_id": b.crown, "air_on": "2027-02-30"}}},
			"body.samples[0].state":         {"samples": []any{map[string]any{"state": nobody}}},
			"body.people[0].person_id":      {"people": []any{map[string]any{"person_id": nobody, "hours_per_day": 3}}},
			"body.people[0].hours_per_day":  {"people": []any{map[string]any{"person_id": b.filmer.Person.ID, "hours_per_day": 0}}},
			"body.people[0].days":           {"people": []any{map[string]any{"person_id": b.filmer.Person.ID, "hours_per_day": 3, "days": []any{}}}},
		} {
			try(body).Names(422, field)
		}
	})
}

func TestScheduleOfOddDesigns(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		path := "/designs/" + b.design + "/schedule"
		b.designer.Patch("/installments/"+b.crown, 1, map[string]any{"air_on": "2027-02-01"}).Want(200)
		b.designer.Patch("/installments/"+b.sides, 1, map[string]any{"air_on": "2099-02-01"}).Want(200)
		plan := b.editor.Get(path).Want(200).Map()
		require.Contains(t, fmt.Sprint(plan["findings"]), "air 2 Crown was announced for 1 February and is planned for ")
		require.Contains(t, fmt.Sprint(plan["lacks"]), "more than five years away")
		require.Contains(t, plan["lacks"], "designer, ada, eve have not said when they work: taken for Monday to Friday, 3 hours a day.")

		b.filmer.Put("/people/"+b.filmer.Person.ID+"/work", 1, map[string]any{"days": []any{"mon"}, "hours_per_day": 1,
			"away": []any{map[string]any{"from": "2027-02-01", "until": "2028-01-31"}, map[string]any{"from": "2028-02-01", "until": "2029-01-30"}}}).Want(200)
		require.Contains(t, []int{200, 409}, b.editor.Get(path).Status, "somebody who is long away ends in a finding or a clear word, not in a hang")

		empty := b.editor.Get("/designs/" + b.otherDesign + "/schedule").Want(200).Map()
		require.Equal(t, []string{"tech edit"}, names(empty))
		b.designer.Get("/designs/none/schedule").Want(404)
	})
}

func TestEstimatesAreStatedForADesign(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		path := "/designs/" + b.design + "/estimates"
		put := func(revision int, kind string, low, likely, high float64) *servertest.Answer {
			return b.designer.Put(path, revision, map[string]any{"estimates": []any{map[string]any{"kind": kind, "low": low, "likely": likely, "high": high}}})
		}
		put(3, "edit", 3, 2, 4).Names(422, "body.estimates[0].low")
		put(3, "edit", 0, 0, 0).Names(422, "body.estimates[0].high")
		put(3, "edit", 1, 2, 4000).Names(422, "body.estimates[0].low")
		put(3, "sleep", 1, 2, 4).Names(422, "body.estimates[0].kind")
		put(2, "edit", 1, 2, 4).Want(412)
		b.filmer.Put(path, 3, map[string]any{"estimates": []any{}}).Want(403)
		b.designer.Do(http.MethodPut, path, map[string]any{"estimates": []any{}}, nil).Want(428)
		put(3, "edit", 1, 2, 9).Want(200)
		plan := b.editor.Get("/designs/" + b.design + "/schedule").Want(200).Map()
		require.InDelta(t, 3, task(t, plan, "edit 1 Ties")["expected"], 0, "(1 + 4·2 + 9) / 6")
		require.InDelta(t, 4, plan["revision"], 0)
		b.designer.Put(path, 4, map[string]any{"estimates": []any{}}).Want(200)
		require.Equal(t, "chosen", b.editor.Get("/designs/" + b.design + "/schedule").Map()["estimates"].([]any)[2].(map[string]any)["source"])
	})
}

// TestWorkThatIsDoneIsNotWaitedFor: reports are waited for until the last day
// of those who still owe one, and no longer than until all are there.
func TestWorkThatIsDoneIsNotWaitedFor(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		schedule := func() map[string]any { return r.c.Get("/designs/" + r.design + "/schedule").Want(200).Map() }
		waits := func() any { return task(t, schedule(), "reports of Spring round")["expected"] }
		require.InDelta(t, 39, waits(), 0, "36 days to 15 March, and (0 + 4·2 + 10) / 6 more")
		one, two := r.tester("tansy"), r.tester("mallow")
		first, second := r.assign(one, "1"), r.assign(two, "2")
		require.InDelta(t, 39, waits(), 0)
		r.c.Patch("/assignments/"+second, 1, map[string]any{"due_on": "2027-04-01"}).Want(200)
		require.InDelta(t, 56, waits(), 0, "until 1 April, which one of them was given")
		r.report(two, second, false)
		require.InDelta(t, 39, waits(), 0, "whoever has that long has reported")
		r.report(one, first, false)
		require.NotContains(t, names(schedule()), "reports of Spring round")
		require.Equal(t, []string{"correct the text", "tech edit"}, names(schedule()), "which follow, though nobody has closed the call")
	})
}

// TestLearnedDaysTakeTheirPersonsTime: four edits took two days each, in which
// ada, who works 3 hours on 5 days of 7, has 30/7 hours.
func TestLearnedDaysTakeTheirPersonsTime(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		for _, title := range []string{"Base", "Sides", "Rim", "Handles"} {
			b.designer, b.filmer = s.For(b.designer.Person), s.For(b.filmer.Person) // a token lasts minutes
			id := b.designer.Post("/designs/"+b.otherDesign+"/installments", map[string]any{"title": title}).Want(201).ID()
			b.addTake(id)
			s.Clock.Advance(48 * time.Hour)
			s.For(b.filmer.Person).Patch("/installments/"+id, 1, map[string]any{"edited": true}).Want(200)
		}
		plan := s.For(b.editor.Person).Get("/designs/" + b.design + "/schedule").Want(200).Map()
		edit := task(t, plan, "edit 1 Ties")
		require.Equal(t, "hours", edit["unit"])
		require.Equal(t, "ada", edit["who"])
		require.InDelta(t, 30.0/7, edit["expected"], 0.01)
		learned := plan["estimates"].([]any)[2].(map[string]any)
		require.Equal(t, []any{"learned", "days", 2.0}, []any{learned["source"], learned["unit"], learned["likely"]}, "the page shows what was learned")
	})
}
