package handlers_test

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/server/servertest"
)

func TestInstallmentIsAddedReadAndChanged(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		a := b.designer.Post("/designs/thistle-bonnet/installments", map[string]any{"title": "Edging", "covers": "the last round", "air_on": "2027-03-01"}).Want(201)
		require.Equal(t, "/api/v1/installments/"+a.ID(), a.Header.Get("Location"))
		got := b.editor.Get("/installments/" + a.ID()).Want(200).Map()
		require.Equal(t, "Edging", got["title"])
		require.InDelta(t, 4, got["position"], 0)
		require.Equal(t, "2027-03-01", got["air_on"])
		require.Equal(t, "2027-02-25", got["record_by"], "four days of lead")
		require.Equal(t, false, got["record_by_set"])
		require.InDelta(t, 21, got["days_left"], 0)
		require.Equal(t, "unrecorded", got["state"])
		require.Equal(t, []any{}, got["takes"])
		require.Equal(t, "No camera sample can still show it: make one, worked through “Sides”, then record it; that is due by 25 February.", got["needs"])

		got = b.filmer.Patch("/installments/"+a.ID(), 1, map[string]any{"record_by": "2027-02-20", "link": "https://example.org/4"}).Want(200).Map()
		require.Equal(t, "2027-02-20", got["record_by"])
		require.Equal(t, true, got["record_by_set"])
		got = b.designer.Patch("/installments/"+a.ID(), 2, map[string]any{"record_by": nil, "air_on": nil, "title": "Border"}).Want(200).Map()
		require.Nil(t, got["record_by"])
		require.Nil(t, got["air_on"])
		require.Nil(t, got["days_left"])
		require.Equal(t, "Border", got["title"])

		b.designer.Patch("/installments/"+a.ID(), 2, map[string]any{"title": "lost"}).Want(412)
		b.designer.Do(http.MethodPatch, "/installments/"+a.ID(), map[string]any{"title": "lost"}, nil).Want(428)
		require.Equal(t, "Border", b.editor.Get("/installments/" + a.ID()).Map()["title"])

		b.designer.Patch("/studio/settings", 1, map[string]any{"lead_days": 10}).Want(200)
		require.Equal(t, "2027-02-04", b.editor.Get("/installments/" + b.ties).Map()["record_by"], "the studio's lead days count for all")
		require.Equal(t, true, b.editor.Get("/installments/" + b.ties).Map()["late"])
	})
}

func TestBadInstallmentNamesItsFieldAndChangesNothing(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		for field, more := range map[string]map[string]any{
			"body.title":     {"title": ""},
			"body.air_on":    {"air_on": "2027-02-30"},
			"body.record_by": {"air_on": "2027-03-01", "record_by": "2027-03-02"},
			"body.link":      {"link": "javascript:alert(1)"},
			"body.position":  {"position": 5},
		} {
			body := map[string]any{"title": "Edging"}
			for k, v := range more {
				body[k] = v
			}
			b.designer.Post("/designs/"+b.design+"/installments", body).Names(422, field)
		}
		require.Len(t, ids(b.editor.Get("/designs/"+b.design+"/installments").Map()), 3)
		b.filmer.Patch("/installments/"+b.crown, 1, map[string]any{"record_by": "2027-02-22"}).Names(422, "body.record_by")
		b.filmer.Patch("/installments/"+b.crown, 1, map[string]any{"position": 0}).Names(422, "body.position")
		b.filmer.Patch("/installments/"+b.crown, 1, map[string]any{"position": 4}).Names(422, "body.position")
		require.InDelta(t, 1, b.editor.Get("/installments/" + b.crown).Map()["revision"], 0)
		b.filmer.Post("/designs/"+b.design+"/installments", map[string]any{"title": "Edging"}).Want(403)
		b.maker.Patch("/installments/"+b.crown, 1, map[string]any{"title": "mine"}).Want(403)
	})
}

func TestMovingAnInstallmentMovesTheOthers(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		order := func() []string {
			list := b.editor.Get("/designs/" + b.design + "/installments").Want(200).Map()
			for i, item := range list["items"].([]any) {
				require.InDelta(t, i+1, item.(map[string]any)["position"], 0, "positions run without gaps")
			}
			return ids(list)
		}
		require.Equal(t, []string{b.ties, b.crown, b.sides}, order())
		b.designer.Patch("/installments/"+b.ties, 1, map[string]any{"position": 3}).Want(200)
		require.Equal(t, []string{b.crown, b.sides, b.ties}, order())
		b.designer.Patch("/installments/"+b.ties, 2, map[string]any{"position": 1}).Want(200)
		require.Equal(t, []string{b.ties, b.crown, b.sides}, order())
		b.designer.Patch("/installments/"+b.crown, 1, map[string]any{"position": 2}).Want(200)
		require.Equal(t, []string{b.ties, b.crown, b.sides}, order())
		between := b.addInstallment(map[string]any{"title": "Between", "position": 2})
		require.Equal(t, []string{b.ties, between, b.crown, b.sides}, order())
		b.designer.Do(http.MethodDelete, "/installments/"+between, nil, servertest.IfMatch(1)).Want(204)
		require.Equal(t, []string{b.ties, b.crown, b.sides}, order())
	})
}

func TestInstallmentIsRemovedOnlyWhileNothingStandsOnIt(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		remove := func(id string, revision int) *servertest.Answer {
			return b.designer.Do(http.MethodDelete, "/installments/"+id, nil, servertest.IfMatch(revision))
		}
		b.designer.Do(http.MethodDelete, "/installments/"+b.sides, nil, nil).Want(428)
		remove(b.sides, 7).Want(412)
		b.filmer.Do(http.MethodDelete, "/installments/"+b.sides, nil, servertest.IfMatch(1)).Want(403)

		b.filmer.Post("/installments/"+b.ties+"/takes", map[string]any{}).Want(201)
		remove(b.ties, 1).Want(409)
		sample := b.addSample(map[string]any{"worked_through": b.crown})
		remove(b.crown, 1).Want(409)
		b.maker.Do(http.MethodPost, "/samples/"+sample+"/moves", map[string]any{"worked_through": nil, "ripped_back": true}, servertest.IfMatch(1)).Want(201)
		remove(b.crown, 1).Want(409) // its history still names it

		remove(b.sides, 1).Want(204)
		b.designer.Get("/installments/" + b.sides).Want(404)
		require.Equal(t, []string{b.ties, b.crown}, ids(b.editor.Get("/designs/"+b.design+"/installments").Map()))
		events := b.designer.Get("/designs/" + b.design + "/history?limit=1").Want(200).Map()["items"].([]any)
		require.Equal(t, "removed", events[0].(map[string]any)["action"])
	})
}

func TestStepsAreMarkedInOrder(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		path := "/installments/" + b.ties
		mark := func(revision int, body map[string]any) *servertest.Answer {
			return b.filmer.Patch(path, revision, body)
		}
		state := func() any { return b.editor.Get(path).Map()["state"] }
		mark(1, map[string]any{"edited": true}).Names(422, "body.edited")
		b.addTake(b.ties)
		require.Equal(t, "recorded", state())
		mark(1, map[string]any{"captioned": true}).Names(422, "body.captioned")
		mark(1, map[string]any{"edited": true, "scheduled": true}).Names(422, "body.scheduled")
		require.Equal(t, "recorded", state())
		mark(1, map[string]any{"edited": true, "captioned": true}).Want(200)
		require.Equal(t, "captioned", state())
		mark(2, map[string]any{"aired": true}).Names(422, "body.aired")
		mark(2, map[string]any{"scheduled": true, "air_on": nil}).Names(422, "body.scheduled")
		mark(2, map[string]any{"scheduled": true}).Want(200)
		b.openGates(b.design, b.ties)
		mark(3, map[string]any{"aired": true}).Names(422, "body.before_its_day")
		got := mark(3, map[string]any{"aired": true, "before_its_day": true}).Want(200).Map()
		require.Equal(t, "aired", got["state"])
		require.Nil(t, got["days_left"])
	})
}

func TestAStepIsTakenAwayOnlyWithTheLaterOnes(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		b.addTake(b.ties)
		path := "/installments/" + b.ties
		before := b.filmer.Patch(path, 1, map[string]any{"edited": true, "captioned": true, "scheduled": true}).Want(200).Map()
		b.filmer.Patch(path, 2, map[string]any{"edited": false}).Want(409)
		b.filmer.Patch(path, 2, map[string]any{"edited": false, "captioned": false}).Want(409)
		b.filmer.Patch(path, 2, map[string]any{"captioned": false}).Want(409)
		require.Equal(t, before, b.editor.Get(path).Map())
		got := b.filmer.Patch(path, 2, map[string]any{"captioned": false, "scheduled": false}).Want(200).Map()
		require.Equal(t, "edited", got["state"])
		require.Equal(t, before["edited_at"], got["edited_at"])
		require.Nil(t, got["captioned_at"])
	})
}
