package counts

import (
	"math"
	"strconv"
)

// Calculate checks a count sheet: every rule for every size, each point's
// expected measurement against what was intended and against the range of ease,
// and the run of each count over the sizes. The findings come rules first, then
// points, then counts, each in the order of the input and of the sizes. Lengths
// in the output are rounded to 0.01 cm, after they were compared.
//
// Errors are *FieldError (or the gauge package's like it) and name the field at
// fault: a count without a value for each size, a name in an expression that is
// no count, a division by zero, anything out of bounds.
func Calculate(in Input) (Output, error) {
	s, err := open(in)
	if err != nil {
		return Output{}, err
	}
	out := Output{Findings: []Finding{}, Finished: []Finished{}, Lines: []Line{}, Sections: []Section{}}
	if err := s.checkRules(&out); err != nil {
		return Output{}, err
	}
	if err := s.checkPoints(&out); err != nil {
		return Output{}, err
	}
	s.checkSteps(&out)
	for _, c := range in.Counts {
		out.Lines = append(out.Lines, Line{Name: c.Name, Text: Print(s.values[c.Name], in.Layout)})
	}
	out.Sections = s.sections()
	return out, nil
}

// centimetres rounds a length to 0.01 cm, for show.
func centimetres(v float64) float64 { return rounded(v, 100) }

// figure rounds a number that is no length to six decimals, for show.
func figure(v float64) float64 { return rounded(v, 1e6) }

func rounded(v, parts float64) float64 {
	r := math.Round(v*parts) / parts
	if r == 0 {
		return 0 // and not minus zero
	}
	return r
}

// show writes a number for a message: at most two decimals.
func show(v float64) string { return strconv.FormatFloat(centimetres(v), 'f', -1, 64) }

func pointer(v float64) *float64 { return &v }
