package handlers_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/server/servertest"
)

// TestASecondCallAddsToTheFirst closes a round in which one tester never
// reported and opens another for the one size that is still short: what the
// first round brought still counts, and nothing is awaited from it any more.
func TestASecondCallAddsToTheFirst(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		one, two, three := r.tester("pebblewick"), r.tester("mossgrave"), r.tester("dimity")
		r.report(one, r.assign(one, "1"), true)
		r.report(two, r.assign(two, "2"), true)
		r.assign(three, "3") // never reports
		wantTesters(t, r, map[string][3]float64{"1": {1, 1, 1}, "2": {1, 1, 1}, "3": {1, 0, 0}, "4": {0, 0, 0}})
		require.Contains(t, studioPage(r), "2 of 3 reported; 1 size short of approved reports")

		r.c.Patch("/calls/"+r.call, 1, map[string]any{"closed": true}).Want(200)
		wantTesters(t, r, map[string][3]float64{"1": {1, 1, 1}, "2": {1, 1, 1}, "3": {0, 0, 0}, "4": {0, 0, 0}})
		require.Contains(t, studioPage(r), "2 of 2 reported; 1 size short of approved reports")
		require.Contains(t, testersGate(r), "Size 3 has no approved report and needs at least 1.")

		body := r.callBody()
		body["title"], body["slots"] = "Second round", []map[string]any{r.slot("3", 1, 1, 1)}
		r.call = r.c.Post("/designs/"+r.design+"/calls", body).Want(201).ID()
		require.Contains(t, testersGate(r), "Size 3 has no approved report and needs at least 1.")
		r.report(three, r.assign(three, "3"), true)
		wantTesters(t, r, map[string][3]float64{"1": {1, 1, 1}, "2": {1, 1, 1}, "3": {1, 1, 1}, "4": {0, 0, 0}})
		require.Empty(t, testersGate(r), "every size has what the rounds asked for together")
	})
}

type boardTesters struct {
	Sizes []struct {
		Name    string
		Testers struct{ Assigned, Reported, Approved float64 }
	}
	Gates []struct {
		Name, Why string
	}
}

// wantTesters compares assigned, reported and approved of each size.
func wantTesters(t *testing.T, r *round, want map[string][3]float64) {
	t.Helper()
	var b boardTesters
	r.c.Get("/designs/" + r.design + "/board").Want(200).Into(&b)
	got := map[string][3]float64{}
	for _, z := range b.Sizes {
		got[z.Name] = [3]float64{z.Testers.Assigned, z.Testers.Reported, z.Testers.Approved}
	}
	require.Equal(t, want, got)
}

func testersGate(r *round) string {
	var b boardTesters
	r.c.Get("/designs/" + r.design + "/board").Want(200).Into(&b)
	for _, g := range b.Gates {
		if g.Name == "Testers in every size" {
			return g.Why
		}
	}
	return "no such gate"
}

func studioPage(r *round) string {
	return string(r.c.Get("/studio").Want(200).Body)
}
