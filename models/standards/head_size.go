package standards

import (
	"slices"
	"sync"
)

// HeadSize is the circumference of the head for a group of people.
type HeadSize struct {
	Group   string `json:"group"`
	Edition string `json:"edition" enum:"current,older"`
	Lengths
	Source Source `json:"source"`
}

// HeadMeasuring says how a head is measured.
const HeadMeasuring = "Across the forehead and around the whole head above the ears, the tape snug."

// HeadSizes returns the circumferences of heads, the current edition first.
func HeadSizes() []HeadSize { return slices.Clone(headSizes()) }

var headSizes = sync.OnceValue(func() []HeadSize {
	return readTable("head.csv", func(r row) HeadSize {
		return HeadSize{r.text("group"), r.text("edition"), r.lengths(), r.source("source")}
	})
})
