package models_test

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/modelstest"
)

// staff are the studio's people.
func staff(t testing.TB, store *models.Store) {
	t.Helper()
	for _, role := range models.Staff() {
		_, err := store.AddPerson(context.Background(), models.System("test"), models.NewPerson{Handle: "the-" + strings.ReplaceAll(string(role), "_", "-"), Roles: []models.Role{role}})
		require.NoError(t, err)
	}
}

// fillRuns gives the first designs of a store installments with announced days,
// so that all of them ask for the same people.
func fillRuns(t testing.TB, store *models.Store, from, until, installments int) {
	t.Helper()
	ctx := context.Background()
	designer := models.System("test")
	for d := from; d <= until; d++ {
		for i := range installments {
			_, err := store.AddInstallment(ctx, designer, fmt.Sprintf("design-%d", d), models.Installment{Title: fmt.Sprintf("Part %d", i+1), AirOn: models.DateOf(modelstest.Start.AddDate(0, 0, 14+7*i+d%7), time.UTC)})
			require.NoError(t, err)
		}
	}
}

// TestSchedulesTakeAConstantNumberOfStatements counts them in a studio of two
// designs and of twenty.
func TestSchedulesTakeAConstantNumberOfStatements(t *testing.T) {
	for kind, fresh := range map[string]func(testing.TB) string{"sqlite": modelstest.SQLite, "postgres": modelstest.Postgres} {
		t.Run(kind, func(t *testing.T) {
			var c counter
			store := modelstest.Open(t, fresh(t), models.Options{Now: modelstest.NewClock().Now, Explain: c.add})
			ctx := context.Background()
			staff(t, store)
			modelstest.FillDesigns(t, store, 2, modelstest.Round{Sizes: 2, Points: 2, Reports: 2})
			fillRuns(t, store, 1, 2, 2)
			schedule := func() int64 {
				return c.statements(t, func() {
					s, err := store.Schedule(ctx, "design-1")
					require.NoError(t, err)
					require.NotEmpty(t, s.Together)
				})
			}
			try := func() int64 {
				return c.statements(t, func() {
					_, err := store.TrySchedule(ctx, "design-1", models.ScheduleWish{Samples: []models.SampleWish{{}}})
					require.NoError(t, err)
				})
			}
			week := func() int64 {
				return c.statements(t, func() {
					w, err := store.StudioWeek(ctx)
					require.NoError(t, err)
					require.NotEmpty(t, w.Week)
				})
			}
			two, twoTried, twoWeek := schedule(), try(), week()
			modelstest.FillDesigns(t, store, 18, modelstest.Round{Sizes: 3, Points: 2, Reports: 2})
			fillRuns(t, store, 3, 20, 3)
			require.Equal(t, two, schedule())
			require.Equal(t, twoTried, try())
			require.Equal(t, twoWeek, week())
			t.Logf("schedule %d statements, what if %d, week %d", two, twoTried, twoWeek)
			s, err := store.Schedule(ctx, "design-1")
			require.NoError(t, err)
			require.Len(t, s.Together, 19)
		})
	}
}

// TestOnlySoManyDesignsArePlannedTogether: those whose days come last are named
// and left out, but never the one that is asked for.
func TestOnlySoManyDesignsArePlannedTogether(t *testing.T) {
	store := modelstest.Open(t, modelstest.SQLite(t), models.Options{Now: modelstest.NewClock().Now})
	ctx := context.Background()
	staff(t, store)
	modelstest.FillDesigns(t, store, 43, modelstest.Round{Sizes: 1, Points: 1, Reports: 1})
	fillRuns(t, store, 1, 42, 1)
	first, err := store.Schedule(ctx, "design-1")
	require.NoError(t, err)
	require.Len(t, first.Together, 39)
	require.Contains(t, fmt.Sprint(first.Lacks), "and 2 more, whose days come last")
	last, err := store.Schedule(ctx, "design-43") // it has no day, so it comes last
	require.NoError(t, err)
	require.Equal(t, "design-43", last.Design.Slug)
	require.NotEmpty(t, last.Tasks)
	require.Len(t, last.Together, 40)
	week, err := store.StudioWeek(ctx)
	require.NoError(t, err)
	require.Contains(t, fmt.Sprint(week.Left), "No more than 40 designs")
}

// BenchmarkSchedule measures the page of a design in studios of one design and
// more, with reading: five installments of five tasks each, and the text.
func BenchmarkSchedule(b *testing.B) {
	for _, designs := range []int{1, 20} {
		store := modelstest.Open(b, modelstest.SQLite(b), models.Options{Now: modelstest.NewClock().Now})
		staff(b, store)
		modelstest.FillDesigns(b, store, designs, modelstest.Round{Sizes: 9, Points: 8, Reports: 9})
		fillRuns(b, store, 1, designs, 5)
		ctx := context.Background()
		for name, look := range map[string]func() error{
			"schedule": func() error { _, err := store.Schedule(ctx, "design-1"); return err },
			"what if": func() error {
				_, err := store.TrySchedule(ctx, "design-1", models.ScheduleWish{Samples: []models.SampleWish{{}}})
				return err
			},
			"week": func() error { _, err := store.StudioWeek(ctx); return err },
		} {
			b.Run(fmt.Sprintf("%s, %d designs", name, designs), func(b *testing.B) {
				for b.Loop() {
					require.NoError(b, look())
				}
			})
		}
	}
}
