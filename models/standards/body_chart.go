package standards

import (
	"slices"
	"strings"
	"sync"

	"tenter/models/gauge"
)

// BodyChart is a chart of body measurements by size.
type BodyChart struct {
	Name       string      `json:"name" enum:"baby,child,youth,woman,man"`
	Edition    string      `json:"edition" enum:"current,2015"`
	Sizes      []string    `json:"sizes" doc:"From the smallest."`
	Dimensions []Dimension `json:"dimensions"`
	Cells      []BodyCell  `json:"cells" doc:"Dimension by dimension, in the order of the sizes."`
}

// BodyCell is one measurement of one size.
type BodyCell struct {
	Size      string `json:"size"`
	Dimension string `json:"dimension"`
	Lengths
	Note   string `json:"note"`
	Source Source `json:"source"`
}

// Dimension is a measurement of the body: how a chart calls it and how it is
// taken.
type Dimension struct {
	ID     string `json:"id"`
	Name   string `json:"name"`
	How    string `json:"how"`
	ENName string `json:"en_name" doc:"Its name in EN 13402 or ISO 8559, where there is one."`
	Source Source `json:"source"`
}

const disagreement = "The printed centimetres do not match the inches; the inches count."

// BodyCharts returns the charts from the youngest to the oldest; a later
// edition stands before an earlier one.
func BodyCharts() []BodyChart {
	charts := bodyCharts()
	out := make([]BodyChart, len(charts))
	for i, c := range charts {
		c.Sizes, c.Dimensions, c.Cells = slices.Clone(c.Sizes), slices.Clone(c.Dimensions), slices.Clone(c.Cells)
		out[i] = c
	}
	return out
}

// BodyChartOf returns the current chart of that name.
func BodyChartOf(name string) (BodyChart, error) {
	for _, c := range BodyCharts() {
		if c.Name == name && c.Edition == current {
			return c, nil
		}
	}
	return BodyChart{}, gauge.Wrongf("chart", "is not one of %s", strings.Join(chartNames(), ", "))
}

// Of returns the measurements of one size, in the order of the dimensions.
func (c BodyChart) Of(size string) []BodyCell {
	var out []BodyCell
	for _, cell := range c.Cells {
		if cell.Size == size {
			out = append(out, cell)
		}
	}
	return out
}

// At returns one cell.
func (c BodyChart) At(size, dimension string) (BodyCell, bool) {
	for _, cell := range c.Cells {
		if cell.Size == size && cell.Dimension == dimension {
			return cell, true
		}
	}
	return BodyCell{}, false
}

const current = "current"

func chartNames() []string { return []string{"baby", "child", "youth", "woman", "man"} }

var bodyCharts = sync.OnceValue(func() []BodyChart {
	type line struct {
		chart, edition string
		cell           BodyCell
	}
	var charts []BodyChart
	for _, l := range readTable("body.csv", func(r row) line {
		cell := BodyCell{Size: r.text("size"), Dimension: r.text("dimension"), Lengths: r.lengths(), Note: r.text("note"), Source: r.source("source")}
		if cell.Disagrees {
			cell.Note = disagreement
		}
		return line{r.text("chart"), r.text("edition"), cell}
	}) {
		at := slices.IndexFunc(charts, func(c BodyChart) bool { return c.Name == l.chart && c.Edition == l.edition })
		if at < 0 {
			charts = append(charts, BodyChart{Name: l.chart, Edition: l.edition})
			at = len(charts) - 1
		}
		charts[at].take(l.cell)
	}
	return charts
})

func (c *BodyChart) take(cell BodyCell) {
	if !slices.Contains(c.Sizes, cell.Size) {
		c.Sizes = append(c.Sizes, cell.Size)
	}
	if !slices.ContainsFunc(c.Dimensions, func(d Dimension) bool { return d.ID == cell.Dimension }) {
		c.Dimensions = append(c.Dimensions, dimensionOf(cell.Dimension))
	}
	c.Cells = append(c.Cells, cell)
}

// Dimensions returns the measurements that the charts use.
func Dimensions() []Dimension { return slices.Clone(dimensions()) }

var dimensions = sync.OnceValue(func() []Dimension {
	return readTable("measuring.csv", func(r row) Dimension {
		return Dimension{r.text("dimension"), r.text("name"), r.text("how"), r.text("en_name"), r.source("source")}
	})
})

func dimensionOf(id string) Dimension {
	for _, d := range dimensions() {
		if d.ID == id {
			return d
		}
	}
	panic("body.csv names a dimension that measuring.csv has not: " + id)
}
