package assign

import "fmt"

// State is how far an assigned tester has come.
type State string

// The states that change a tester's completion probability.
const (
	Working   State = "working"   // their own probability
	Quiet     State = "quiet"     // no sign of life when one was due
	Reported  State = "reported"  // has finished: 1
	Withdrawn State = "withdrawn" // will not: 0
)

// quietRatio is how many times more often those who drop out go quiet than
// those who finish (chosen; replace it once the studio has counted).
const quietRatio = 3.0

// Tester is someone assigned to a size, once the test runs.
type Tester struct {
	Probability float64 `json:"probability"` // of finishing, before the state is known
	State       State   `json:"state"`
}

// Now gives the tester's completion probability in their state. Going quiet
// changes it by Bayes' rule, for a ratio r of the two chances to go quiet:
//
//	p / (p + r (1-p)), r = 3
//
// so 0.73 becomes 0.47, while who is certain either way stays so.
func (t Tester) Now() float64 {
	switch t.State {
	case Reported:
		return 1
	case Withdrawn:
		return 0
	case Quiet:
		return t.Probability / (t.Probability + quietRatio*(1-t.Probability))
	}
	return t.Probability
}

// MaxTesters bounds the testers of one size in Coverage.
const MaxTesters = 1000

// Coverage says how many reports a size will get.
type Coverage struct {
	Reports     []float64 `json:"reports"`             // P(0 reports), P(1), ... P(all)
	Expected    float64   `json:"expected"`            // mean number of reports
	Probability float64   `json:"probability"`         // that at least `fewest` come
	Lowered     float64   `json:"probability_lowered"` // the same, every tester's own lowered by 0.1
	Message     string    `json:"message"`
}

// Cover gives the coverage of a size that needs at least `fewest` reports from
// its testers, each finishing independently with their probability Now.
func Cover(fewest int, testers []Tester) (Coverage, error) {
	if fewest < 0 || fewest > MaxFewest {
		return Coverage{}, faulty("fewest", "%d; give a number from 0 to %d", fewest, MaxFewest)
	}
	if len(testers) > MaxTesters {
		return Coverage{}, faulty("testers", "%d testers; give at most %d", len(testers), MaxTesters)
	}
	p := make([]float64, len(testers))
	in, expected := 0, 0.0
	for i, t := range testers {
		if err := t.check(fmt.Sprintf("testers[%d]", i)); err != nil {
			return Coverage{}, err
		}
		p[i] = t.Now()
		expected += p[i]
		if t.State == Reported {
			in++
		}
	}
	c := Coverage{
		Reports:     Distribution(p),
		Expected:    expected,
		Probability: AtLeast(p, fewest),
		Lowered:     AtLeast(lowered(p), fewest),
	}
	c.Message = coverageMessage(fewest, in, c)
	return c, nil
}

func (t Tester) check(at string) error {
	if !(t.Probability >= 0 && t.Probability <= 1) { // written so that NaN fails too
		return faulty(at+".probability", "%g; give a number from 0 to 1", t.Probability)
	}
	switch t.State {
	case Working, Quiet, Reported, Withdrawn:
		return nil
	}
	return faulty(at+".state", "%s; give working, quiet, reported or withdrawn", quoted(string(t.State)))
}

// coverageMessage says how the size stands, in percent of chance.
func coverageMessage(fewest, in int, c Coverage) string {
	switch {
	case in >= fewest:
		return fmt.Sprintf("%s of the %s needed: covered", quantity(in, "report is in", "reports are in"), number(fewest))
	case c.Probability == 0:
		return fmt.Sprintf("%s of the %s needed, and nobody left to send the rest",
			quantity(in, "report is in", "reports are in"), number(fewest))
	}
	return fmt.Sprintf("%s of the %s needed; %.0f %% likely to be covered (%.0f %% if everyone is a little less reliable)",
		quantity(in, "report is in", "reports are in"), number(fewest), 100*c.Probability, 100*c.Lowered)
}
