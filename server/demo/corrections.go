package demo

import (
	"context"
	"fmt"

	"tenter/models"
)

// correction is one correction of a text, as its designer goes on with it.
type correction struct {
	store *models.Store
	id    string
}

// write drafts it; sizes are places from 0, none for all.
func (k *correction) write(ctx context.Context, as models.Actor, g *garment, in models.NewCorrection, sizes ...int) error {
	for _, at := range sizes {
		in.SizeIDs = append(in.SizeIDs, g.sizeIDs[at])
	}
	c, err := k.store.AddCorrection(ctx, as, g.id, in)
	if err != nil {
		return fmt.Errorf("correction of %s: %w", in.Place, err)
	}
	k.id = c.ID
	return nil
}

// move moves it on, into the text of the latest version where that is asked.
func (k *correction) move(to models.CorrectionState) func(context.Context, models.Actor) error {
	return func(ctx context.Context, as models.Actor) error {
		revision, err := k.store.CorrectionRevision(ctx, k.id)
		if err != nil {
			return err
		}
		_, err = k.store.MoveCorrection(ctx, as, k.id, &revision, models.CorrectionMove{To: to})
		return err
	}
}
