package demo

import (
	"context"

	"tenter/models"
)

// course is what testers told along the way: how far they are, and that one of
// them needs more time. One has gone quiet.
func (p *pulloverStory) course(d *diary) {
	d.on(-33, "11:20", designer, "opens the sign-up page", func(ctx context.Context, as models.Actor) error {
		_, err := p.store.PutSignUp(ctx, as, p.callID, nil, models.NewSignUp{Open: true,
			Introduction: "We look for people who like plain crochet and a tape measure. Sizes 8 and 9 find fewest hands; if one of them is yours, you are especially welcome."})
		return err
	})
	d.on(-18, "20:10", "skein", "tells how far", p.checkIn("skein", 1, ""))
	d.on(-15, "09:30", "larch", "tells how far", p.checkIn("larch", 2, ""))
	d.on(-7, "19:45", "skein", "tells how far", p.checkIn("skein", 3, "Both sleeves are still to come."))
	d.on(-4, "21:30", "skein", "asks for time", func(ctx context.Context, as models.Actor) error {
		_, err := p.store.AskForTime(ctx, as, p.asked["skein"], d.day(6), "I was travelling without my hook.")
		return err
	})
	d.on(-3, "09:20", designer, "gives more time", func(ctx context.Context, as models.Actor) error {
		a, err := p.store.Assignment(ctx, as, p.asked["skein"])
		if err != nil {
			return err
		}
		_, err = p.store.AnswerExtension(ctx, as, a.ID, &a.Revision, true)
		return err
	})
	d.on(-1, "08:15", "larch", "tells how far", p.checkIn("larch", 4, "It is drying; I measure it at the weekend."))
}

// checkIn tells how many sections of the work are finished.
func (r *round) checkIn(handle string, done int, note string) deed {
	return func(ctx context.Context, as models.Actor) error {
		_, err := r.store.AddCheckIn(ctx, as, r.asked[handle], done, note)
		return err
	}
}
