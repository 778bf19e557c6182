package counts

import (
	"errors"
	"fmt"
	"strings"
)

// NamedLine is one line of a count sheet as text:
//
//	body | sts | base round of the body | 122 (134, 150, 162)
//
// a name, a unit word, what the count is, and a list of sizes. What it is may
// be left out (three fields).
type NamedLine struct {
	Name        string `json:"name"`
	Unit        string `json:"unit"`
	Description string `json:"description,omitempty"`
	List
}

// ReadNamedLine reads one such line. A list of one value stands for all sizes.
func ReadNamedLine(line string) (NamedLine, error) {
	if err := checkText(line); err != nil {
		return NamedLine{}, err
	}
	fields := strings.Split(line, "|")
	if len(fields) != 3 && len(fields) != 4 {
		return NamedLine{}, errors.New("write name | unit | what it is | counts")
	}
	for i := range fields {
		fields[i] = strings.TrimSpace(fields[i])
	}
	out := NamedLine{Name: fields[0]}
	if err := checkName(out.Name, "name"); err != nil {
		return NamedLine{}, err
	}
	if out.Unit = unitWord(fields[1]); out.Unit == "" {
		return NamedLine{}, fmt.Errorf("%q is no unit of a count; write sts, rows, repeats or row number", fields[1])
	}
	if len(fields) == 4 {
		out.Description = fields[2]
	}
	list, err := Read(fields[len(fields)-1])
	if err != nil {
		return NamedLine{}, fmt.Errorf("%s: %w", out.Name, err)
	}
	out.List = list
	return out, nil
}

// unitWord is UnitOf for a field that holds nothing but the unit.
func unitWord(field string) string {
	switch w := lower(strings.ReplaceAll(field, " ", "_")); w {
	case UnitRowNumber, "row_no", "row_no.", "running_row":
		return UnitRowNumber
	}
	return UnitOf(field)
}

// LineProblem says what is wrong with a line of a block; Line counts from 1.
type LineProblem struct {
	Line    int    `json:"line"`
	Problem string `json:"problem"`
}

// ReadNamedLines reads a block of named lines. Blank lines and lines that open
// with # are passed over. Lines that cannot be read, and a name that is there
// twice, come back as problems beside the lines that can.
func ReadNamedLines(block string) ([]NamedLine, []LineProblem, error) {
	if len(block) > MaxBlockBytes {
		return nil, nil, fmt.Errorf("is longer than %d bytes", MaxBlockBytes)
	}
	lines, problems := []NamedLine{}, []LineProblem{}
	at := map[string]int{}
	for i, text := range strings.Split(block, "\n") {
		text = strings.TrimSpace(text)
		if text == "" || strings.HasPrefix(text, "#") {
			continue
		}
		line, err := ReadNamedLine(text)
		if err == nil && at[line.Name] > 0 {
			err = fmt.Errorf("%s is already on line %d", line.Name, at[line.Name])
		}
		if err != nil {
			problems = append(problems, LineProblem{Line: i + 1, Problem: err.Error()})
			continue
		}
		at[line.Name] = i + 1
		lines = append(lines, line)
	}
	return lines, problems, nil
}
