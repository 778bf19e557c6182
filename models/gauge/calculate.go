package gauge

import "fmt"

// Limits of one calculation, chosen.
const (
	MaxItems    = 500
	maxNameRune = 100
)

// Input is what the gauge calculation takes.
type Input struct {
	Gauge  Entry    `json:"gauge"`            // the design's, taken as exact
	Own    *Entry   `json:"own,omitempty"`    // somebody's swatch
	Items  []Item   `json:"items,omitempty"`  // counts of which the length is asked
	Wanted []Wanted `json:"wanted,omitempty"` // lengths of which the count is asked
}

// Output is the answer: the gauges in every form, how far own is from the
// design's, and each item and wanted length in the order given.
type Output struct {
	Gauge       Rates          `json:"gauge"`
	Own         *Rates         `json:"own,omitempty"`
	Differences []Difference   `json:"differences,omitempty"`
	Items       []ItemAnswer   `json:"items"`
	Wanted      []WantedAnswer `json:"wanted"`
}

// Rates is a gauge in every form. An axis that was not counted is missing.
type Rates struct {
	Stitches *Rate `json:"stitches,omitempty"`
	Rows     *Rate `json:"rows,omitempty"`
}

// Rate is one axis of a gauge in every form, with how well counting fixes it.
type Rate struct {
	Entered            Swatch  `json:"entered"`
	PerCM              float64 `json:"per_cm"`
	Per10CM            float64 `json:"per_10_cm"`
	Per4In             float64 `json:"per_4_in"`
	UncertaintyPercent float64 `json:"uncertainty_percent"`
}

// Calculate turns counts into lengths and lengths into counts at one gauge or
// two. The rows and stitches of every gauge go by their own span. Numbers in the
// answer are rounded to 6 decimals.
func Calculate(in Input) (Output, error) {
	design, own, err := in.gauges()
	if err != nil {
		return Output{}, err
	}
	out := Output{Gauge: rates(design), Items: []ItemAnswer{}, Wanted: []WantedAnswer{}}
	if own.Counted() {
		r := rates(own)
		out.Own, out.Differences = &r, AgainstStated(own, design)
	}
	if len(in.Items) > MaxItems {
		return Output{}, Wrongf("items", "has %d entries; give at most %d at once", len(in.Items), MaxItems)
	}
	if len(in.Wanted) > MaxItems {
		return Output{}, Wrongf("wanted", "has %d entries; give at most %d at once", len(in.Wanted), MaxItems)
	}
	for i, item := range in.Items {
		answer, err := item.answer(fmt.Sprintf("items[%d]", i), design, own)
		if err != nil {
			return Output{}, err
		}
		out.Items = append(out.Items, answer)
	}
	for i, wanted := range in.Wanted {
		answer, err := wanted.answer(fmt.Sprintf("wanted[%d]", i), design, own)
		if err != nil {
			return Output{}, err
		}
		out.Wanted = append(out.Wanted, answer)
	}
	return out, nil
}

func (in Input) gauges() (design, own Gauge, err error) {
	if design, err = in.Gauge.Gauge("gauge"); err != nil {
		return Gauge{}, Gauge{}, err
	}
	if in.Own != nil {
		if own, err = in.Own.Gauge("own"); err != nil {
			return Gauge{}, Gauge{}, err
		}
	}
	return design, own, nil
}

func rates(g Gauge) Rates { return Rates{Stitches: rate(g.Stitch), Rows: rate(g.Row)} }

func rate(s Swatch) *Rate {
	if !s.Counted() {
		return nil
	}
	return &Rate{
		Entered: s, PerCM: Tidy(s.PerCM()), Per10CM: Tidy(s.Per10CM()), Per4In: Tidy(s.Per4In()),
		UncertaintyPercent: Tidy(100 * s.RelativeUncertainty()),
	}
}
