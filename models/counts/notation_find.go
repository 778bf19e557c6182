package counts

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// Found is a list of sizes and its place in a text. Start and End are byte
// offsets, StartRune and EndRune count characters, Line counts from 1. Unit is
// the count's unit that the words beside it tell, "" when they do not; Measure
// marks a length (cm, inches). Problem says why a list that was meant as one
// cannot be read; Values then holds what came before.
type Found struct {
	List
	Text      string `json:"text"`
	Start     int    `json:"start"`
	End       int    `json:"end"`
	StartRune int    `json:"start_rune"`
	EndRune   int    `json:"end_rune"`
	Line      int    `json:"line"`
	Unit      string `json:"unit,omitempty"`
	Measure   bool   `json:"measure,omitempty"`
	Problem   string `json:"problem,omitempty"`
}

// FindLists finds every list of two or more sizes in a longer text, in order: a
// pasted block of pattern lines, for instance. A list does not go on over the
// end of a line.
func FindLists(text string) ([]Found, error) {
	if len(text) > MaxBlockBytes {
		return nil, fmt.Errorf("is longer than %d bytes", MaxBlockBytes)
	}
	if !utf8.ValidString(text) {
		return nil, fmt.Errorf("is not valid text (UTF-8)")
	}
	found := []Found{}
	at, runes := 0, 0
	for n, line := range strings.SplitAfter(text, "\n") {
		tokens := scan(line, readings[0].fractions)
		for _, l := range locate(tokens, readings[0]) {
			if l.headless {
				continue // (2, 3) in prose is a remark more often than a list
			}
			start, end := tokens[l.first].start, tokens[l.last].end
			f := Found{
				List: l.list, Text: line[start:end], Line: n + 1,
				Start: at + start, End: at + end,
				StartRune: runes + utf8.RuneCountInString(line[:start]),
				EndRune:   runes + utf8.RuneCountInString(line[:end]),
				Measure:   l.unit == unitMeasure, Problem: l.problem,
			}
			if l.unit != unitMeasure && l.unit != unitOrdinal {
				f.Unit = l.unit
			}
			found = append(found, f)
		}
		at += len(line)
		runes += utf8.RuneCountInString(line)
	}
	return found, nil
}
