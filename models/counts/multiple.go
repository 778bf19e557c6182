package counts

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
)

// Multiple is the count that a stitch pattern needs: Of × n + Plus stitches for
// n = 0, 1, 2 … FoundationAdd is what a crochet foundation chain needs above
// that.
type Multiple struct {
	Of            int `json:"of"`
	Plus          int `json:"plus"`
	FoundationAdd int `json:"foundation_add,omitempty"`
}

// MaxMultiple bounds the numbers of a Multiple.
const MaxMultiple = 10_000

const stitchWord = `(?:(?:st|sts|stitch|stitches|ch|chs|chain|chains|sc|dc|rows?|rnds?|rounds?)\b\.?)`

var (
	multiplePattern = regexp.MustCompile(`(?i)\bmult(?:iples?)?\.?\s+of\s+(\d{1,9})\b\s*` + stitchWord +
		`?((?:\s*(?:\+|\bplus\b|-|−|–|\bminus\b)\s*\d{1,9}\b(?:\s*` + stitchWord + `)?)*)`)
	addendPattern     = regexp.MustCompile(`(?i)(\+|plus|-|−|–|minus)\s*(\d{1,9})`)
	foundationPattern = regexp.MustCompile(`(?i)\badd\s+(\d{1,9})\s+(?:more\s+)?(?:` + stitchWord +
		`\s+)?for\s+(?:the\s+)?(?:foundation|base|starting|turning)`)
)

// ReadMultiple reads the trade's way of stating a stitch multiple:
//
//	multiple of 6 + 2
//	multiple of 6 + 2 (add 1 for the foundation chain)
//	multiple of 3 + 1 + 1
//
// A second addend is the chain's allowance for turning, as is common practice
// in crochet.
func ReadMultiple(text string) (Multiple, error) {
	if err := checkText(text); err != nil {
		return Multiple{}, err
	}
	found := multiplePattern.FindAllStringSubmatch(text, -1)
	if len(found) != 1 {
		return Multiple{}, errors.New("does not state one multiple; write it like multiple of 6 + 2")
	}
	m := Multiple{Of: number(found[0][1])}
	for i, addend := range addendPattern.FindAllStringSubmatch(found[0][2], -1) {
		n := number(addend[2])
		if addend[1] != "+" && lower(addend[1]) != "plus" {
			n = -n
		}
		switch i {
		case 0:
			m.Plus = n
		case 1:
			m.FoundationAdd = n
		default:
			return Multiple{}, errors.New("adds more than two numbers")
		}
	}
	if add := foundationPattern.FindStringSubmatch(text); add != nil {
		m.FoundationAdd = number(add[1])
	}
	return m, m.check()
}

// number reads digits that a pattern has matched; nine of them fit.
func number(digits string) int {
	n, _ := strconv.Atoi(digits)
	return n
}

func (m Multiple) check() error {
	for _, n := range []int{m.Of, m.Plus, m.FoundationAdd} {
		if n < -MaxMultiple || n > MaxMultiple {
			return fmt.Errorf("%d is out of bounds (%d)", n, MaxMultiple)
		}
	}
	if m.Of < 1 {
		return fmt.Errorf("is a multiple of %d; it must be 1 or more", m.Of)
	}
	return nil
}

// String prints the multiple so that ReadMultiple reads it back.
func (m Multiple) String() string {
	s := "multiple of " + strconv.Itoa(m.Of)
	if m.Plus != 0 || m.FoundationAdd != 0 {
		s += signed(m.Plus)
	}
	if m.FoundationAdd != 0 {
		s += signed(m.FoundationAdd)
	}
	return s
}

func signed(n int) string {
	if n < 0 {
		return " - " + strconv.Itoa(-n)
	}
	return " + " + strconv.Itoa(n)
}

// Fits reports whether v is such a count: a whole number, not below zero, that
// leaves Plus over when divided by Of.
func (m Multiple) Fits(v float64) bool {
	return v >= 0 && v == math.Trunc(v) && math.Mod(v-float64(m.Plus), float64(m.Of)) == 0
}

// Nearest returns the nearest such counts below and above v; there is none
// below when it would be less than nothing. For a v that fits it is v alone.
func (m Multiple) Nearest(v float64) []float64 {
	of, plus := float64(m.Of), float64(m.Plus)
	below := math.Floor((v-plus)/of)*of + plus
	if below == v && v >= 0 {
		return []float64{v}
	}
	above := below + of
	if above < 0 {
		above += math.Ceil(-above/of) * of
	}
	if below < 0 {
		return []float64{above}
	}
	return []float64{below, above}
}

// Closest returns the such count that is closest to v, the larger of two that
// are equally near (chosen: a garment that is a little large can be worn).
func (m Multiple) Closest(v float64) float64 {
	near := m.Nearest(v)
	if len(near) == 2 && v-near[0] < near[1]-v {
		return near[0]
	}
	return near[len(near)-1]
}

// Chain returns how many chains to make for a count of stitches.
func (m Multiple) Chain(stitches int) int { return stitches + m.FoundationAdd }
