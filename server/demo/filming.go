package demo

import (
	"context"

	"tenter/models"
)

// filmRun is a design's run of installments and the sample that is shown.
type filmRun struct {
	store  *models.Store
	g      *garment
	parts  []part
	camera string // sample id
	ids    []string
	takes  []string // the last take of each installment
}

// part is one installment as it is planned.
type part struct {
	title, covers string
	airs          int // day
	recordBy      int // day; 0 leaves it to the studio's lead days
	link          string
}

func newRun(store *models.Store, g *garment, parts []part) *filmRun {
	return &filmRun{store: store, g: g, parts: parts, takes: make([]string, len(parts))}
}

// plan adds the installments.
func (r *filmRun) plan(d *diary) deed {
	return func(ctx context.Context, as models.Actor) error {
		for _, p := range r.parts {
			in := models.Installment{Title: p.title, Covers: p.covers, AirOn: d.day(p.airs), Link: p.link}
			if p.recordBy != 0 {
				in.RecordBy = d.day(p.recordBy)
			}
			now, err := r.store.AddInstallment(ctx, as, r.g.id, in)
			if err != nil {
				return err
			}
			r.ids = append(r.ids, now.ID)
		}
		return nil
	}
}

// startCamera plans the sample that is shown, in the filmed size.
func (r *filmRun) startCamera(label string) deed {
	return func(ctx context.Context, as models.Actor) error {
		held, err := handleID(ctx, r.store, maker)
		if err != nil {
			return err
		}
		s, err := r.store.AddSample(ctx, as, r.g.id, models.Sample{SizeID: r.g.sizeIDs[r.g.filmed], VersionID: &r.g.versionID, Label: label, Purpose: "camera", HeldBy: held})
		if err != nil {
			return err
		}
		r.camera = s.ID
		return nil
	}
}

// hand gives the camera sample to somebody.
func (r *filmRun) hand(to, note string) deed {
	return func(ctx context.Context, as models.Actor) error {
		held, err := handleID(ctx, r.store, to)
		if err != nil {
			return err
		}
		return move(ctx, r.store, as, r.camera, models.Move{HeldBy: &held, Note: note})
	}
}

// work works the camera sample through an installment, by its number.
func (r *filmRun) work(number int, note string) deed {
	return func(ctx context.Context, as models.Actor) error {
		through := &r.ids[number-1]
		return move(ctx, r.store, as, r.camera, models.Move{WorkedThrough: &through, Note: note})
	}
}

// record adds a take of an installment, with its slips.
func (r *filmRun) record(number, seconds int, note string, slips ...models.Slip) deed {
	return func(ctx context.Context, as models.Actor) error {
		k, err := r.store.AddTake(ctx, as, r.ids[number-1], models.Take{Seconds: &seconds, SampleID: &r.camera, Note: note})
		if err != nil {
			return err
		}
		r.takes[number-1] = k.ID
		for _, s := range slips {
			if _, err := r.store.AddSlip(ctx, as, k.ID, s); err != nil {
				return err
			}
		}
		return nil
	}
}

// decide accepts the last take of an installment, or sets it aside.
func (r *filmRun) decide(number int, accept bool) deed {
	return func(ctx context.Context, as models.Actor) error {
		k, err := r.store.Take(ctx, r.takes[number-1])
		if err != nil {
			return err
		}
		yes := true
		c := models.TakeChange{SetAside: &yes}
		if accept {
			c = models.TakeChange{Accepted: &yes}
		}
		_, err = r.store.ChangeTake(ctx, as, k.ID, &k.Revision, c)
		return err
	}
}

// mend marks slips of an installment's last take as mended, by their place in
// the order of time codes.
func (r *filmRun) mend(number int, places ...int) deed {
	return func(ctx context.Context, as models.Actor) error {
		k, err := r.store.Take(ctx, r.takes[number-1])
		if err != nil {
			return err
		}
		yes := true
		for _, i := range places {
			s := k.Slips[i]
			if _, err := r.store.ChangeSlip(ctx, as, s.ID, &s.Revision, models.SlipChange{Mended: &yes}); err != nil {
				return err
			}
		}
		return nil
	}
}

// mark marks an installment's steps.
func (r *filmRun) mark(number int, c models.InstallmentChange) deed {
	return func(ctx context.Context, as models.Actor) error {
		in, err := r.store.Installment(ctx, r.ids[number-1])
		if err != nil {
			return err
		}
		_, err = r.store.ChangeInstallment(ctx, as, in.ID, &in.Revision, c)
		return err
	}
}

func edited() models.InstallmentChange {
	yes := true
	return models.InstallmentChange{Edited: &yes}
}

func captioned() models.InstallmentChange {
	yes := true
	return models.InstallmentChange{Captioned: &yes}
}

func scheduled() models.InstallmentChange {
	yes := true
	return models.InstallmentChange{Scheduled: &yes}
}

func aired() models.InstallmentChange {
	yes := true
	return models.InstallmentChange{Aired: &yes}
}

// at is a place in a recording; see models.ParseTimeCode.
func at(minutes, seconds int) models.TimeCode { return models.TimeCode(1000 * (60*minutes + seconds)) }
