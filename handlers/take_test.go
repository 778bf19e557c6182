package handlers_test

import (
	"net/http"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/server/servertest"
)

func TestTakesAreNumberedWithinAnInstallment(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		sample := b.addSample(nil)
		a := b.filmer.Post("/installments/"+b.ties+"/takes", map[string]any{"seconds": 840, "sample_id": sample, "note": "good light"}).Want(201)
		got := b.maker.Get("/takes/" + a.ID()).Want(200).Map()
		require.InDelta(t, 1, got["number"], 0)
		require.Equal(t, "2027-02-08", got["recorded_on"], "today, when no day is given")
		require.Equal(t, b.version, got["version_id"], "the latest text, when none is named")
		require.Equal(t, map[string]any{"id": sample, "label": "the grey one"}, got["sample"])
		require.Equal(t, "/api/v1/takes/"+a.ID(), a.Header.Get("Location"))
		second := b.filmer.Post("/installments/"+b.ties+"/takes", map[string]any{"recorded_on": "2027-02-01"}).Want(201).Map()
		require.InDelta(t, 2, second["number"], 0)
		require.InDelta(t, 1, b.filmer.Post("/installments/"+b.crown+"/takes", map[string]any{}).Want(201).Map()["number"], 0)
		takes := b.editor.Get("/installments/" + b.ties).Map()["takes"].([]any)
		require.Len(t, takes, 2)
	})
}

func TestBadTakeNamesItsFieldAndChangesNothing(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		stranger := b.designer.Post("/designs/"+b.otherDesign+"/samples", map[string]any{"label": "other", "purpose": "camera", "size_id": b.otherSize}).Want(201).ID()
		path := "/installments/" + b.ties + "/takes"
		b.filmer.Post(path, map[string]any{"recorded_on": "2027-02-09"}).Names(422, "body.recorded_on")
		b.filmer.Post(path, map[string]any{"recorded_on": "yesterday"}).Names(422, "body.recorded_on")
		b.filmer.Post(path, map[string]any{"seconds": 0}).Names(422, "body.seconds")
		b.filmer.Post(path, map[string]any{"sample_id": stranger}).Names(422, "body.sample_id")
		b.filmer.Post(path, map[string]any{"version_id": b.design}).Names(422, "body.version_id")
		b.filmer.Post("/installments/"+b.design+"/takes", map[string]any{}).Want(404)
		b.maker.Post(path, map[string]any{}).Want(403)
		require.Empty(t, b.editor.Get("/installments/" + b.ties).Map()["takes"])

		take := b.filmer.Post(path, map[string]any{"seconds": 60}).Want(201).ID()
		b.filmer.Patch("/takes/"+take, 1, map[string]any{"sample_id": stranger}).Names(422, "body.sample_id")
		b.filmer.Patch("/takes/"+take, 1, map[string]any{"accepted": true, "set_aside": true}).Names(422, "body.set_aside")
		b.filmer.Patch("/takes/"+take, 2, map[string]any{"note": "lost"}).Want(412)
		b.filmer.Do(http.MethodPatch, "/takes/"+take, map[string]any{"note": "lost"}, nil).Want(428)
		require.InDelta(t, 1, b.filmer.Get("/takes/" + take).Map()["revision"], 0)
	})
}

func TestATakeIsAcceptedOrSetAside(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		take := b.addTake(b.ties)
		state := func() any { return b.editor.Get("/installments/" + b.ties).Map()["state"] }
		require.Equal(t, "recorded", state())
		got := b.filmer.Patch("/takes/"+take, 2, map[string]any{"set_aside": true}).Want(200).Map()
		require.NotNil(t, got["set_aside_at"])
		require.Nil(t, got["accepted_at"], "setting aside takes the acceptance back")
		require.Equal(t, "unrecorded", state())
		got = b.filmer.Patch("/takes/"+take, 3, map[string]any{"accepted": true, "seconds": 300}).Want(200).Map()
		require.Nil(t, got["set_aside_at"])
		require.InDelta(t, 300, got["seconds"], 0)
		require.Equal(t, "recorded", state())
		b.filmer.Patch("/takes/"+take, 4, map[string]any{"seconds": nil}).Want(200)
		require.Nil(t, b.filmer.Get("/takes/" + take).Map()["seconds"])
	})
}

func TestTheTakeOfAnEditStays(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		first := b.addTake(b.ties)
		path := "/installments/" + b.ties
		b.filmer.Patch(path, 1, map[string]any{"edited": true}).Want(200)
		b.filmer.Patch("/takes/"+first, 2, map[string]any{"set_aside": true}).Want(409)
		b.filmer.Patch("/takes/"+first, 2, map[string]any{"accepted": false}).Want(409)
		require.Equal(t, "edited", b.editor.Get(path).Map()["state"])

		b.Clock.Advance(time.Minute)
		b.addTake(b.ties)
		got := b.editor.Get(path).Map()
		require.Equal(t, "recorded", got["state"], "the second take is not in the edit")
		require.Nil(t, got["edited_at"])
		require.Contains(t, got["needs"], "edit it again")
		b.filmer.Patch("/takes/"+first, 2, map[string]any{"set_aside": true}).Want(200)
		got = b.filmer.Patch(path, 2, map[string]any{"edited": true}).Want(200).Map()
		require.Equal(t, "edited", got["state"], "marked again, it is of today's takes")
	})
}
