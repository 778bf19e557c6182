package demo

import "tenter/models"

// finisher is how one of the pullover's testers works, with what the story
// needs of some of them.
func (p *pulloverStory) finisher(handle string, size int) finisher {
	f := finisher{handle: handle, unit: "cm", size: size, growth: pulloverGrowth, yarn: pulloverYarn(p.garment)}
	if measuresInches(handle) {
		f.unit = "in"
	}
	if size == faultySize {
		f.textFault = map[string]float64{faultyPoint: faultOfText}
	}
	switch handle {
	case "comfrey": // large stitches, and the swatch says so
		f.loose = 0.10
	case "woad": // looser than the swatch promises
		f.unlikeOwn = 0.09
	case "bracken": // read in inches, entered as centimetres
		f.mistyped = map[string]models.Length{"cuff": models.NewLength(8, "cm")}
	case sentTester: // measured flat, not doubled
		f.mistyped = map[string]models.Length{"bust": models.NewLength(62, "cm")}
	}
	return f
}
