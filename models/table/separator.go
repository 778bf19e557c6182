package table

import (
	"encoding/csv"
	"strings"
)

// rowsLookedAt is how many rows below the header tell the separator (chosen).
const rowsLookedAt = 20

// separator finds out what separates the cells. It is the one by which most of
// the first rows have as many cells as the header; then the one that gives
// most columns; a table of one column counts as separated by commas.
func separator(text string) rune {
	best, bestAgree, bestWidth := ',', 0, 1
	for _, sep := range []rune{',', ';', '\t'} {
		width, agree := shape(text, sep)
		if width > 1 && (agree > bestAgree || agree == bestAgree && width > bestWidth) {
			best, bestAgree, bestWidth = sep, agree, width
		}
	}
	return best
}

// shape returns how many columns the header has with a separator and how many
// of the rows below it have as many.
func shape(text string, sep rune) (width, agree int) {
	r := csv.NewReader(strings.NewReader(text))
	r.Comma, r.FieldsPerRecord, r.LazyQuotes, r.ReuseRecord = sep, -1, true, true
	for i := 0; i <= rowsLookedAt; i++ {
		cells, err := r.Read()
		switch {
		case err != nil:
			return width, agree
		case width == 0:
			width = len(cells)
		case len(cells) == width:
			agree++
		}
	}
	return width, agree
}
