package counts

import "fmt"

// SectionRows returns how many rows a section has, for each size, that starts
// after running row number after and ends at running row number end:
//
//	rows = end − after
//
// nil where a size has not both. The lists need the same length, and no section
// may end before it starts.
func SectionRows(after, end []*float64) ([]*float64, error) {
	if len(after) != len(end) {
		return nil, fmt.Errorf("%s and %s; there must be one for each size", amount(len(after), "start"), amount(len(end), "end"))
	}
	rows := make([]*float64, len(end))
	for k := range end {
		if after[k] == nil || end[k] == nil {
			continue
		}
		if *end[k] < *after[k] {
			return nil, fmt.Errorf("ends at row %s, before it starts after row %s", show(*end[k]), show(*after[k]))
		}
		rows[k] = pointer(*end[k] - *after[k])
	}
	return rows, nil
}

// sections lists the stretches between each running row number and the next one
// in the sheet. Two that do not run on, in any size, make no section.
func (s *sheet) sections() []Section {
	sections := []Section{}
	after := ""
	for _, c := range s.in.Counts {
		if c.Unit != UnitRowNumber {
			continue
		}
		if after != "" {
			if rows, err := SectionRows(s.values[after], s.values[c.Name]); err == nil {
				sections = append(sections, Section{After: after, Name: c.Name, Rows: rows, Text: Print(rows, s.in.Layout)})
			}
		}
		after = c.Name
	}
	return sections
}
