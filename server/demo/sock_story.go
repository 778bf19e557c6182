package demo

import (
	"context"

	"tenter/models"
)

// tellSock tells of the sock: tested, corrected, and released installment by
// installment.
func tellSock(d *diary, store *models.Store) {
	g := sock()
	d.on(-98, "10:00", designer, "sets the sock up", func(ctx context.Context, as models.Actor) error {
		return g.setUp(ctx, store, as)
	})
	d.on(-93, "15:00", techEditor, "signs the first version off", g.signOff(store, ""))
	r := newRound(store, g)
	testSock(d, r)
	correctSock(d, r)
	d.on(-57, "15:40", techEditor, "signs the second version off", g.signOff(store, "The gusset adds up now, in every size."))
	run := newRun(store, g, sockParts())
	filmSock(d, run)
	d.on(-30, "09:00", designer, "announces the release", func(ctx context.Context, as models.Actor) error {
		design, err := store.Design(ctx, g.id)
		if err != nil {
			return err
		}
		on := d.day(-17)
		_, err = store.ChangeDesign(ctx, as, g.id, &design.Revision, models.DesignChange{ReleasedOn: &on})
		return err
	})
	d.on(-17, "17:00", designer, "releases the sock", run.release)
	d.on(-17, "17:20", designer, "puts the corrections where readers find them", run.tick(0, models.ItemCorrections))
	d.on(-15, "09:50", designer, "thanks the testers", r.tell(models.RemindThanks))
	d.on(-15, "10:00", designer, "ticks the thanks off", run.tick(0, models.ItemThanks))
}

func testSock(d *diary, r *round) {
	testers := []struct {
		handle string
		size   int // from 1
		sent   int
	}{{"mallow", 1, -70}, {"heddle", 2, -67}, {"bracken", 3, -68}, {"burdock", 4, -66}, {"spindle", 4, -64}, {"skein", 5, -62}}
	d.on(-90, "09:00", designer, "opens the sock's call", func(ctx context.Context, as models.Actor) error {
		if err := r.open(ctx, as, "Sock, first version", d.day(-90), d.day(-61), 1, 1, 2); err != nil {
			return err
		}
		for _, t := range testers {
			if err := r.ask(ctx, as, t.handle, t.size-1, ""); err != nil {
				return err
			}
		}
		return nil
	})
	for i, t := range testers {
		f := finisher{handle: t.handle, unit: "cm", size: t.size - 1, yarn: sockYarn(r.g)}
		if measuresInches(t.handle) {
			f.unit = "in"
		}
		if f.size == gussetSize {
			f.textFault = map[string]float64{"foot circumference": gussetFault}
		}
		d.on(-89, clockAt(9+i, 40), t.handle, "accepts", r.accept(t.handle))
		d.on(t.sent, clockAt(17+i%4, 25), t.handle, "reports", r.send(f, ""))
	}
	d.on(-60, "10:00", designer, "approves the sock's reports", r.approve("mallow", "heddle", "bracken", "burdock", "spindle", "skein"))
	d.on(-58, "11:30", designer, "states the sock's yarn", r.g.stateYarn(r.store, sockYarn(r.g), true))
	d.on(-60, "10:10", designer, "closes the sock's call", r.close)
}

// correctSock is the second version: what was wrong, and for whom.
func correctSock(d *diary, r *round) {
	var gusset, flap *models.Remark
	d.on(-66, "20:00", "burdock", "remarks on the gusset", func(ctx context.Context, as models.Actor) (err error) {
		gusset, err = r.store.RemarkOnAssignment(ctx, as, r.asked["burdock"], models.NewRemark{Place: "Gusset, round 1",
			Body: "I pick up 17 on each side and have 88, not 86. After 9 decrease rounds the foot has 70."})
		return err
	})
	d.on(-63, "21:10", "heddle", "remarks on the heel flap", func(ctx context.Context, as models.Actor) (err error) {
		flap, err = r.store.RemarkOnAssignment(ctx, as, r.asked["heddle"], models.NewRemark{Place: "Heel flap, row 2",
			Body: "Should the first stitch be slipped here too? The edge is neater."})
		return err
	})
	d.on(-58, "09:30", designer, "makes the second version", func(ctx context.Context, as models.Actor) error {
		if _, err := r.store.AddVersion(ctx, as, r.g.id, gussetNote); err != nil {
			return err
		}
		r.g.correctGusset()
		if err := r.g.putSheet(ctx, r.store, as); err != nil {
			return err
		}
		if err := settle(ctx, r.store, as, gusset, "You are right; version 2 has 88 and 10 decrease rounds for size 4."); err != nil {
			return err
		}
		return settle(ctx, r.store, as, flap, "Yes. Version 2 says so.")
	})
	seam, edge := &correction{store: r.store}, &correction{store: r.store}
	d.on(-58, "14:00", techEditor, "writes the corrections", func(ctx context.Context, as models.Actor) error {
		err := seam.write(ctx, as, r.g, models.NewCorrection{RemarkID: &gusset.ID, CorrectionText: models.CorrectionText{Place: gusset.Place, CountName: "gusset",
			SinceVersion: r.madeID, Why: "The pick-up was counted without the two stitches of the turn."}}, gussetSize)
		if err != nil {
			return err
		}
		return edge.write(ctx, as, r.g, models.NewCorrection{RemarkID: &flap.ID, CorrectionText: models.CorrectionText{Place: flap.Place, SinceVersion: r.madeID,
			Was: "Row 2 (WS): purl to the end.", IsNow: "Row 2 (WS): slip 1 purlwise, purl to the end."}})
	})
	d.on(-58, "14:30", designer, "has the gusset in the text", seam.move(models.CorrectionInText))
	d.on(-58, "14:31", designer, "has the heel flap in the text", edge.move(models.CorrectionInText))
	d.on(-57, "09:00", designer, "tells the testers", r.tell(models.RemindCorrection))
	d.on(-16, "10:00", designer, "announces the gusset", seam.move(models.CorrectionAnnounced))
	d.on(-1, "18:00", techEditor, "drafts what a reader found", func(ctx context.Context, as models.Actor) error {
		toe := &correction{store: r.store}
		return toe.write(ctx, as, r.g, models.NewCorrection{CorrectionText: models.CorrectionText{Place: "Toe, round 1", SinceVersion: r.madeID, FoundWords: "a reader, by letter",
			Was: "K to 3 sts before the marker, k2tog, k1.", IsNow: "K to 3 sts before the marker, k2tog, k1, slip the marker, k1, ssk, k to the end.",
			Why: "The second decrease of the round is missing; whoever has made a sock does it all the same."}})
	})
}

func sockParts() []part {
	return []part{
		{title: "Cuff and leg", covers: "cast-on to the heel", airs: -17, link: "https://video.example/marlstep-1"},
		{title: "Heel flap and turn", covers: "flap, heel turn", airs: -10, link: "https://video.example/marlstep-2"},
		{title: "Gusset", covers: "pick-up and decreases", airs: -3, link: "https://video.example/marlstep-3"},
		{title: "Foot", covers: "gusset to toe", airs: 4, link: "https://video.example/marlstep-4"},
		{title: "Toe and blocking", covers: "toe, grafting, blocking", airs: 11},
	}
}

func filmSock(d *diary, r *filmRun) {
	d.on(-56, "09:00", designer, "plans the sock's run", r.plan(d))
	d.on(-56, "09:30", designer, "plans the camera sample", r.startCamera("the moss pair"))
	d.on(-50, "12:00", maker, "counts the cuff after washing it", func(ctx context.Context, as models.Actor) error {
		return countSample(ctx, r.store, as, r.camera, washed{swatch(30.5, 42.5), swatch(30, 42)}, 0)
	})
	d.on(-49, "12:00", maker, "hands the camera sample over", r.hand(filmer, "one sock to the end, the other with its cuff cast on"))
	for i := range r.parts {
		n, day := i+1, -47+6*i
		var slips []models.Slip
		if n == 3 {
			slips = []models.Slip{{AtMS: at(9, 48), Wrong: "says nine decrease rounds for size 4", ShouldBe: "ten, since version 2", Remedy: models.OnScreenNote}}
		}
		d.on(day, "11:00", filmer, "records", r.record(n, 1100+90*n, "", slips...))
		d.on(day, "17:00", designer, "accepts", r.decide(n, true))
		d.on(day, "17:30", filmer, "has worked it", r.work(n, "on camera"))
		if n == 3 {
			d.on(day+2, "09:30", filmer, "mends the slip", r.mend(n, 0))
		}
		d.on(day+2, "10:00", filmer, "has edited it", r.mark(n, edited()))
		d.on(day+3, "10:00", filmer, "has captioned it", r.mark(n, captioned()))
	}
	for i, p := range r.parts[:4] {
		d.on(min(p.airs-2, -2), "09:05", filmer, "schedules", r.mark(i+1, scheduled()))
		if p.airs < 0 {
			r.goesOut(d, p.airs, i+1, i < 2) // nobody has told the testers of the third
		}
	}
	d.on(-1, "16:00", filmer, "schedules the last one", r.mark(5, scheduled()))
}
