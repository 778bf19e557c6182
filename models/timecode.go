package models

import (
	"fmt"
	"strconv"
	"strings"
)

// TimeCode is a place in a recording, in milliseconds from its start.
type TimeCode int

// LongestRecording bounds a take and every time code in it; chosen.
const LongestRecording = TimeCode(24 * 60 * 60 * 1000)

const (
	millisecond = 1
	second      = 1000 * millisecond
	minute      = 60 * second
	hour        = 60 * minute
)

// ParseTimeCode reads a time code as a player shows it: minutes and seconds
// ("12:04"), hours in front ("1:02:03"), thousandths behind a full stop or a
// comma ("1:02:03.5"). Seconds run to 59, and so do minutes behind hours;
// without hours minutes may go on ("90:00"). Every WebVTT timestamp is one.
func ParseTimeCode(s string) (TimeCode, error) {
	whole, fraction, fractioned := strings.Cut(strings.Replace(strings.TrimSpace(s), ",", ".", 1), ".")
	parts := strings.Split(whole, ":")
	if len(parts) < 2 || len(parts) > 3 {
		return 0, fmt.Errorf("is not a time code; write minutes and seconds, like 12:04 or 1:02:03.5")
	}
	var total int
	for i, part := range parts {
		n, ok := clockNumber(part, i == 0)
		if !ok {
			return 0, fmt.Errorf("is not a time code; write minutes and seconds, like 12:04 or 1:02:03.5")
		}
		if i > 0 && n > 59 {
			return 0, fmt.Errorf("has %d where at most 59 can stand; write it like 12:04 or 1:02:03.5", n)
		}
		total = total*60 + n
	}
	total *= second
	if fractioned {
		thousandths, ok := clockFraction(fraction)
		if !ok {
			return 0, fmt.Errorf("has a fraction that is not of one to three digits; write it like 12:04.5")
		}
		total += thousandths
	}
	if TimeCode(total) > LongestRecording {
		return 0, fmt.Errorf("is beyond 24 hours; no recording is that long")
	}
	return TimeCode(total), nil
}

// clockNumber reads the digits between colons: exactly two, or one to four in
// the first place.
func clockNumber(s string, leading bool) (int, bool) {
	if leading && (len(s) < 1 || len(s) > 4) || !leading && len(s) != 2 {
		return 0, false
	}
	return digits(s)
}

// clockFraction reads ".5" as 500 thousandths.
func clockFraction(s string) (int, bool) {
	if len(s) < 1 || len(s) > 3 {
		return 0, false
	}
	return digits(s + "00"[:3-len(s)])
}

func digits(s string) (int, bool) {
	for _, r := range s {
		if r < '0' || r > '9' {
			return 0, false
		}
	}
	n, err := strconv.Atoi(s)
	return n, err == nil
}

// String writes the time code as ParseTimeCode reads it, without hours below
// one hour and without zeros at the end of a fraction: "12:04.5".
func (c TimeCode) String() string {
	ms := int(c)
	text := fmt.Sprintf("%d:%02d", ms%hour/minute, ms%minute/second)
	if ms >= hour {
		text = fmt.Sprintf("%d:%02d:%02d", ms/hour, ms%hour/minute, ms%minute/second)
	}
	if rest := ms % second; rest != 0 {
		text += "." + strings.TrimRight(fmt.Sprintf("%03d", rest), "0")
	}
	return text
}
