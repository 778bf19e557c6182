package fit

import (
	"fmt"
	"math"

	"tenter/models/gauge"
)

// EntryQuery asks a tester to look again at a number that they just typed in.
type EntryQuery struct {
	Signature Signature `json:"signature"`
	DevPct    float64   `json:"dev_pct"`
	Message   string    `json:"message"`
}

// QueryEntry says whether a single measurement should be queried at once, before
// any model: when |ln(measured/expected)| is more than 0.22. expectedCM is the
// count at the tester's own gauge, or at the design's where it is not known;
// uCM is the point's repeatability. It returns false where there is nothing to
// ask or nothing to compare with.
func QueryEntry(m Measurement, expectedCM, uCM float64) (EntryQuery, bool) {
	s := DefaultSettings()
	if !m.taken() || !m.Unit.Valid() || !(expectedCM > 0) || !(uCM >= 0) {
		return EntryQuery{}, false
	}
	dev := math.Log(m.cm() / expectedCM)
	if math.IsInf(dev, 0) || math.IsNaN(dev) || math.Abs(dev) <= s.EntryDoubt {
		return EntryQuery{}, false
	}
	se := math.Sqrt(s.GaugeUnknown*s.GaugeUnknown + (uCM*uCM+s.rounding(m.Unit))/(expectedCM*expectedCM))
	q := EntryQuery{Signature: sign(dev, se, *m.Value, m.Unit), DevPct: rounded(percent(math.Min(dev, 20)), 3)}
	q.Message = fmt.Sprintf("%s is %s %% from the %s expected. Please measure again.",
		gauge.Decimal(*m.Value, 3)+" "+string(m.Unit), signed(q.DevPct), gauge.ShowCM(expectedCM, m.Unit))
	if meaning := q.Signature.meaning(m.Unit); meaning != "" {
		q.Message = fmt.Sprintf("%s is %s %% from the %s expected. Is this %s?",
			gauge.Decimal(*m.Value, 3)+" "+string(m.Unit), signed(q.DevPct), gauge.ShowCM(expectedCM, m.Unit), meaning)
	}
	return q, true
}
