package fit

import (
	"fmt"
	"math"
	"strings"

	"tenter/models/gauge"
)

// pct writes a percentage without its sign: "13.8 %".
func pct(x float64) string { return gauge.Decimal(math.Abs(x), 1) + " %" }

// signed writes a percentage with its sign: "−3.1".
func signed(x float64) string {
	shown := gauge.Decimal(math.Abs(x), 1)
	switch {
	case shown == "0":
		return shown
	case x < 0:
		return "−" + shown
	}
	return "+" + shown
}

// between writes an interval of percentages: "+8.1 to +19.9 %".
func between(lo, hi *float64) string { return signed(*lo) + " to " + signed(*hi) + " %" }

// within writes the same as a place to lie in.
func within(lo, hi *float64) string { return "between " + signed(*lo) + " and " + signed(*hi) + " %" }

// sure writes a probability as a person says it.
func sure(p float64) string {
	switch {
	case p >= 0.995:
		return "more than 99 % sure"
	case p < 0.005:
		return "less than 1 % sure"
	}
	return gauge.Decimal(100*p, 0) + " % sure"
}

// off writes which way an axis is off.
func offWord(axis gauge.Axis, x float64) string {
	switch {
	case axis == gauge.Row && x < 0:
		return "short"
	case axis == gauge.Row:
		return "long"
	case x < 0:
		return "narrow"
	}
	return "wide"
}

// comparative writes how finished pieces compare.
func comparative(axis gauge.Axis, x float64) string {
	switch {
	case axis == gauge.Row && x < 0:
		return "shorter"
	case axis == gauge.Row:
		return "longer"
	case x < 0:
		return "narrower"
	}
	return "wider"
}

// lengthWord names what the axis measures.
func lengthWord(axis gauge.Axis) string {
	if axis == gauge.Row {
		return "lengthwise"
	}
	return "widthwise"
}

// plain writes a point's id as a person reads it: "sleeve_length" is "sleeve
// length".
func plain(point string) string { return strings.ReplaceAll(point, "_", " ") }

// entered writes a value as it was typed in, or the mean of several readings.
func (r *reading) entered() string {
	if r.readings == 1 || r.disagree {
		return gauge.Decimal(*r.last.Value, 3) + " " + string(r.last.Unit)
	}
	return gauge.ShowCM(r.cm, r.last.Unit)
}

func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// inWhole writes a number of rows or stitches, never "0" for a part of one.
func inWhole(x float64) string {
	x = math.Abs(x)
	if x < 1.5 {
		return gauge.Decimal(x, 1)
	}
	return gauge.Decimal(x, 0)
}
