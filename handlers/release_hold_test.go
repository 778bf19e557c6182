package handlers_test

import (
	"net/http"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/server/servertest"
)

// TestAGateIsOpenedByHand keeps the reason, shows it, and lets it be taken back.
func TestAGateIsOpenedByHand(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		path := "/designs/" + b.design + "/gate-overrides"
		seen := b.gate("", "yarn").Seen
		b.filmer.Post(path, map[string]any{"gate": "yarn", "reason": "mine", "seen": seen}).Want(403)
		b.editor.Post(path, map[string]any{"gate": "yarn", "reason": "mine", "seen": seen}).Want(403)
		b.designer.Post(path, map[string]any{"gate": "yarn", "reason": " ", "seen": seen}).Names(422, "body.reason")
		b.designer.Post(path, map[string]any{"gate": "moon", "reason": "x", "seen": seen}).Names(422, "body.gate")
		b.designer.Post(path, map[string]any{"gate": "yarn", "installment_id": b.otherDesign, "reason": "x", "seen": seen}).Names(422, "body.installment_id")
		b.designer.Post(path, map[string]any{"gate": "yarn", "installment_id": b.ties, "reason": "x", "seen": seen}).Names(422, "body.gate")
		b.designer.Post(path, map[string]any{"gate": "counts", "reason": "x", "seen": seen}).Want(409) // open by itself
		b.designer.Post(path, map[string]any{"gate": "yarn", "reason": "x", "seen": "of another day"}).Want(412)
		require.True(t, b.gate("", "yarn").Shut)

		id := b.open("", "yarn", "the shop states it").Want(201).ID()
		g := b.gate("", "yarn")
		require.False(t, g.Shut)
		require.True(t, g.ByHand)
		require.Equal(t, "the shop states it", g.Opened.Reason)
		require.Equal(t, "designer", g.Opened.By)
		require.Equal(t, "No amount of yarn is stated yet.", g.Opened.Why)
		b.open("", "yarn", "again").Want(409)
		events := b.designer.Get("/designs/" + b.design + "/history?limit=1").Want(200).Map()["items"].([]any)
		require.Equal(t, "gate override", events[0].(map[string]any)["entity"])

		b.filmer.Post("/gate-overrides/"+id+"/take-back", map[string]any{}).Want(403)
		b.designer.Post("/gate-overrides/nobody/take-back", map[string]any{}).Want(404)
		b.designer.Post("/gate-overrides/"+id+"/take-back", map[string]any{}).Want(200)
		b.designer.Post("/gate-overrides/"+id+"/take-back", map[string]any{}).Want(409)
		require.True(t, b.gate("", "yarn").Shut)
		require.Nil(t, b.gate("", "yarn").Opened)
		require.Len(t, b.release().TakenBack, 1)
		require.Equal(t, "the shop states it", b.release().TakenBack[0].Reason)
	})
}

// TestAnOverrideHoldsForWhatItWasOpenedFor: less is covered, more or something
// else shuts the gate again.
func TestAnOverrideHoldsForWhatItWasOpenedFor(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		remark := func() string {
			return b.editor.Post("/designs/"+b.design+"/remarks", map[string]any{"body": "unclear"}).Want(201).ID()
		}
		settle := func(id string) { b.editor.Patch("/remarks/"+id, 1, map[string]any{"settled": true}).Want(200) }
		first, second := remark(), remark()
		b.open("", "remarks", "both are about spelling").Want(201)
		settle(first)
		require.False(t, b.gate("", "remarks").Shut, "one of the two is left, and was meant")
		third := remark()
		g := b.gate("", "remarks")
		require.True(t, g.Shut, "the third was never meant")
		require.Equal(t, "It was opened for something else: 2 remarks on the text are not settled.", g.Again)
		settle(third)
		require.False(t, b.gate("", "remarks").Shut)
		settle(second)
		require.Empty(t, b.gate("", "remarks").Why)

		b.open("", "sign_off", "the editor read it on paper").Want(201)
		require.False(t, b.gate("", "sign_off").Shut)
		b.putSheet() // another text from here on
		g = b.gate("", "sign_off")
		require.True(t, g.Shut)
		require.NotEmpty(t, g.Again)
		b.open("", "sign_off", "read again").Want(201)
		require.Equal(t, "read again", b.gate("", "sign_off").Opened.Reason)
		require.Len(t, b.release().TakenBack, 1, "the one that it takes the place of")

		b.designer.Post("/designs/"+b.design+"/versions", map[string]any{"note": "next"}).Want(201)
		require.True(t, b.gate("", "sign_off").Shut, "version 2 goes out now")
		b.designer.Patch("/designs/"+b.design, b.revisionOf("/designs/"+b.design), map[string]any{"out_version": 7}).Names(422, "body.out_version")
		b.designer.Patch("/designs/"+b.design, b.revisionOf("/designs/"+b.design), map[string]any{"out_version": 1}).Want(200)
		require.Equal(t, 1, b.release().OutVersion)
		require.False(t, b.gate("", "sign_off").Shut)
	})
}

// TestWhatAnInstallmentIsShutForCanBeOpenedForItAlone leaves the design's gate,
// and every other installment's, as they are.
func TestWhatAnInstallmentIsShutForCanBeOpenedForItAlone(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		b.open(b.crown, "testers", "the crown is the same in every size").Want(201)
		require.False(t, b.gate(b.crown, "testers").Shut)
		require.True(t, b.gate(b.ties, "testers").Shut)
		require.True(t, b.gate("", "testers").Shut)
		b.open(b.crown, "takes", "it is live").Want(201)
		require.Equal(t, "2 of 3 installments are unrecorded, “Ties” first.", b.gate("", "takes").Why)
		b.open("", "sign_off", "read on paper").Want(201)
		b.putSheet() // another text: that one doesn't hold any more
		b.open(b.crown, "sign_off", "the crown has no numbers").Want(201)
		require.NotEmpty(t, b.gate("", "sign_off").Again, "the design's own stands as it did")
		require.Empty(t, b.release().TakenBack)
		b.open("", "testers", "all of it").Want(201)
		require.False(t, b.gate(b.ties, "testers").Shut, "a gate of the design is open for every installment")
	})
}

// TestNothingAirsWhileAGateIsShut by the API, whoever asks; then it does.
func TestNothingAirsWhileAGateIsShut(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		path := "/installments/" + b.ties
		b.addTake(b.ties)
		b.filmer.Patch(path, 1, map[string]any{"edited": true, "captioned": true, "scheduled": true}).Want(200)
		for _, who := range []*servertest.Client{b.filmer, b.designer} {
			refused := who.Patch(path, 2, map[string]any{"aired": true}).Want(409).Map()
			require.Contains(t, refused["detail"], "“Ties” can't be marked as aired: 3 gates are shut: Tech editor's sign-off, Testers in every size, Design gauge.")
			require.Len(t, refused["errors"], 3)
			require.Equal(t, "body.aired", refused["errors"].([]any)[0].(map[string]any)["location"])
		}
		require.Equal(t, "scheduled", b.editor.Get(path).Map()["state"])
		require.Equal(t, []string{"Tech editor's sign-off", "Testers in every size", "Design gauge"}, b.release().Installments[0].Shut)

		b.sign()
		b.call(0)
		b.addSample(map[string]any{"purpose": "swatch", "after": swatch(14, 11, 10, "cm")})
		b.filmer.Patch(path, 1, map[string]any{"aired": true}).Want(412)
		b.filmer.Patch(path, 2, map[string]any{"aired": true}).Names(422, "body.before_its_day")
		require.Equal(t, "scheduled", b.editor.Get(path).Want(200).Map()["state"], "not out before its day without a word")
		got := b.filmer.Patch(path, 2, map[string]any{"aired": true, "before_its_day": true}).Want(200).Map()
		require.Equal(t, "aired", got["state"])
		video := b.item(b.ties, "video")
		require.True(t, video.Done, "the list and the installment are one truth")
		require.Equal(t, "ada", video.By)
		require.Equal(t, 1, b.release().Days[0].Parts[0].Version)

		// What went out went out in version 1, whatever goes out next.
		b.designer.Post("/designs/"+b.design+"/versions", map[string]any{}).Want(201)
		require.Equal(t, 2, b.release().OutVersion)
		require.Equal(t, "Put up the text, version 1", b.item(b.ties, "text").Says)
		require.Equal(t, "Put up the text, version 2: rounds 1 to 12", b.item(b.crown, "text").Says)

		b.filmer.Patch(path, 3, map[string]any{"aired": false}).Want(200)
		require.False(t, b.item(b.ties, "video").Done)
		b.filmer.Patch(path, 4, map[string]any{"aired": true}).Want(409) // version 2 is not signed
	})
}

// TestCaptionsLetThroughByHandLetItAir although the steps before are not marked.
func TestCaptionsLetThroughByHandLetItAir(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		path := "/installments/" + b.ties
		b.addTake(b.ties)
		for _, key := range []string{"sign_off", "testers", "gauge"} {
			b.open("", key, "a trial").Want(201)
		}
		b.filmer.Patch(path, 1, map[string]any{"aired": true}).Names(422, "body.aired")
		b.open(b.ties, "captions", "they come on Monday").Want(201)
		b.filmer.Patch(path, 1, map[string]any{"aired": true, "before_its_day": true}).Want(200)
		require.Equal(t, "aired", b.editor.Get(path).Map()["state"])
	})
}

// TestOneChangeMayCaptionAndAir: what the same change marks counts.
func TestOneChangeMayCaptionAndAir(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		b.addTake(b.ties)
		for _, key := range []string{"sign_off", "testers", "gauge"} {
			b.open("", key, "a trial").Want(201)
		}
		b.filmer.Patch("/installments/"+b.ties, 1, map[string]any{"edited": true, "captioned": true, "scheduled": true, "aired": true, "before_its_day": true}).Want(200)
	})
}

// TestAGateThatShutsBetweenReadingAndMarking: what the page showed is not what
// counts, and an override for what it showed does not open what is shut by then.
func TestAGateThatShutsBetweenReadingAndMarking(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		b.addTake(b.ties)
		b.filmer.Patch("/installments/"+b.ties, 1, map[string]any{"edited": true, "captioned": true, "scheduled": true}).Want(200)
		b.sign()
		b.call(0)
		b.addSample(map[string]any{"purpose": "swatch", "after": swatch(14, 11, 10, "cm")})
		require.Empty(t, b.release().Installments[0].Shut, "what the filmer reads")
		b.putSheet() // withdraws the sign-off
		refused := b.filmer.Patch("/installments/"+b.ties, 2, map[string]any{"aired": true}).Want(409).Map()
		require.Contains(t, refused["detail"], "Tech editor's sign-off")

		seen := b.gate("", "sign_off").Seen
		b.sign()
		b.putSheet()
		b.designer.Post("/designs/"+b.design+"/gate-overrides", map[string]any{"gate": "sign_off", "reason": "x", "seen": seen}).Want(412)
	})
}

// TestTwoOpenAGateAtOnce: one override stands.
func TestTwoOpenAGateAtOnce(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		body := map[string]any{"gate": "yarn", "reason": "both at once", "seen": b.gate("", "yarn").Seen}
		var wg sync.WaitGroup
		statuses := make([]int, 4)
		for i := range statuses {
			wg.Go(func() { statuses[i] = b.designer.Post("/designs/"+b.design+"/gate-overrides", body).Status })
		}
		wg.Wait()
		made := 0
		for _, status := range statuses {
			if status == http.StatusCreated {
				made++
				continue
			}
			require.Equal(t, http.StatusConflict, status)
		}
		require.Equal(t, 1, made)
	})
}

// TestTheTextIsReleasedOnlyWithEveryGateOpen: announcing a day is no release.
func TestTheTextIsReleasedOnlyWithEveryGateOpen(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		path := "/designs/" + b.design
		b.designer.Patch(path, b.revisionOf(path), map[string]any{"released_on": "2027-02-01"}).Want(200)
		require.Nil(t, b.designer.Get(path).Map()["released_at"], "its day is past, and nobody has released it")
		require.Equal(t, "overdue", b.release().Days[0].Standing)
		revision := b.revisionOf(path)
		b.filmer.Patch(path, revision, map[string]any{"released": true}).Want(403)
		refused := b.designer.Patch(path, revision, map[string]any{"released": true}).Want(409).Map()
		require.Contains(t, refused["detail"], "Yarn amounts set")
		require.Equal(t, revision, b.revisionOf(path), "nothing was changed")

		b.openGates(b.design, "")
		b.designer.Patch(path, revision, map[string]any{"released": true, "terms": "uk"}).Names(422, "body.released")
		got := b.designer.Patch(path, revision, map[string]any{"released": true}).Want(200).Map()
		require.NotNil(t, got["released_at"])
		require.Equal(t, "2027-02-01", got["released_on"], "the day that was announced")
		require.Equal(t, "designer", b.item("", "released").By)
		b.designer.Patch(path, revision+1, map[string]any{"released_on": nil}).Names(422, "body.released_on")
		b.designer.Patch(path, revision+1, map[string]any{"released": false}).Want(200)
		require.False(t, b.item("", "released").Done)
	})
}

func TestTheListIsWorkedThrough(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s) // today is 8 February; ties air on the 14th, crown on the 21st
		tick := func(c *servertest.Client, body map[string]any) *servertest.Answer {
			return c.Put("/designs/"+b.design+"/release/ticks", 0, body)
		}
		standings := []string{}
		for _, d := range b.release().Days {
			standings = append(standings, d.Standing)
		}
		require.Equal(t, []string{"this_week", "later", "undated"}, standings)

		tick(b.editor, map[string]any{"item": "captions", "installment_id": b.ties, "done": true}).Want(403)
		tick(b.filmer, map[string]any{"item": "video", "installment_id": b.ties, "done": true}).Want(422)
		tick(b.filmer, map[string]any{"item": "thanks", "installment_id": b.ties, "done": true}).Names(422, "body.item")
		tick(b.filmer, map[string]any{"item": "captions", "installment_id": b.otherDesign, "done": true}).Want(404)
		tick(b.filmer, map[string]any{"item": "text", "installment_id": b.ties, "done": true}).Names(422, "body.version")
		tick(b.filmer, map[string]any{"item": "captions", "installment_id": b.ties, "done": true}).Want(200)
		tick(b.filmer, map[string]any{"item": "captions", "installment_id": b.ties, "done": true}).Want(200)
		i := b.item(b.ties, "captions")
		require.True(t, i.Done)
		require.Equal(t, "ada", i.By)
		tick(b.designer, map[string]any{"item": "captions", "installment_id": b.ties, "done": false}).Want(200)
		require.False(t, b.item(b.ties, "captions").Done)

		text := map[string]any{"item": "text", "installment_id": b.ties, "done": true, "version": 1}
		refused := tick(b.designer, text).Want(409).Map()
		require.Contains(t, refused["detail"], "The text can't be put up: 3 gates are shut")
		for _, key := range []string{"sign_off", "testers", "gauge"} {
			b.open("", key, "a trial").Want(201)
		}
		text["before_its_day"] = true
		tick(b.designer, text).Want(200)
		require.True(t, b.item(b.ties, "text").Done)
		b.designer.Post("/designs/"+b.design+"/versions", map[string]any{}).Want(201)
		i = b.item(b.ties, "text")
		require.False(t, i.Done, "another version goes out now")
		require.Equal(t, "Version 1 was put up; version 2 goes out now.", i.Again)
		tick(b.designer, text).Want(412)
	})
}

// TestWhoOpenedAndTickedIsTold to themselves.
func TestWhoOpenedAndTickedIsTold(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		b.open("", "yarn", "the shop states it").Want(201)
		b.filmer.Put("/designs/"+b.design+"/release/ticks", 0, map[string]any{"item": "captions", "installment_id": b.ties, "done": true}).Want(200)
		require.Contains(t, string(b.designer.Get("/me/data").Want(200).Body), "the shop states it")
		require.Contains(t, string(b.filmer.Get("/me/data").Want(200).Body), `"captions"`)
		require.NotContains(t, string(b.As("pim2", models.Maker).Get("/me/data").Want(200).Body), "the shop states it")
	})
}
