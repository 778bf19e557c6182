package demo

import (
	"hash/fnv"
	"math"
	"math/rand/v2"

	"tenter/models"
)

// How people and fabric vary in the demo; chosen to look like a usual round.
const (
	spreadOfSwatches = 0.030 // of makers' gauge round the design's, relative
	spreadOfTension  = 0.012 // of a garment's gauge round its maker's swatch, relative
	spreadOfYarn     = 0.05  // of makers' yarn for the same stitches, relative
	handOfTape       = 0.5   // of a point's stated repeatability: one person, one tape
)

// chance is the seed; chosen among a few so that accident tells no story of its
// own beside the one that is told here.
const chance = 9

// finisher makes a finished piece's report up.
type finisher struct {
	handle string
	unit   string // "cm" or "in": of the tape and of the swatch
	size   int

	// What there is to tell about this one; zero values mean nothing special.
	loose     float64                  // relative: stitches larger than the design's, and the swatch says so
	unlikeOwn float64                  // relative: garment looser than the maker's own swatch says
	textFault map[string]float64       // by point: what the text makes instead of the count, relative
	mistyped  map[string]models.Length // by point: what was sent in its place
	growth    float64                  // of the fabric lengthwise, relative
	yarn      yarn                     // what it takes
}

// random is the maker's own chance: the same for the same handle and design,
// whoever else takes part.
func (f finisher) random(design string) *rand.Rand {
	h := fnv.New64a()
	h.Write([]byte(design + "/" + f.handle)) // never fails
	return rand.New(rand.NewPCG(h.Sum64(), chance))
}

// report makes the report of a finished piece of g.
func (f finisher) report(g *garment) models.NewReport {
	r := f.random(g.design.Slug)
	swatch, own := f.swatch(g, r)
	out := models.NewReport{Swatch: swatch}
	tension := 1 + spreadOfTension*r.NormFloat64() + f.unlikeOwn
	for _, s := range g.spots {
		counted := g.count(s.count, f.size) / own[s.axis] * tension * (1 + f.textFault[s.name])
		if s.axis == "row" {
			counted *= 1 + f.growth
		}
		cm := counted + s.addCM + handOfTape*s.repeatabilityCM*r.NormFloat64()
		length, slipped := f.mistyped[s.name]
		if !slipped {
			length = f.read(cm)
		}
		out.Measurements = append(out.Measurements, models.Measurement{PointID: g.pointIDs[s.name], Length: length})
	}
	if f.yarn.metresAStitch > 0 {
		// A stitch takes yarn as its size does, the square root of the area.
		size := math.Sqrt(g.perCM("stitch") / own["stitch"] * g.perCM("row") / own["row"])
		out.Yarn = f.used(f.yarn.stitches(f.size) * f.yarn.metresAStitch * size * math.Exp(spreadOfYarn*r.NormFloat64()))
	}
	hours := math.Round(2*(18+3*float64(f.size)+8*r.Float64())) / 2
	out.Hours = &hours
	return out
}

// swatch is what the maker counted, in half stitches over 10 cm or 4 in, and
// the gauge per cm that it means.
func (f finisher) swatch(g *garment, r *rand.Rand) (models.SwatchGauge, map[string]float64) {
	span, perUnit := 10.0, 1.0
	if f.unit == "in" {
		span, perUnit = 4, 2.54
	}
	unit := f.unit
	out := models.SwatchGauge{Span: &span, Unit: &unit}
	own := map[string]float64{}
	for _, axis := range []string{"stitch", "row"} {
		of := g.perCM(axis) * (1 + spreadOfSwatches*r.NormFloat64()) / (1 + f.loose)
		counted := math.Round(2*of*span*perUnit) / 2
		own[axis] = counted / (span * perUnit)
		if axis == "row" {
			out.Rows = &counted
		} else {
			out.Stitches = &counted
		}
	}
	return out, own
}

// read is a length as the maker's tape shows it: to half a centimetre or a
// quarter of an inch.
func (f finisher) read(cm float64) models.Length {
	if f.unit == "in" {
		return models.NewLength(math.Round(4*cm/2.54)/4, "in")
	}
	return models.NewLength(math.Round(2*cm)/2, "cm")
}

func (f finisher) used(metres float64) models.Amount {
	unit := "m"
	if f.unit == "in" {
		unit, metres = "yd", metres/0.9144
	}
	metres = math.Round(metres)
	return models.Amount{Value: &metres, Unit: &unit}
}
