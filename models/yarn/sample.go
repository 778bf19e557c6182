package yarn

import (
	"cmp"
	"math"
	"slices"

	"tenter/models/fit"
	"tenter/models/gauge"
)

// use is one tester's yarn.
type use struct {
	tester *fit.Tester
	n      float64 // N: stitches of the size
	pitch  float64
	y      float64
}

// sample gathers the testers who reported metres, by y and then by name, so that
// no sum depends on the order of reports.
func (in *Input) sample() (uses []use, unused []Unused) {
	unused = []Unused{}
	for i := range in.Testers {
		t := &in.Testers[i]
		if t.MetresUsed == nil || *t.MetresUsed <= 0 {
			continue
		}
		n := in.TotalStitches[t.Size]
		if n <= 0 {
			unused = append(unused, Unused{Tester: t.ID, Size: t.Size, Reason: "The number of stitches of the size is not known."})
			continue
		}
		u := use{tester: t, n: n, pitch: in.ownPitch(t)}
		u.y = math.Log(*t.MetresUsed / (n * u.pitch))
		uses = append(uses, u)
	}
	slices.SortFunc(uses, func(a, b use) int {
		return cmp.Or(cmp.Compare(a.y, b.y), cmp.Compare(a.tester.ID, b.tester.ID), cmp.Compare(a.tester.Size, b.tester.Size))
	})
	return uses, unused
}

// ownPitch is the pitch at the tester's gauge, the design's where they counted
// none.
func (in *Input) ownPitch(t *fit.Tester) float64 {
	own := func(axis gauge.Axis, design float64) float64 {
		if s := t.Swatch.On(axis); s != nil {
			return s.Per10CM()
		}
		return design * 10 / in.DesignGauge.OverCM
	}
	return pitch(own(gauge.Stitch, in.DesignGauge.Stitch), own(gauge.Row, in.DesignGauge.Row))
}

// split tells outliers from the rest. With four or more: further from the median
// than the larger of 3.5 scaled median absolute deviations and 0.15. With fewer:
// further than 0.5, which is a ball forgotten, or grams for metres.
func (s Settings) split(uses []use) (kept, outliers []use) {
	if len(uses) == 0 {
		return nil, nil
	}
	const normalMAD = 1.4826 // makes the MAD of a normal sample its standard deviation
	y := make([]float64, len(uses))
	for i, u := range uses {
		y[i] = u.y
	}
	middle := median(y)
	limit := s.OutlierFew
	if len(uses) >= 4 {
		for i := range y {
			y[i] = math.Abs(y[i] - middle)
		}
		limit = max(s.OutlierMADs*normalMAD*median(y), s.OutlierLeast)
	}
	for _, u := range uses {
		if math.Abs(u.y-middle) > limit {
			outliers = append(outliers, u)
		} else {
			kept = append(kept, u)
		}
	}
	return kept, outliers
}

// median of at least one number.
func median(x []float64) float64 {
	x = slices.Sorted(slices.Values(x))
	n := len(x)
	return (x[n/2] + x[(n-1)/2]) / 2
}
