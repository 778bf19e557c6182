package fit

import (
	"fmt"

	"tenter/models/gauge"
)

func fabricNothing(axis gauge.Axis) string {
	return fmt.Sprintf("Fabric %s: can't be told yet; nothing was measured.", lengthWord(axis))
}

func fabricUnknown(f Fabric, contradicted bool) string {
	if contradicted {
		return fmt.Sprintf("Fabric %s: can't be told yet; two points contradict each other at all sizes.", lengthWord(f.Axis))
	}
	return fmt.Sprintf("Fabric %s: can't be told yet; %s reported a gauge, and it takes at least %d.",
		lengthWord(f.Axis), counted(f.Testers, "tester", "testers"), leastGauges)
}

func fabricSentence(f Fabric, points int) string {
	testers := counted(f.Testers, "tester", "testers")
	switch f.Verdict {
	case Grows, Shrinks:
		return fmt.Sprintf("Finished pieces of this round come out %s %s than the swatch says (%s, 95 %% sure, from %s), at every size. State it, or multiply the counts of %s by %s.",
			pct(*f.EstimatePct), comparative(f.Axis, *f.EstimatePct), between(f.LoPct, f.HiPct), testers,
			f.Axis.Plural(), gauge.Decimal(1/(1+*f.EstimatePct/100), 3))
	case Steady:
		return fmt.Sprintf("Fabric %s: finished pieces agree with the swatches (%s, 95 %% sure, from %s).",
			lengthWord(f.Axis), between(f.LoPct, f.HiPct), testers)
	}
	if points < leastPoints {
		return fmt.Sprintf("Fabric %s: can't be told yet; only one point was measured, and it takes at least %d.", lengthWord(f.Axis), leastPoints)
	}
	return fmt.Sprintf("Fabric %s: can't be told yet; from %s anything from %s fits.", lengthWord(f.Axis), testers, between(f.LoPct, f.HiPct))
}
