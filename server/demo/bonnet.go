package demo

import "tenter/models"

const bonnetSlug = "pipwillow-bonnet"

// bonnet is tested and being filmed. It is for babies and has ties.
func bonnet() *garment {
	hook := 4.0
	return &garment{
		design: models.Design{Slug: bonnetSlug, Name: "Pipwillow Bonnet", Craft: "crochet", Audience: "baby", Terms: "us", Unit: "cm",
			Gauge: models.Gauge{Stitches: 20, Rows: 15, Span: 10, Unit: "cm"}, Yarn: "a soft DK-weight cotton, 120 m to 50 g",
			Tool: "4 mm hook", ToolMM: &hook,
			Note: "Has ties at the neck. For the release: the usual cautions about cords on babies' things, and a look at the local rules."},
		sizes:  []string{"0–3 months", "3–6 months", "6–12 months", "1–2 years"},
		filmed: 2,
		body:   []dimension{{"head", []float64{40, 43, 46, 48}}},
		lines: []line{
			{"crown_rounds", "row", "from the ring outwards", []float64{10, 11, 12, 13}},
			{"crown", "stitch", "last round of the crown", []float64{60, 66, 72, 78}},
			{"neck", "stitch", "left unworked at the nape", []float64{16, 18, 20, 22}},
			{"sides", "stitch", "worked back and forth for the sides", []float64{44, 48, 52, 56}},
			{"depth_rows", "row", "sides, from the crown to the face edge", []float64{18, 20, 21, 22}},
			{"tie_chain", "stitch", "each tie", []float64{50, 50, 54, 54}},
		},
		rules: []models.Rule{
			holds("six increases in each round", "crown == 6 * crown_rounds"),
			holds("nape and sides make the crown", "sides + neck == crown"),
			multiple("shells of the edging", "sides", 4, 0),
		},
		spots: []spot{
			{name: "face edge", axis: "stitch", count: "sides", toleranceCM: 1.5, repeatabilityCM: 0.5, repeat: 4,
				how: "From corner to corner along the front, laid flat, without the ties."},
			{name: "crown", axis: "row", count: "crown_rounds", toleranceCM: 1, repeatabilityCM: 0.4, repeat: 1,
				how: "From the ring straight out to the last round of the crown."},
			{name: "side depth", axis: "row", count: "depth_rows", addCM: 1, toleranceCM: 1, repeatabilityCM: 0.5, repeat: 1,
				how: "From the last round of the crown to the face edge, edging included."},
			{name: "tie", axis: "stitch", count: "tie_chain", toleranceCM: 2, repeatabilityCM: 0.6, repeat: 1,
				how: "From the corner of the face edge to the end, pulled straight."},
		},
	}
}

func bonnetYarn(g *garment) yarn {
	return yarn{ballMetres: 120, ballGrams: 50, metresAStitch: 0.031, expr: "sides * depth_rows + 0.6 * crown * crown_rounds",
		stitches: func(size int) float64 {
			return g.count("sides", size)*g.count("depth_rows", size) + 0.6*g.count("crown", size)*g.count("crown_rounds", size)
		}}
}
