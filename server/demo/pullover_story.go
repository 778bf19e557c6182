package demo

import (
	"context"
	"time"

	"tenter/models"
)

// pulloverStory is the pullover and what has become of it.
type pulloverStory struct {
	*garment
	*round
	fitSample string
}

func tellPullover(d *diary, store *models.Store) {
	g := pullover()
	p := &pulloverStory{garment: g, round: newRound(store, g)}
	p.draft(d)
	p.sampling(d)
	p.testing(d)
	p.reporting(d)
	p.remarks(d)
	p.planning(d)
}

// draft is how the sheet came about: a slip in it was found by the tech editor
// before anybody was given it.
func (p *pulloverStory) draft(d *diary) {
	const slip, right = 30, 32 // the neck of size 7
	d.on(-48, "10:05", designer, "sets the pullover up", func(ctx context.Context, as models.Actor) error {
		if err := p.layOut(ctx, p.store, as); err != nil {
			return err
		}
		p.set("neck", 6, slip)
		return p.putSheet(ctx, p.store, as)
	})
	var found *models.Remark
	d.on(-46, "16:20", techEditor, "finds a slip in the neck", func(ctx context.Context, as models.Actor) (err error) {
		found, err = p.store.AddRemark(ctx, as, p.id, "", models.NewRemark{Place: "Back, shaping of the neck",
			Body: "Size 7: two shoulders of 39 and a neck of 30 make 108, but the back has 110."})
		return err
	})
	d.on(-45, "09:40", designer, "corrects the neck", func(ctx context.Context, as models.Actor) error {
		p.set("neck", 6, right)
		if err := p.putSheet(ctx, p.store, as); err != nil {
			return err
		}
		return settle(ctx, p.store, as, found, "Right: the neck is 32. The sheet is corrected; the rule would have told me, had I looked.")
	})
	d.on(-44, "14:30", techEditor, "signs the counts off", p.signOff(p.store, "Counts only; the text is still to be read against them."))
}

func (p *pulloverStory) sampling(d *diary) {
	d.on(-45, "11:00", designer, "plans the fit sample", func(ctx context.Context, as models.Actor) error {
		held, err := handleID(ctx, p.store, maker)
		if err != nil {
			return err
		}
		s, err := p.store.AddSample(ctx, as, p.id, models.Sample{SizeID: p.sizeIDs[p.filmed], VersionID: &p.versionID, Label: "the oat one",
			Purpose: "fit", WorkedNote: "not begun", HeldBy: held})
		if err != nil {
			return err
		}
		p.fitSample = s.ID
		return nil
	})
	d.on(-40, "18:30", maker, "reaches the division", func(ctx context.Context, as models.Actor) error {
		return move(ctx, p.store, as, p.fitSample, models.Move{WorkedNote: text("body to the division")})
	})
	d.on(-37, "20:10", maker, "finishes and measures the fit sample", func(ctx context.Context, as models.Actor) error {
		if err := move(ctx, p.store, as, p.fitSample, models.Move{WorkedNote: text("whole, washed and dried flat"), Note: "Wider in the hem than I like, but it sits well."}); err != nil {
			return err
		}
		if err := take(ctx, p.store, as, models.PhotoPlace{SampleID: p.fitSample}, shot{"Drying flat", oat, false}, shot{"The sleeve, before the seam", oat, true}); err != nil {
			return err
		}
		return measureSample(ctx, p.store, as, p.fitSample, washed{swatch(15.5, 12.5), swatch(15, 11.75)}, 742, p.garment,
			[]float64{112.5, 109, 39.5, 21.5, 20.5, 59.5, 46.5, 20})
	})
	d.on(-36, "10:15", maker, "hands the fit sample over", func(ctx context.Context, as models.Actor) error {
		with, err := handleID(ctx, p.store, designer)
		if err != nil {
			return err
		}
		return move(ctx, p.store, as, p.fitSample, models.Move{HeldBy: &with})
	})
}

// planning lays the run out, so that the filming of the pullover is still
// ahead.
func (p *pulloverStory) planning(d *diary) {
	d.on(-14, "09:15", designer, "plans the run", func(ctx context.Context, as models.Actor) error {
		for i, part := range []struct{ title, covers string }{
			{"Swatch and foundation", "gauge, hem rib"},
			{"Body to the underarms", "increase round to the division"},
			{"Back and front", "both panels, neck shaping, shoulders"},
			{"Sleeves", "pick-up, decreases, cuffs"},
			{"Neckband and blocking", "neckband, ends, washing"},
		} {
			if _, err := p.store.AddInstallment(ctx, as, p.id, models.Installment{Title: part.title, Covers: part.covers, AirOn: d.day(26 + 7*i)}); err != nil {
				return err
			}
		}
		return nil
	})
	d.on(-7, "09:30", designer, "says what the ball is", p.stateYarn(p.store, pulloverYarn(p.garment), false))
	d.on(-6, "14:00", designer, "asks for a camera sample", func(ctx context.Context, as models.Actor) error {
		held, err := handleID(ctx, p.store, maker)
		if err != nil {
			return err
		}
		_, err = p.store.AddSample(ctx, as, p.id, models.Sample{SizeID: p.sizeIDs[p.filmed], Label: "the rust one", Purpose: "camera", HeldBy: held})
		return err
	})
}

// remarks are what testers and the tech editor say about places in the text.
func (p *pulloverStory) remarks(d *diary) {
	for _, r := range []struct {
		day              int
		who, place, body string
		answered         int // day, 0 for not yet
		answer           string
		settled          bool
	}{
		{-19, "mallow", "Hem, row 1", "Does the turning chain count as a stitch here? It does in the body.", -18,
			"It doesn't in the hem. The next version says so in row 1.", true},
		{-16, "raddle", "Abbreviations", "fphdc is used in the hem but is not in the list.", -15, "Added to the list.", true},
		{-12, "betony", "Back, row 3", "“Repeat across” leaves one stitch over in size 4. I worked it plainly.", -11,
			"That is what is meant; I will write “ending with 1 hdc”.", true},
		{-9, "madder", "Sleeve, pick-up round", "With 8 stitches to every 7 row ends, as the text says for my size, I come to 62 where my counts say 68. I went on with 62.", 0, "", false},
		{-5, "bobbin", "Sleeve, pick-up round", "My sleeve is snug; is the pick-up right in size 6?", -4,
			"I am looking into it: all three of you are snug there.", false},
		{-4, "thimble", "Neckband", "It would help to have a photo of the corner stitch.", 0, "", false},
	} {
		var written *models.Remark
		d.on(r.day, "19:45", r.who, "remarks on the text", func(ctx context.Context, as models.Actor) (err error) {
			written, err = p.store.RemarkOnAssignment(ctx, as, p.asked[r.who], models.NewRemark{Place: r.place, Body: r.body})
			return err
		})
		if r.answered == 0 {
			continue
		}
		d.on(r.answered, "08:50", designer, "answers "+r.who, func(ctx context.Context, as models.Actor) error {
			if r.settled {
				return settle(ctx, p.store, as, written, r.answer)
			}
			_, err := p.store.AnswerRemark(ctx, as, written.ID, &written.Revision, &r.answer, nil)
			return err
		})
	}
	d.ago(50*time.Minute, techEditor, "looks at the sleeve", func(ctx context.Context, as models.Actor) error {
		_, err := p.store.AddRemark(ctx, as, p.id, "", models.NewRemark{Place: "Sleeve, pick-up round",
			Body: "Size 6 has 8 stitches to 7 row ends in the text; every other size has 5 to 4. 54 row ends at 5 to 4 make 68, at 8 to 7 only 62."})
		return err
	})
}
