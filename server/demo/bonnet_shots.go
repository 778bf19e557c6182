package demo

import (
	"context"

	"tenter/models"
)

// nameStates says what of the bonnet is made in which stretch, and the points
// within it that are shown.
func (r *filmRun) nameStates(ctx context.Context, as models.Actor) error {
	design, err := r.store.Design(ctx, r.g.id)
	if err != nil {
		return err
	}
	hour := 1.0
	ends := []string{"3 * crown * (crown_rounds + 1) / 6", "sides * depth_rows / 2", "3 * sides", "2 * tie_chain + 2 * sides", ""}
	states := []models.DesignState{
		{ID: r.ids[0], InstallmentID: r.ids[0], Stitches: ends[0]},
		{InstallmentID: r.ids[1], Name: "half the depth", Stitches: ends[1]},
		{ID: r.ids[1], InstallmentID: r.ids[1], Stitches: ends[1]},
		{InstallmentID: r.ids[2], Name: "first shell", Stitches: "4"},
		{ID: r.ids[2], InstallmentID: r.ids[2], Stitches: ends[2]},
		{InstallmentID: r.ids[3], Name: "nape gathered", Stitches: "neck"},
		{ID: r.ids[3], InstallmentID: r.ids[3], Stitches: ends[3]},
		{ID: r.ids[4], InstallmentID: r.ids[4], Hours: &hour},
	}
	_, _, err = r.store.PutStates(ctx, as, r.g.id, &design.Revision, states)
	return err
}

// planShots plans what is shown in the installments that are still to be
// recorded.
func (r *filmRun) planShots(ctx context.Context, as models.Actor) error {
	states, err := r.store.DesignStates(ctx, r.g.id)
	if err != nil {
		return err
	}
	at := func(rank int) *string { return &states[rank-1].ID } // 3 the end of the sides, 4 first shell, …
	say := func(name, words string) models.ShotNumber {
		return models.ShotNumber{CountName: name, Words: words}
	}
	for _, s := range []struct {
		part int
		shot models.Shot
	}{
		{3, models.Shot{Title: "Where the face edge begins", FromState: at(3), ToState: at(4), Attached: "the working yarn, at the right corner", Marked: "both corners",
			Numbers: []models.ShotNumber{say("sides", "stitches along the face")}}},
		{3, models.Shot{Title: "One whole shell", FromState: at(4), ToState: at(4), Attached: "the working yarn",
			Differs: "Sizes 0–3 and 3–6 months: 11 and 12 shells, 6–12 months and 1–2 years: 13 and 14."}},
		{3, models.Shot{Title: "The edge, finished", FromState: at(5), ToState: at(5), Attached: "the yarn, not cut"}},
		{4, models.Shot{Title: "Gathering the nape", FromState: at(5), ToState: at(6), Live: "the stitches left at the nape", Attached: "a tail for the gathering",
			Numbers: []models.ShotNumber{say("neck", "stitches left at the nape")}, Tails: []models.ShotTail{{Seam: "nape", Length: models.NewLength(10, "cm")}}}},
		{4, models.Shot{Title: "A tie", FromState: at(6), ToState: at(7), Marked: "the corner that the tie starts from",
			Numbers: []models.ShotNumber{say("tie_chain", "chains for each tie")}}},
		{5, models.Shot{Title: "Drying over a bowl", FromState: at(7), ToState: at(8)}},
	} {
		if _, err := r.store.AddShot(ctx, as, r.ids[s.part-1], s.shot); err != nil {
			return err
		}
	}
	return nil
}

// sayWork says when somebody works.
func sayWork(store *models.Store, handle, days string, hours float64) deed {
	return func(ctx context.Context, as models.Actor) error {
		p, err := store.PersonByLogin(ctx, handle)
		if err != nil {
			return err
		}
		_, _, err = store.PutWork(ctx, as, p.ID, &p.Revision, models.PersonWork{Days: days, HoursPerDay: hours})
		return err
	}
}
