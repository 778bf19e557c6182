package film_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/models/film"
)

// exhaustive tries every way to give each shot, in time order, to nobody, to a
// sample, or to a new one. It shares nothing with the package but the input.
// Hours in its inputs are whole or binary fractions, so that it may compare
// them directly.
type exhaustive struct {
	in     film.Input
	shots  []film.Shot // in time order
	pieces []piece
	best   []float64
	served []string // by shot in time order: the sample's id, "new k", or ""
}

type piece struct {
	name  string
	isNew bool
	state int
	since string
	used  bool
}

func (e *exhaustive) state(name string) int {
	return slices.IndexFunc(e.in.States, func(s film.State) bool { return s.Name == name })
}

func (e *exhaustive) making(from, to int) (hours float64) {
	for _, s := range e.in.States[from+1 : to+1] {
		hours += s.Hours
	}
	return hours
}

func (e *exhaustive) left(since, on string) float64 {
	if since == on {
		return e.in.SameDayHours
	}
	a, _ := time.Parse(time.DateOnly, since)
	b, _ := time.Parse(time.DateOnly, on)
	return b.Sub(a).Hours() / 24 * e.in.HoursPerDay
}

func solveExhaustively(in film.Input) *exhaustive {
	e := &exhaustive{in: in, shots: slices.Clone(in.Shots)}
	slices.SortStableFunc(e.shots, func(a, b film.Shot) int {
		if a.On < b.On {
			return -1
		} else if a.On > b.On {
			return 1
		}
		return 0
	})
	samples := slices.Clone(in.Samples)
	slices.SortFunc(samples, func(a, b film.Sample) int {
		if a.ID < b.ID {
			return -1
		}
		return 1
	})
	for _, s := range samples {
		e.pieces = append(e.pieces, piece{name: s.ID, state: e.state(s.State), since: max(s.FreeFrom, in.Today)})
	}
	e.try(0, 0, make([]string, len(e.shots)), make([]float64, len(e.shots)))
	return e
}

// try settles shot j and those after it; by and rank say who serves each.
func (e *exhaustive) try(j int, hours float64, by []string, rank []float64) {
	if j == len(e.shots) {
		e.score(hours, by, rank)
		return
	}
	shot := e.shots[j]
	from, to := e.state(shot.From), e.state(shot.To)
	for i := 0; i <= len(e.pieces); i++ {
		grown := i == len(e.pieces)
		if grown {
			e.pieces = append(e.pieces, piece{name: fmt.Sprintf("new %d", i-len(e.in.Samples)+1), isNew: true, since: e.in.Today})
		}
		was := e.pieces[i]
		if was.since <= shot.On && was.state <= from && e.making(was.state, from) <= e.left(was.since, shot.On) {
			e.pieces[i].state, e.pieces[i].since, e.pieces[i].used = to, shot.On, true
			by[j], rank[j] = was.name, float64(i)
			e.try(j+1, hours+e.making(was.state, from), by, rank)
			e.pieces[i] = was
		}
		if grown {
			e.pieces = e.pieces[:i]
			break
		}
	}
	by[j], rank[j] = "", 1e9
	e.try(j+1, hours, by, rank)
}

// score keeps the plan when it is better: missed shots, new samples, samples in
// use, hours, then who serves each shot.
func (e *exhaustive) score(hours float64, by []string, rank []float64) {
	score := []float64{0, 0, 0, hours}
	for _, p := range e.pieces {
		if p.used {
			score[2]++
		}
		if p.isNew {
			score[1]++
		}
	}
	for _, id := range by {
		if id == "" {
			score[0]++
		}
	}
	score = append(score, rank...)
	if e.best == nil || slices.Compare(score, e.best) < 0 {
		e.best, e.served = score, slices.Clone(by)
	}
}

func randomInput(r *rand.Rand, shots, samples, states, days int) film.Input {
	date := func(d int) string { return fmt.Sprintf("2026-03-%02d", 2+d) }
	in := film.Input{Today: date(0), HoursPerDay: float64(1 + r.IntN(4)), SameDayHours: float64(r.IntN(4)) / 2}
	for i := range states {
		in.States = append(in.States, film.State{Name: fmt.Sprintf("state %d", i), Hours: float64(r.IntN(12)) / 2})
	}
	for i := range samples {
		in.Samples = append(in.Samples, film.Sample{
			ID: fmt.Sprintf("s%d", i), State: in.States[r.IntN(states)].Name, FreeFrom: date(r.IntN(days) - 1),
		})
	}
	for i := range shots {
		from := r.IntN(states)
		to := min(from+r.IntN(3), states-1)
		in.Shots = append(in.Shots, film.Shot{
			ID: fmt.Sprintf("shot %d", i), On: date(r.IntN(days+1) - 1), From: in.States[from].Name, To: in.States[to].Name,
		})
	}
	r.Shuffle(len(in.Samples), func(i, j int) { in.Samples[i], in.Samples[j] = in.Samples[j], in.Samples[i] })
	return in
}

func servedBy(shots []film.Shot, out film.Output) []string {
	by := make([]string, len(shots))
	for _, c := range out.Chains {
		for _, id := range c.Shots {
			by[slices.IndexFunc(shots, func(s film.Shot) bool { return s.ID == id })] = c.Sample
		}
	}
	return by
}

func TestPlanIsTheBestOfAllPlans(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for n := range 6000 {
		in := randomInput(r, r.IntN(7), r.IntN(4), 1+r.IntN(5), 1+r.IntN(8))
		out, err := film.Calculate(in)
		require.NoError(t, err)
		want := solveExhaustively(in)
		got := []float64{float64(len(out.Unserved)), float64(out.NewSamples), float64(out.Samples), out.Hours}
		require.Equal(t, want.best[:4], got, "case %d: %+v", n, in)
		require.Equal(t, want.served, servedBy(want.shots, out), "case %d: %+v", n, in)
	}
}
