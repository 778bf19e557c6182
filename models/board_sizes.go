package models

import (
	"math"

	"tenter/models/compare"
	"tenter/models/gauge"
)

// fillSizes lays out a row for each size with a strip for each point.
func (r *boardRows) fillSizes(b *Board) {
	for _, point := range r.points {
		b.Points = append(b.Points, BoardPoint{Point: point})
	}
	states := statesOf(installmentsOf(r.run))
	samples := map[string][]BoardSample{}
	for _, s := range r.samples {
		piece := BoardSample{Sample: s}
		if rank := states.of(s); rank > 0 {
			piece.Worked = states.Name(rank)
		}
		samples[s.SizeID] = append(samples[s.SizeID], piece)
	}
	swatches := make(map[string]gauge.Gauge, len(r.sent))
	for _, report := range r.sent {
		swatches[report.id] = report.swatch.gauge()
	}
	for _, size := range r.sizes {
		row := BoardSize{Size: size, Samples: samples[size.ID], Testers: r.testers[size.ID], Coverage: r.coverageOf(size.ID), Before: r.madeBefore(size.ID)}
		for i := range r.points {
			strip := r.strip(size.ID, &r.points[i], swatches)
			for _, m := range strip.Marks {
				if m.State != markWithin {
					b.Points[i].Outside++
				}
			}
			row.Strips = append(row.Strips, strip)
		}
		b.Sizes = append(b.Sizes, row)
	}
}

// What a mark is of.
const (
	MarkOfReport = "report"
	MarkOfSample = "sample"
)

// How a mark lies to the tolerance band.
const (
	markWithin  = "within"
	markOutside = "outside"
	markSlip    = "slip"
)

// strip lays out one size and point: what is intended and expected, and each
// piece where it would lie had its maker kept the design's gauge.
func (r *boardRows) strip(sizeID string, point *Point, swatches map[string]gauge.Gauge) BoardStrip {
	strip := BoardStrip{PointID: point.ID, ToleranceCM: point.Tolerance.CM}
	for _, m := range point.Intended {
		if m.SizeID == sizeID {
			strip.IntendedCM = &m.Length.CM
		}
	}
	design := r.design.Gauge.gauge()
	if count, ok, err := r.yardstick.count(r.latest.ID, sizeID, point); err == nil && ok {
		if cm, ok := expectedCM(design, point, count); ok {
			strip.ExpectedCM = &cm
		}
	}
	key := cell{sizeID, point.ID}
	r.diagnosed(&strip, key, point)
	for _, m := range r.marks[key] {
		mark := BoardMark{ID: m.report.id, Kind: MarkOfReport, Who: m.report.handle, MeasuredCM: m.length.CM}
		r.place(&mark, &strip, m.report.versionID, sizeID, point, swatches[m.report.id], m.length)
		r.named(&mark, point)
		strip.Marks = append(strip.Marks, mark)
	}
	for _, m := range r.sampleMarks[key] {
		mark := BoardMark{ID: m.sample.ID, Kind: MarkOfSample, Who: m.sample.Label, MeasuredCM: m.length.CM}
		r.place(&mark, &strip, r.latest.ID, sizeID, point, m.sample.After.gauge(), m.length)
		strip.Marks = append(strip.Marks, mark)
	}
	strip.LowCM, strip.HighCM = strip.ends()
	return strip
}

// place finds where a mark stands, measured × expected at the design's gauge /
// expected at the maker's own, and how that lies to the band.
func (r *boardRows) place(mark *BoardMark, strip *BoardStrip, versionID, sizeID string, point *Point, own gauge.Gauge, measured Length) {
	mark.AtCM, mark.State = measured.CM, markOutside
	count, ok, err := r.yardstick.count(versionID, sizeID, point)
	counted := err == nil && ok
	if counted {
		atDesign, designOK := expectedCM(r.design.Gauge.gauge(), point, count)
		atOwn, ownOK := expectedCM(own, point, count)
		if designOK && ownOK && atOwn > 0 {
			mark.AtCM = measured.CM * atDesign / atOwn
		}
	}
	middle := strip.middle()
	switch {
	case middle == nil || math.Abs(mark.AtCM-*middle) <= strip.ToleranceCM:
		mark.State = markWithin
	case counted:
		slips, err := compare.Slips(r.yardstick.compareInput(point, count, own, []Length{measured}))
		if err == nil && len(slips) > 0 {
			mark.State = markSlip
		}
	}
}

// ends returns the ends of the strip by the rule of the tape strip itself.
func (s BoardStrip) ends() (low, high float64) {
	in := compare.StripInput{ToleranceCM: s.ToleranceCM}
	if middle := s.middle(); s.GrowthCM != nil && middle != nil && *middle > *s.GrowthCM {
		in.GrowthPercent = 100 * *s.GrowthCM / (*middle - *s.GrowthCM)
	}
	switch {
	case s.IntendedCM != nil:
		in.IntendedCM = *s.IntendedCM
	case s.ExpectedCM != nil:
		in.IntendedCM = *s.ExpectedCM
	default:
		return 0, 0
	}
	if s.ExpectedCM != nil {
		in.ExpectedDesignCM = *s.ExpectedCM
	}
	at := make([]float64, len(s.Marks))
	for i, m := range s.Marks {
		at[i] = m.AtCM
	}
	return in.Ends(at)
}
