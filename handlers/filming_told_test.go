package handlers_test

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/server/servertest"
)

// TestBoardPlanAndSheetTellOneStory: the only sample is worked past the crown's
// shot, so a new one has to be made for it. That one can serve the shot after it
// as well, and then one sample is in use and not two, which comes before hours
// of making in the plan's order. The old sample stands in the second shot's
// state all the same, which is said everywhere and contradicted nowhere.
func TestBoardPlanAndSheetTellOneStory(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newShoot(t, s)
		b.addTake(b.ties)
		b.addSample(map[string]any{"state": b.crown})
		b.addShot(b.crown, map[string]any{"title": "Round 6", "from_state": b.point, "to_state": b.point})
		b.addShot(b.sides, map[string]any{"title": "The join", "from_state": b.crown, "to_state": b.crown})
		b.filmer.Patch("/installments/"+b.sides, 1, map[string]any{"air_on": "2027-03-07"}).Want(200)

		const needs = "Record 1 shot, first “The join” with a new sample (“new 1”), which has to be made to the end of Crown; that is due by 3 March. “the grey one” is there already and can show it too."
		join := func(of []any) map[string]any { return of[len(of)-1].(map[string]any) }
		plan := join(b.editor.Get("/designs/" + b.design + "/filming-plan").Want(200).Map()["shots"].([]any))
		require.Equal(t, "new 1", plan["sample"])
		require.Equal(t, "the grey one", plan["spare"])
		for _, told := range []map[string]any{
			join(b.editor.Get("/designs/" + b.design + "/board").Want(200).Map()["installments"].([]any)),
			join(b.editor.Get("/designs/" + b.design + "/installments").Want(200).Map()["items"].([]any)),
			b.editor.Get("/installments/" + b.sides).Want(200).Map(),
			b.editor.Get("/installments/" + b.sides + "/sheet").Want(200).Map()["installment"].(map[string]any),
		} {
			require.Equal(t, needs, told["needs"])
			require.Nil(t, told["sample"], "the plan does not record it with what is ready")
		}
		sheet := b.editor.Get("/installments/" + b.sides + "/sheet").Map()["shots"].([]any)[0].(map[string]any)["plan"]
		require.Equal(t, plan, sheet)

		second := b.addSample(map[string]any{"label": "the blue one", "state": b.point})
		require.NotEmpty(t, second)
		told := join(b.editor.Get("/designs/" + b.design + "/board").Want(200).Map()["installments"].([]any))
		require.Contains(t, told["needs"], "work “the blue one” to the end of Crown for it", "one sample in use, by the plan")
	})
}

// TestUnloggedWorkOnCameraIsTold until somebody says how far the sample is.
func TestUnloggedWorkOnCameraIsTold(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newShoot(t, s)
		sample := b.addSample(map[string]any{"state": b.ties})
		ring := b.addShot(b.crown, map[string]any{"title": "The ring", "from_state": b.ties, "to_state": b.point})
		take := b.filmer.Post("/installments/"+b.crown+"/takes", map[string]any{"seconds": 600, "sample_id": sample}).Want(201).ID()
		put := func(revision int, accepted bool) {
			b.filmer.Put("/takes/"+take+"/shots", revision, map[string]any{"shots": []any{map[string]any{"shot_id": ring, "at": "0:10", "accepted": accepted}}}).Want(200)
		}
		told := func() []any {
			onBoard := b.editor.Get("/designs/" + b.design + "/board").Want(200).Map()["unlogged"].([]any)
			for _, path := range []string{"/designs/" + b.design + "/filming-plan", "/installments/" + b.crown + "/sheet"} {
				require.Equal(t, onBoard, b.editor.Get(path).Want(200).Map()["unlogged"])
			}
			return onBoard
		}
		put(1, false)
		require.Empty(t, told(), "nobody has looked at the take yet")
		put(2, true)
		require.Len(t, told(), 1)
		one := told()[0].(map[string]any)
		require.Equal(t, "“the grey one” is noted at the end of Ties, which is older than its last accepted shot: “The ring” in take 1 has worked it to Crown: round 6.", one["sentence"])
		require.Equal(t, b.point, one["state_id"])
		require.Nil(t, b.editor.Get("/samples/" + sample).Map()["state_id"], "nothing is logged by itself")

		move := func(revision int, body map[string]any) {
			b.filmer.Do(http.MethodPost, "/samples/"+sample+"/moves", body, servertest.IfMatch(revision)).Want(201)
		}
		move(1, map[string]any{"state": one["state_id"], "note": "worked on camera"})
		require.Empty(t, told(), "it is noted where it is")
		move(2, map[string]any{"state": b.ties, "ripped_back": true})
		require.Empty(t, told(), "it was ripped back on purpose, after the take")
	})
}

// TestASlipIsSeenAsSoonAsItIsNoted although its take is not accepted yet.
func TestASlipIsSeenAsSoonAsItIsNoted(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newShoot(t, s)
		ring := b.addShot(b.crown, map[string]any{"title": "The ring", "from_state": b.ties, "to_state": b.ties})
		six := b.addShot(b.crown, map[string]any{"title": "Round 6", "from_state": b.point, "to_state": b.point})
		take := b.filmer.Post("/installments/"+b.crown+"/takes", map[string]any{}).Want(201).ID()
		put := func(revision int, ringAccepted bool) {
			b.filmer.Put("/takes/"+take+"/shots", revision, map[string]any{"shots": []any{
				map[string]any{"shot_id": ring, "at": "0:10", "accepted": ringAccepted}, map[string]any{"shot_id": six, "at": "5:00"}}}).Want(200)
		}
		put(1, false)
		for at, wrong := range map[string]string{"0:30": "says 66", "5:30": "out of the picture"} {
			b.filmer.Post("/takes/"+take+"/slips", map[string]any{"at": at, "wrong": wrong, "remedy": "cut"}).Want(201)
		}
		waits := func() map[string]any {
			out := map[string]any{}
			for _, x := range b.filmer.Get("/installments/" + b.crown + "/sheet").Want(200).Map()["notes"].([]any) {
				if n := x.(map[string]any); n["kind"] == "cut" {
					out[n["words"].(string)] = n["waits"]
				}
			}
			return out
		}
		require.Equal(t, map[string]any{"cut: says 66": "its take is not accepted yet", "cut: out of the picture": "its take is not accepted yet"}, waits())
		require.Contains(t, string(b.filmer.Get("/installments/"+b.crown+"/edit-notes.txt").Want(200).Body), "[ ] take 1 0:30: cut: says 66 (its take is not accepted yet)")
		put(2, true)
		require.Equal(t, map[string]any{"cut: says 66": nil, "cut: out of the picture": "its shot is not accepted in this take"}, waits())
		b.filmer.Patch("/takes/"+take, 3, map[string]any{"set_aside": true}).Want(200)
		require.Empty(t, waits(), "what is set aside is nobody's work")
	})
}
