package counts

// Sheet is what Diff compares: the counts of a design, with a value for each
// size.
type Sheet struct {
	Sizes []string `json:"sizes"`
	Lines []Row    `json:"lines"`
}

// Row is one count of a Sheet; Values has an entry for each size, nil where the
// size skips it.
type Row struct {
	Name   string     `json:"name"`
	Unit   string     `json:"unit"`
	Values []*float64 `json:"values"`
}

// Kinds of change between two sheets.
const (
	SizeAdded    = "size_added"
	SizeRemoved  = "size_removed"
	LineAdded    = "line_added"
	LineRemoved  = "line_removed"
	UnitChanged  = "unit_changed"
	ValueChanged = "value_changed"
)

// Change is one difference between two sheets. Size is empty for a line as a
// whole, Line for a size as a whole. Before and After are the values, nil for a
// skipped one.
type Change struct {
	Kind       string   `json:"kind"`
	Line       string   `json:"line,omitempty"`
	Size       string   `json:"size,omitempty"`
	Before     *float64 `json:"before,omitempty"`
	After      *float64 `json:"after,omitempty"`
	UnitBefore string   `json:"unit_before,omitempty"`
	UnitAfter  string   `json:"unit_after,omitempty"`
}

// Diff returns what differs between two sheets: first the sizes that went and
// came, then line by line in the order of after, with the lines that went at the
// end. Lines and sizes are matched by name. A value in a line or a size that is
// in one of the sheets only is no change of its own.
func Diff(before, after Sheet) []Change {
	changes := []Change{}
	was, is := placesOf(before.Sizes), placesOf(after.Sizes)
	for _, size := range before.Sizes {
		if _, stays := is[size]; !stays {
			changes = append(changes, Change{Kind: SizeRemoved, Size: size})
		}
	}
	for _, size := range after.Sizes {
		if _, stayed := was[size]; !stayed {
			changes = append(changes, Change{Kind: SizeAdded, Size: size})
		}
	}
	old := map[string]Row{}
	for _, r := range before.Lines {
		old[r.Name] = r
	}
	stays := map[string]bool{}
	for _, r := range after.Lines {
		o, stayed := old[r.Name]
		stays[r.Name] = true
		if !stayed {
			changes = append(changes, Change{Kind: LineAdded, Line: r.Name, UnitAfter: r.Unit})
			continue
		}
		if o.Unit != r.Unit {
			changes = append(changes, Change{Kind: UnitChanged, Line: r.Name, UnitBefore: o.Unit, UnitAfter: r.Unit})
		}
		changes = append(changes, o.valuesTo(r, after.Sizes, was)...)
	}
	for _, r := range before.Lines {
		if !stays[r.Name] {
			changes = append(changes, Change{Kind: LineRemoved, Line: r.Name, UnitBefore: r.Unit})
		}
	}
	return changes
}

// valuesTo returns the changes of the values from r to a later row, over the
// sizes that both sheets have.
func (r Row) valuesTo(later Row, sizes []string, was map[string]int) []Change {
	var changes []Change
	for k, size := range sizes {
		i, stayed := was[size]
		if !stayed {
			continue
		}
		a, b := valueAt(r.Values, i), valueAt(later.Values, k)
		if (a == nil) == (b == nil) && (a == nil || *a == *b) {
			continue
		}
		changes = append(changes, Change{Kind: ValueChanged, Line: r.Name, Size: size, Before: copied(a), After: copied(b)})
	}
	return changes
}

// valueAt takes a row that is too short as skipped at its end.
func valueAt(values []*float64, i int) *float64 {
	if i >= len(values) {
		return nil
	}
	return values[i]
}

func copied(v *float64) *float64 {
	if v == nil {
		return nil
	}
	return pointer(*v)
}

func placesOf(names []string) map[string]int {
	places := make(map[string]int, len(names))
	for i, n := range names {
		places[n] = i
	}
	return places
}
