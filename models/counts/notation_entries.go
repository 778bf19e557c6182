package counts

import "fmt"

// entries is what stands between two brackets, or in a whole text without
// brackets, taken as a list of sizes.
type entries struct {
	values  []*float64
	unit    string // the unit word that the values carry, "" for none
	units   int    // how many of the values carry it
	hard    bool   // parted by more than spaces
	note    bool   // holds something else: a remark, a repeat, a gloss
	problem string // meant as a list, and written wrongly
}

// readEntries takes the tokens as values parted by separators or spaces. Each
// value may carry a unit word.
func readEntries(tokens []token) entries {
	var e entries
	afterSeparator, hasUnit := true, false
	for i, t := range tokens {
		switch t.kind {
		case tokSeparator:
			if afterSeparator {
				e.fault("there is an empty place before %q", t.text)
			}
			e.hard, afterSeparator = true, true
		case tokNumber, tokSkip:
			if !afterSeparator && !t.spaced {
				e.fault("%q is not parted from the value before it", t.text)
			}
			e.values = append(e.values, t.entry())
			afterSeparator, hasUnit = false, false
		default:
			unit := unitAt(tokens, i)
			if unit == "" || afterSeparator || hasUnit || !e.carry(unit) {
				e.note = true
			}
			hasUnit = true
		}
	}
	if afterSeparator {
		e.fault("there is an empty place at the end")
	}
	if e.note {
		e.noteOrFault(tokens)
	}
	return e
}

func (e *entries) fault(format string, args ...any) {
	if e.problem == "" {
		e.problem = fmt.Sprintf(format, args...)
	}
}

// carry notes that the last value carries a unit word; values with different
// units are no list of sizes.
func (e *entries) carry(unit string) bool {
	if e.units > 0 && unit != e.unit {
		return false
	}
	e.unit = unit
	e.units++
	return true
}

// noteOrFault decides what a bracket is that holds more than values. A part
// between separators that is a bare number shows that a list was meant, as in
// (158, 17O); otherwise it is a note, as in (counts as 1 dc).
func (e *entries) noteOrFault(tokens []token) {
	e.problem = ""
	from, bare, parts := 0, 0, 0
	odd := ""
	for i := 0; i <= len(tokens); i++ {
		if i < len(tokens) && tokens[i].kind != tokSeparator {
			continue
		}
		part := tokens[from:i]
		from = i + 1
		parts++
		if len(part) == 1 && (part[0].kind == tokNumber || part[0].kind == tokSkip) {
			bare++
		} else if odd == "" && len(part) > 0 {
			odd = part[0].text
			for _, t := range part[1:] {
				if t.spaced {
					odd += " "
				}
				odd += t.text
			}
		}
	}
	if parts > 1 && bare > 0 {
		e.note = false
		e.fault("%q is not a number", odd)
	}
}

// entry returns the value of a number, nil of a skip.
func (t token) entry() *float64 {
	if t.kind == tokSkip {
		return nil
	}
	v := t.value
	return &v
}

// unitAt returns the kind of the word at tokens[i] as the unit of the number
// before it, "" when it is none.
func unitAt(tokens []token, i int) string {
	if i >= len(tokens) {
		return ""
	}
	t := tokens[i]
	if !t.spaced && i > 0 && tokens[i-1].kind == tokNumber && isOrdinal(tokens[i-1].text, t.text) {
		return unitOrdinal
	}
	if lower(t.text) == "in" && i+1 < len(tokens) && tokens[i+1].kind == tokWord {
		return "" // "in pattern", not inches
	}
	return wordUnit(t.text)
}

// isOrdinal tells the st of 1st from that of 150st (stitches).
func isOrdinal(number, suffix string) bool {
	last := number[len(number)-1]
	teen := len(number) > 1 && number[len(number)-2] == '1'
	switch lower(suffix) {
	case "st":
		return last == '1' && !teen
	case "nd":
		return last == '2' && !teen
	case "rd":
		return last == '3' && !teen
	case "th":
		return true
	}
	return false
}
