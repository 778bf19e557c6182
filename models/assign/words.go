package assign

import (
	"strconv"
	"strings"
)

// spelled are the numbers that a sentence spells out.
var spelled = [...]string{"no", "one", "two", "three", "four", "five", "six",
	"seven", "eight", "nine", "ten", "eleven", "twelve"}

// quantity puts a number before a noun: no people, one report, 13 reports.
func quantity(n int, one, many string) string {
	noun := many
	if n == 1 {
		noun = one
	}
	return number(n) + " " + noun
}

// number spells small numbers out.
func number(n int) string {
	if n >= 0 && n < len(spelled) {
		return spelled[n]
	}
	return strconv.Itoa(n)
}

// listed joins names as a sentence does: 7, 8 and 9.
func listed(names []string) string {
	last := len(names) - 1
	if last < 1 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:last], ", ") + " and " + names[last]
}
