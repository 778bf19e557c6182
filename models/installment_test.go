package models_test

import (
	"context"
	"fmt"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tenter/models"
	"tenter/models/modelstest"
)

// filmed is a design with one size and some installments.
func filmed(t testing.TB, s *models.Store, installments int) (design *models.Design, size models.Size, run []string) {
	t.Helper()
	ctx, by := context.Background(), models.System("test")
	design, err := s.AddDesign(ctx, by, models.Design{Name: "Thistle bonnet", Craft: "crochet", Audience: "baby", Terms: "us", Unit: "cm",
		Gauge: models.Gauge{Stitches: 14, Rows: 11, Span: 10, Unit: "cm"}})
	require.NoError(t, err)
	one := 1
	_, err = s.PutSizes(ctx, by, design.ID, &one, []models.Size{{Name: "6-12 months"}})
	require.NoError(t, err)
	sizes, err := s.Sizes(ctx, design.ID)
	require.NoError(t, err)
	for i := range installments {
		n, err := s.AddInstallment(ctx, by, design.ID, models.Installment{Title: fmt.Sprintf("Part %d", i+1)})
		require.NoError(t, err)
		run = append(run, n.ID)
	}
	return design, sizes[0], run
}

// TestTheRunKeepsItsOrder adds, moves and removes installments at random and
// compares with a list that does the same.
func TestTheRunKeepsItsOrder(t *testing.T) {
	s := modelstest.Open(t, modelstest.SQLite(t), models.Options{Now: modelstest.NewClock().Now})
	ctx, by := context.Background(), models.System("test")
	rapid.Check(t, func(t *rapid.T) {
		design, err := s.AddDesign(ctx, by, models.Design{Name: "Run", Slug: "r" + models.NewID()[20:24] + models.NewID()[24:], Craft: "knit", Audience: "child", Terms: "uk", Unit: "cm",
			Gauge: models.Gauge{Stitches: 20, Rows: 28, Span: 10, Unit: "cm"}})
		if err != nil {
			t.Fatal(err)
		}
		var want []string
		place := func(id string, at int) { want = append(want[:at:at], append([]string{id}, want[at:]...)...) }
		take := func(at int) { want = append(want[:at:at], want[at+1:]...) }
		revision := map[string]int{}
		for range rapid.IntRange(1, 8).Draw(t, "changes") {
			kind := rapid.IntRange(0, 2).Draw(t, "kind")
			if len(want) == 0 {
				kind = 0
			}
			switch kind {
			case 0:
				at := rapid.IntRange(0, len(want)).Draw(t, "at")
				n, err := s.AddInstallment(ctx, by, design.ID, models.Installment{Title: "x", Position: at + 1})
				if err != nil {
					t.Fatal(err)
				}
				revision[n.ID] = 1
				place(n.ID, at)
			case 1:
				from, to := rapid.IntRange(0, len(want)-1).Draw(t, "from"), rapid.IntRange(0, len(want)-1).Draw(t, "to")
				id, position, have := want[from], to+1, revision[want[from]]
				n, err := s.ChangeInstallment(ctx, by, id, &have, models.InstallmentChange{Position: &position})
				if err != nil {
					t.Fatal(err)
				}
				if from != to { // where it was is no change
					have++
				}
				if n.Revision != have {
					t.Fatalf("from %d to %d: revision %d, want %d", from, to, n.Revision, have)
				}
				revision[id] = have
				take(from)
				place(id, to)
			default:
				at := rapid.IntRange(0, len(want)-1).Draw(t, "at")
				have := revision[want[at]]
				if err := s.RemoveInstallment(ctx, by, want[at], &have); err != nil {
					t.Fatal(err)
				}
				take(at)
			}
		}
		run, err := s.Installments(ctx, design.ID, today)
		if err != nil || len(run) != len(want) {
			t.Fatalf("%d installments, want %d, %v", len(run), len(want), err)
		}
		for i, n := range run {
			if n.ID != want[i] || n.Position != i+1 {
				t.Fatalf("at %d: %s at position %d, want %s", i, n.ID, n.Position, want[i])
			}
		}
	})
}

func TestSeveralAddToARunAtOnce(t *testing.T) {
	modelstest.Each(t, func(t *testing.T, s *models.Store, _ *modelstest.Clock) {
		design, _, run := filmed(t, s, 1)
		ctx, by := context.Background(), models.System("test")
		var wait sync.WaitGroup
		errs := make([]error, 8)
		for i := range errs {
			wait.Go(func() {
				if i%2 == 0 {
					_, errs[i] = s.AddInstallment(ctx, by, design.ID, models.Installment{Title: "more", Position: 1})
				} else {
					_, errs[i] = s.AddTake(ctx, by, run[0], models.Take{})
				}
			})
		}
		wait.Wait()
		for _, err := range errs {
			require.NoError(t, err)
		}
		all, err := s.Installments(ctx, design.ID, today)
		require.NoError(t, err)
		require.Len(t, all, 5)
		for i, n := range all {
			require.Equal(t, i+1, n.Position)
		}
		require.Equal(t, run[0], all[4].ID)
		require.Len(t, all[4].Takes, 4)
		for i, k := range all[4].Takes {
			require.Equal(t, i+1, k.Number)
		}
	})
}

func TestOfTwoMovesAtOnceOneIsRefused(t *testing.T) {
	modelstest.Each(t, func(t *testing.T, s *models.Store, _ *modelstest.Clock) {
		design, size, run := filmed(t, s, 2)
		ctx, by := context.Background(), models.System("test")
		sample, err := s.AddSample(ctx, by, design.ID, models.Sample{SizeID: size.ID, Label: "grey", Purpose: "camera"})
		require.NoError(t, err)
		var wait sync.WaitGroup
		errs := make([]error, 2)
		for i := range errs {
			wait.Go(func() {
				one, through := 1, &run[i]
				_, _, errs[i] = s.MoveSample(ctx, by, sample.ID, &one, models.Move{WorkedThrough: &through})
			})
		}
		wait.Wait()
		kinds := []models.Kind{models.KindOf(errs[0]), models.KindOf(errs[1])}
		require.ElementsMatch(t, []models.Kind{"", models.Stale}, kinds, "%v", errs)
		sample, err = s.Sample(ctx, sample.ID)
		require.NoError(t, err)
		require.Len(t, sample.Moves, 2)
		require.Equal(t, 2, sample.Revision)
	})
}

// The lists of filming and of samples cost the same number of statements for a
// few rows and for many.
func TestListsOfFilmingCostAConstantNumberOfStatements(t *testing.T) {
	var c counter
	s := modelstest.Open(t, modelstest.SQLite(t), models.Options{Now: modelstest.NewClock().Now, Explain: c.add})
	ctx, by := context.Background(), models.System("test")
	design, size, run := filmed(t, s, 3)
	two := 2
	_, err := s.PutPoints(ctx, by, design.ID, &two, []models.Point{{Name: "edge", Axis: "stitch", Expr: "70", Add: models.NewLength(0, "cm"), Tolerance: models.NewLength(1, "cm"), Repeat: 1}})
	require.NoError(t, err)
	points, err := s.Points(ctx, design.ID)
	require.NoError(t, err)
	grow := func(n int) {
		for i := range n {
			sample, err := s.AddSample(ctx, by, design.ID, models.Sample{SizeID: size.ID, Label: "grey", Purpose: "camera"})
			require.NoError(t, err)
			one, through := 1, &run[i%3]
			_, _, err = s.MoveSample(ctx, by, sample.ID, &one, models.Move{WorkedThrough: &through})
			require.NoError(t, err)
			moved := 2
			_, err = s.PutSampleMeasurements(ctx, by, sample.ID, &moved, []models.SampleMeasurement{{PointID: points[0].ID, Length: models.NewLength(50, "cm")}})
			require.NoError(t, err)
			take, err := s.AddTake(ctx, by, run[i%3], models.Take{SampleID: &sample.ID})
			require.NoError(t, err)
			_, err = s.AddSlip(ctx, by, take.ID, models.Slip{AtMS: 1000, Wrong: "x", Remedy: models.Cut})
			require.NoError(t, err)
		}
	}
	cost := func() (out [3]int64) {
		var samples []models.Sample
		for i, list := range []func() error{
			func() error { _, err := s.Installments(ctx, design.ID, today); return err },
			func() (err error) { samples, err = s.Samples(ctx, design.ID); return err },
			func() error { _, err := s.CompareSamples(ctx, design.ID, samples); return err },
		} {
			out[i] = c.statements(t, func() { require.NoError(t, list()) })
		}
		return out
	}
	grow(1)
	few := cost()
	grow(20)
	require.Equal(t, few, cost())
	for _, n := range few {
		require.Positive(t, n)
	}
}
