package yarn

import "math"

// line is a least-squares line y = a + b x of n points.
type line struct {
	n, meanX, sxx    float64
	intercept, slope float64
	sd               float64 // residual, n − 2 degrees of freedom
}

// fitLine fits n >= 3 points. It returns false when all x are the same.
func fitLine(x, y []float64) (line, bool) {
	meanX, sxx := moments(x)
	meanY, _ := moments(y)
	l := line{n: float64(len(x)), meanX: meanX, sxx: sxx}
	if !(sxx > 1e-12*(1+meanX*meanX)) {
		return l, false
	}
	sxy := 0.0
	for i := range x {
		sxy += (x[i] - meanX) * (y[i] - meanY)
	}
	l.slope = sxy / sxx
	l.intercept = meanY - l.slope*meanX
	squares := 0.0
	for i := range x {
		r := y[i] - meanY - l.slope*(x[i]-meanX)
		squares += r * r
	}
	l.sd = math.Sqrt(squares / (l.n - 2))
	return l, true
}

// slopeSD is the standard error of the slope, s/√Sxx.
func (l *line) slopeSD() float64 { return l.sd / math.Sqrt(l.sxx) }

// slopeT is the slope in its standard errors, bounded where the points lie on
// the line.
func (l *line) slopeT() float64 {
	const most = 1e6
	if l.slope == 0 {
		return 0
	}
	return max(-most, min(most, l.slope/max(l.slopeSD(), 1e-300)))
}

// predict gives the line at x and the standard deviation of one more y there:
//
//	s √(1 + 1/n + (x − mean)²/Sxx)
func (l *line) predict(x float64) (at, sd float64) {
	d := x - l.meanX
	return l.intercept + l.slope*x, l.sd * math.Sqrt(1+1/l.n+d*d/l.sxx)
}
