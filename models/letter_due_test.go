package models_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/modelstest"
)

// TestDueLettersTakeAConstantNumberOfStatements counts them for one call and for
// thirty, with corrections in some designs, and holds what is due of all calls
// together against what each says alone.
func TestDueLettersTakeAConstantNumberOfStatements(t *testing.T) {
	for kind, fresh := range map[string]func(testing.TB) string{"sqlite": modelstest.SQLite, "postgres": modelstest.Postgres} {
		t.Run(kind, func(t *testing.T) {
			t.Parallel()
			var c counter
			clock := modelstest.NewClock()
			store := modelstest.Open(t, fresh(t), models.Options{Now: clock.Now, Explain: c.add})
			ctx, rows := t.Context(), modelstest.Rows(t, store)
			var due []models.DueLetter
			look := func() {
				var err error
				due, err = store.DueLetters(ctx)
				require.NoError(t, err)
			}
			plan := func() {
				made, err := store.PlanLetters(ctx)
				require.NoError(t, err)
				require.Zero(t, made, "nobody has an address")
			}
			byItself := []models.LetterKind{models.LetterKind(models.RemindAsked)}
			_, err := store.ChangeStudio(ctx, models.System("test"), new(1), models.StudioChange{LettersByItself: &byItself})
			require.NoError(t, err)
			fill := func(n int) {
				modelstest.FillDesigns(t, store, n, modelstest.Round{Sizes: 2, Points: 1, Reports: 3})
				require.NoError(t, rows.Exec("DELETE FROM measurements").Error)
				require.NoError(t, rows.Exec("DELETE FROM reports").Error) // so that they are still asked for
				require.NoError(t, rows.Exec("UPDATE assignments SET accepted_at = NULL").Error)
				require.NoError(t, rows.Exec(`INSERT INTO corrections (id, design_id, number, place, was, is_now, why, count_name, since_version, found_words, finding_key, in_text_at, announced_at, mended_version, withdrawn_why, revision, created_at, updated_at)
					SELECT 'correction of ' || v.id, v.design_id, 1, 'row 3', '12', '14', '', '', v.id, '', '', ?, ?, v.id, '', 1, ?, ? FROM versions v
					WHERE NOT EXISTS (SELECT 1 FROM corrections k WHERE k.design_id = v.design_id)`, clock.Now(), clock.Now(), clock.Now(), clock.Now()).Error)
			}
			fill(1)
			clock.Advance(time.Hour)
			one, planned := c.statements(t, look), c.statements(t, plan)
			require.NotEmpty(t, due)
			fill(29)
			require.Equal(t, one, c.statements(t, look))
			require.Equal(t, planned, c.statements(t, plan))

			var calls []string
			require.NoError(t, rows.Raw("SELECT id FROM test_calls ORDER BY id DESC").Scan(&calls).Error)
			require.Len(t, calls, 30)
			var alone []models.DueLetter
			for _, id := range calls {
				reminders, err := store.Reminders(ctx, id)
				require.NoError(t, err)
				require.NotEmpty(t, reminders)
				for _, r := range reminders {
					alone = append(alone, models.DueLetter{Reminder: r, CallID: id})
				}
			}
			require.Equal(t, alone, due)
		})
	}
}
