package counts

// Group is one pair of brackets in a design's way of writing its sizes: how
// many sizes stand in it, and whether the brackets are square.
type Group struct {
	Sizes  int  `json:"sizes"`
	Square bool `json:"square,omitempty"`
}

// Layout is how a design writes a line for all its sizes: the first stands
// bare, the others in Groups. 1 (2, 3, 4) (5, 6, 7) has two groups of three.
// The zero Layout is one pair of parentheses round all but the first.
type Layout struct {
	Groups []Group `json:"groups,omitempty"`
}

// sizes returns for how many sizes the layout is.
func (l Layout) sizes() int {
	n := 1
	for _, g := range l.Groups {
		n += g.Sizes
	}
	return n
}

// onePair is the layout that n sizes have unless a design has its own.
func onePair(n int) Layout {
	if n < 2 {
		return Layout{}
	}
	return Layout{Groups: []Group{{Sizes: n - 1}}}
}

// List is one number for each size, as read from a text: nil where the size
// skips the line. A list of one value stands for all sizes.
type List struct {
	Values []*float64 `json:"values"`
	Layout Layout     `json:"layout"`
}

// Units of a count.
const (
	UnitStitch    = "stitch"
	UnitRow       = "row"
	UnitRepeat    = "repeat"
	UnitRowNumber = "row_number"
)

// Kinds of words beside a number that are no units of a count.
const (
	unitMeasure = "measure" // a length or a mass: the number is no count
	unitOrdinal = "ordinal" // 2nd, 3rd
)

// UnitOf returns the unit of a count that a word of the trade stands for (sts
// is UnitStitch, rnds is UnitRow, times is UnitRepeat), or "" for another word.
// US and UK abbreviations; common practice.
func UnitOf(word string) string {
	if u := wordUnit(word); u != unitMeasure {
		return u
	}
	return ""
}

func wordUnit(word string) string {
	switch lower(word) {
	case "st", "sts", "stitch", "stitches", "ch", "chs", "chain", "chains",
		"sc", "dc", "hdc", "htr", "tr", "dtr", "ss", "loop", "loops":
		return UnitStitch
	case "row", "rows", "rnd", "rnds", "round", "rounds":
		return UnitRow
	case "rep", "reps", "repeat", "repeats", "time", "times":
		return UnitRepeat
	case "row_number", "row_numbers":
		return UnitRowNumber
	case "cm", "mm", "m", "in", "ins", "inch", "inches", "yd", "yds", "yards", "g", "\"", "″", "”":
		return unitMeasure
	}
	return ""
}
