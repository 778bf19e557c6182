package fit

import "tenter/models/gauge"

// plainRound is a small sound round that tests bend to their needs: two sizes,
// two points in each direction, two testers for each size.
func plainRound() Input {
	in := Input{
		Round: "plain", Craft: "crochet", Sizes: []string{"S", "M"},
		Points: []Point{
			{ID: "bust", Axis: gauge.Stitch, UCM: pointer(1.2)}, {ID: "upper_arm", Axis: gauge.Stitch, UCM: pointer(0.8)},
			{ID: "body_length", Axis: gauge.Row, UCM: pointer(1.0)}, {ID: "yoke", Axis: gauge.Row, UCM: pointer(0.7)},
		},
		DesignGauge: DesignGauge{Stitch: 20, Row: 20, OverCM: 10},
		Counts: map[string]map[string]float64{
			"S": {"bust": 180, "upper_arm": 60, "body_length": 120, "yoke": 44},
			"M": {"bust": 200, "upper_arm": 66, "body_length": 124, "yoke": 46},
		},
		IntendedCM: map[string]map[string]float64{
			"S": {"bust": 90, "upper_arm": 30, "body_length": 60, "yoke": 22},
			"M": {"bust": 100, "upper_arm": 33, "body_length": 62, "yoke": 23},
		},
	}
	for _, t := range []struct {
		id, size string
		stitch   float64
		row      float64
		cm       [4]float64
	}{
		{"ash", "S", 20, 20, [4]float64{90.5, 30, 61, 22}},
		{"birch", "S", 21, 19.5, [4]float64{86, 29, 62, 23}},
		{"cedar", "M", 19.5, 20.5, [4]float64{102, 34, 60, 22.5}},
		{"dogwood", "M", 20, 20, [4]float64{100, 32.5, 62.5, 23}},
	} {
		who := Tester{ID: t.id, Size: t.size, Swatch: &Swatch{
			Stitch: &gauge.Swatch{Count: t.stitch, Over: 10, Unit: gauge.Centimetre},
			Row:    &gauge.Swatch{Count: t.row, Over: 10, Unit: gauge.Centimetre},
		}}
		for p, cm := range t.cm {
			who.Measurements = append(who.Measurements, Measurement{Point: in.Points[p].ID, Value: pointer(cm), Unit: gauge.Centimetre})
		}
		in.Testers = append(in.Testers, who)
	}
	return in
}
