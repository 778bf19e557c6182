package counts

import (
	"strconv"
	"strings"
)

// Print writes one value for each size in the trade's notation: the first size
// bare, the others in the layout's brackets, parted by ", ", a dash for a size
// that skips the line. A value that is the same for all sizes is written once.
// A layout for another number of sizes gives way to one pair of parentheses.
// ReadFor reads the same values back.
func Print(values []*float64, layout Layout) string {
	n := len(values)
	if n == 0 {
		return ""
	}
	if n == 1 || (values[0] != nil && allSame(values)) {
		return printValue(values[0])
	}
	if layout.sizes() != n {
		layout = onePair(n)
	}
	var b strings.Builder
	b.WriteString(printValue(values[0]))
	next := 1
	for _, g := range layout.Groups {
		if g.Sizes < 1 {
			continue
		}
		opening, closing := " (", ")"
		if g.Square {
			opening, closing = " [", "]"
		}
		b.WriteString(opening)
		for k := range g.Sizes {
			if k > 0 {
				b.WriteString(", ")
			}
			b.WriteString(printValue(values[next]))
			next++
		}
		b.WriteString(closing)
	}
	return b.String()
}

func allSame(values []*float64) bool {
	for _, v := range values {
		if v == nil || *v != *values[0] {
			return false
		}
	}
	return true
}

func printValue(v *float64) string {
	if v == nil {
		return "–"
	}
	return strconv.FormatFloat(*v, 'f', -1, 64)
}
