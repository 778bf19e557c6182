package fit

import (
	"math"
	"strconv"

	"tenter/models/gauge"
)

// Output is what a round says. Percentages are 100 (e^d − 1) of a log effect d,
// to three decimals; probabilities to four. Every Message is one sentence or two
// for a person, with the numbers behind it.
type Output struct {
	Round     string           `json:"round"`
	Fabric    []Fabric         `json:"fabric"`     // one for each axis
	Cells     []Cell           `json:"cells"`      // every size and point with a report
	Testers   []TesterOnAxis   `json:"testers"`    // every tester and axis with a measurement
	OddValues []OddValue       `json:"odd_values"` // numbers that fit nothing else
	Points    []PointVerdict   `json:"points"`     // every point with a report
	Grading   []GradingVerdict `json:"grading"`    // sheet against intended, every point
	Reports   []ReportLine     `json:"reports"`    // every measurement taken apart
	Findings  []Finding        `json:"findings"`   // most serious first
}

// Verdict is a word of one of the lists below.
type Verdict string

// Verdicts. CannotTell is one of fabric, cells and testers.
const (
	CannotTell Verdict = "cannot_tell"
	OK         Verdict = "ok"

	Grows   Verdict = "grows" // fabric: finished pieces against swatches
	Shrinks Verdict = "shrinks"
	Steady  Verdict = "steady"

	Fault   Verdict = "fault" // cells
	Suspect Verdict = "suspect"
	Clear   Verdict = "clear"

	Off        Verdict = "off" // testers
	GaugeWrong Verdict = "gauge_wrong"

	Slip             Verdict = "slip" // odd values
	Odd              Verdict = "odd"
	ReadingsDisagree Verdict = "readings_disagree"

	AllSizesOff    Verdict = "all_sizes_off" // points
	PointsDisagree Verdict = "points_disagree"
	Unclear        Verdict = "unclear"

	Drift     Verdict = "drift" // grading
	SheetCell Verdict = "sheet_cell"
)

// Fabric says whether finished pieces are longer or wider than swatches promise.
type Fabric struct {
	Axis        gauge.Axis `json:"axis"`
	Verdict     Verdict    `json:"verdict"`
	EstimatePct *float64   `json:"estimate_pct,omitempty"`
	LoPct       *float64   `json:"lo_pct,omitempty"` // 95 %, Student's t
	HiPct       *float64   `json:"hi_pct,omitempty"`
	Testers     int        `json:"testers"`         // who reported a gauge
	Omega       float64    `json:"omega,omitempty"` // ω and κ of the axis
	Kappa       float64    `json:"kappa,omitempty"`
	Message     string     `json:"message"`
}

// Cell is one size at one point.
type Cell struct {
	Size        string       `json:"size"`
	Point       string       `json:"point"`
	Reports     int          `json:"reports"`
	Used        int          `json:"used"` // reports not listed as odd
	Verdict     Verdict      `json:"verdict"`
	PFault      float64      `json:"p_fault"` // that the count is at fault
	PAny        float64      `json:"p_any"`   // that anything is
	TolPct      float64      `json:"tol_pct"` // what clear is clear of
	EstimatePct *float64     `json:"estimate_pct,omitempty"`
	LoPct       *float64     `json:"lo_pct,omitempty"` // 95 %, normal
	HiPct       *float64     `json:"hi_pct,omitempty"`
	AsCount     *CountOffset `json:"as_count,omitempty"`
	// For suspect and cannot_tell: how many more reports of this size would
	// tell, null where ten would not; and what three more would show.
	MoreReports     *MoreReports `json:"more_reports,omitempty"`
	VisibleWith3Pct *float64     `json:"visible_with_3_pct,omitempty"`
	Message         string       `json:"message"`
}

// CountOffset is an offset as stitches or rows: count (e^d − 1) with its 95 %
// interval, "as if 6 rows more".
type CountOffset struct {
	Unit     string  `json:"unit"` // stitches or rows
	Count    float64 `json:"count"`
	Estimate float64 `json:"estimate"`
	Lo       float64 `json:"lo"`
	Hi       float64 `json:"hi"`
}

// MoreReports is a number of further reports; 0, written null, is more than ten.
type MoreReports int

// MarshalJSON writes 0 as null.
func (m MoreReports) MarshalJSON() ([]byte, error) {
	if m == 0 {
		return []byte("null"), nil
	}
	return strconv.AppendInt(nil, int64(m), 10), nil
}

// TesterOnAxis is one tester's garment against their own swatch.
type TesterOnAxis struct {
	Tester      string     `json:"tester"`
	Size        string     `json:"size"`
	Axis        gauge.Axis `json:"axis"`
	Verdict     Verdict    `json:"verdict"`
	EstimatePct *float64   `json:"estimate_pct,omitempty"`
	LoPct       *float64   `json:"lo_pct,omitempty"`
	HiPct       *float64   `json:"hi_pct,omitempty"`
	POff        *float64   `json:"p_off,omitempty"`
	PGauge      *float64   `json:"p_gauge,omitempty"`
	Message     string     `json:"message"`
}

// OddValue is a number that does not fit its tester's others nor the other
// testers', or readings of which only the last was used.
type OddValue struct {
	Tester    string    `json:"tester"`
	Size      string    `json:"size"`
	Point     string    `json:"point"`
	Verdict   Verdict   `json:"verdict"`
	Signature Signature `json:"signature"`
	P         *float64  `json:"p"`
	DevPct    *float64  `json:"dev_pct"`
	Message   string    `json:"message"`
}

// PointVerdict is one point over all sizes.
type PointVerdict struct {
	Point       string   `json:"point"`
	Verdict     Verdict  `json:"verdict"`
	P           float64  `json:"p"`                 // that it is off at all sizes; of unclear, that it is
	EstimatePct float64  `json:"estimate_pct"`      // of unclear, what its testers are off by
	Odd         int      `json:"odd"`               // odd values at it that fit no slip
	Rivals      []string `json:"rivals,omitempty"`  // points that it contradicts
	Testers     []string `json:"testers,omitempty"` // who went the same way at an unclear step
	Message     string   `json:"message"`
}

// GradingVerdict compares a point's counts with the intended measurements.
type GradingVerdict struct {
	Point    string   `json:"point"`
	Verdict  Verdict  `json:"verdict"`
	Sizes    []string `json:"sizes"` // that are off
	MaxDevCM float64  `json:"max_dev_cm"`
	Message  string   `json:"message"`
}

// ReportLine takes one measurement apart: expected at the design gauge, at the
// tester's own, measured.
type ReportLine struct {
	Tester           string     `json:"tester"`
	Size             string     `json:"size"`
	Point            string     `json:"point"`
	Axis             gauge.Axis `json:"axis"`
	Readings         int        `json:"readings"`
	MeasuredCM       float64    `json:"measured_cm"`
	MeasuredUCM      float64    `json:"measured_u_cm"` // standard uncertainty
	ExpectedDesignCM float64    `json:"expected_design_cm"`
	ExpectedOwnCM    float64    `json:"expected_own_cm"`
	DeviationPct     float64    `json:"deviation_pct"` // measured against the design gauge
	FromGaugePct     float64    `json:"from_gauge_pct"`
	// GaugeShare is the part of the log deviation that the own gauge explains;
	// absent where the deviation is under half a percent or no gauge is known.
	GaugeShare  *float64 `json:"gauge_share,omitempty"`
	ResidualPct float64  `json:"residual_pct"` // measured against the own gauge
	// ResidualUPct is the residual's standard uncertainty: tape, rounding and
	// swatch count in quadrature (JCGM 100:2008, 5.1.6).
	ResidualUPct float64 `json:"residual_u_pct"`
}

// Finding is one sentence worth acting on, with what it is about.
type Finding struct {
	Kind    string     `json:"kind"` // cell, point, grading, tester, odd_value or fabric
	Verdict Verdict    `json:"verdict"`
	Axis    gauge.Axis `json:"axis,omitempty"`
	Size    string     `json:"size,omitempty"`
	Point   string     `json:"point,omitempty"`
	Tester  string     `json:"tester,omitempty"`
	Message string     `json:"message"`
}

// shownPercent, shownP and shown round what an answer shows, so that it does not
// depend on the order of a sum. + 0 turns minus zero into zero.
func shownPercent(d float64) *float64 { return pointer(rounded(percent(d), 3)) }

func shownP(p float64) *float64 { return pointer(rounded(p, 4)) }

func rounded(x float64, decimals int) float64 {
	scale := math.Pow10(decimals)
	if math.Abs(x) > 1e12 {
		return x
	}
	return math.RoundToEven(x*scale)/scale + 0
}

func pointer[T any](x T) *T { return &x }
