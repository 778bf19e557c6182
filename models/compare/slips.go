package compare

import (
	"fmt"
	"math"
	"sort"

	"tenter/models/gauge"
)

// SlipKind is a way in which a right measurement becomes a wrong number.
type SlipKind string

// The kinds of slips, in the order that settles a tie.
const (
	Half         SlipKind = "half"          // half of it: measured flat, not doubled
	Double       SlipKind = "double"        // doubled although it is not a girth, or doubled twice
	InchAsCM     SlipKind = "inch_as_cm"    // read in inches, entered as cm
	CMAsInch     SlipKind = "cm_as_inch"    // read in cm, entered as inches
	Transposed   SlipKind = "transposed"    // two neighbouring digits swapped
	Tens         SlipKind = "tens"          // ten too many or too few
	DecimalPoint SlipKind = "decimal_point" // the point missed or one place off
)

// Slip is a question to ask before a measurement is sent. It never stops anyone.
type Slip struct {
	Kind       SlipKind     `json:"kind"`
	Meant      gauge.Length `json:"meant"`       // what it would then be
	OffPercent float64      `json:"off_percent"` // how far that is from the expected
	Message    string       `json:"message"`
	Question   string       `json:"question"` // the message for somebody who measures blind: nothing in it tells what is expected
}

// The rule for asking. Chosen; the first three are those by which the diagnosis
// of all reports names a blunder, so that both say the same.
const (
	askBeyond   = 0.22 // |ln(measured/expected at the design's gauge)| that raises a question
	fitsWithin  = 2.5  // the alternative lies this many standard deviations from the expected, or
	fitsAtLeast = 0.02 // within this on the log scale,
	fitsBetter  = 0.4  // and its distance is less than this part of the typed number's
	tension     = 0.03 // usual spread of a garment's gauge round its maker's swatch, relative
)

// Slips returns the likely slips behind the last of in.Measured, best first, none
// when the number is near what is expected or no slip fits it clearly better.
//
// With dev = ln(measured/expected), expected at the maker's own gauge when it is
// known, a slip that turns the number into e^f times it is likely when
//
//	|ln(measured/expected at the design's gauge)| > 0.22 and
//	|dev + f| <= max(2.5 s, 0.02) and |dev + f| < 0.4 |dev|
//
// s² being the variance of ln(measured): tape and step (Combine), tension (3 %)
// and swatch, all relative to the expected.
func Slips(in Input) ([]Slip, error) {
	e, err := in.expect()
	if err != nil {
		return nil, err
	}
	if err := checkReadings(in.Measured); err != nil {
		return nil, err
	}
	typed := in.Measured[len(in.Measured)-1]
	if math.Abs(math.Log(typed.CM()/e.designCM)) <= askBeyond {
		return []Slip{}, nil
	}
	dev := math.Log(typed.CM() / e.ownCM)
	u := in.repeatability(e.designCM)
	s := math.Sqrt((u*u+stepVariance(typed.Unit)+e.ownU*e.ownU)/(e.ownCM*e.ownCM) + tension*tension)

	slips := []Slip{}
	for _, c := range candidates(typed) {
		off := math.Log(c.Meant.CM() / e.ownCM)
		if math.Abs(off) <= math.Max(fitsWithin*s, fitsAtLeast) && math.Abs(off) < fitsBetter*math.Abs(dev) {
			c.OffPercent = gauge.Tidy(100 * (c.Meant.CM()/e.ownCM - 1))
			c.Message, c.Question = in.ask(c, typed, e.ownCM)
			slips = append(slips, c)
		}
	}
	sort.SliceStable(slips, func(i, j int) bool { return math.Abs(slips[i].OffPercent) < math.Abs(slips[j].OffPercent) })
	return slips, nil
}

// ask is the question, with what was typed and what it would be. told begins it
// for somebody who may know what is expected; who measures blind is asked the
// same without it.
func (in Input) ask(s Slip, typed gauge.Length, expectedCM float64) (message, question string) {
	told := fmt.Sprintf("%s is far from the %s expected here", plainly(typed), gauge.ShowCM(expectedCM, typed.Unit))
	blind := plainly(typed) + " is unlikely here"
	about := in.suspicion(s)
	return told + about, blind + about
}

// suspicion is what may have happened, as the end of a sentence.
func (in Input) suspicion(s Slip) string {
	meant := plainly(s.Meant)
	switch s.Kind {
	case Half:
		if in.Girth {
			return fmt.Sprintf("; did you measure flat, from side to side? All the way round would be %s.", meant)
		}
		return fmt.Sprintf(", and twice it, %s, would fit. Was only half of it measured?", meant)
	case Double:
		return fmt.Sprintf(", and half of it, %s, would fit. Was it doubled?", meant)
	case InchAsCM:
		return fmt.Sprintf("; %s would be %s. Did you mean inches?", meant, gauge.ShowCM(s.Meant.CM(), gauge.Centimetre))
	case CMAsInch:
		return fmt.Sprintf("; %s would be %s. Did you mean centimetres?", meant, gauge.ShowCM(s.Meant.CM(), gauge.Inch))
	case Transposed:
		return fmt.Sprintf("; did you mean %s, with two digits the other way round?", meant)
	case Tens:
		return fmt.Sprintf("; did you mean %s? The tape's tens are easily misread.", meant)
	}
	return fmt.Sprintf("; did you mean %s? Look at the decimal point.", meant)
}

// plainly writes a length in its own unit with at most three decimals.
func plainly(l gauge.Length) string { return gauge.Decimal(l.Value, 3) + " " + string(l.Unit) }
