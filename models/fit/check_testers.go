package fit

import (
	"fmt"
	"slices"

	"tenter/models/gauge"
)

func (in *Input) checkTesters() error {
	if len(in.Testers) > MaxTesters {
		return gauge.Wrongf("testers", "has %d entries; at most %d can be worked with in one round", len(in.Testers), MaxTesters)
	}
	measurements := 0
	for i := range in.Testers {
		if measurements += len(in.Testers[i].Measurements); measurements > MaxMeasurements {
			return gauge.Wrongf(fmt.Sprintf("testers[%d].measurements", i), "brings the round over %d measurements, more than can be worked with", MaxMeasurements)
		}
	}
	points := make(map[string]bool, len(in.Points))
	for _, p := range in.Points {
		points[p.ID] = true
	}
	type maker struct{ id, size string }
	seen := make(map[maker]bool, len(in.Testers))
	for i := range in.Testers {
		t := &in.Testers[i]
		path := fmt.Sprintf("testers[%d]", i)
		if err := checkName(path+".id", t.ID); err != nil {
			return err
		}
		if !slices.Contains(in.Sizes, t.Size) {
			return gauge.Wrongf(path+".size", "%q is not one of the sizes", shortened(t.Size))
		}
		if seen[maker{t.ID, t.Size}] {
			return gauge.Wrongf(path+".id", "%q makes size %q twice; put their measurements into one report", shortened(t.ID), shortened(t.Size))
		}
		seen[maker{t.ID, t.Size}] = true
		if err := t.check(path, points); err != nil {
			return err
		}
	}
	return nil
}

func (t *Tester) check(path string, points map[string]bool) error {
	if !(t.HookMM >= 0 && t.HookMM <= MaxHookMM) {
		return gauge.Wrongf(path+".hook_mm", "must lie between 0 and %v mm", MaxHookMM)
	}
	if m := t.MetresUsed; m != nil && !(*m == 0 || *m >= MinMetres && *m <= MaxMetres) {
		return gauge.Wrongf(path+".metres_used", "must lie between %v and %v m; leave it out if not known", MinMetres, MaxMetres)
	}
	for _, axis := range []gauge.Axis{gauge.Stitch, gauge.Row} {
		if s := t.Swatch.On(axis); s != nil {
			if err := s.Check(path + ".swatch." + string(axis)); err != nil {
				return err
			}
		}
	}
	for k, m := range t.Measurements {
		if err := m.check(fmt.Sprintf("%s.measurements[%d]", path, k), points); err != nil {
			return err
		}
	}
	return nil
}

func (m Measurement) check(path string, points map[string]bool) error {
	if !points[m.Point] {
		return gauge.Wrongf(path+".point", "%q is not one of the points", shortened(m.Point))
	}
	if !m.Unit.Valid() {
		return gauge.Wrongf(path+".unit", "is %q; give cm or in", shortened(string(m.Unit)))
	}
	if m.Value == nil || *m.Value <= 0 {
		return nil // not taken
	}
	if cm := m.cm(); !(cm >= MinMeasuredCM && cm <= MaxMeasuredCM) {
		return gauge.Wrongf(path+".value", "must be %v cm to %v cm long; leave the measurement out if it was not taken", MinMeasuredCM, int(MaxMeasuredCM))
	}
	return nil
}

// shortened bounds what an error repeats of somebody's input.
func shortened(s string) string {
	const most = 40
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "…"
	}
	return s
}
