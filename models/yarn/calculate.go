package yarn

import (
	"cmp"
	"math"
	"slices"
)

// Calculate says how much yarn to state for each size, with the usual settings.
// A bad input gives a *FieldError and no answer.
func Calculate(in Input) (Output, error) { return CalculateWith(in, DefaultSettings()) }

// CalculateWith does so with a studio's own settings.
func CalculateWith(in Input, s Settings) (Output, error) {
	if err := s.Check(); err != nil {
		return Output{}, err
	}
	if err := in.check(); err != nil {
		return Output{}, err
	}
	gamma := in.gamma(s)
	uses, unused := in.sample()
	kept, outliers := s.split(uses)
	out := Output{Round: in.Round, Gamma: gamma, Used: len(kept), Unused: unused, Sizes: []Amount{}}
	var b *bound
	if len(kept) > 0 {
		of := s.newBound(kept, gamma)
		b = &of
		out.MeanLog, out.SDLog, out.UpperLog = shown(b.mean, 4), shown(b.sd, 4), shown(b.upper, 4)
		out.SizeMatters = b.line != nil
		if b.slopeT != nil {
			out.SlopeT = shown(*b.slopeT, 2)
		}
	}
	for _, size := range in.Sizes {
		out.Sizes = append(out.Sizes, in.amount(size, b, kept, gamma))
	}
	out.Outliers = in.outliers(outliers, uses, b)
	out.Message = summary(out)
	return out, nil
}

// mostMetres is the most yarn that is stated for one size; more than that is a
// mistake in the stitches or the metres of the input.
const mostMetres = 1e7

// amount is the yarn of one size, from the testers, or else from a swatch.
func (in *Input) amount(size string, b *bound, kept []use, gamma float64) Amount {
	a := Amount{Size: size, Basis: NothingToTell}
	for _, u := range kept {
		if u.tester.Size == size {
			a.Reports++
		}
	}
	n := in.TotalStitches[size]
	switch {
	case n <= 0:
		a.Message = noStitches(size)
		return a
	case b != nil:
		typical, upper := b.of(n)
		metres := n * in.designPitch()
		if !(metres*math.Exp(max(typical, upper)) <= mostMetres) {
			a.Message = absurd(size)
			return a
		}
		a.Basis = ByTesters
		in.publish(&a, metres*math.Exp(typical), metres*math.Exp(upper))
	case in.SwatchWeight != nil:
		a.Basis = BySwatch
		a.TypicalMetres = shown(in.bySwatch(n), 1)
	}
	a.Message = amountSentence(a, in.Ball, gamma, b)
	return a
}

// publish rounds the bound up, last of all: to whole balls where a ball is
// known, to whole metres otherwise.
func (in *Input) publish(a *Amount, typical, upper float64) {
	const rounding = 1e-9 // what is a whole number up to rounding is not rounded up
	a.TypicalMetres, a.UpperMetres = shown(typical, 1), shown(upper, 1)
	if in.Ball == nil {
		a.PublishMetres = shown(math.Ceil(upper*(1-rounding)), 0)
		return
	}
	balls := math.Ceil(upper / in.Ball.Metres * (1 - rounding))
	whole := int(balls)
	a.Balls, a.PublishMetres = &whole, shown(balls*in.Ball.Metres, 1)
	if in.Ball.Grams > 0 {
		a.Grams = shown(balls*in.Ball.Grams, 1)
	}
}

// bySwatch weighs the fabric: a stitch takes the swatch's weight by its share of
// the swatch's area.
func (in *Input) bySwatch(n float64) float64 {
	w, side := in.SwatchWeight, 100*in.designPitch() // cm
	grams := w.Grams / (w.WidthCM * w.HeightCM) * side * side * n
	return grams * in.Ball.Metres / in.Ball.Grams
}

// outliers names them in the order of the input.
func (in *Input) outliers(outliers, uses []use, b *bound) []Outlier {
	out := []Outlier{}
	for _, u := range outliers {
		y := make([]float64, len(uses))
		for i := range uses {
			y[i] = uses[i].y
		}
		typical := median(y)
		if b != nil {
			typical, _ = b.of(u.n)
		}
		expected := u.n * u.pitch * math.Exp(typical)
		o := Outlier{
			Tester: u.tester.ID, Size: u.tester.Size, Metres: *u.tester.MetresUsed,
			ExpectedMetres: *shown(expected, 1), Ratio: *shown(*u.tester.MetresUsed/expected, 3),
		}
		o.Message = outlierSentence(o, b != nil)
		out = append(out, o)
	}
	place := map[[2]string]int{}
	for i, t := range in.Testers {
		place[[2]string{t.ID, t.Size}] = i
	}
	slices.SortFunc(out, func(a, b Outlier) int {
		return cmp.Compare(place[[2]string{a.Tester, a.Size}], place[[2]string{b.Tester, b.Size}])
	})
	return out
}
