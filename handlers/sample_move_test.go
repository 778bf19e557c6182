package handlers_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/server/servertest"
)

func TestSampleMovesForwardAndKeepsItsHistory(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		id := b.addSample(map[string]any{"held_note": "on the shelf"})
		path := "/samples/" + id + "/moves"
		b.addTake(b.ties)
		move := func(revision int, body map[string]any) *servertest.Answer {
			return b.maker.Do("POST", path, body, servertest.IfMatch(revision))
		}
		a := move(1, map[string]any{"worked_through": b.ties, "held_by": b.maker.Person.ID}).Want(201)
		require.Equal(t, `"2"`, a.Header.Get("ETag"))
		got := a.Map()
		require.Equal(t, []any{}, got["warnings"])
		require.Equal(t, b.ties, got["worked_through"])
		require.Empty(t, got["held_note"], "a new holder's note is another one")

		move(2, map[string]any{"worked_note": "and half the crown"}).Want(201)
		got = move(3, map[string]any{"held_by": nil, "held_note": "in the post", "note": "sent off"}).Want(201).Map()
		require.Nil(t, got["held_by"])
		require.Equal(t, "and half the crown", got["worked_note"], "handing on leaves the work as it is")

		moves := got["moves"].([]any)
		require.Len(t, moves, 4)
		first, last := moves[0].(map[string]any), moves[3].(map[string]any)
		require.Equal(t, "on the shelf", first["held_note"])
		require.Equal(t, "designer", first["by"].(map[string]any)["handle"])
		require.Equal(t, "sent off", last["note"])
		require.Equal(t, "pim", last["by"].(map[string]any)["handle"])
		require.Equal(t, "pim", moves[1].(map[string]any)["held_by"].(map[string]any)["handle"])
	})
}

func TestSampleMovesBackOnlyWhenRippedBack(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		id := b.addSample(map[string]any{"worked_through": b.crown})
		move := func(revision int, body map[string]any) *servertest.Answer {
			return b.filmer.Do("POST", "/samples/"+id+"/moves", body, servertest.IfMatch(revision))
		}
		move(1, map[string]any{"worked_through": b.ties}).Names(422, "body.ripped_back")
		move(1, map[string]any{"worked_through": nil}).Names(422, "body.ripped_back")
		move(1, map[string]any{"worked_through": b.sides, "ripped_back": true}).Names(422, "body.ripped_back")
		move(1, map[string]any{}).Names(422, "body.worked_through")
		move(1, map[string]any{"worked_through": b.design}).Names(422, "body.worked_through")
		move(1, map[string]any{"held_by": b.design}).Names(422, "body.held_by")
		b.filmer.Post("/samples/"+id+"/moves", map[string]any{"worked_through": b.sides}).Want(428)
		got := b.filmer.Get("/samples/" + id).Map()
		require.Equal(t, b.crown, got["worked_through"])
		require.Len(t, got["moves"], 1)

		got = move(1, map[string]any{"worked_through": b.ties, "ripped_back": true}).Want(201).Map()
		require.Equal(t, b.ties, got["worked_through"])
		require.Equal(t, true, got["moves"].([]any)[1].(map[string]any)["ripped_back"])
		move(1, map[string]any{"worked_through": b.crown}).Want(412)
		b.editor.Do("POST", "/samples/"+id+"/moves", map[string]any{"worked_through": b.crown}, servertest.IfMatch(2)).Want(403)
	})
}

func TestMovingPastAnUnrecordedInstallmentWarns(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		b.addTake(b.ties)
		grey := b.addSample(map[string]any{"worked_through": b.ties})
		got := b.maker.Do("POST", "/samples/"+grey+"/moves", map[string]any{"worked_through": b.crown}, servertest.IfMatch(1)).Want(201).Map()
		require.Equal(t, []any{"“the grey one” is now worked past “Crown”, which is not recorded yet, and no other camera sample can still show it: rip it back or make another one before the recording."}, got["warnings"])
		require.Equal(t, b.crown, got["worked_through"], "it warns and refuses nothing")

		blue := b.addSample(map[string]any{"label": "the blue one", "worked_through": b.ties})
		b.maker.Do("POST", "/samples/"+grey+"/moves", map[string]any{"worked_through": b.ties, "ripped_back": true}, servertest.IfMatch(2)).Want(201)
		got = b.maker.Do("POST", "/samples/"+blue+"/moves", map[string]any{"worked_through": b.crown}, servertest.IfMatch(1)).Want(201).Map()
		require.Equal(t, []any{}, got["warnings"], "the grey one can show it")
	})
}
