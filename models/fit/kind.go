package fit

// kind is a kind of explanation.
type kind int

const (
	kindCell  kind = iota // count fault of one size at one point
	kindOdd               // one odd value
	kindGauge             // one tester's misreported gauge
	kindPoint             // a point off at all sizes
	kinds                 // how many there are
)

// listing names one explanation by its kind and its place in the axisRound.
type listing struct {
	kind  kind
	place int
}

// prior gives the log odds that an explanation of a kind holds, before anything
// is seen, and the variance of its size.
func (s *Settings) prior(k kind) (logOddsOf, variance float64) {
	switch k {
	case kindCell:
		return logOdds(s.FaultChance), s.FaultSize * s.FaultSize
	case kindOdd:
		return logOdds(s.OddChance), s.OddSize * s.OddSize
	case kindGauge:
		return logOdds(s.GaugeChance), s.GaugeSize * s.GaugeSize
	}
	return logOdds(s.PointChance), s.PointSize * s.PointSize
}
