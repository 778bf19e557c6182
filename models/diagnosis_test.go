package models_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/modelstest"
)

// TestDiagnosisIsComputedOncePerState: boards share one computation until a
// report comes in, and never see an old one after.
func TestDiagnosisIsComputedOncePerState(t *testing.T) {
	modelstest.Each(t, func(t *testing.T, store *models.Store, _ *modelstest.Clock) {
		ctx := context.Background()
		modelstest.FillDesigns(t, store, 2, modelstest.Round{Sizes: 3, Points: 4, Reports: 9})
		said := func(slug string) *models.Diagnosis {
			d, err := store.Diagnosis(ctx, slug)
			require.NoError(t, err)
			return d
		}
		first, other := said("design-1"), said("design-2")
		require.Len(t, first.Pieces, 9)
		require.Len(t, first.Lines, 9*4)
		require.Same(t, first, said("design-1"))
		_, err := store.Board(ctx, "design-1")
		require.NoError(t, err)
		require.Same(t, first, said("design-1"), "the board knows the state by the same key")

		rows := modelstest.Rows(t, store)
		var a models.Assignment
		require.NoError(t, rows.Where("id = ?", first.Pieces[0].AssignmentID).Take(&a).Error)
		report, err := store.Report(ctx, models.System("test"), first.Pieces[0].ReportID)
		require.NoError(t, err)
		tester := models.Actor{PersonID: a.PersonID, Roles: []models.Role{models.Tester}}
		_, err = store.SendReport(ctx, tester, a.ID, models.NewReport{Swatch: report.Swatch, Measurements: report.Measurements[:2]})
		require.NoError(t, err)
		second := said("design-1")
		require.NotEqual(t, first.Revision, second.Revision)
		require.Len(t, second.Lines, 9*4-2)
		require.Same(t, other, said("design-2"), "another design's is untouched")

		_, err = store.ChangeDesign(ctx, models.System("test"), "design-1", new(1), models.DesignChange{Gauge: &models.Gauge{Stitches: 15, Rows: 11, Span: 10, Unit: "cm"}})
		require.NoError(t, err)
		require.NotEqual(t, second.Lines[0].ExpectedDesignCM, said("design-1").Lines[0].ExpectedDesignCM, "another gauge")
	})
}

// BenchmarkDiagnosis reads and judges a large test whose state was not known.
func BenchmarkDiagnosis(b *testing.B) {
	store := modelstest.Open(b, modelstest.SQLite(b), models.Options{Now: modelstest.NewClock().Now})
	ctx := context.Background()
	modelstest.FillDesigns(b, store, 1, modelstest.Round{Sizes: 12, Points: 10, Reports: 60})
	rows := modelstest.Rows(b, store)
	b.ReportAllocs()
	for b.Loop() {
		if err := rows.Exec("UPDATE designs SET revision = revision + 1").Error; err != nil {
			b.Fatal(err)
		}
		if _, err := store.Diagnosis(ctx, "design-1"); err != nil {
			b.Fatal(err)
		}
	}
}
