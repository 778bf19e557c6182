package assign

import (
	"fmt"
	"math"
)

// Bounds on a length in a size advice, in cm.
const (
	maxLengthCM = 1000.0
	maxPoints   = 100
)

// Fitting is a body and the design that it is to wear.
type Fitting struct {
	Sizes  []string       `json:"sizes"`  // smallest to largest
	Points []FittingPoint `json:"points"` // the one that decides the fit first
}

// FittingPoint is one point of measure: the person's body, each size's
// intended finished measurement (nil where a size has none) and the ease that
// the design intends, EaseLowCM <= EaseHighCM (negative for a snug fit).
type FittingPoint struct {
	Name       string     `json:"name"`
	BodyCM     float64    `json:"body_cm"`
	FinishedCM []*float64 `json:"finished_cm"`
	EaseLowCM  float64    `json:"ease_low_cm"`
	EaseHighCM float64    `json:"ease_high_cm"`
}

// Advice is the size to offer a person and why, in one sentence.
type Advice struct {
	Size    string    `json:"size"`
	Fits    bool      `json:"fits"` // the ease is as intended at every point
	Eases   []EaseFit `json:"eases"`
	Message string    `json:"message"`
}

// EaseFit is the ease that the size leaves the person at one point, and how
// far that is outside what the design intends: 0 inside, negative when tight.
type EaseFit struct {
	Point     string  `json:"point"`
	EaseCM    float64 `json:"ease_cm"`
	OutsideCM float64 `json:"outside_cm"`
}

// NearestSize advises the size whose ease on this body, finished - body, is
// nearest to the design's: least sum over the points of the cm outside the
// intended range; then least sum of the distances from the middle of that
// range; then the larger size, as a roomy garment can still be worn (chosen).
// A size without a finished measurement at some point is not advised.
func NearestSize(f Fitting) (Advice, error) {
	if err := f.check(); err != nil {
		return Advice{}, err
	}
	best, leastOutside, leastOff := nobody, math.Inf(1), math.Inf(1)
	for s := range f.Sizes {
		outside, off, complete := f.misfit(s)
		if complete && (outside < leastOutside-roundingCM ||
			outside <= leastOutside+roundingCM && off <= leastOff+roundingCM) {
			best, leastOutside, leastOff = s, outside, off
		}
	}
	if best == nobody {
		return Advice{}, faulty("points", "no size has a finished measurement at every point")
	}
	a := Advice{Size: f.Sizes[best], Fits: leastOutside <= roundingCM}
	worst := 0
	for i, p := range f.Points {
		a.Eases = append(a.Eases, p.fit(best))
		if math.Abs(a.Eases[i].OutsideCM) > math.Abs(a.Eases[worst].OutsideCM)+roundingCM {
			worst = i
		}
	}
	a.Message = f.adviceMessage(a, best, worst)
	return a, nil
}

// roundingCM is a length below which two sums of lengths are the same.
const roundingCM = 1e-9

func (f Fitting) misfit(size int) (outside, off float64, complete bool) {
	for _, p := range f.Points {
		if p.FinishedCM[size] == nil {
			return 0, 0, false
		}
		fit := p.fit(size)
		outside += math.Abs(fit.OutsideCM)
		off += math.Abs(fit.EaseCM - (p.EaseLowCM+p.EaseHighCM)/2)
	}
	return outside, off, true
}

func (p FittingPoint) fit(size int) EaseFit {
	ease := *p.FinishedCM[size] - p.BodyCM
	within := max(p.EaseLowCM, min(p.EaseHighCM, ease))
	return EaseFit{Point: p.Name, EaseCM: ease, OutsideCM: ease - within}
}

// adviceMessage speaks of the point with the worst ease, or of the first when
// all are as intended.
func (f Fitting) adviceMessage(a Advice, size, worst int) string {
	p, e := f.Points[worst], a.Eases[worst]
	message := fmt.Sprintf("size %s is nearest: %s %.1f cm finished on %.1f cm leaves %.1f cm of ease, ",
		a.Size, p.Name, *p.FinishedCM[size], p.BodyCM, e.EaseCM)
	meant := fmt.Sprintf("the %.1f to %.1f cm intended", p.EaseLowCM, p.EaseHighCM)
	switch {
	case a.Fits:
		return message + "within " + meant
	case e.OutsideCM < 0:
		return message + fmt.Sprintf("%.1f cm less than ", -e.OutsideCM) + meant
	}
	return message + fmt.Sprintf("%.1f cm more than ", e.OutsideCM) + meant
}

func (f Fitting) check() error {
	if len(f.Sizes) == 0 || len(f.Sizes) > MaxSizes {
		return faulty("sizes", "%d sizes; give 1 to %d", len(f.Sizes), MaxSizes)
	}
	if len(f.Points) == 0 || len(f.Points) > maxPoints {
		return faulty("points", "%d points; give 1 to %d", len(f.Points), maxPoints)
	}
	for i, p := range f.Points {
		if err := p.check(fmt.Sprintf("points[%d]", i), len(f.Sizes)); err != nil {
			return err
		}
	}
	return nil
}

func (p FittingPoint) check(at string, sizes int) error {
	if !(p.BodyCM > 0 && p.BodyCM <= maxLengthCM) { // written so that NaN fails too
		return faulty(at+".body_cm", "%g; give a length above 0 and up to %g", p.BodyCM, maxLengthCM)
	}
	if len(p.FinishedCM) != sizes {
		return faulty(at+".finished_cm", "%d values for %d sizes; give one for each", len(p.FinishedCM), sizes)
	}
	for s, v := range p.FinishedCM {
		if v != nil && !(*v > 0 && *v <= maxLengthCM) {
			return faulty(fmt.Sprintf("%s.finished_cm[%d]", at, s), "%g; give a length above 0 and up to %g", *v, maxLengthCM)
		}
	}
	if !(math.Abs(p.EaseLowCM) <= maxLengthCM) {
		return faulty(at+".ease_low_cm", "%g is not a length", p.EaseLowCM)
	}
	if !(p.EaseHighCM >= p.EaseLowCM && p.EaseHighCM <= maxLengthCM) {
		return faulty(at+".ease_high_cm", "%g; give a length from ease_low_cm up to %g", p.EaseHighCM, maxLengthCM)
	}
	return nil
}
