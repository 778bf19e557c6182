package standards

import (
	"fmt"
	"math"
	"slices"
	"sync"

	"tenter/models/gauge"
)

// YarnClass is a class of yarn thickness with the gauge and the tools that are
// usual for it. Stitches are counted over 4 in: in stockinette when knitting,
// in CrochetStitch when crocheting.
type YarnClass struct {
	Number        int    `json:"number"`
	Name          string `json:"name"`
	Yarns         string `json:"yarns" doc:"Kinds of yarn in the class."`
	Knit          Range  `json:"knit_stitches_per_4_in"`
	Crochet       Range  `json:"crochet_stitches_per_4_in"`
	CrochetStitch string `json:"crochet_stitch" doc:"With its terms."`
	NeedleMM      Range  `json:"needle_mm"`
	NeedleUS      string `json:"needle_us"`
	HookMM        Range  `json:"hook_mm"`
	HookUS        string `json:"hook_us"`
	WrapsPerInch  string `json:"wraps_per_inch"`
	Source        Source `json:"source"`
}

// YarnClasses returns the classes from the finest, 0 to 7. The published table
// names no ranges for a class above 7.
func YarnClasses() []YarnClass { return slices.Clone(yarnClasses()) }

var yarnClasses = sync.OnceValue(func() []YarnClass {
	return readTable("yarn_class.csv", func(r row) YarnClass {
		return YarnClass{
			Number: r.whole("number"), Name: r.text("name"), Yarns: r.text("yarns"),
			Knit:          Range{r.optional("knit_low"), r.optional("knit_high")},
			Crochet:       Range{r.optional("crochet_low"), r.optional("crochet_high")},
			CrochetStitch: r.text("crochet_stitch"),
			NeedleMM:      Range{r.optional("needle_low_mm"), r.optional("needle_high_mm")}, NeedleUS: r.text("needle_us"),
			HookMM: Range{r.optional("hook_low_mm"), r.optional("hook_high_mm")}, HookUS: r.text("hook_us"),
			WrapsPerInch: r.text("wraps_per_inch"), Source: r.source("source"),
		}
	})
})

// GaugeHint says how a gauge lies to what is usual for a class of yarn. It is
// never an error: the class is a guide to buying yarn, and a pattern states the
// gauge that its own stitch wants.
type GaugeHint struct {
	Class   int     `json:"class"`
	Name    string  `json:"name"`
	Per4In  float64 `json:"stitches_per_4_in"`
	Usual   Range   `json:"usual"`
	Stitch  string  `json:"stitch" doc:"In which the usual gauge is counted."`
	Place   string  `json:"place" enum:"within,looser,tighter"`
	Classes []int   `json:"classes" doc:"Every class for which the gauge is usual."`
	ToolMM  Range   `json:"tool_mm" doc:"Hook or needle that is usual for the class."`
	ToolUS  string  `json:"tool_us"`
	Message string  `json:"message"`
	Source  Source  `json:"source"`
}

// The places of a gauge beside a class's range.
const (
	Within  = "within"
	Looser  = "looser"
	Tighter = "tighter"
)

// HintGauge compares a stitch gauge with what is usual for the class, by craft
// "crochet" or "knit". The gauge is brought to 4 in (10.16 cm) and, since the
// table counts whole stitches, rounded to a whole stitch, halves up.
func HintGauge(craft string, class int, stitches gauge.Swatch) (GaugeHint, error) {
	if craft != "crochet" && craft != "knit" {
		return GaugeHint{}, gauge.Wrongf("craft", "is not one of crochet, knit")
	}
	classes := yarnClasses()
	if class < 0 || class >= len(classes) {
		return GaugeHint{}, gauge.Wrongf("class", "must be a yarn class from 0 to %d", len(classes)-1)
	}
	if err := stitches.Check("gauge"); err != nil {
		return GaugeHint{}, err
	}
	per4 := gauge.Tidy(stitches.Per4In())
	c := classes[class]
	hint := GaugeHint{Class: class, Name: c.Name, Per4In: per4, Classes: []int{}, Source: c.Source}
	hint.Usual, hint.Stitch = c.usual(craft)
	hint.ToolMM, hint.ToolUS = c.tool(craft)
	hint.Place = place(hint.Usual, math.Round(per4))
	for _, other := range classes {
		if r, _ := other.usual(craft); r.Holds(math.Round(per4)) {
			hint.Classes = append(hint.Classes, other.Number)
		}
	}
	hint.Message = hint.sentence(stitches)
	return hint, nil
}

func (c YarnClass) usual(craft string) (Range, string) {
	if craft == "knit" {
		return c.Knit, "stockinette"
	}
	return c.Crochet, c.CrochetStitch
}

func (c YarnClass) tool(craft string) (Range, string) {
	if craft == "knit" {
		return c.NeedleMM, c.NeedleUS
	}
	return c.HookMM, c.HookUS
}

func place(usual Range, perSpan float64) string {
	switch {
	case usual.Low != nil && perSpan < *usual.Low:
		return Looser
	case usual.High != nil && perSpan > *usual.High:
		return Tighter
	}
	return Within
}

func (h GaugeHint) sentence(s gauge.Swatch) string {
	counted := fmt.Sprintf("%s stitches over %s %s", gauge.Decimal(s.Count, 2), gauge.Decimal(s.Over, 2), s.Unit)
	if s.Unit != gauge.Inch || s.Over != 4 {
		counted += " come to " + gauge.Decimal(h.Per4In, 1) + " over 4 in,"
	} else {
		counted += " are"
	}
	usual := fmt.Sprintf("the %s that are usual in %s with %s (%d) yarn", h.Usual, h.Stitch, h.Name, h.Class)
	if h.Place == Within {
		return counted + " within " + usual + "."
	}
	return counted + " " + h.Place + " than " + usual + "; a hint only, the pattern's own gauge and stitch decide."
}
