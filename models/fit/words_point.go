package fit

import (
	"fmt"
	"math"
	"strings"

	"tenter/models/gauge"
)

func pointSentence(p PointVerdict, reports int) string {
	from := counted(reports, "report", "reports")
	switch p.Verdict {
	case AllSizesOff:
		return fmt.Sprintf("%s is off at all sizes by %s %% (%s, from %s): its step, or how it is measured, is wrong.",
			plain(p.Point), signed(p.EstimatePct), sure(p.P), from)
	case PointsDisagree:
		if len(p.Rivals) == 0 {
			return fmt.Sprintf("%s contradicts the other points at all sizes by %s %% (%s, from %s): one of the steps, or how one is measured, is wrong.",
				plain(p.Point), signed(p.EstimatePct), sure(p.P), from)
		}
		return fmt.Sprintf("%s and %s contradict each other at all sizes by %s (from %s): one of the two steps, or how one is measured, is wrong.",
			plain(p.Point), plain(strings.Join(p.Rivals, ", ")), pct(p.EstimatePct), from)
	case Unclear:
		return fmt.Sprintf("%s: %s of different sizes went wrong here the same way (about %s %%, %s): the step is easy to misread.",
			plain(p.Point), counted(len(p.Testers), "tester", "testers"), signed(p.EstimatePct), sure(p.P))
	}
	return fmt.Sprintf("%s: nothing off at all sizes (%s %%, from %s).", plain(p.Point), signed(p.EstimatePct), from)
}

func gradingSentence(g GradingVerdict, compared int) string {
	if compared == 0 {
		return fmt.Sprintf("%s: no intended measurement to compare the counts with.", plain(g.Point))
	}
	worst := gauge.Decimal(math.Abs(g.MaxDevCM), 1) + " cm"
	over := "over"
	if g.MaxDevCM < 0 {
		over = "under"
	}
	switch g.Verdict {
	case Drift:
		return fmt.Sprintf("%s: the counts run away from the intended measurements at sizes %s, by up to %s %s at an end of the range. Look at the grading rule from there on.",
			plain(g.Point), strings.Join(g.Sizes, ", "), worst, over)
	case SheetCell:
		return fmt.Sprintf("%s: the count does not give the intended measurement at size %s, by up to %s %s. Look for a slip in the sheet.",
			plain(g.Point), strings.Join(g.Sizes, ", "), worst, over)
	}
	return fmt.Sprintf("%s: the counts give the intended measurements within half a repeat (up to %s %s).", plain(g.Point), worst, over)
}
