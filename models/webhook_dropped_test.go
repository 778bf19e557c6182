package models_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/modelstest"
)

// TestWhatNobodyIsToldIsDropped: what waits for a webhook that was stopped does
// not lie there for ever, and does not come weeks late when it is started again.
func TestWhatNobodyIsToldIsDropped(t *testing.T) {
	modelstest.Each(t, func(t *testing.T, store *models.Store, clock *modelstest.Clock) {
		ctx, actor := t.Context(), models.System("test")
		name, address, kinds, off := "stopped", "https://programs.example/tenter", []string{"design"}, false
		plain := func(string) bool { return false }
		w, err := store.AddWebhook(ctx, actor, models.WebhookChange{Name: &name, URL: &address, Kinds: &kinds}, plain)
		require.NoError(t, err)
		_, err = store.TryWebhook(ctx, actor, w.ID)
		require.NoError(t, err)
		waiting := func() (n int64) {
			require.NoError(t, modelstest.Rows(t, store).Table("webhook_deliveries").Count(&n).Error)
			return n
		}
		clock.Advance(31 * 24 * time.Hour)
		require.NoError(t, store.DropOldDeliveries(ctx))
		require.EqualValues(t, 1, waiting(), "it may still be told")
		_, err = store.ChangeWebhook(ctx, actor, w.ID, &w.Revision, models.WebhookChange{Enabled: &off}, plain)
		require.NoError(t, err)
		require.NoError(t, store.DropOldDeliveries(ctx))
		require.Zero(t, waiting())
	})
}
