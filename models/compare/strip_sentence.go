package compare

import (
	"fmt"
	"strings"

	"tenter/models/gauge"
)

// sentence is the strip in words.
func (in StripInput) sentence(s Strip) string {
	unit := in.Unit
	if unit == "" {
		unit = gauge.Centimetre
	}
	text := fmt.Sprintf("Intended %s, give or take %s", gauge.ShowCM(s.IntendedCM, unit), gauge.ShowCM(in.ToleranceCM, unit))
	if in.Point != "" {
		text = in.Point + ": " + strings.ToLower(text[:1]) + text[1:]
	}
	if len(s.Marks) == 0 {
		return text + "; nothing measured yet."
	}
	values := make([]string, len(s.Marks))
	for i, m := range s.Marks {
		values[i] = gauge.ShowCM(m.CM, unit)
		if !m.GaugeKnown {
			values[i] += " (gauge not known)"
		}
	}
	return fmt.Sprintf("%s; at the maker's own gauge %s; %s.", text, listed(values), outsideInWords(s.Outside, len(s.Marks)))
}

func listed(values []string) string {
	if len(values) == 1 {
		return values[0]
	}
	return strings.Join(values[:len(values)-1], ", ") + " and " + values[len(values)-1]
}

func outsideInWords(outside, all int) string {
	switch {
	case outside == 0 && all == 1:
		return "it is within"
	case outside == 0:
		return "all are within"
	case outside == all && all == 1:
		return "it is outside"
	case outside == all:
		return "all are outside"
	case outside == 1:
		return "1 is outside"
	}
	return fmt.Sprintf("%d are outside", outside)
}
