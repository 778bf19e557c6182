package models

import (
	"context"
	"math"

	"gorm.io/gorm"

	"tenter/models/yarn"
)

// Yarn is how much yarn to state for each size of a design, beside what is
// stated, with the pieces that tell it.
type Yarn struct {
	Design       *Design
	Plan         *YarnPlan
	StitchesFrom string // what a size's number of stitches is taken from; "" when it can't be told
	Problem      string // why nothing can be said, "" where it can
	Message      string
	Used         int // pieces that the amounts rest on
	SizeMatters  bool
	Sizes        []YarnSize
	Pieces       []YarnPiece // whose yarn was told
}

// YarnSize is one size.
type YarnSize struct {
	Size     Size
	Stitches float64 // 0: not known
	Amount   yarn.Amount
	Stated   *StatedYarn
	// StatedBalls are the whole balls that what is stated takes, 0 without a ball.
	StatedBalls int
	Short       bool // less is stated than the bound
}

// YarnPiece is one piece whose yarn was told.
type YarnPiece struct {
	Who, Kind, ID string
	SizeID        string
	Entered       Amount
	Metres        float64 // 0: can't be told in metres
	// AtDesignMetres is what the piece would have taken at the design's gauge and
	// by the latest counts: metres × what a stitch takes there / here × stitches
	// there / here.
	AtDesignMetres float64
	Outlier        string // why it was left out, "" where it is used
	Unused         string // why it says nothing
}

// Yarn reads a design's yarn.
func (s *Store) Yarn(ctx context.Context, idOrSlug string) (*Yarn, error) {
	design, err := designIn(s.read(ctx), idOrSlug)
	if err != nil {
		return nil, err
	}
	var (
		rows    *fitRows
		plan    *YarnPlan
		samples []Sample
	)
	err = s.snapshot(ctx, func(db *gorm.DB) error {
		if rows, err = s.fitRowsIn(db, design.ID); err != nil {
			return err
		}
		if plan, err = yarnPlanIn(db, design.ID); err != nil {
			return err
		}
		samples, err = finishedSamplesIn(db, design.ID)
		return err
	})
	if err != nil {
		return nil, err
	}
	return newYarn(newYarnRound(rows, plan, samples)), nil
}

// finishedSamplesIn reads the samples whose yarn is that of a whole garment:
// not swatches, and worked through the last installment when there are any.
// Retired ones count: what they took, they took.
func finishedSamplesIn(db *gorm.DB, designID string) ([]Sample, error) {
	run, err := installmentRows(db, designID)
	if err != nil {
		return nil, err
	}
	q := db.Where("design_id = ? AND purpose <> 'swatch' AND yarn_value IS NOT NULL", designID)
	if len(run) > 0 {
		q = q.Where("worked_through = ?", run[len(run)-1].ID)
	}
	var out []Sample
	return out, q.Order("id").Find(&out).Error
}

func newYarn(r *yarnRound) *Yarn {
	out := &Yarn{Design: r.rows.design, Plan: r.plan, StitchesFrom: r.from}
	said, err := yarn.Calculate(r.input)
	if err != nil {
		out.Problem = "The amounts can't be told: " + calculationProblem(err) + "."
		if len(r.rows.sizes) == 0 {
			out.Problem = "The design has no sizes yet."
		}
		said = yarn.Output{}
	}
	out.Message, out.Used, out.SizeMatters = said.Message, said.Used, said.SizeMatters
	for i, z := range r.rows.sizes {
		size := YarnSize{Size: z, Stitches: r.input.TotalStitches[z.Name]}
		if i < len(said.Sizes) { // the input's first sizes are the design's
			size.Amount = said.Sizes[i]
		}
		size.state(r)
		out.Sizes = append(out.Sizes, size)
	}
	for _, p := range r.pieces {
		out.Pieces = append(out.Pieces, r.view(p, said))
	}
	return out
}

// state sets what is stated beside the bound.
func (z *YarnSize) state(r *yarnRound) {
	for i := range r.plan.Stated {
		if r.plan.Stated[i].SizeID == z.Size.ID {
			z.Stated = &r.plan.Stated[i]
		}
	}
	if z.Stated == nil {
		return
	}
	if b := r.input.Ball; b != nil {
		z.StatedBalls = int(math.Ceil(z.Stated.Metres / b.Metres * (1 - 1e-9)))
	}
	z.Short = z.Amount.UpperMetres != nil && z.Stated.Metres < *z.Amount.UpperMetres*(1-1e-9)
}

func (r *yarnRound) view(p *yarnPiece, said yarn.Output) YarnPiece {
	out := YarnPiece{Who: p.who, Kind: p.kind, ID: p.id, SizeID: p.size.ID, Entered: p.entered, Metres: p.metres, Unused: p.why}
	if p.metres == 0 {
		return out
	}
	own, there := r.pitch(p), r.designPitch()
	if n := r.input.TotalStitches[p.size.Name]; n > 0 {
		out.AtDesignMetres = p.metres * there / own * n / r.input.TotalStitches[p.sizeName]
	}
	for _, o := range said.Outliers {
		if o.Tester == p.who && o.Size == p.sizeName {
			out.Outlier = o.Message
		}
	}
	for _, u := range said.Unused {
		if u.Tester == p.who && u.Size == p.sizeName {
			out.Unused = u.Reason
		}
	}
	return out
}

// designPitch is the side of a square of one stitch's area at the design's
// gauge, up to a factor; pitch the same at a piece's own, the design's on an
// axis that was not counted.
func (r *yarnRound) designPitch() float64 {
	g := r.input.DesignGauge
	return 1 / math.Sqrt(g.Stitch/g.OverCM*g.Row/g.OverCM)
}

func (r *yarnRound) pitch(p *yarnPiece) float64 {
	g := r.input.DesignGauge
	stitch, row := g.Stitch/g.OverCM, g.Row/g.OverCM
	if p.swatch != nil && p.swatch.Stitch != nil {
		stitch = p.swatch.Stitch.Per10CM() / 10
	}
	if p.swatch != nil && p.swatch.Row != nil {
		row = p.swatch.Row.Per10CM() / 10
	}
	return 1 / math.Sqrt(stitch*row)
}
