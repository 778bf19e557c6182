package models_test

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/modelstest"
)

// TestHouseNeedsTakeAConstantNumberOfStatements: for nothing, and for many
// webhooks and letters; one stopped by hand or ended needs nobody.
func TestHouseNeedsTakeAConstantNumberOfStatements(t *testing.T) {
	var c counter
	clock := modelstest.NewClock()
	store := modelstest.Open(t, modelstest.SQLite(t), models.Options{Now: clock.Now, Explain: c.add})
	designer := models.Actor{Roles: []models.Role{models.Designer}}
	var needs []models.Need
	look := func() {
		var err error
		needs, err = store.HouseNeeds(t.Context(), designer)
		require.NoError(t, err)
	}
	none := c.statements(t, look)
	require.Empty(t, needs)

	person, err := store.AddPerson(t.Context(), models.System("test"), models.NewPerson{Handle: "mara", Roles: []models.Role{models.Tester}})
	require.NoError(t, err)
	now := clock.Now()
	hook := func(name, why string, ended *time.Time) models.Webhook {
		return models.Webhook{ID: models.NewID(), Name: name, URL: "https://programs.example", Kinds: "design", DisabledAt: &now, DisabledWhy: why, EndedAt: ended, Revision: 1, CreatedAt: now, UpdatedAt: now}
	}
	hooks := []models.Webhook{hook("by hand", "stopped by hand", nil), hook("over", "20 tries in a row failed", &now)}
	var letters []models.Letter
	for i := range 7 {
		hooks = append(hooks, hook(fmt.Sprintf("program %d", i), "20 tries in a row failed", nil))
		letters = append(letters, models.Letter{ID: models.NewID(), PersonID: person.ID, Kind: models.LetterTest, Subject: "A letter", State: models.LetterFailed, About: fmt.Sprint(i), NextTryAt: now, GiveUpAt: now, EndedAt: &now, CreatedAt: now})
	}
	letters[0].ErasedAt, letters[1].State = &now, models.LetterWithdrawn
	rows := modelstest.Rows(t, store)
	require.NoError(t, rows.Create(&hooks).Error)
	require.NoError(t, rows.Create(&letters).Error)
	require.Equal(t, none, c.statements(t, look))
	require.Len(t, needs, 2)
	require.Contains(t, needs[0].Sentence, "7 webhooks are told nothing any more")
	require.NotContains(t, needs[0].Sentence, "by hand")
	require.Equal(t, "5 letters could not be sent.", needs[1].Sentence)
}
