package standards

import (
	"slices"
	"sync"
)

// Fit is a name for how a garment sits, with the ease at the chest or bust
// that it means: finished measurement minus body measurement. Where the
// printed ranges touch, a garment at the border answers to both names.
type Fit struct {
	Name string `json:"name"`
	Lengths
	Source Source `json:"source"`
}

// Fits returns the names from the closest to the widest.
func Fits() []Fit { return slices.Clone(fits()) }

var fits = sync.OnceValue(func() []Fit {
	return readTable("fit.csv", func(r row) Fit { return Fit{r.text("name"), r.lengths(), r.source("source")} })
})

// FitsOf returns the names that an ease of easeCM at the chest or bust answers
// to: none between two names, two where their ranges touch. Any finite ease.
func FitsOf(easeCM float64) []Fit {
	out := []Fit{}
	for _, f := range fits() {
		if f.CM.Holds(easeCM) {
			out = append(out, f)
		}
	}
	return out
}

// GarmentLength is a name for how long a garment is.
type GarmentLength struct {
	Group      string `json:"group" enum:"child,woman,man"`
	Name       string `json:"name"`
	RelativeTo string `json:"relative_to"`
	Lengths
	Source Source `json:"source"`
}

// GarmentLengths returns the names of garment lengths.
func GarmentLengths() []GarmentLength { return slices.Clone(garmentLengths()) }

var garmentLengths = sync.OnceValue(func() []GarmentLength {
	return readTable("garment_length.csv", func(r row) GarmentLength {
		return GarmentLength{r.text("group"), r.text("name"), r.text("relative_to"), r.lengths(), r.source("source")}
	})
})
