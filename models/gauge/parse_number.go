package gauge

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// vulgarFraction returns the value of a one-character fraction.
func vulgarFraction(r rune) (float64, bool) {
	switch r {
	case '¼':
		return 1.0 / 4, true
	case '½':
		return 1.0 / 2, true
	case '¾':
		return 3.0 / 4, true
	case '⅓':
		return 1.0 / 3, true
	case '⅔':
		return 2.0 / 3, true
	case '⅛':
		return 1.0 / 8, true
	case '⅜':
		return 3.0 / 8, true
	case '⅝':
		return 5.0 / 8, true
	case '⅞':
		return 7.0 / 8, true
	}
	return 0, false
}

// typedNumber reads a decimal, a whole number with a fraction, or a fraction.
func typedNumber(text string) (float64, error) {
	if strings.HasPrefix(text, "-") {
		return 0, Wrongf("length", "is negative; give the length as it is read from the tape")
	}
	last, size := utf8.DecodeLastRuneInString(text)
	if part, ok := vulgarFraction(last); ok {
		return withWhole(strings.TrimSpace(text[:len(text)-size]), part)
	}
	text = strings.ReplaceAll(text, "⁄", "/")
	slash := strings.IndexByte(text, '/')
	if slash < 0 {
		return decimal(text)
	}
	top, bottom := text[:slash], strings.TrimSpace(text[slash+1:])
	top = strings.TrimSpace(top)
	whole := ""
	if cut := strings.LastIndexAny(top, " -"); cut >= 0 {
		whole, top = strings.Trim(top[:cut], " -"), top[cut+1:]
	}
	part, err := fraction(top, bottom)
	if err != nil {
		return 0, err
	}
	return withWhole(whole, part)
}

// withWhole adds the whole number before a fraction, if there is one.
func withWhole(whole string, part float64) (float64, error) {
	whole = strings.TrimSpace(strings.TrimSuffix(whole, "-"))
	if whole == "" {
		return part, nil
	}
	n, err := strconv.ParseUint(whole, 10, 32)
	if err != nil {
		return 0, notOneNumber()
	}
	return float64(n) + part, nil
}

// fraction reads the part of a mixed number; tapes are divided in halves to
// sixty-fourths, so nothing finer is taken.
func fraction(top, bottom string) (float64, error) {
	a, errA := strconv.ParseUint(top, 10, 16)
	b, errB := strconv.ParseUint(bottom, 10, 16)
	if errA != nil || errB != nil {
		return 0, notOneNumber()
	}
	if b < 2 || b > 64 || a >= b {
		return 0, Wrongf("length", "has the fraction %d/%d; give one like 1/2 or 3/8", a, b)
	}
	return float64(a) / float64(b), nil
}

// decimal reads digits with at most one decimal point or comma.
func decimal(text string) (float64, error) {
	text = strings.ReplaceAll(text, ",", ".")
	if strings.Count(text, ".") > 1 || strings.Trim(text, ".0123456789") != "" || strings.ContainsAny(text, " -/") {
		return 0, notOneNumber()
	}
	value, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return 0, notOneNumber()
	}
	return value, nil
}

func notOneNumber() error {
	return Wrongf("length", "is not one number; write it like 41.5 or 41 1/2")
}
