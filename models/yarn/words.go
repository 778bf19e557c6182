package yarn

import (
	"fmt"
	"math"

	"tenter/models/gauge"
)

// makers says a share of makers in words: "9 of 10 makers".
func makers(gamma float64) string {
	for _, of := range []float64{10, 20, 100} {
		if k := gamma * of; math.Abs(k-math.Round(k)) < 1e-9 {
			return fmt.Sprintf("%.0f of %.0f makers", k, of)
		}
	}
	return gauge.Decimal(100*gamma, 1) + " % of makers"
}

func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

func noStitches(size string) string {
	return fmt.Sprintf("Size %s: can't be told; the number of its stitches is not known.", size)
}

func absurd(size string) string {
	return fmt.Sprintf("Size %s: can't be told; what the testers used comes to over %.0f km here. Check the stitches and the metres.", size, mostMetres/1000)
}

func amountSentence(a Amount, ball *Ball, gamma float64, b *bound) string {
	switch a.Basis {
	case NothingToTell:
		return fmt.Sprintf("Size %s: can't be told yet; nobody has reported how much they used. One report would tell something.", a.Size)
	case BySwatch:
		return fmt.Sprintf("Size %s: about %s m by the weight of the swatch, which is an estimate without a bound; nobody has reported yet.",
			a.Size, gauge.Decimal(*a.TypicalMetres, 0))
	}
	of := "none of this size"
	if a.Reports > 0 {
		of = fmt.Sprintf("%d of this size", a.Reports)
	}
	amount := gauge.Decimal(math.Ceil(*a.UpperMetres), 0) + " m"
	if a.Balls != nil {
		amount = fmt.Sprintf("%s of %s m", counted(*a.Balls, "ball", "balls"), gauge.Decimal(ball.Metres, 1))
	}
	return fmt.Sprintf("Size %s: %s, enough for %s (%s m typical, %s m bound, from %s, %s).",
		a.Size, amount, makers(gamma), gauge.Decimal(*a.TypicalMetres, 0), gauge.Decimal(*a.UpperMetres, 0),
		counted(b.n, "tester", "testers"), of)
}

func outlierSentence(o Outlier, fromOthers bool) string {
	if !fromOthers {
		return fmt.Sprintf("%s used %s m for size %s, and the others contradict it. Ask whether a ball was forgotten, or grams were given for metres.",
			o.Tester, gauge.Decimal(o.Metres, 1), o.Size)
	}
	return fmt.Sprintf("%s used %s m for size %s, %s times what the others' use and %s's own gauge let expect (%s m); it is left out. Ask whether a ball was forgotten, or grams were given for metres.",
		o.Tester, gauge.Decimal(o.Metres, 1), o.Size, gauge.Decimal(o.Ratio, 2), o.Tester, gauge.Decimal(o.ExpectedMetres, 0))
}

func summary(out Output) string {
	if out.Used == 0 {
		return "How much yarn to state can't be told yet: no tester's metres can be used."
	}
	s := fmt.Sprintf("Enough for %s, from %s", makers(out.Gamma), counted(out.Used, "tester", "testers"))
	if n := len(out.Outliers); n > 0 {
		s += fmt.Sprintf(", with %s left out", counted(n, "outlier", "outliers"))
	}
	if out.SizeMatters {
		return s + ". Larger sizes do not use yarn in proportion to their stitches, so each size has its own bound."
	}
	return s + "."
}
