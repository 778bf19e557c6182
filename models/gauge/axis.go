package gauge

// Axis is the direction in which a piece is counted: stitches give its width,
// rows its length.
type Axis string

// The two axes.
const (
	Stitch Axis = "stitch"
	Row    Axis = "row"
)

// Valid reports whether a is one of the two axes.
func (a Axis) Valid() bool { return a == Stitch || a == Row }

// Check returns a FieldError unless a is one of the two axes.
func (a Axis) Check(field string) error {
	if !a.Valid() {
		return Wrongf(field, "is %q; give stitch or row", clip(string(a)))
	}
	return nil
}

// Plural is the word for what is counted along the axis.
func (a Axis) Plural() string {
	if a == Row {
		return "rows"
	}
	return "stitches"
}

// dimension is the word for what the axis measures.
func (a Axis) dimension() string {
	if a == Row {
		return "length"
	}
	return "width"
}
