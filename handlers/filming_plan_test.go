package handlers_test

import (
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/server/servertest"
)

// shoot is a bonnet with states and shots. In the large size a camera sample
// needs 700 stitches for the ties, 560 to the first point of the crown and 280
// more to its end.
type shoot struct {
	*bonnet
	point string // "round 6", within the crown
}

func newShoot(t *testing.T, s *servertest.Studio) *shoot {
	t.Helper()
	b := newBonnet(t, s)
	got := b.designer.Put("/designs/"+b.design+"/states", 3, map[string]any{"states": []any{
		map[string]any{"id": b.ties, "installment_id": b.ties, "stitches": "10 * edge"},
		map[string]any{"installment_id": b.crown, "name": "round 6", "stitches": "8 * edge"},
		map[string]any{"id": b.crown, "installment_id": b.crown, "stitches": "4 * edge"},
		map[string]any{"id": b.sides, "installment_id": b.sides, "hours": 3},
	}}).Want(200).Map()
	states := got["states"].([]any)
	require.Len(t, states, 4)
	return &shoot{b, states[1].(map[string]any)["id"].(string)}
}

func (s *shoot) addShot(installment string, body map[string]any) string {
	s.t.Helper()
	return s.filmer.Post("/installments/"+installment+"/shots", body).Want(201).ID()
}

func (s *shoot) state(installment string) any {
	return s.editor.Get("/installments/" + installment).Want(200).Map()["state"]
}

func TestStatesAreOrderedAndTheirMakingIsReckonedForEachSize(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newShoot(t, s)
		got := b.editor.Get("/designs/" + b.design + "/states").Want(200).Map()
		var words []string
		for _, x := range got["states"].([]any) {
			words = append(words, x.(map[string]any)["words"].(string))
		}
		require.Equal(t, []string{"the end of Ties", "Crown: round 6", "the end of Crown", "the end of Sides"}, words)

		making := b.maker.Get("/designs/" + b.design + "/making").Want(200).Map()
		require.Equal(t, "usual", making["speed"].(map[string]any)["source"])
		sizes := making["sizes"].([]any)
		stitches := func(size, stretch int) any {
			return sizes[size].(map[string]any)["stretches"].([]any)[stretch].(map[string]any)["stitches"]
		}
		require.InDelta(t, 560, stitches(0, 0), 0, "10 × 56")
		require.InDelta(t, 700, stitches(1, 0), 0, "10 × 70")
		require.InDelta(t, 560, stitches(1, 1), 0, "8 × 70")
		require.Nil(t, stitches(1, 3), "stated in hours")
	})
}

func TestBadStatesNameTheirFieldAndChangeNothing(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newShoot(t, s)
		crown := func(more map[string]any) map[string]any {
			out := map[string]any{"installment_id": b.crown, "name": "round 3"}
			for k, v := range more {
				out[k] = v
			}
			return map[string]any{"states": []any{map[string]any{"id": b.point, "installment_id": b.crown, "name": "round 6", "stitches": "8 * edge"}, out}}
		}
		path := "/designs/" + b.design + "/states"
		for field, more := range map[string]map[string]any{
			"body.states[1].name":           {"name": " "},
			"body.states[1].hours":          {"hours": 0},
			"body.states[1].stitches":       {"stitches": "rounds * 3"},
			"body.states[1].id":             {"id": "018f0000-0000-7000-8000-000000000000"},
			"body.states[1].installment_id": {"installment_id": "018f0000-0000-7000-8000-000000000000"},
		} {
			b.filmer.Put(path, 4, crown(more)).Names(422, field)
		}
		b.filmer.Put(path, 4, crown(map[string]any{"stitches": "edge == 3"})).Names(422, "body.states[1].stitches")
		b.filmer.Put(path, 4, crown(map[string]any{"stitches": "0 - edge"})).Names(422, "body.states[1].stitches")
		b.filmer.Put(path, 3, crown(nil)).Want(412)
		b.filmer.Do(http.MethodPut, path, crown(nil), nil).Want(428)
		b.maker.Put(path, 4, crown(nil)).Want(403)
		require.Len(t, b.editor.Get(path).Map()["states"], 4)

		b.addShot(b.crown, map[string]any{"title": "Round 6", "from_state": b.point, "to_state": b.point})
		b.filmer.Put(path, 4, map[string]any{"states": []any{}}).Want(409)
		require.Len(t, b.editor.Get(path).Map()["states"], 4)
		require.InDelta(t, 4, b.editor.Get(path).Map()["revision"], 0)
	})
}

func TestSpeedIsLearnedFromLoggedHours(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newShoot(t, s)
		sample := b.addSample(nil)
		move := func(revision int, body map[string]any) *servertest.Answer {
			return b.maker.Do(http.MethodPost, "/samples/"+sample+"/moves", body, servertest.IfMatch(revision))
		}
		move(1, map[string]any{"state": b.point, "hours": 0}).Names(422, "body.hours")
		move(1, map[string]any{"state": b.point, "worked_through": b.ties}).Names(422, "body.state")
		move(1, map[string]any{"state": "018f0000-0000-7000-8000-000000000000"}).Names(422, "body.state")
		got := move(1, map[string]any{"state": b.point, "hours": 1.5}).Want(201).Map()
		require.Equal(t, b.ties, got["worked_through"], "a point within the crown is past the ties")
		require.Equal(t, b.point, got["state_id"])

		speed := b.editor.Get("/designs/" + b.design + "/making?person=" + b.maker.Person.ID).Want(200).Map()["speed"].(map[string]any)
		require.Equal(t, "logged", speed["source"])
		// By hand: 1260 stitches in 1.5 h. The studio: (1260 + 4·900) / 5.5 = 883.6.
		// The maker: (1260 + 4·883.6) / 5.5 = 871.7.
		require.InDelta(t, 871.74, speed["stitches_per_hour"], 0.01)
		require.InDelta(t, 1.5, speed["logged_hours"], 0)
		require.Equal(t, "studio", b.editor.Get("/designs/" + b.design + "/making?person=" + b.filmer.Person.ID).Map()["speed"].(map[string]any)["source"])
	})
}

func TestShotIsAddedChangedMovedAndRemoved(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newShoot(t, s)
		first := b.addShot(b.crown, map[string]any{"title": "The ring", "from_state": b.ties, "to_state": b.point, "numbers": []any{map[string]any{"count": "edge", "words": "stitches around"}},
			"tails": []any{map[string]any{"seam": "nape", "value": 10, "unit": "cm"}}})
		second := b.addShot(b.crown, map[string]any{"title": "Round 6", "from_state": b.point, "to_state": b.point, "position": 1})
		got := b.editor.Get("/shots/" + first).Want(200).Map()
		require.InDelta(t, 2, got["position"], 0)
		tail := got["tails"].([]any)[0].(map[string]any)
		require.InDelta(t, 45, tail["low_cm"], 0, "three times 10 cm and a bit")
		require.InDelta(t, 55, tail["high_cm"], 0, "four times 10 cm and a bit")
		b.filmer.Patch("/shots/"+first, 1, map[string]any{"position": 1, "live": "front loops", "chapter": "1:30"}).Want(200)
		require.InDelta(t, 2, b.editor.Get("/shots/" + second).Map()["position"], 0)
		require.Equal(t, "1:30", b.editor.Get("/shots/" + first).Map()["chapter"])

		for field, body := range map[string]map[string]any{
			"body.title":            {"title": ""},
			"body.from_state":       {"from_state": "018f0000-0000-7000-8000-000000000000"},
			"body.to_state":         {"to_state": b.ties, "from_state": b.point},
			"body.numbers[0].count": {"numbers": []any{map[string]any{"count": "brim"}}},
			"body.tails[0].value":   {"tails": []any{map[string]any{"seam": "nape", "value": 0, "unit": "cm"}}},
			"body.chapter":          {"chapter": "1:75"},
			"body.position":         {"position": 3},
		} {
			if field == "body.tails[0].value" {
				b.filmer.Patch("/shots/"+first, 2, body).Want(422)
				continue
			}
			b.filmer.Patch("/shots/"+first, 2, body).Names(422, field)
		}
		require.InDelta(t, 2, b.editor.Get("/shots/" + first).Map()["revision"], 0)
		b.filmer.Patch("/shots/"+first, 1, map[string]any{"title": "lost"}).Want(412)
		b.maker.Patch("/shots/"+first, 2, map[string]any{"title": "mine"}).Want(403)
		b.filmer.Do(http.MethodDelete, "/shots/"+first, nil, servertest.IfMatch(2)).Want(204)
		require.InDelta(t, 1, b.editor.Get("/shots/" + second).Map()["position"], 0)
	})
}

func TestInstallmentIsRecordedWhenEachShotHasAnAcceptedTake(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newShoot(t, s)
		ring := b.addShot(b.crown, map[string]any{"title": "The ring", "from_state": b.ties, "to_state": b.point})
		six := b.addShot(b.crown, map[string]any{"title": "Round 6", "from_state": b.point, "to_state": b.point})
		b.addTake(b.crown)
		require.Equal(t, "unrecorded", b.state(b.crown), "an accepted take that holds no shot records nothing")
		b.addTake(b.ties)
		require.Equal(t, "recorded", b.state(b.ties), "without shots one accepted take is enough")

		take := b.filmer.Post("/installments/"+b.crown+"/takes", map[string]any{"seconds": 600}).Want(201).ID()
		put := func(revision int, shots ...any) *servertest.Answer {
			return b.filmer.Put("/takes/"+take+"/shots", revision, map[string]any{"shots": shots})
		}
		in := func(id, at string, accepted bool) map[string]any {
			return map[string]any{"shot_id": id, "at": at, "accepted": accepted}
		}
		put(1, in(ring, "0:10", true), in(six, "5:00", false)).Want(200)
		require.Equal(t, "unrecorded", b.state(b.crown))
		put(2, in(ring, "0:10", true), in(six, "5:00", true)).Want(200)
		require.Equal(t, "recorded", b.state(b.crown))

		slip := b.filmer.Post("/takes/"+take+"/slips", map[string]any{"at": "6:00", "wrong": "says 66", "remedy": "record_again"}).Want(201).ID()
		require.Equal(t, "unrecorded", b.state(b.crown), "the slip lies in round 6")
		b.filmer.Patch("/slips/"+slip, 1, map[string]any{"at": "0:05"}).Want(200)
		require.Equal(t, "recorded", b.state(b.crown), "before the first shot begins it spoils none")

		b.filmer.Patch("/installments/"+b.crown, 1, map[string]any{"edited": true}).Want(200)
		put(3, in(ring, "0:10", true)).Want(409)
		b.filmer.Patch("/takes/"+take, 3, map[string]any{"set_aside": true}).Want(409)
		require.Equal(t, "edited", b.state(b.crown))
		b.filmer.Do(http.MethodDelete, "/shots/"+six, nil, servertest.IfMatch(1)).Want(409)

		put(3, in(ring, "11:00", true)).Names(422, "body.shots[0].at")
		put(3, in(ring, "1:75", true)).Names(422, "body.shots[0].at")
		put(3, in(b.point, "1:00", true)).Names(422, "body.shots[0].shot_id")
		put(3, map[string]any{"shot_id": ring, "at": "1:00", "until": "0:50"}).Names(422, "body.shots[0].until")
		put(2, in(ring, "0:10", true)).Want(412)
	})
}

func TestAcceptingATakeAcceptsItsShots(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newShoot(t, s)
		ring := b.addShot(b.crown, map[string]any{"title": "The ring", "from_state": b.ties, "to_state": b.ties})
		take := b.filmer.Post("/installments/"+b.crown+"/takes", map[string]any{}).Want(201).ID()
		b.filmer.Put("/takes/"+take+"/shots", 1, map[string]any{"shots": []any{map[string]any{"shot_id": ring}}}).Want(200)
		require.Equal(t, "unrecorded", b.state(b.crown))
		b.filmer.Patch("/takes/"+take, 2, map[string]any{"accepted": true}).Want(200)
		require.Equal(t, "recorded", b.state(b.crown))
		b.filmer.Patch("/takes/"+take, 3, map[string]any{"accepted": false}).Want(200)
		require.Equal(t, "unrecorded", b.state(b.crown))
	})
}

func TestPlanNamesTheSampleForEachShotAndTheLastDayToStart(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newShoot(t, s)
		sample := b.addSample(map[string]any{"state": b.ties, "held_by": b.maker.Person.ID})
		b.addShot(b.crown, map[string]any{"title": "Round 6", "from_state": b.point, "to_state": b.point})
		b.addTake(b.ties)
		plan := b.editor.Get("/designs/" + b.design + "/filming-plan?hours_per_day=0.25").Want(200).Map()
		require.Equal(t, "6-12 months", plan["size_name"])
		shots := plan["shots"].([]any)
		require.Len(t, shots, 1)
		shot := shots[0].(map[string]any)
		require.Equal(t, sample, shot["sample_id"])
		require.Equal(t, "2027-02-17", shot["on"], "four days before it airs")
		require.InDelta(t, 0.62, shot["work_hours"], 0.001, "560 stitches at 900 an hour")
		require.Equal(t, "2027-02-14", shot["start_by"], "three days of a quarter of an hour")
		require.Len(t, plan["undated"], 1, "the sides have no day, and are planned whole")
		require.Len(t, plan["lines"], 1)

		held := plan["holds"].([]any)[0].(map[string]any)
		require.Equal(t, "Do not work “the grey one”, which pim has, past Crown: round 6 before “Round 6” is recorded: no other camera sample can show it.", held["sentence"])
		require.Equal(t, held["sentence"], b.editor.Get("/designs/" + b.design + "/board").Want(200).Map()["holds"].([]any)[0].(map[string]any)["sentence"])
		b.editor.Get("/designs/"+b.design+"/filming-plan?hours_per_day=0.01").Names(422, "body.hours_per_day")
	})
}

func TestWarningComesBeforeTheSampleIsWorkedPastAShot(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newShoot(t, s)
		sample := b.addSample(map[string]any{"state": b.point})
		b.addShot(b.crown, map[string]any{"title": "Round 6", "from_state": b.point, "to_state": b.point})
		ahead := b.maker.Get("/samples/" + sample + "/ahead").Want(200).Map()["items"].([]any)
		require.Len(t, ahead, 5, "the beginning and four states")
		at := func(i int) map[string]any { return ahead[i].(map[string]any) }
		require.Equal(t, true, at(2)["here"])
		require.Equal(t, []any{}, at(2)["warnings"])
		require.Equal(t, []any{"“the grey one” would be worked past Crown: round 6, which “Round 6” in “Crown” still has to show, and no other camera sample can: rip it back or make another one before the recording."}, at(3)["warnings"])
		require.Equal(t, true, at(1)["back"])
		require.InDelta(t, 0.62, at(1)["hours"], 0.001, "ripping back to the ties loses 560 stitches")

		moved := b.maker.Do(http.MethodPost, "/samples/"+sample+"/moves", map[string]any{"state": b.crown}, servertest.IfMatch(1)).Want(201).Map()
		require.Len(t, moved["warnings"], 1)
		require.Contains(t, moved["warnings"].([]any)[0], "is now worked past Crown: round 6")
		b.maker.Do(http.MethodPost, "/samples/"+sample+"/moves", map[string]any{"state": b.point}, servertest.IfMatch(2)).Names(422, "body.ripped_back")
		b.maker.Do(http.MethodPost, "/samples/"+sample+"/moves", map[string]any{"state": b.point, "ripped_back": true}, servertest.IfMatch(2)).Want(201)
		other := b.addSample(map[string]any{"label": "the blue one"})
		require.NotEmpty(t, other)
		require.Equal(t, []any{}, b.maker.Get("/samples/" + sample + "/ahead").Map()["items"].([]any)[3].(map[string]any)["warnings"], "the blue one can still show it")
	})
}

func TestShootSheetFlagsNumbersThatChangedAfterTheRecording(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newShoot(t, s)
		ring := b.addShot(b.crown, map[string]any{"title": "The ring", "from_state": b.ties, "to_state": b.ties, "numbers": []any{map[string]any{"count": "edge", "words": "stitches around"}}})
		take := b.filmer.Post("/installments/"+b.crown+"/takes", map[string]any{"seconds": 300}).Want(201).ID()
		b.filmer.Put("/takes/"+take+"/shots", 1, map[string]any{"shots": []any{map[string]any{"shot_id": ring, "at": "0:10", "accepted": true}}}).Want(200)
		sheet := func() map[string]any { return b.filmer.Get("/installments/" + b.crown + "/sheet").Want(200).Map() }
		shot := sheet()["shots"].([]any)[0].(map[string]any)
		said := shot["said"].([]any)[0].(map[string]any)
		require.InDelta(t, 70, said["demo"], 0)
		require.Equal(t, "56 (70)", said["line"])
		require.Equal(t, []any{}, shot["flags"])

		next := b.designer.Post("/designs/"+b.design+"/versions", map[string]any{"note": "edge"}).Want(201).ID()
		b.designer.Put("/versions/"+next+"/sheet", 1, map[string]any{"rules": []any{}, "counts": []any{map[string]any{"name": "edge", "unit": "stitch", "values": []any{nil, 72}}}}).Want(200)
		shot = sheet()["shots"].([]any)[0].(map[string]any)
		require.Equal(t, []any{"Take 1 said 70 for edge, the text now says 72."}, shot["flags"])
		require.Equal(t, []any{"Size 0-6 months skips edge."}, shot["skips"])
		require.Equal(t, "recorded", b.state(b.crown), "a changed number flags the take and takes nothing away by itself")

		text := b.filmer.Get("/installments/" + b.crown + "/edit-notes.txt").Want(200)
		require.Equal(t, "text/plain; charset=utf-8", text.Header.Get("Content-Type"))
		require.Contains(t, string(text.Body), "said 70 for edge, the text now says 72; show the new number or record it again")
	})
}

func TestCorrectionsShowWhichAcceptedTakesSayTheOldNumber(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newShoot(t, s)
		ring := b.addShot(b.crown, map[string]any{"title": "The ring", "from_state": b.ties, "to_state": b.ties, "numbers": []any{map[string]any{"count": "edge", "words": "stitches around"}}})
		take := b.filmer.Post("/installments/"+b.crown+"/takes", map[string]any{"seconds": 300}).Want(201).ID()
		b.filmer.Put("/takes/"+take+"/shots", 1, map[string]any{"shots": []any{map[string]any{"shot_id": ring, "at": "0:10"}}}).Want(200)
		path := "/designs/" + b.design + "/corrections"
		large := b.editor.Post(path, map[string]any{"place": "Ring", "count": "edge", "sizes": []string{b.large}}).Want(201).ID()
		small := b.editor.Post(path, map[string]any{"place": "Ring", "count": "edge", "sizes": []string{b.small}}).Want(201).ID()
		spoken := func(at int) (out []string) {
			for _, k := range b.editor.Get(path).Want(200).Map()["items"].([]any)[at].(map[string]any)["spoken"].([]any) {
				out = append(out, k.(map[string]any)["sentence"].(string))
			}
			return out
		}
		flags := func() any {
			return b.filmer.Get("/installments/" + b.crown + "/sheet").Want(200).Map()["shots"].([]any)[0].(map[string]any)["flags"]
		}
		require.Empty(t, spoken(0), "a take that was not accepted is recorded again anyway")
		b.filmer.Put("/takes/"+take+"/shots", 2, map[string]any{"shots": []any{map[string]any{"shot_id": ring, "at": "0:10", "accepted": true}}}).Want(200)
		require.Equal(t, []string{"“Crown”, “The ring”, take 1: says 70 for edge, which is to be corrected."}, spoken(0))
		require.Empty(t, spoken(1), "another size's number was not said")
		require.Equal(t, []any{"Take 1 said 70 for edge, which correction 1, still a draft, is to change."}, flags())

		next := b.designer.Post("/designs/"+b.design+"/versions", map[string]any{"note": "edge"}).Want(201).ID()
		b.designer.Put("/versions/"+next+"/sheet", 1, map[string]any{"rules": []any{}, "counts": []any{map[string]any{"name": "edge", "unit": "stitch", "values": []any{58, 72}}}}).Want(200)
		for _, id := range []string{large, small} {
			b.designer.Do(http.MethodPost, "/corrections/"+id+"/state", map[string]any{"state": "in_text"}, servertest.IfMatch(1)).Want(200)
		}
		require.Equal(t, []string{"“Crown”, “The ring”, take 1: said 70 for edge, the text now says 72."}, spoken(0))
		require.Equal(t, []any{"Take 1 said 70 for edge, the text now says 72 (correction 1).",
			"Correction 2 changes edge for size 0-6 months: the line on screen is 58 (72) now."}, flags())
		notes := string(b.filmer.Get("/installments/" + b.crown + "/edit-notes.txt").Want(200).Body)
		require.Contains(t, notes, "said 70 for edge, the text now says 72 (correction 1); show the new number or record it again")
		require.Contains(t, notes, "correction 2 changes edge for size 0-6 months: the line on screen is 58 (72) now")

		// A take that was read from the mended text says nothing old.
		again := b.filmer.Post("/installments/"+b.crown+"/takes", map[string]any{"seconds": 300}).Want(201).ID()
		s.Clock.Advance(time.Minute)
		b.filmer.Put("/takes/"+again+"/shots", 1, map[string]any{"shots": []any{map[string]any{"shot_id": ring, "at": "0:05", "accepted": true}}}).Want(200)
		require.Empty(t, spoken(0))
		require.Equal(t, []any{}, flags())
		require.NotContains(t, string(b.filmer.Get("/installments/"+b.crown+"/edit-notes.txt").Want(200).Body), "correction")
	})
}

// golden compares with a file; TENTER_REWRITE_GOLDEN=1 writes it anew.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if os.Getenv("TENTER_REWRITE_GOLDEN") != "" {
		require.NoError(t, os.WriteFile(path, got, 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, string(want), string(got), name)
}

func TestWhatTheEditorGets(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newShoot(t, s)
		ring := b.addShot(b.crown, map[string]any{"title": "The ring & round 1", "from_state": b.ties, "to_state": b.point, "numbers": []any{map[string]any{"count": "edge", "words": "stitches around"}}})
		six := b.addShot(b.crown, map[string]any{"title": "Round 6", "from_state": b.point, "to_state": b.point, "differs": "Size 0-6 months ends here."})
		last := b.addShot(b.crown, map[string]any{"title": "The last round", "from_state": b.crown, "to_state": b.crown})
		for i, shots := range [][]any{
			{map[string]any{"shot_id": ring, "at": "0:10", "accepted": true}, map[string]any{"shot_id": six, "at": "3:00"}},
			{map[string]any{"shot_id": six, "at": "0:05.5", "until": "2:05.5", "accepted": true}, map[string]any{"shot_id": last, "at": "2:30", "accepted": true}},
		} {
			take := b.filmer.Post("/installments/"+b.crown+"/takes", map[string]any{"seconds": 300}).Want(201).ID()
			b.filmer.Put("/takes/"+take+"/shots", 1, map[string]any{"shots": shots}).Want(200)
			b.filmer.Post("/takes/"+take+"/slips", map[string]any{"at": fmt.Sprintf("1:0%d", i), "wrong": "says 66", "should_be": "70 stitches", "remedy": "on_screen_note"}).Want(201)
		}
		path := "/installments/" + b.crown + "/"
		vtt := b.editor.Get(path + "chapters.vtt").Want(200)
		require.Equal(t, "text/vtt; charset=utf-8", vtt.Header.Get("Content-Type"))
		golden(t, "chapters.vtt", vtt.Body)
		golden(t, "chapters.txt", b.editor.Get(path+"chapters.txt").Want(200).Body)
		golden(t, "cards.txt", b.editor.Get(path+"cards.txt").Want(200).Body)
		golden(t, "edit-notes.txt", b.editor.Get(path+"edit-notes.txt").Want(200).Body)

		b.filmer.Patch("/shots/"+six, 1, map[string]any{"chapter": "0:00"}).Want(200)
		b.editor.Get(path + "chapters.vtt").Want(409)
		require.Contains(t, b.editor.Get(path + "sheet").Map()["trouble"].([]any)[0], "mend the places")
	})
}
