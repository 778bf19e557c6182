package models

import (
	"context"
	"strings"

	"tenter/models/gauge"
)

// SampleComparison is a sample held against its design: its gauge before and
// after washing against the stated one, what washing did, and each measured
// point against what its counts promise.
type SampleComparison struct {
	Before   []gauge.Difference // against the stated gauge; stitches, then rows
	After    []gauge.Difference
	Washing  []gauge.Washing
	Points   []Compared
	Sentence string // about the gauge
}

// CompareSamples compares a design's samples, by their ids, in a constant
// number of queries.
func (s *Store) CompareSamples(ctx context.Context, designID string, samples []Sample) (map[string]SampleComparison, error) {
	db := s.read(ctx)
	design, err := designIn(db, designID)
	if err != nil {
		return nil, err
	}
	points, err := pointsIn(db, []string{design.ID})
	if err != nil {
		return nil, err
	}
	latest, err := latestVersion(db, design.ID)
	if err != nil {
		return nil, err
	}
	y, err := s.yardstickIn(db, design, points, "SELECT version_id FROM samples WHERE design_id = ? AND version_id IS NOT NULL UNION SELECT ?", design.ID, latest.ID)
	if err != nil {
		return nil, err
	}
	out := make(map[string]SampleComparison, len(samples))
	for _, sample := range samples {
		out[sample.ID] = y.compareSample(sample, latest.ID)
	}
	return out, nil
}

// compareSample compares one sample. A finished piece is measured washed, so
// its own gauge is the washed one, and one from before washing is no stand-in.
// A sample of no known version is held against the latest.
func (y *yardstick) compareSample(s Sample, latestVersion string) SampleComparison {
	stated, before, after := y.design.Gauge.gauge(), s.Before.gauge(), s.After.gauge()
	c := SampleComparison{Before: gauge.AgainstStated(before, stated), After: gauge.AgainstStated(after, stated),
		Washing: gauge.Washed(before, after)}
	version := latestVersion
	set(&version, s.VersionID)
	for _, m := range s.Measurements {
		for i := range y.points {
			if y.points[i].ID == m.PointID {
				c.Points = append(c.Points, y.comparePoint(version, s.SizeID, &y.points[i], after, []Length{m.Length}))
			}
		}
	}
	c.Sentence = c.sentence(before.Counted(), after.Counted())
	return c
}

// sentence tells the gauge in words: each axis that was counted washed, and
// what washing did where it can be told.
func (c SampleComparison) sentence(before, after bool) string {
	var said []string
	against := c.After
	switch {
	case !before && !after:
		return "No gauge has been counted on it yet."
	case !after:
		said = append(said, "Counted before washing only; fabric is worn washed, so count it again after washing.")
		against = c.Before
	}
	for _, d := range against {
		if d.Verdict != gauge.NotCounted {
			said = append(said, d.Message)
		}
	}
	for _, w := range c.Washing {
		if w.Told {
			said = append(said, w.Message)
		}
	}
	return strings.Join(said, " ")
}
