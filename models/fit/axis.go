package fit

import "tenter/models/gauge"

// observation is one tester's measurement of one point, all readings together.
type observation struct {
	maker, point, cell int // places in axisRound
	y                  float64
	s2                 float64 // variance of y from the tape, before κ
	e0, e1             float64 // cm expected at the design gauge and at the tester's own
	uCM                float64
	reading            reading
}

// maker is one tester as this axis sees them.
type maker struct {
	tester   int // place in Input.Testers
	size     int
	ug2      float64 // relative variance of their gauge
	missing  bool    // reported no gauge on this axis
	from, to int     // their observations are obs[from:to]
}

// spot is one point of the axis that somebody measured.
type spot struct {
	point int // place in Input.Points
	uCM   float64
	obs   []int
}

// cell is one size at one point that somebody measured.
type cell struct {
	size  int // place in Input.Sizes
	point int // place in axisRound.spots
	obs   []int
	e0    float64
	uCM   float64
}

// axisRound is one axis of a round, ready for the fit: observations tester by
// tester, and within a tester point by point.
type axisRound struct {
	in     *Input
	axis   gauge.Axis
	obs    []observation
	makers []maker
	spots  []spot
	cells  []cell

	logS2        float64 // Σ ln s²
	pointAllowed bool    // at least two points and two sizes were measured
}

// gaugeAllowed reports whether a misreported gauge of maker t can be told from
// an odd value.
func (ax *axisRound) gaugeAllowed(t int) bool {
	m := &ax.makers[t]
	return !m.missing && len(ax.spots) >= 2 && m.to-m.from >= 2
}

// gauges is the number of makers who reported a gauge.
func (ax *axisRound) gauges() int {
	n := 0
	for _, m := range ax.makers {
		if !m.missing {
			n++
		}
	}
	return n
}
