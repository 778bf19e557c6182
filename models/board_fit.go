package models

import "tenter/models/fit"

// diagnosed sets on a strip what the diagnosis says of it: the fabric's growth
// of the counted length, and a count at fault.
func (r *boardRows) diagnosed(strip *BoardStrip, at cell, point *Point) {
	if percent, told := r.said.growthPct(point.Axis); told {
		from := strip.ExpectedCM
		if from == nil {
			from = strip.IntendedCM
		}
		if from != nil {
			growth := (*from - point.Add.CM) * percent / 100
			strip.GrowthCM = &growth
		}
	}
	if f := r.said.cells[at]; f != nil {
		strip.Finding = f
		strip.Decided, _ = f.standing(r.decisions[f.Key])
	}
}

// named gives a mark the state that the diagnosis gives its number: it knows
// more than a look at this one measurement.
func (r *boardRows) named(m *BoardMark, point *Point) {
	f := r.said.odd[mark{m.ID, point.ID}]
	if f == nil {
		return
	}
	m.Sentence = f.Message
	switch f.Verdict {
	case fit.Slip:
		m.State = markSlip
	case fit.Odd:
		m.State = markOutside
	}
}

// middle is where a sound piece should lie: what is intended, or else expected,
// moved by the fabric's growth.
func (s BoardStrip) middle() *float64 {
	from := s.IntendedCM
	if from == nil {
		from = s.ExpectedCM
	}
	if from == nil || s.GrowthCM == nil {
		return from
	}
	moved := *from + *s.GrowthCM
	return &moved
}
