// Package standards holds the published tables that a pattern is written
// against: body charts, head sizes, ease, yarn classes with their usual gauge,
// hooks and needles, crochet terms in US and UK use, names of body dimensions
// and of points of measure, and two surveys of measured people.
//
// The tables are CSV files in data/, each row with the key of its source, which
// source.go spells out. A row says whether it was read in a published copy, is
// common practice, or is from memory; none is a substitute for the standard
// itself. Where a chart prints inches and centimetres that disagree, the inches
// are the master: charts of hand-knit sizes are graded in inches and their
// centimetres are rounded to halves.
//
// The tables are read once, when first asked for, and never change; what a
// function returns is the caller's own.
package standards
