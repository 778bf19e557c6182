package counts

import "tenter/models/gauge"

// Input is a count sheet with what it is checked against.
type Input struct {
	Sizes  []string     `json:"sizes"`           // from smallest to largest
	Gauge  *gauge.Entry `json:"gauge,omitempty"` // needed when there are points
	Counts []Count      `json:"counts"`
	Rules  []Rule       `json:"rules,omitempty"`
	Points []Point      `json:"points,omitempty"`

	// Layout is the design's own way of writing its sizes, for the lines of the
	// output; the zero value is one pair of parentheses.
	Layout Layout `json:"-"`
}

// Count is one line of the sheet: a value for each size (nil where the size
// skips it), or a text in the trade's notation; not both.
type Count struct {
	Name   string     `json:"name"`
	Unit   string     `json:"unit"` // stitch, row, repeat or row_number
	Values []*float64 `json:"values,omitempty"`
	Text   string     `json:"text,omitempty"`
}

// Kinds of rule.
const (
	KindHolds    = "holds"    // Expr is a statement that must be true
	KindMultiple = "multiple" // Expr must come to a multiple of Of plus Plus
)

// Rule is something that must be so for every size that has all its counts.
type Rule struct {
	Name string `json:"name"`
	Kind string `json:"kind"`
	Expr string `json:"expr"`
	Of   int    `json:"of,omitempty"`
	Plus int    `json:"plus,omitempty"`
}

// Axes of a point of measure.
const (
	AxisStitch = "stitch"
	AxisRow    = "row"
)

// Point is a measurement of the finished piece, in cm:
//
//	expected = Expr / (stitches or rows per cm) + Add
//
// Intended and Body have an entry for each size, nil where there is none. Ease
// is the least and the greatest that expected − body may be. A missing
// Tolerance leaves expected and intended uncompared.
type Point struct {
	Name      string     `json:"name"`
	Axis      string     `json:"axis"`
	Expr      string     `json:"expr"`
	Add       float64    `json:"add,omitempty"`
	Tolerance *float64   `json:"tolerance,omitempty"`
	Intended  []*float64 `json:"intended,omitempty"`
	Body      []*float64 `json:"body,omitempty"`
	Ease      []float64  `json:"ease,omitempty"`
}

// Output is what Calculate finds.
type Output struct {
	Findings []Finding  `json:"findings"`
	Finished []Finished `json:"finished"`
	Lines    []Line     `json:"lines"`
	Sections []Section  `json:"sections"`
}

// Kinds of finding.
const (
	FindingRule     = "rule"     // a false statement
	FindingMultiple = "multiple" // not a multiple
	FindingIntended = "intended" // outside the point's tolerance
	FindingEase     = "ease"     // outside the point's range of ease
	FindingStep     = "step"     // out of line with the neighbouring sizes
)

// Finding is one thing that is wrong, or looks wrong, in one size. Which of the
// numbers are there depends on Kind; Difference is Left − Right, or Expected −
// Intended.
type Finding struct {
	Kind       string    `json:"kind"`
	Name       string    `json:"name"` // of the rule, the point or the count
	Size       string    `json:"size"`
	Left       *float64  `json:"left,omitempty"`
	Right      *float64  `json:"right,omitempty"`
	Value      *float64  `json:"value,omitempty"`
	Nearest    []float64 `json:"nearest,omitempty"`
	Expected   *float64  `json:"expected,omitempty"`
	Intended   *float64  `json:"intended,omitempty"`
	Body       *float64  `json:"body,omitempty"`
	Ease       *float64  `json:"ease,omitempty"`
	Range      []float64 `json:"range,omitempty"`
	Difference *float64  `json:"difference,omitempty"`
	Message    string    `json:"message"`
}

// Finished is a point's expected measurement in one size, in cm.
type Finished struct {
	Point    string   `json:"point"`
	Size     string   `json:"size"`
	Expected float64  `json:"expected"`
	Intended *float64 `json:"intended,omitempty"`
	Ease     *float64 `json:"ease,omitempty"`
}

// Line is a count in the trade's notation.
type Line struct {
	Name string `json:"name"`
	Text string `json:"text"`
}

// Section is the stretch between two running row numbers that follow one
// another in the sheet: it starts after row After and ends at row Name.
type Section struct {
	After string     `json:"after"`
	Name  string     `json:"name"`
	Rows  []*float64 `json:"rows"`
	Text  string     `json:"text"`
}
