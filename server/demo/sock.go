package demo

import "tenter/models"

const sockSlug = "marlstep-sock"

// The size of the sock whose gusset was wrong in the first version, and what
// its foot came to: two stitches too many.
const (
	gussetSize  = 3 // places count from 0: this is size 4
	gussetFault = 2.0 / 68
)

// sock is out, in its second version.
func sock() *garment {
	needle := 2.5
	return &garment{
		design: models.Design{Slug: sockSlug, Name: "Marlstep Sock", Craft: "knit", Audience: "unisex", Terms: "us", Unit: "cm",
			Gauge: models.Gauge{Stitches: 30, Rows: 42, Span: 10, Unit: "cm"}, Yarn: "a sock yarn with some nylon, 420 m to 100 g",
			Tool: "2.5 mm needles", ToolMM: &needle, Grouping: "1,2,2", Note: "Cuff down, with a heel flap and a gusset."},
		sizes:  []string{"1", "2", "3", "4", "5"},
		filmed: 1,
		body: []dimension{
			{"foot circumference", []float64{20, 21.5, 23, 24.5, 26}},
			{"foot length", []float64{22.5, 24, 25.5, 27, 29}},
		},
		lines: []line{
			{"cast_on", "stitch", "cuff and leg", []float64{56, 60, 64, 68, 72}},
			{"leg_rounds", "row", "cuff to heel", []float64{60, 64, 64, 68, 68}},
			{"heel", "stitch", "for the heel flap", []float64{28, 30, 32, 34, 36}},
			{"instep", "stitch", "held meanwhile", []float64{28, 30, 32, 34, 36}},
			{"heel_flap", "row", "rows of the flap", []float64{28, 30, 32, 34, 36}},
			{"turn", "stitch", "left after the heel turn", []float64{16, 18, 18, 20, 20}},
			{"picks", "stitch", "picked up along each side of the flap", []float64{14, 15, 16, 17, 18}},
			{"gusset", "stitch", "in the round after the pick-up", []float64{72, 78, 82, 86, 92}},
			{"gusset_decreases", "repeat", "decrease rounds, two stitches each", []float64{8, 9, 9, 9, 10}},
			{"foot", "stitch", "after the gusset", []float64{56, 60, 64, 68, 72}},
			{"foot_rounds", "row", "gusset to toe", []float64{55, 61, 67, 73, 80}},
		},
		rules: []models.Rule{
			multiple("rib of the cuff", "cast_on", 4, 0),
			holds("heel and instep", "heel + instep == cast_on"),
			holds("edge of the flap", "2 * picks == heel_flap"),
			holds("gusset back to the foot", "gusset - 2 * gusset_decreases == foot"),
		},
		spots: []spot{
			{name: "leg circumference", axis: "stitch", count: "cast_on", toleranceCM: 1.5, repeatabilityCM: 0.6, repeat: 4, girth: true,
				how: "Lay it flat; across the leg halfway up, not stretched, and double it."},
			{name: "foot circumference", axis: "stitch", count: "foot", toleranceCM: 1.5, repeatabilityCM: 0.6, repeat: 2, girth: true,
				how: "Lay it flat; across the foot halfway between gusset and toe, and double it.", bodyDimension: "foot circumference", easeLow: -2.5, easeHigh: -1},
			{name: "leg length", axis: "row", count: "leg_rounds", toleranceCM: 1.5, repeatabilityCM: 0.6, repeat: 4,
				how: "From the cuff's edge straight down to the top of the heel flap."},
			{name: "foot length", axis: "row", count: "foot_rounds", addCM: 9, toleranceCM: 1.5, repeatabilityCM: 0.6, repeat: 1,
				how: "From the back of the heel along the sole to the tip; heel and toe make 9 cm of it."},
		},
	}
}

// correctGusset is what the second version corrects: the numbers, and the rule that
// would have told.
func (g *garment) correctGusset() {
	g.set("gusset", gussetSize, 88)
	g.set("gusset_decreases", gussetSize, 10)
	g.rules = append(g.rules, holds("pick-up of the gusset", "turn + 2 * picks + instep == gusset"))
}

func sockYarn(g *garment) yarn {
	return yarn{ballMetres: 420, ballGrams: 100, metresAStitch: 0.0095, expr: "2 * cast_on * (leg_rounds + foot_rounds + 50)",
		stitches: func(size int) float64 {
			return 2 * g.count("cast_on", size) * (g.count("leg_rounds", size) + g.count("foot_rounds", size) + 50)
		}}
}

const gussetNote = "Corrected since version 1. Size 4, gusset: 88 stitches after the pick-up (was 86) and 10 decrease rounds (was 9), " +
	"so that the foot has 68. All sizes, heel flap: row 2 begins with a slipped stitch, as in the video. New rule: pick-up of the gusset."
