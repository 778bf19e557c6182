package compare

import (
	"math"

	"tenter/models/gauge"
)

// ShareNote says how to read the share, or why there is none.
type ShareNote string

// The notes on a share.
const (
	ShareStands    ShareNote = ""           // read it as it is
	ShareNoGauge   ShareNote = "no_gauge"   // the maker's gauge is not known: no share
	ShareTooSmall  ShareNote = "too_small"  // the deviation is within measuring: no share
	ShareOpposite  ShareNote = "opposite"   // the maker's gauge pulls the other way: 0
	ShareOvershoot ShareNote = "overshoots" // the maker's gauge explains more than there is
)

// share returns what part of the deviation the maker's gauge explains, in
// percent, on the log scale: with y = ln(measured/design) and
// r = ln(measured/own), the deviation before and after allowing for the gauge,
//
//	share = 100 max(0, 1 - |r|/|y|)
//
// from 0 to 100. While the gauge explains part of the deviation and no more than
// all of it this is ln(own/design)/ln(measured/design). When it pulls the other
// way the share is 0; when it would explain more than there is, what it
// overshoots is taken off again. A deviation of less than 1.96 standard
// uncertainties of the measurement, or of less than half a percent, has no share:
// a part of nothing means nothing.
func share(e expectation, r Reading) (*float64, ShareNote) {
	if !e.ownKnown {
		return nil, ShareNoGauge
	}
	y, left := math.Log(r.CM/e.designCM), math.Log(r.CM/e.ownCM)
	if math.Abs(r.CM-e.designCM) <= gauge.Coverage*math.Sqrt(r.Variance) || math.Abs(y) < 0.005 {
		return nil, ShareTooSmall
	}
	note := ShareStands
	switch explained := (y - left) / y; {
	case explained < 0:
		note = ShareOpposite
	case explained > 1:
		note = ShareOvershoot
	}
	percent := gauge.Tidy(100 * math.Max(0, 1-math.Abs(left/y)))
	return &percent, note
}
