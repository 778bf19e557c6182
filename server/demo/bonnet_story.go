package demo

import (
	"context"

	"tenter/models"
	"tenter/models/cautions"
)

// tellBonnet tells of the bonnet: tested without trouble, and now in the
// middle of its filming.
func tellBonnet(d *diary, store *models.Store) {
	g := bonnet()
	d.on(-80, "10:00", designer, "sets the bonnet up", func(ctx context.Context, as models.Actor) error {
		return g.setUp(ctx, store, as)
	})
	d.on(-80, "10:20", designer, "says what the bonnet has", func(ctx context.Context, as models.Actor) error {
		design, err := store.Design(ctx, g.id)
		if err != nil {
			return err
		}
		_, err = store.PutFeatures(ctx, as, g.id, &design.Revision, []cautions.Feature{cautions.NeckCord, cautions.Hat})
		return err
	})
	var fit string
	d.on(-79, "11:00", designer, "plans a fit sample", func(ctx context.Context, as models.Actor) error {
		held, err := handleID(ctx, store, maker)
		if err != nil {
			return err
		}
		s, err := store.AddSample(ctx, as, g.id, models.Sample{SizeID: g.sizeIDs[g.filmed], VersionID: &g.versionID, Label: "the white one", Purpose: "fit", HeldBy: held})
		if err != nil {
			return err
		}
		fit = s.ID
		return nil
	})
	d.on(-76, "19:00", maker, "measures the fit sample", func(ctx context.Context, as models.Actor) error {
		if err := move(ctx, store, as, fit, models.Move{WorkedNote: text("whole, washed and dried over a bowl")}); err != nil {
			return err
		}
		return measureSample(ctx, store, as, fit, washed{swatch(20.5, 15.5), swatch(20, 15)}, 58, g, []float64{26, 8, 15, 27.5})
	})
	d.on(-72, "15:00", techEditor, "signs the bonnet off", g.signOff(store, "Every round adds up."))
	testBonnet(d, newRound(store, g))
	filmBonnet(d, newRun(store, g, bonnetParts()))
}

// testBonnet is the bonnet's round, long over.
func testBonnet(d *diary, r *round) {
	testers := []struct {
		handle string
		size   int // from 1
		sent   int
	}{{"vetch", 1, -54}, {"mallow", 2, -52}, {"campion", 3, -50}, {"sedge", 3, -51}, {"awl", 4, -47}}
	d.on(-70, "09:00", designer, "opens the bonnet's call", func(ctx context.Context, as models.Actor) error {
		if err := r.open(ctx, as, "Bonnet, one round", d.day(-70), d.day(-46), 1, 1, 2); err != nil {
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
		f := finisher{handle: t.handle, unit: "cm", size: t.size - 1, yarn: bonnetYarn(r.g)}
		if measuresInches(t.handle) {
			f.unit = "in"
		}
		d.on(-69, clockAt(9+i, 20), t.handle, "accepts", r.accept(t.handle))
		d.on(t.sent, clockAt(18+i%3, 10), t.handle, "reports", r.send(f, ""))
	}
	d.on(-45, "10:00", designer, "approves the bonnet's reports", r.approve("vetch", "mallow", "campion", "sedge", "awl"))
	d.on(-44, "11:00", designer, "states the bonnet's yarn", r.g.stateYarn(r.store, bonnetYarn(r.g), true))
	d.on(-45, "10:10", designer, "closes the bonnet's call", r.close)
}

func bonnetParts() []part {
	return []part{
		{title: "Crown", covers: "ring and increase rounds", airs: -9, link: "https://video.example/pipwillow-1"},
		{title: "Sides", covers: "back and forth over the sides", airs: 2},
		{title: "Face edge", covers: "the shells along the face", airs: 5, recordBy: -1},
		{title: "Nape and ties", covers: "gathering the nape, both ties", airs: 12},
		{title: "Washing and shaping", covers: "ends, drying over a bowl", airs: 19},
	}
}

// filmBonnet is where it went wrong: the maker worked the camera sample past
// the face edge, which is not recorded yet.
func filmBonnet(d *diary, r *filmRun) {
	d.on(-26, "09:00", designer, "plans the bonnet's run", r.plan(d))
	d.on(-26, "09:30", designer, "plans the camera sample", r.startCamera("the butter one"))
	d.on(-25, "10:00", filmer, "names the bonnet's states", r.nameStates)
	d.on(-25, "10:40", filmer, "plans the shots still to come", r.planShots)
	d.on(-25, "19:00", maker, "says when she works", sayWork(r.store, maker, "mon,tue,thu,sat,sun", 1.5))
	d.on(-24, "08:30", filmer, "says when he works", sayWork(r.store, filmer, "mon,wed,fri", 3))
	d.on(-20, "12:00", maker, "hands the camera sample over", r.hand(filmer, "ring and round 1, as agreed"))
	filmFirst(d, r)
	filmSecond(d, r)
	d.on(-5, "09:00", filmer, "hands the camera sample back", r.hand(maker, "for the ends and a wash; the face edge is filmed next"))
	d.on(-2, "21:30", maker, "works past the face edge", r.work(3, "a quiet evening, so I did the face edge as well"))
}

func filmFirst(d *diary, r *filmRun) {
	d.on(-16, "11:00", filmer, "records the crown", r.record(1, 1312, "in the window, grey light",
		models.Slip{AtMS: at(6, 40), Wrong: "says 66 stitches in the last round", ShouldBe: "72 in the filmed size", Remedy: models.RecordAgain}))
	d.on(-16, "16:00", designer, "sets the first take aside", r.decide(1, false))
	d.on(-15, "10:30", filmer, "records the crown again", r.record(1, 1287, "",
		models.Slip{AtMS: at(3, 5), Wrong: "the ring is out of the picture for a moment", Remedy: models.Cut},
		models.Slip{AtMS: at(12, 4) + 500, Wrong: "“slip stitch” is said for the join; the text has it as a sl st with its abbreviation", ShouldBe: "show: slip stitch (sl st)", Remedy: models.OnScreenNote}))
	d.on(-15, "17:00", designer, "accepts the crown", r.decide(1, true))
	d.on(-15, "17:30", filmer, "has worked the crown", r.work(1, "on camera"))
	d.on(-13, "12:00", filmer, "mends the crown's slips", r.mend(1, 0, 1))
	d.on(-13, "12:20", filmer, "has edited the crown", r.mark(1, edited()))
	d.on(-12, "15:00", filmer, "has captioned the crown", r.mark(1, captioned()))
	d.on(-11, "09:10", filmer, "schedules the crown", r.mark(1, scheduled()))
	d.on(-10, "16:30", designer, "lets the crown out before the cautions are read", r.openGate(models.GateCautions, 1,
		"The crown has neither cord nor tie. We read the cautions together before the nape and the ties go out."))
	r.goesOut(d, -9, 1, true)
}

func filmSecond(d *diary, r *filmRun) {
	d.on(-7, "10:45", filmer, "records the sides", r.record(2, 1544, "the second half is the better one",
		models.Slip{AtMS: at(1, 50), Wrong: "a row is counted twice", Remedy: models.Cut},
		models.Slip{AtMS: at(17, 22), Wrong: "says 20 rows for the 6–12 months size", ShouldBe: "21 rows", Remedy: models.OnScreenNote}))
	d.on(-7, "18:00", designer, "accepts the sides", r.decide(2, true))
	d.on(-7, "18:30", filmer, "has worked the sides", r.work(2, "on camera"))
	d.on(-4, "13:00", filmer, "cuts the double row", r.mend(2, 0))
	d.on(-4, "13:10", filmer, "has edited the sides", r.mark(2, edited()))
}
