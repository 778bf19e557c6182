package standards

import (
	"slices"
	"sync"
)

// GarmentPoint is a usual point of measure of a finished garment: a starting
// point for a design's own points. Widths are flat, half of the circumference;
// their tolerance doubles when they are stated as a circumference.
type GarmentPoint struct {
	Code            string   `json:"code"`
	Name            string   `json:"name"`
	How             string   `json:"how"`
	Key             bool     `json:"key" doc:"Decides whether the garment fits."`
	ToleranceCM     *float64 `json:"tolerance_cm" doc:"Plus or minus; null where a length says nothing."`
	ToleranceNote   string   `json:"tolerance_note"`
	Source          Source   `json:"source"`
	ToleranceSource Source   `json:"tolerance_source"`
}

// GarmentPoints returns the usual points of measure.
func GarmentPoints() []GarmentPoint { return slices.Clone(garmentPoints()) }

var garmentPoints = sync.OnceValue(func() []GarmentPoint {
	return readTable("garment_points.csv", func(r row) GarmentPoint {
		return GarmentPoint{r.text("code"), r.text("name"), r.text("how"), r.text("key") == "yes",
			r.optional("tolerance_cm"), r.text("tolerance_note"), r.source("source"), r.source("tolerance_source")}
	})
})

// MeasuringAdvice is one sentence on how finished pieces are measured.
type MeasuringAdvice struct {
	Text   string `json:"text"`
	Source Source `json:"source"`
}

// MeasuringPieces says how finished pieces and swatches are measured.
func MeasuringPieces() []MeasuringAdvice {
	guide, practice := Source{apparelGuide, Published}, Source{"usual teaching", CommonPractice}
	return []MeasuringAdvice{
		{"Wash and dry the piece as it will be washed in use before it is measured.", guide},
		{"Lay it flat on a smooth surface, closed, patted into shape and not stretched.", guide},
		{"Read to the nearest 1/8 in (3 mm).", guide},
		{"A width is measured flat and is half of the circumference; say which of the two a number is.", guide},
		{"Make a swatch larger than the span that is counted, about 6 in or 15 cm, so that its edges are left out.", practice},
		{"Keep part stitches in the count, and count rows along one column of stitches.", guide},
		{"Count at several places and keep each reading, not only their mean.", practice},
		{"Make the swatch as the piece is made: flat for a flat piece, round for a round one.", practice},
	}
}
