package fit

import (
	"strings"

	"tenter/models/gauge"
)

// readingUCM is the standard uncertainty of a point that states none. A hem is
// known by its name; otherwise a point counted in stitches is a full
// circumference from 60 cm and a width below, and one counted in rows a length
// over 40 cm and a short straight one below, by the longest of its sizes.
func (s *Settings) readingUCM(p Point, longestCM float64) float64 {
	const (
		circumferenceFromCM = 60.0
		longOverCM          = 40.0
	)
	r := s.Repeatability
	switch {
	case p.UCM != nil:
		return *p.UCM
	case strings.Contains(strings.ToLower(p.ID), "hem"):
		return r.HemCM
	case p.Axis == gauge.Stitch && longestCM >= circumferenceFromCM:
		return r.CircumferenceCM
	case p.Axis == gauge.Stitch:
		return r.WidthCM
	case longestCM > longOverCM:
		return r.LengthCM
	}
	return r.ShortCM
}
