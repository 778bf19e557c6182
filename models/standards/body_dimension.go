package standards

import (
	"slices"
	"sync"
)

// BodyDimension is a dimension or landmark of the body as ISO 8559 and EN 13402
// name it, defined in this project's own words.
type BodyDimension struct {
	Name       string `json:"name"`
	Definition string `json:"definition"`
	Use        string `json:"use" doc:"What of a garment it decides."`
	Standard   string `json:"standard"`
	Source     Source `json:"source"`
}

// BodyDimensions returns the standardised dimensions.
func BodyDimensions() []BodyDimension { return slices.Clone(bodyDimensions()) }

var bodyDimensions = sync.OnceValue(func() []BodyDimension {
	return readTable("body_dimension.csv", func(r row) BodyDimension {
		return BodyDimension{r.text("name"), r.text("definition"), r.text("use"), r.text("standard"), r.source("source")}
	})
})

// SizeCode is the letter or height code of a garment size and the bodies that
// it is for, from LowCM up to HighCM.
type SizeCode struct {
	Group     string  `json:"group" enum:"woman,man,child"`
	Code      string  `json:"code"`
	Dimension string  `json:"dimension"`
	LowCM     float64 `json:"low_cm"`
	HighCM    float64 `json:"high_cm"`
	Source    Source  `json:"source"`
}

// SizeCodes returns the size codes, each group from the smallest.
func SizeCodes() []SizeCode { return slices.Clone(sizeCodes()) }

var sizeCodes = sync.OnceValue(func() []SizeCode {
	return readTable("size_code.csv", func(r row) SizeCode {
		return SizeCode{r.text("group"), r.text("code"), r.text("dimension"), r.number("low_cm"), r.number("high_cm"), r.source("source")}
	})
})
