package handlers_test

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/server/servertest"
)

func TestSlipsStandAtTimeCodes(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		take := b.addTake(b.ties)
		path := "/takes/" + take + "/slips"
		late := b.filmer.Post(path, map[string]any{"at": "1:02:03.5", "wrong": "says 58", "should_be": "56", "remedy": "on_screen_note"}).Want(201)
		require.InDelta(t, 3723500, late.Map()["at_ms"], 0)
		require.Equal(t, "1:02:03.5", late.Map()["at"])
		require.Equal(t, "/api/v1/slips/"+late.ID(), late.Header.Get("Location"))
		early := b.filmer.Post(path, map[string]any{"at_ms": 724000, "wrong": "hand in front of the hook", "remedy": "cut"}).Want(201)
		require.Equal(t, "12:04", early.Map()["at"])
		slips := b.maker.Get("/takes/" + take).Map()["slips"].([]any)
		require.Equal(t, early.ID(), slips[0].(map[string]any)["id"], "by time code")
		require.InDelta(t, 2, b.editor.Get("/installments/" + b.ties).Map()["open_slips"], 0)

		got := b.filmer.Patch("/slips/"+early.ID(), 1, map[string]any{"mended": true, "at": "12:05"}).Want(200).Map()
		require.NotNil(t, got["mended_at"])
		require.Equal(t, got, b.editor.Get("/slips/"+early.ID()).Want(200).Map())
		require.InDelta(t, 1, b.editor.Get("/installments/" + b.ties).Map()["open_slips"], 0)
		b.filmer.Patch("/slips/"+early.ID(), 1, map[string]any{"mended": false}).Want(412)
		b.filmer.Do(http.MethodPatch, "/slips/"+early.ID(), map[string]any{"mended": false}, nil).Want(428)
	})
}

func TestASlipToRecordAgainTakesTheRecordingBack(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		take := b.addTake(b.ties)
		path := "/installments/" + b.ties
		b.filmer.Patch(path, 1, map[string]any{"edited": true}).Want(200)
		slip := b.filmer.Post("/takes/"+take+"/slips", map[string]any{"at": "3:00", "wrong": "the wrong size on camera", "remedy": "record_again"}).Want(201).ID()
		got := b.editor.Get(path).Map()
		require.Equal(t, "unrecorded", got["state"])
		require.Nil(t, got["edited_at"])
		require.Contains(t, got["needs"], "Take 1 has to be recorded again: a slip at 3:00 can't be mended in the edit.")
		b.filmer.Patch(path, 2, map[string]any{"captioned": true}).Names(422, "body.captioned")
		b.filmer.Patch("/slips/"+slip, 1, map[string]any{"remedy": "cut"}).Want(200)
		require.Equal(t, "edited", b.editor.Get(path).Map()["state"])
	})
}

func TestBadSlipNamesItsFieldAndChangesNothing(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		take := b.filmer.Post("/installments/"+b.ties+"/takes", map[string]any{"seconds": 600}).Want(201).ID()
		path := "/takes/" + take + "/slips"
		for field, more := range map[string]map[string]any{
			"body.at":     {"at": "9:61"},
			"body.at_ms":  {"at": nil, "at_ms": -1},
			"body.wrong":  {"wrong": " "},
			"body.remedy": {"remedy": "hope"},
		} {
			body := map[string]any{"at": "9:59", "wrong": "says 58", "remedy": "cut"}
			for k, v := range more {
				body[k] = v
			}
			if body["at"] == nil {
				delete(body, "at")
			}
			b.filmer.Post(path, body).Names(422, field)
		}
		b.filmer.Post(path, map[string]any{"wrong": "says 58", "remedy": "cut"}).Names(422, "body.at")
		b.filmer.Post(path, map[string]any{"at": "1:00", "at_ms": 60000, "wrong": "says 58", "remedy": "cut"}).Names(422, "body.at")
		b.filmer.Post(path, map[string]any{"at": "10:01", "wrong": "says 58", "remedy": "cut"}).Names(422, "body.at")
		b.maker.Post(path, map[string]any{"at": "1:00", "wrong": "says 58", "remedy": "cut"}).Want(403)
		require.Empty(t, b.editor.Get("/takes/" + take).Map()["slips"])

		slip := b.filmer.Post(path, map[string]any{"at": "10:00.9", "wrong": "says 58", "remedy": "cut"}).Want(201).ID()
		b.filmer.Patch("/slips/"+slip, 1, map[string]any{"at": "11:00"}).Names(422, "body.at")
		b.filmer.Patch("/takes/"+take, 1, map[string]any{"seconds": 599}).Names(422, "body.seconds")
		require.InDelta(t, 600_900, b.editor.Get("/slips/" + slip).Map()["at_ms"], 0)
		b.filmer.Post("/takes/"+b.design+"/slips", map[string]any{"at": "1:00", "wrong": "x", "remedy": "cut"}).Want(404)
		b.filmer.Get("/slips/" + b.design).Want(404)
	})
}
