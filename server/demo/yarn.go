package demo

import (
	"context"
	"math"

	"tenter/models"
)

// yarn is what a design is made of: the ball, what a stitch takes at the
// design's gauge, and how many stitches a size has, over the names of counts.
type yarn struct {
	ballMetres, ballGrams float64
	metresAStitch         float64
	expr                  string
	stitches              func(size int) float64 // the same as expr
}

// outOfTen is for how many of ten makers a stated amount should last.
const outOfTen = 9

// stateYarn says what the ball is; with amounts, also what the text states for
// each size: a tenth more than an even maker takes, rounded up to 10 m.
func (g *garment) stateYarn(store *models.Store, y yarn, amounts bool) deed {
	return func(ctx context.Context, as models.Actor) error {
		metre, gram := "m", "g"
		plan := models.YarnPlan{BallLength: models.Amount{Value: &y.ballMetres, Unit: &metre}, BallWeight: models.Amount{Value: &y.ballGrams, Unit: &gram},
			Share: outOfTen / 10.0, Stitches: y.expr}
		for size, id := range g.sizeIDs {
			if amounts {
				plan.Stated = append(plan.Stated, models.StatedYarn{SizeID: id, Unit: metre, Value: 10 * math.Ceil(1.1*y.stitches(size)*y.metresAStitch/10)})
			}
		}
		revision, err := store.YarnRevision(ctx, g.id)
		if err != nil {
			return err
		}
		return store.PutYarnPlan(ctx, as, g.id, &revision, plan)
	}
}
