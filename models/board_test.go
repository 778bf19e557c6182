package models_test

import (
	"context"
	"fmt"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/modelstest"
)

// counter counts the statements that a store sends.
type counter struct{ n atomic.Int64 }

func (c *counter) add(string, []any) { c.n.Add(1) }

// statements returns how many statements f takes.
func (c *counter) statements(t *testing.T, f func()) int64 {
	t.Helper()
	before := c.n.Load()
	f()
	return c.n.Load() - before
}

// TestBoardTakesAConstantNumberOfStatements counts them for one design alone
// and among a thousand, small and large.
func TestBoardTakesAConstantNumberOfStatements(t *testing.T) {
	for _, kind := range []string{"sqlite", "postgres"} {
		t.Run(kind, func(t *testing.T) {
			t.Parallel()
			fresh := modelstest.SQLite
			if kind == "postgres" {
				fresh = modelstest.Postgres
			}
			target := fresh(t)
			var c counter
			store := modelstest.Open(t, target, models.Options{Now: modelstest.NewClock().Now, Explain: c.add})
			ctx := context.Background()
			modelstest.FillDesigns(t, store, 1, modelstest.Round{Sizes: 1, Points: 1, Reports: 1})
			modelstest.FillDesigns(t, store, 1, modelstest.Round{Sizes: 9, Points: 8, Reports: 30})
			board := func(slug string) {
				_, err := store.Board(ctx, slug)
				require.NoError(t, err)
			}
			first := c.statements(t, func() { board("design-1") }) // also checks the count sheet
			small := c.statements(t, func() { board("design-1") })
			board("design-2")
			large := c.statements(t, func() { board("design-2") })
			require.Positive(t, small)
			require.Equal(t, small, large, "a larger design takes more statements")

			studio := func() {
				_, err := store.StudioBoard(ctx, models.Page{Limit: 500})
				require.NoError(t, err)
			}
			two := c.statements(t, studio)

			modelstest.FillDesigns(t, store, 998, modelstest.Round{Sizes: 2, Points: 2, Reports: 2})
			require.Equal(t, small, c.statements(t, func() { board("design-1") }))
			require.Equal(t, large, c.statements(t, func() { board("design-2") }))
			require.Equal(t, two, c.statements(t, studio), "more designs take more statements")
			t.Logf("board %d statements (%d when its count sheet was changed), studio %d", small, first, two)
			b, err := store.Board(ctx, "design-1000")
			require.NoError(t, err)
			require.Len(t, b.Sizes, 2)
			require.Equal(t, 2, totalReported(b))
		})
	}
}

func totalReported(b *models.Board) int {
	n := 0
	for _, z := range b.Sizes {
		n += z.Testers.Reported
	}
	return n
}

func TestFillDesignsIsAsLargeAsItSays(t *testing.T) {
	store := modelstest.Open(t, modelstest.SQLite(t), models.Options{Now: modelstest.NewClock().Now})
	modelstest.FillDesigns(t, store, 1, modelstest.Round{Sizes: 9, Points: 8, Reports: 30})
	b, err := store.Board(context.Background(), "design-1")
	require.NoError(t, err)
	require.Len(t, b.Sizes, 9)
	marks := 0
	for _, z := range b.Sizes {
		require.Len(t, z.Strips, 8, fmt.Sprint(z.Name))
		for _, s := range z.Strips {
			require.NotNil(t, s.ExpectedCM)
			marks += len(s.Marks)
		}
	}
	require.Equal(t, 30*8, marks)
	require.Equal(t, 30, totalReported(b))
}
