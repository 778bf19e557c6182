package handlers_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/server/servertest"
)

// TestTheTextIsNotOutBeforeItsDayWithoutAWord: neither the whole one nor an
// installment's part; said on purpose, both are, and stay so.
func TestTheTextIsNotOutBeforeItsDayWithoutAWord(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s) // today is 8 February; ties air on the 14th
		b.openGates(b.design, "")
		b.openGates(b.design, b.ties)
		path := "/designs/" + b.design
		b.designer.Patch(path, b.revisionOf(path), map[string]any{"released_on": "2027-02-28"}).Want(200)
		revision := b.revisionOf(path)
		refused := b.designer.Patch(path, revision, map[string]any{"released": true}).Names(422, "body.before_its_day").Map()
		require.Equal(t, "The text of “Thistle bonnet” is announced for 28 February.", refused["detail"])
		require.Equal(t, "is not set, and the announced day is 2027-02-28, 20 days from today; set it if this is to be out before its day, or move the day (released_on) first",
			refused["errors"].([]any)[0].(map[string]any)["message"])
		require.Equal(t, revision, b.revisionOf(path), "nothing was changed")
		require.NotNil(t, b.designer.Patch(path, revision, map[string]any{"released": true, "before_its_day": true}).Want(200).Map()["released_at"])

		tick := map[string]any{"item": "text", "installment_id": b.ties, "version": 1, "done": true}
		b.filmer.Put(path+"/release/ticks", 0, tick).Names(422, "body.before_its_day")
		require.False(t, b.item(b.ties, "text").Done)
		tick["before_its_day"] = true
		b.filmer.Put(path+"/release/ticks", 0, tick).Want(200)
		require.True(t, b.item(b.ties, "text").Done)
		delete(tick, "before_its_day")
		tick["done"] = false
		b.filmer.Put(path+"/release/ticks", 0, tick).Want(200)
		require.False(t, b.item(b.ties, "text").Done, "taking a tick back needs no such word")
	})
}
