package models_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/modelstest"
)

// BenchmarkBoardFromStore is the board without HTTP and JSON.
func BenchmarkBoardFromStore(b *testing.B) {
	store := modelstest.Open(b, modelstest.SQLite(b), models.Options{})
	modelstest.FillDesigns(b, store, 1, modelstest.Round{Sizes: 9, Points: 8, Reports: 30})
	ctx := context.Background()
	b.ReportAllocs()
	for b.Loop() {
		_, err := store.Board(ctx, "design-1")
		require.NoError(b, err)
	}
}
