package compare

import "tenter/models/gauge"

// MaxMarks bounds the marks on one strip, chosen.
const MaxMarks = 200

// StripInput is one size and point, with what was measured.
type StripInput struct {
	Point            string           `json:"point"`
	IntendedCM       float64          `json:"intended_cm"`
	ToleranceCM      float64          `json:"tolerance_cm"`
	ExpectedDesignCM float64          `json:"expected_design_cm"`       // what the count gives at the design's gauge; 0: not known
	GrowthPercent    float64          `json:"growth_percent,omitempty"` // of the fabric against the swatch, if the diagnosis found any
	Unit             gauge.LengthUnit `json:"unit,omitempty"`           // of the divisions; empty: cm
	Measured         []Measured       `json:"measured"`
}

// Measured is one finished measurement. ExpectedOwnCM is what the count gives at
// its maker's gauge, 0 when that is not known. Flag says what the diagnosis found
// about it, in its own words; empty when nothing.
type Measured struct {
	ID            string  `json:"id"`
	CM            float64 `json:"cm"`
	ExpectedOwnCM float64 `json:"expected_own_cm,omitempty"`
	Flag          string  `json:"flag,omitempty"`
}

// Strip is a tape strip: a small ruler from LowCM to HighCM with the intended
// value as its long mark, the tolerance as a band round it (moved by the fabric's
// growth, when there is any), and one mark for each measurement. Positions are in
// cm, ready to be scaled.
type Strip struct {
	Point      string     `json:"point"`
	IntendedCM float64    `json:"intended_cm"`
	BandLowCM  float64    `json:"band_low_cm"`
	BandHighCM float64    `json:"band_high_cm"`
	ExpectedCM *float64   `json:"expected_cm"` // where pieces should lie: the count at the design's gauge, grown as the fabric grows
	LowCM      float64    `json:"low_cm"`
	HighCM     float64    `json:"high_cm"`
	Divisions  []Division `json:"divisions"`
	Marks      []Mark     `json:"marks"` // in the order given
	Outside    int        `json:"outside"`
	Message    string     `json:"message"` // the strip in words, for those who don't see it
}

// Division is a line of the ruler; the long ones carry a label.
type Division struct {
	CM    float64 `json:"cm"`
	Long  bool    `json:"long"`
	Label string  `json:"label,omitempty"`
}

// Mark is one measurement on the strip. CM is where it stands: measured ×
// expected at the design's gauge / expected at the maker's own, so that the
// maker's gauge is out of the way; the measured value itself when GaugeKnown is
// false. OffScale is "low" or "high" for a mark beyond the strip's ends; CM is still
// its true place.
type Mark struct {
	ID         string  `json:"id"`
	MeasuredCM float64 `json:"measured_cm"`
	CM         float64 `json:"cm"`
	GaugeKnown bool    `json:"gauge_known"`
	Within     bool    `json:"within"` // in the band
	OffScale   string  `json:"off_scale,omitempty"`
	Flag       string  `json:"flag,omitempty"`
}

// TapeStrip lays out the strip of one size and point.
//
// A mark is within when it lies in the band: intended × (1 + growth/100) ±
// tolerance. The strip shows at least twice the tolerance on either side of the
// intended value, more when marks lie further out, at most six times; its ends
// stand on divisions (chosen: a band that fills more than half of the strip hides
// what it is for, one under a sixth cannot be seen).
func TapeStrip(in StripInput) (Strip, error) {
	if err := in.check(); err != nil {
		return Strip{}, err
	}
	s := Strip{
		Point: in.Point, IntendedCM: gauge.Tidy(in.IntendedCM),
		BandLowCM:  gauge.Tidy(in.IntendedCM*in.growth() - in.ToleranceCM),
		BandHighCM: gauge.Tidy(in.IntendedCM*in.growth() + in.ToleranceCM),
		Marks:      make([]Mark, 0, len(in.Measured)),
	}
	if in.ExpectedDesignCM > 0 {
		expected := gauge.Tidy(in.ExpectedDesignCM * in.growth())
		s.ExpectedCM = &expected
	}
	for _, m := range in.Measured {
		mark := in.mark(m)
		if !mark.Within {
			s.Outside++
		}
		s.Marks = append(s.Marks, mark)
	}
	s.scale(in)
	s.Message = in.sentence(s)
	return s, nil
}

func (in StripInput) growth() float64 { return 1 + in.GrowthPercent/100 }

func (in StripInput) mark(m Measured) Mark {
	known := in.ExpectedDesignCM > 0 && m.ExpectedOwnCM > 0
	at := m.CM
	if known {
		at = atOwnGauge(m.CM, in.ExpectedDesignCM, m.ExpectedOwnCM)
	}
	return Mark{
		ID: m.ID, MeasuredCM: gauge.Tidy(m.CM), CM: gauge.Tidy(at), GaugeKnown: known, Flag: m.Flag,
		Within: within(at-in.IntendedCM*in.growth(), in.ToleranceCM),
	}
}
