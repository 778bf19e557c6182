package yarn

import "math"

// Basis is what an amount rests on.
type Basis string

// The bases.
const (
	ByTesters     Basis = "testers"
	BySwatch      Basis = "swatch_weight" // an estimate without a bound
	NothingToTell Basis = "none"
)

// Output is the yarn to state. Metres to one decimal, logarithms to four. Every
// Message is a sentence or two for a person.
type Output struct {
	Round string  `json:"round"`
	Gamma float64 `json:"gamma"`
	// Used is how many testers the amounts rest on. MeanLog and SDLog are those
	// of their y, the prior spread between makers in; UpperLog is the bound.
	Used        int       `json:"used"`
	MeanLog     *float64  `json:"mean_log,omitempty"`
	SDLog       *float64  `json:"sd_log,omitempty"`
	UpperLog    *float64  `json:"upper_log,omitempty"`
	SizeMatters bool      `json:"size_matters"` // then the bound differs from size to size
	SlopeT      *float64  `json:"slope_t,omitempty"`
	Sizes       []Amount  `json:"sizes"` // all of the input's, in its order
	Outliers    []Outlier `json:"outliers"`
	Unused      []Unused  `json:"unused"` // reported metres that could not be used
	Message     string    `json:"message"`
}

// Amount is the yarn of one size at the design gauge.
type Amount struct {
	Size          string   `json:"size"`
	Basis         Basis    `json:"basis"`
	Reports       int      `json:"reports"` // of this size among those used
	TypicalMetres *float64 `json:"typical_metres,omitempty"`
	UpperMetres   *float64 `json:"upper_metres,omitempty"`   // enough for a share gamma of makers
	PublishMetres *float64 `json:"publish_metres,omitempty"` // that in whole balls, or whole metres
	Balls         *int     `json:"balls,omitempty"`
	Grams         *float64 `json:"grams,omitempty"` // of the whole balls
	Message       string   `json:"message"`
}

// Outlier is a tester whose metres do not fit the others'.
type Outlier struct {
	Tester         string  `json:"tester"`
	Size           string  `json:"size"`
	Metres         float64 `json:"metres"`
	ExpectedMetres float64 `json:"expected_metres"` // from the others, at the tester's own gauge
	Ratio          float64 `json:"ratio"`
	Message        string  `json:"message"`
}

// Unused is a tester whose metres say nothing, and why.
type Unused struct {
	Tester string `json:"tester"`
	Size   string `json:"size"`
	Reason string `json:"reason"`
}

// shown rounds a number of an answer; + 0 turns minus zero into zero.
func shown(x float64, decimals int) *float64 {
	scale := math.Pow10(decimals)
	y := math.RoundToEven(x*scale)/scale + 0
	return &y
}
