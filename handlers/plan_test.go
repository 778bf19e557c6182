package handlers_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/server/servertest"
)

// planned is a plan as a client reads it.
type planned struct {
	Probability float64
	Objective   struct {
		Short      int
		Below      int `json:"below_wanted"`
		Preference int
	}
	Sizes []struct {
		Name              string
		Present, Proposed int
		Now, Then         struct {
			Reports     []float64
			Probability float64
			Message     string
		}
		Recruit int
		Reserve []string
	}
	People     []plannedPerson
	Shortfalls []string
	Warnings   []string
}

type plannedPerson struct {
	PersonID                                       string `json:"person_id"`
	AssignmentID                                   string `json:"assignment_id"`
	Handle, Present, Proposed, Change, Reason, Out string
	State                                          string
	Place, Revision                                int
	Probability                                    float64
	Record                                         struct {
		Taken, Late, Dropped, Running int
		InTime                        int      `json:"in_time"`
		MedianDaysLate                *float64 `json:"median_days_late"`
		Completeness                  *float64
		CountedTaken                  int `json:"counted_taken"`
		CountedInTime                 int `json:"counted_in_time"`
		Sentence                      string
	}
}

func (p planned) of(handle string) plannedPerson {
	for _, one := range p.People {
		if one.Handle == handle {
			return one
		}
	}
	return plannedPerson{}
}

// apply enters an offer by hand and returns the person's id.
func (r *round) apply(handle string, accepted, finished int, sizes ...string) string {
	r.T.Helper()
	ids := make([]string, len(sizes))
	for i, z := range sizes {
		ids[i] = r.size[z]
	}
	var a struct{ Person struct{ ID string } }
	r.c.Post("/calls/"+r.call+"/applications", map[string]any{"handle": handle, "sizes": ids, "accepted": accepted, "finished": finished}).Want(201).Into(&a)
	return a.Person.ID
}

func (r *round) plan(body map[string]any) planned {
	r.T.Helper()
	var p planned
	r.c.Post("/calls/"+r.call+"/plan", body).Want(200).Into(&p)
	return p
}

func TestPlanStandsBesideWhatIsAssigned(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		r.apply("alder", 10, 10, "1", "2")
		r.apply("birch", 0, 0, "1")
		r.apply("cedar", 4, 1, "1")
		r.apply("dogwood", 2, 2, "2", "3")
		held := r.tester("elder") // asked by hand, never applied
		r.assign(held, "3")

		p := r.plan(map[string]any{})
		require.InDelta(t, 0.9, p.Probability, 0)
		// Wanted 2, 2, 1 and 1: sizes 1 to 3 can be filled with alder moved to
		// size 2; size 4 nobody offers.
		require.Equal(t, 1, p.Objective.Below)
		require.Equal(t, 1, p.Objective.Preference)
		require.Equal(t, "keep", p.of("elder").Change)
		require.Equal(t, "was asked to make this size, 73 % likely to finish", p.of("elder").Reason)
		require.Equal(t, r.size["2"], p.of("alder").Proposed)
		require.Equal(t, "second choice, 90 % likely to finish; size 1 for alder would leave one more wanted place empty elsewhere", p.of("alder").Reason)
		require.Equal(t, "first choice, 73 % likely to finish", p.of("birch").Reason)
		require.Equal(t, "ask", p.of("birch").Change)
		require.Equal(t, 0, p.Sizes[0].Present)
		require.Equal(t, 2, p.Sizes[0].Proposed)
		require.Equal(t, []float64{1}, p.Sizes[0].Now.Reports)
		require.Len(t, p.Sizes[0].Then.Reports, 3, "none, one or two")
		// 1 - (1-4/5.5)(1-5/9.5): DefaultPrior is Beta(4, 1.5).
		require.InDelta(t, 1-(1.5/5.5)*(4.5/9.5), p.Sizes[0].Then.Probability, 0.001)
		require.Equal(t, 1, p.Sizes[0].Recruit)
		require.Empty(t, p.Shortfalls)

		// Nothing was written.
		require.Empty(t, r.c.Get("/calls/" + r.call + "/applications").Map()["items"].([]any)[0].(map[string]any)["assignment"])

		// What if: birch not size 1, cedar fixed to size 4 that is not on the list.
		what := map[string]any{"fixed": []any{map[string]any{"person_id": p.of("cedar").PersonID, "size_id": r.size["4"]}},
			"forbidden": []any{map[string]any{"person_id": p.of("birch").PersonID, "size_id": r.size["1"]}}}
		q := r.plan(what)
		require.Equal(t, r.size["4"], q.of("cedar").Proposed)
		require.Equal(t, "fixed by you, though not on their list", q.of("cedar").Reason)
		require.Equal(t, []string{"cedar is fixed to size 4 but did not list it"}, q.Warnings)
		require.Equal(t, "none", q.of("birch").Change)
		require.Contains(t, q.of("birch").Reason, "every size that birch listed is forbidden to them")
		require.Equal(t, r.size["1"], q.of("alder").Proposed)
	})
}

func TestPlanSaysWhichSizesStayShort(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		r.c.Patch("/calls/"+r.call, 1, map[string]any{"slots": []any{r.slot("1", 1, 2, 3), r.slot("3", 2, 2, 2), r.slot("4", 2, 2, 2)}}).Want(200)
		r.apply("alder", 0, 0, "3", "4")
		r.apply("birch", 0, 0, "4")
		p := r.plan(map[string]any{})
		require.Equal(t, 3, p.Objective.Short)
		require.Equal(t, []string{"size 1 needs one report; nobody offered it", "sizes 3 and 4 need four reports; only two people offered either"}, p.Shortfalls)
		for _, z := range p.Sizes {
			require.Positive(t, z.Recruit, z.Name)
		}
	})
}

func TestPlanIsTakenWholeInPartOrNotAtAll(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		take := func(changes ...map[string]any) *servertest.Answer {
			return r.c.Post("/calls/"+r.call+"/plan/take", map[string]any{"changes": changes})
		}
		alder, birch, cedar := r.apply("alder", 0, 0, "1"), r.apply("birch", 0, 0, "3"), r.apply("cedar", 0, 0, "3")
		standing := func() int {
			n := 0
			for _, z := range r.slots() {
				n += int(z["assigned"].(float64))
			}
			return n
		}
		ask := func(person, size string) map[string]any {
			return map[string]any{"person_id": person, "size_id": r.size[size]}
		}
		for name, row := range map[string]struct {
			changes []map[string]any
			field   string
		}{
			"nothing":               {nil, "body.changes"},
			"nobody":                {[]map[string]any{ask(alder, "1"), ask(models.NewID(), "1")}, "body.changes[1].person_id"},
			"twice":                 {[]map[string]any{ask(alder, "1"), ask(alder, "2")}, "body.changes[1].person_id"},
			"no size":               {[]map[string]any{{"person_id": alder}}, "body.changes[0].size_id"},
			"another design's size": {[]map[string]any{ask(alder, "1"), {"person_id": birch, "size_id": models.NewID()}}, "body.changes[1].size_id"},
			"no such assignment":    {[]map[string]any{{"person_id": alder, "assignment_id": models.NewID(), "revision": 1}}, "body.changes[0].assignment_id"},
		} {
			t.Run(name, func(t *testing.T) {
				take(row.changes...).Names(422, row.field)
				require.Zero(t, standing())
			})
		}
		// Size 3 takes at most two.
		dogwood := r.apply("dogwood", 0, 0, "3")
		take(ask(birch, "3"), ask(cedar, "3"), ask(dogwood, "3"), ask(alder, "1")).Names(422, "body.changes[0].size_id")
		require.Zero(t, standing())

		late := map[string]any{"changes": []any{ask(birch, "3")}, "due_on": "2027-01-31"}
		r.c.Post("/calls/"+r.call+"/plan/take", late).Names(422, "body.due_on")
		rows := take(ask(birch, "3"), ask(cedar, "3")).Want(200).Map()["items"].([]any)
		require.Equal(t, "2027-03-15", rows[0].(map[string]any)["due_on"], "the call's own last day")
		require.Len(t, rows, 2)
		require.Equal(t, 2, standing())
		require.NotNil(t, r.c.Get("/designs/" + r.design).Map()["versions"].([]any)[0].(map[string]any)["given_out_at"], "asking seals the version")

		// A swap within a full size: birch out, dogwood in, in one request.
		p := r.plan(map[string]any{"move_asked": true, "fixed": []any{ask(dogwood, "3")}, "forbidden": []any{ask(birch, "3")}})
		b := p.of("birch")
		require.Equal(t, "release", b.Change)
		require.Equal(t, "ask", p.of("dogwood").Change)
		stale := map[string]any{"person_id": birch, "assignment_id": b.AssignmentID, "revision": b.Revision + 1}
		take(stale, ask(dogwood, "3")).Want(412)
		take(map[string]any{"person_id": birch, "assignment_id": b.AssignmentID}, ask(dogwood, "3")).Want(428)
		require.Equal(t, "keep", r.plan(map[string]any{}).of("birch").Change, "nothing was taken")
		take(map[string]any{"person_id": birch, "assignment_id": b.AssignmentID, "revision": b.Revision}, ask(dogwood, "3")).Want(200)
		gone := r.c.Get("/assignments/" + b.AssignmentID).Map()
		require.Equal(t, "withdrawn", gone["state"])
		require.Equal(t, "released by a new plan", gone["withdrawn_why"])
		require.Equal(t, "has withdrawn from this call", r.plan(map[string]any{}).of("birch").Out)

		// Moving asks anew.
		c := r.plan(map[string]any{}).of("cedar")
		moved := take(map[string]any{"person_id": cedar, "size_id": r.size["2"], "assignment_id": c.AssignmentID, "revision": c.Revision}).Want(200).Map()["items"].([]any)[0].(map[string]any)
		require.Equal(t, "asked", moved["state"])
		require.Equal(t, "2", moved["size"].(map[string]any)["name"])
		r.c.Patch("/calls/"+r.call, 1, map[string]any{"closed": true}).Want(200)
		take(ask(alder, "1")).Want(409)
	})
}

func TestPlanKeepsWhoHasAcceptedAndNeverMovesAReport(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		pair := func(c *servertest.Client, size string) []any {
			return []any{map[string]any{"person_id": c.Person.ID, "size_id": r.size[size]}}
		}
		taker, sender := r.tester("taker"), r.tester("sender")
		taken, sent := r.assign(taker, "2"), r.assign(sender, "1")
		taker.Post("/assignments/"+taken+"/accept", nil).Want(200)
		r.report(sender, sent, false)
		p := r.plan(map[string]any{"move_asked": true})
		require.Equal(t, "keep", p.of("taker").Change)
		require.Equal(t, "has reported on this size", p.of("sender").Reason)
		require.InDelta(t, 1, p.Sizes[0].Now.Probability, 0, "the one needed is in")
		require.Equal(t, "move", r.plan(map[string]any{"fixed": pair(taker, "3")}).of("taker").Change)
		r.c.Post("/calls/"+r.call+"/plan", map[string]any{"fixed": pair(sender, "3")}).Names(422, "body.fixed[0].size_id")
		r.c.Post("/calls/"+r.call+"/plan", map[string]any{"forbidden": pair(sender, "1")}).Names(422, "body.forbidden[0].size_id")
		r.c.Post("/calls/"+r.call+"/plan", map[string]any{"fixed": []any{map[string]any{"person_id": models.NewID(), "size_id": r.size["1"]}}}).Names(422, "body.fixed[0].person_id")
		r.c.Post("/calls/"+r.call+"/plan", map[string]any{"forbidden": []any{map[string]any{"person_id": taker.Person.ID, "size_id": models.NewID()}}}).Names(422, "body.forbidden[0].size_id")
		r.c.Post("/calls/"+r.call+"/plan", map[string]any{"probability": 1.5}).Names(422, "body.probability")
		r.c.Post("/calls/"+r.call+"/plan", map[string]any{"fixed": append(pair(taker, "2"), pair(taker, "3")...)}).Want(422)
		r.c.Post("/calls/"+r.call+"/plan/take", map[string]any{"changes": []any{map[string]any{"person_id": sender.Person.ID, "assignment_id": sent, "revision": 1}}}).Want(409)
	})
}

// TestRecordComesFromEveryDesign: one test in time and complete, one late, one
// never sent; told of five.
func TestRecordComesFromEveryDesign(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		tester := r.tester("pebblewick")
		now := r.call
		var points struct{ Points []struct{ ID string } }
		r.c.Get("/designs/" + r.design).Into(&points)
		earlier := func(due string, accept bool, report []int) {
			body := r.callBody()
			body["opens_on"], body["due_on"], body["title"] = "2027-01-04", due, due
			r.call = r.c.Post("/designs/"+r.design+"/calls", body).Want(201).ID()
			id := r.assign(tester, "1")
			if accept {
				tester.Post("/assignments/"+id+"/accept", nil).Want(200)
			}
			if report != nil {
				var m []any
				for _, i := range report {
					m = append(m, map[string]any{"point_id": points.Points[i].ID, "value": 80, "unit": "cm"})
				}
				tester.Post("/assignments/"+id+"/reports", map[string]any{"measurements": m}).Want(201)
			}
		}
		earlier("2027-02-10", true, []int{0, 1}) // two days early
		earlier("2027-02-05", true, []int{0})    // three days late, half of it
		earlier("2027-02-03", true, nil)         // overdue
		earlier("2027-02-03", false, nil)        // never taken on
		earlier("2027-03-03", true, nil)         // running
		r.call = now
		r.apply("pebblewick", 5, 4, "1")
		one := r.plan(map[string]any{}).of("pebblewick")
		rec := one.Record
		require.Equal(t, []int{3, 1, 1, 1, 1}, []int{rec.Taken, rec.InTime, rec.Late, rec.Dropped, rec.Running})
		require.InDelta(t, 0.5, *rec.MedianDaysLate, 0, "of -2 and 3")
		require.InDelta(t, 0.75, *rec.Completeness, 0)
		require.Equal(t, []int{5, 3}, []int{rec.CountedTaken, rec.CountedInTime}, "two of the five told are not ours")
		require.Equal(t, "here 1 of 3 in time, 1 late, 1 not finished; usually 0.5 days late; measures 75 % of the points; told of 4 finished out of 5 so far; counted as 3 of 5", rec.Sentence)
		require.InDelta(t, (3+4.)/(5+5.5), one.Probability, 0.001)
	})
}

func TestBoardTellsHowLikelyEachSizeIsCovered(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		quiet, late := r.tester("quiet"), r.tester("slow")
		a := r.assign(quiet, "1")
		quiet.Post("/assignments/"+a+"/accept", nil).Want(200)
		r.assign(late, "2")
		covered := func() (out [4]any) {
			r.c = s.For(r.c.Person) // a sign-in is shorter than a test call
			var b struct {
				Sizes []struct{ Testers map[string]any }
			}
			r.c.Get("/designs/" + r.design + "/board").Want(200).Into(&b)
			for i, z := range b.Sizes {
				out[i] = z.Testers["covered"]
			}
			return out
		}
		// Newcomers finish with 4/5.5; size 3 has nobody, size 4 needs none.
		require.Equal(t, [4]any{0.727, 0.727, 0., nil}, covered())
		s.Clock.Advance(6 * 24 * time.Hour) // the five days for an answer are over
		require.Equal(t, [4]any{0.727, 0.471, 0., nil}, covered(), "p / (p + 3 (1-p)) = 8/17")
		s.Clock.Advance(10 * 24 * time.Hour) // sixteen days without a sign of life
		require.Equal(t, [4]any{0.471, 0.471, 0., nil}, covered())
		r.report(quiet, a, false)
		require.Equal(t, [4]any{1., 0.471, 0., nil}, covered())
		r.c.Patch("/calls/"+r.call, 1, map[string]any{"closed": true}).Want(200)
		require.Equal(t, [4]any{nil, nil, nil, nil}, covered(), "what has come has come")
	})
}
