package demo

import (
	"context"
	"fmt"

	"tenter/models"
)

// openGate opens a gate by hand, for one installment alone where its number is
// not 0.
func (r *filmRun) openGate(gate models.GateKey, number int, reason string) deed {
	return func(ctx context.Context, as models.Actor) error {
		page, err := r.store.Release(ctx, r.g.id)
		if err != nil {
			return err
		}
		of, installment := page.Gates.Design, ""
		if number > 0 {
			installment = r.ids[number-1]
			of = page.Gates.Installments[installment]
		}
		for _, g := range of {
			if g.Key == gate {
				_, err := r.store.OpenGate(ctx, as, r.g.id, models.NewOverride{Gate: gate, InstallmentID: installment, Reason: reason, Seen: g.Seen()})
				return err
			}
		}
		return fmt.Errorf("there is no gate %s", gate)
	}
}

// tick ticks an item off an installment's day, or off the design's own where
// the number is 0.
func (r *filmRun) tick(number int, item models.ReleaseItemKey) deed {
	return func(ctx context.Context, as models.Actor) error {
		w := models.TickWish{Item: item, Done: true}
		if number > 0 {
			w.InstallmentID = r.ids[number-1]
		}
		if item == models.ItemText {
			page, err := r.store.Release(ctx, r.g.id)
			if err != nil {
				return err
			}
			w.Version = &page.Out.Number
		}
		return r.store.TickRelease(ctx, as, r.g.id, w)
	}
}

// release marks the whole text as out.
func (r *filmRun) release(ctx context.Context, as models.Actor) error {
	design, err := r.store.Design(ctx, r.g.id)
	if err != nil {
		return err
	}
	yes := true
	_, err = r.store.ChangeDesign(ctx, as, r.g.id, &design.Revision, models.DesignChange{Released: &yes})
	return err
}

// goesOut is an installment's evening, from the text to the note to testers.
func (r *filmRun) goesOut(d *diary, day, number int, told bool) {
	d.on(day, "17:40", designer, "puts the text up", r.tick(number, models.ItemText))
	d.on(day, "18:05", filmer, "it is out", r.mark(number, aired()))
	d.on(day, "18:10", filmer, "has put the captions with it", r.tick(number, models.ItemCaptions))
	if told {
		d.on(day, "19:15", designer, "tells the testers", r.tick(number, models.ItemTesters))
	}
}
