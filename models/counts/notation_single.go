package counts

import (
	"errors"
	"fmt"
	"strings"
)

// onlyNumber returns the number of a text without brackets of sizes: the only
// one that can be a count, or the one that the text closes with, as the trade
// closes a row: "… – 85 sc" or "… [85 sts]".
func onlyNumber(tokens []token) (*float64, error) {
	var counts []int
	for i, t := range tokens {
		if t.kind == tokNumber && canCount(tokens, i) {
			counts = append(counts, i)
		}
	}
	if len(counts) == 0 {
		return nil, errors.New("holds no list of sizes; write it like 146 (158, 170)")
	}
	last := counts[len(counts)-1]
	if len(counts) > 1 && !closes(tokens, last) {
		quoted := make([]string, len(counts))
		for k, i := range counts {
			quoted[k] = tokens[i].text
		}
		return nil, fmt.Errorf("no single list can be told in this text (%s); give only the one",
			strings.Join(quoted, ", "))
	}
	return tokens[last].entry(), nil
}

// canCount leaves out what is no count: k2, 2tog, 2nd, 4 mm, Row 5, Rows 2 and 3.
func canCount(tokens []token, i int) bool {
	if i > 0 && !tokens[i].spaced && tokens[i-1].kind == tokWord {
		return false
	}
	unit := unitAt(tokens, i+1)
	if unit == unitMeasure || unit == unitOrdinal {
		return false
	}
	if unit == "" && i+1 < len(tokens) && tokens[i+1].kind == tokWord && !tokens[i+1].spaced {
		return false
	}
	return unit == UnitStitch || unit == UnitRepeat || !labelled(tokens, i)
}

// labelled reports whether the number at i is one of a row, a round, a size, a
// step or a page, alone or in a series.
func labelled(tokens []token, i int) bool {
	for k := i - 1; k >= 0; k-- {
		switch word := lower(tokens[k].text); word {
		case "row", "rows", "rnd", "rnds", "round", "rounds", "size", "sizes",
			"step", "steps", "section", "page", "chart", "part", "hook", "needle":
			return true
		case "and", "to", "through", "&", ",", "or":
		default:
			if tokens[k].kind != tokNumber && tokens[k].kind != tokSkip {
				return false
			}
		}
	}
	return false
}

// closes reports whether the number at i is the count that a row's text ends
// with: after a dash or an opening bracket or an equals sign, with nothing but
// its unit after it.
func closes(tokens []token, i int) bool {
	if i == 0 {
		return false
	}
	before := tokens[i-1]
	if before.kind != tokSkip && before.kind != tokOpen && before.text != "=" {
		return false
	}
	for k := i + 1; k < len(tokens); k++ {
		if unitAt(tokens, k) == "" && tokens[k].kind != tokClose && tokens[k].text != "." {
			return false
		}
	}
	return true
}
