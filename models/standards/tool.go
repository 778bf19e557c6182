package standards

import (
	"slices"
	"strings"
	"sync"

	"tenter/models/gauge"
)

// Tool is a hook or needle size. Letters and numbers differ from maker to
// maker, and the same number can stand for two sizes: the millimetres decide.
type Tool struct {
	Kind        string  `json:"kind" enum:"hook,steel_hook,needle"`
	MM          float64 `json:"mm"`
	US          string  `json:"us" doc:"US letter or number; empty where there is none."`
	OldUK       string  `json:"old_uk" doc:"Old UK and Canadian number; empty where there is none."`
	USSource    *Source `json:"us_source"`
	OldUKSource *Source `json:"old_uk_source"`
}

// ToolKinds lists the kinds of tools.
func ToolKinds() []string { return []string{"hook", "steel_hook", "needle"} }

// Tools returns the sizes of a kind, from the thinnest; of every kind for "".
func Tools(kind string) ([]Tool, error) {
	if kind == "" {
		return slices.Clone(tools()), nil
	}
	if !slices.Contains(ToolKinds(), kind) {
		return nil, gauge.Wrongf("kind", "is not one of %s", strings.Join(ToolKinds(), ", "))
	}
	var out []Tool
	for _, t := range tools() {
		if t.Kind == kind {
			out = append(out, t)
		}
	}
	return out, nil
}

// ToolsNear returns the sizes of a kind on either side of mm: one when the size
// itself is in the table, or when mm lies beyond the thinnest or thickest, else
// two. mm in millimetres, 0 < mm <= 50.
func ToolsNear(kind string, mm float64) ([]Tool, error) {
	if !(mm > 0 && mm <= thickestMM) {
		return nil, gauge.Wrongf("mm", "must be a thickness of more than 0 and at most %s mm", gauge.Decimal(thickestMM, 0))
	}
	if kind == "" {
		return nil, gauge.Wrongf("kind", "is missing; give one of %s", strings.Join(ToolKinds(), ", "))
	}
	all, err := Tools(kind)
	if err != nil {
		return nil, err
	}
	at, exact := slices.BinarySearchFunc(all, mm, func(t Tool, mm float64) int {
		switch {
		case t.MM < mm:
			return -1
		case t.MM > mm:
			return 1
		}
		return 0
	})
	switch {
	case exact || at == 0:
		return all[at : at+1], nil
	case at == len(all):
		return all[at-1:], nil
	}
	return all[at-1 : at+1], nil
}

const thickestMM = 50.0 // twice the thickest needle in common use; chosen

var tools = sync.OnceValue(func() []Tool {
	return readTable("tools.csv", func(r row) Tool {
		return Tool{r.text("kind"), r.number("mm"), r.text("us"), r.text("old_uk"), r.optionalSource("us_source"), r.optionalSource("old_uk_source")}
	})
})
